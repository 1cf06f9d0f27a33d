// When the nut of a tensioner is tightened: with the chain or belt on, where the tensioner is set by hand and held by its nut. Common
// practice, no source.
import { expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const spec = (part: string, loop: string, work: string): string => `engine {
  cylinders 4 inline
  cycle four-stroke
  rotation clockwise
}
part block
part crankshaft { mark keyway at 45 deg }
part camshaft { mark dowel at 3 o'clock }
part crank-pulley { teeth 22 fixed-to crankshaft mark dot at 6 o'clock }
part cam-pulley { teeth 44 fixed-to camshaft mark dot at 12 o'clock }
part timing-loop { ${loop === 'belt' ? 'teeth' : 'links'} 100 }
part idler
part ${part}
fastener tensioner-nut x1 {
  torque 20 N.m
  clamps ${part.split(' ')[0]} to block
}
drive cam-drive {
  ${loop} timing-loop over crank-pulley, cam-pulley, idler on-back
  marks-agree at tdc 1 on compression
  tensioner ${part.split(' ')[0]}
}
sequence timing-side {
  phase assemble
  starts-with block, crankshaft, camshaft
  step wheels {
    set crankshaft at tdc 1 on compression
    fit crank-pulley onto crankshaft
    fit cam-pulley onto camshaft
    fit ${part.split(' ')[0]} onto block
  }
  step work {
${work}
  }
  step prove {
    rotate crankshaft 2 turns
    confirm cam-drive by marks
  }
}
`;

const told = (part: string, loop: string, work: readonly string[]): readonly string[] =>
  analyseText(spec(part, loop, work.join('\n'))).findings.flatMap(({ code, severity }) =>
    code.startsWith('sequence/') ? [`${severity} ${code.slice(9)}`] : [],
  );

const HANG = ['fit timing-loop onto crank-pulley', 'align cam-drive'];
const IDLER = 'fit idler onto block';
const NUT = 'tighten tensioner-nut';
const LOOSEN = 'loosen tensioner-nut';

test.each([
  ['eccentric-tensioner', 'belt', 'warning'],
  ['tensioner "Roller on a slotted plate"', 'belt', 'warning'],
  ['tensioner "Sprocket on an eccentric"', 'chain', 'warning'],
  ['tensioner', 'belt', 'information'],
] as const)('%s of a %s: its nut before that is on', (part, loop, severity) => {
  expect(told(part, loop, [IDLER, NUT, ...HANG])).toEqual([`${severity} tightened-early`]);
  expect(told(part, loop, [IDLER, ...HANG, NUT])).toEqual([]);
  expect(told(part, loop, [IDLER, 'snug tensioner-nut', ...HANG, NUT])).toEqual([]);
  expect(told(part, loop, [IDLER, NUT, ...HANG, LOOSEN, NUT])).toEqual([]);
});

test('a tensioner that pushes by itself is bolted on first', () => {
  expect(
    told('tensioner { held-back "pin" }', 'belt', [IDLER, 'hold-back tensioner', NUT, ...HANG, 'release tensioner']),
  ).toEqual([]);
  expect(told('chain-tensioner', 'chain', [IDLER, NUT, ...HANG])).toEqual([]);
});

test('a smooth wheel that comes when the belt is tight, or when the engine was turned', () => {
  expect(told('eccentric-tensioner', 'belt', [...HANG, NUT, IDLER])).toEqual(['error not-fitted-yet']);
  const turn = 'rotate crankshaft 90 deg';
  expect(told('eccentric-tensioner', 'belt', [...HANG, turn, IDLER, NUT])).toContain('error not-fitted-yet');
  expect(told('eccentric-tensioner', 'belt', [...HANG, IDLER, NUT, turn, 'rotate crankshaft 630 deg'])).toEqual([]);
});
