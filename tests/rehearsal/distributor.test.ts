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

const timing = (part: string, cycle: string, lines: readonly string[], more = ''): readonly string[] =>
  analyseText(`engine {
  cylinders 2 opposed
  cycle ${cycle}
  rotation clockwise
}

part block

part crankshaft

part ${part}
${more}
sequence build {
  phase assemble
  starts-with block, crankshaft
  step timing {
    ${lines.join('\n    ')}
  }
}
`).findings.flatMap(({ code, severity }) => (code === 'sequence/not-timed' ? [severity] : []));

test.each(['magneto', 'distributor'])('%s well past the dead centre: no engine is sparked so late', (part) => {
  const at = (angle: string, cycle = 'four-stroke'): readonly string[] =>
    timing(part, cycle, [`set crankshaft at ${angle}`, `fit ${part} into block`]);
  expect(at('24 deg atdc 1')).toEqual(['warning']);
  expect(at('24 deg atdc 1', 'two-stroke')).toEqual(['warning']);
  expect(at('24 deg btdc 1')).toEqual([]);
  expect(at('24 deg btdc 1', 'two-stroke')).toEqual([]);
  expect(at('5 deg atdc 1')).toEqual([]);
  expect(at('90 deg atdc 1')).toEqual([]);
});

test('a flywheel magneto stands by its key', () => {
  expect(timing('magneto', 'two-stroke', ['set crankshaft at 24 deg atdc 1', 'fit magneto onto crankshaft'])).toEqual(
    [],
  );
});

test.each(['magneto', 'distributor'])('the crankshaft is set when %s is in', (part) => {
  const set = 'set crankshaft at 24 deg btdc 1';
  const fit = `fit ${part} into block`;
  expect(timing(part, 'four-stroke', [fit, set])).toEqual(['warning']);
  expect(timing(part, 'four-stroke', [set, fit])).toEqual([]);
  expect(timing(part, 'four-stroke', ['set crankshaft at tdc 1', fit, set])).toEqual([]);
  expect(timing(part, 'four-stroke', [fit, set, 'note "Turn the body until the points open."'])).toEqual([]);
  const lash = 'limit valve-lash of block\n  kind valve-lash\n  measured\n  within 0.1..0.2 mm\n';
  expect(timing(part, 'four-stroke', [fit, set, 'measure valve-lash'], lash)).toEqual([]);
});

test('an injection pump is timed on compression', () => {
  const lift = 'limit pump-lift of injection-pump\n  measured\n  within 1.10..1.14 mm\n';
  const work = (at: string, ...lines: readonly string[]): readonly string[] =>
    timing('injection-pump', 'four-stroke', [`set crankshaft at ${at}`, ...lines], lift);
  const both = ['fit injection-pump onto block', 'adjust pump-lift by "turning the pump"', 'measure pump-lift'];
  expect(work('tdc 1 on overlap', ...both)).toEqual(['warning']);
  expect(work('13 deg btdc 1 on overlap', ...both)).toEqual(['warning']);
  expect(work('tdc 1 on overlap', 'measure pump-lift')).toEqual(['warning']);
  expect(work('24 deg atdc 1 on compression', ...both)).toEqual(['warning']);
  expect(work('90 deg atdc 1 on compression', 'measure pump-lift')).toEqual(['warning']);
  expect(work('13 deg abdc 1', 'fit injection-pump onto block')).toEqual(['warning']);
  expect(work('tdc 1 on compression', ...both)).toEqual([]);
  expect(work('13 deg btdc 1 on compression', ...both)).toEqual([]);
  expect(work('tdc 1 on overlap', 'rotate crankshaft 1 turn', ...both)).toEqual([]);
});

test('one that says where it is timed is held to that', () => {
  const timed = ' {\n  timed at 90 deg atdc 1 on compression\n}';
  expect(codes(spec(4, '90 deg atdc 1 on compression', timed))).toEqual([]);
});
