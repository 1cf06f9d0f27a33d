// Where the crankshaft stands when a distributor goes in that says nothing of its timing: on compression of the cylinder that it is set by, and
// not between two cylinders. Common practice, no source; firing intervals are 720 degrees by the number of cylinders.
import { expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const ORDERS = { 4: '1-3-4-2', 6: '1-5-3-6-2-4', 8: '1-5-4-2-6-3-7-8' } as const;

const spec = (cylinders: 4 | 6 | 8, set: string, timed = ''): string => `engine {
  cylinders ${cylinders} ${cylinders === 8 ? 'vee 90 deg' : 'inline'}
  cycle four-stroke
  rotation clockwise
  firing-order ${ORDERS[cylinders]}
}

part block

part crankshaft

part distributor${timed}

sequence build {
  phase assemble
  starts-with block, crankshaft
  step ignition {
    set crankshaft at ${set}
    fit distributor into block
  }
}
`;

const codes = (text: string): readonly string[] =>
  analyseText(text)
    .findings.map(({ code }) => code)
    .filter((code) => code === 'sequence/not-timed');

test.each([
  [4, '90 deg atdc 1 on compression'],
  [4, '90 deg btdc 1 on compression'],
  [4, '130 deg atdc 1 on compression'],
  [6, '60 deg atdc 1 on compression'],
  [8, '45 deg atdc 1 on compression'],
  [4, 'tdc 1 on overlap'],
] as const)('%i cylinders, the crankshaft at %s: it fires wrong', (cylinders, set) => {
  expect(codes(spec(cylinders, set))).toEqual(['sequence/not-timed']);
});

test.each([
  [4, 'tdc 1 on compression'],
  [4, '10 deg btdc 1 on compression'],
  [4, '30 deg btdc 1 on compression'],
  [6, '10 deg btdc 1 on compression'],
  [8, '12 deg btdc 1 on compression'],
] as const)('%i cylinders, the crankshaft at %s: nothing is said', (cylinders, set) => {
  expect(codes(spec(cylinders, set))).toEqual([]);
});

test('one that says where it is timed is held to that', () => {
  const timed = ' {\n  timed at 90 deg atdc 1 on compression\n}';
  expect(codes(spec(4, '90 deg atdc 1 on compression', timed))).toEqual([]);
});
