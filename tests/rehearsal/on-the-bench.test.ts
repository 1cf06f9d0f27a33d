// Mistakes of the bench that only the state of the engine tells, each beside the same work done right. Common practice, no source.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';
import { FOUR, found } from './work.ts';

const job = (parts: string, starts: string, work: string): string =>
  `${parts}\nsequence build {\n  phase assemble\n  starts-with ${starts}\n  step work {\n${work}\n  }\n}\n`;

/** The parts, what stands there, the work done wrong, the same work done right, what is found. */
const CASES: readonly (readonly [
  name: string,
  parts: string,
  starts: string,
  wrong: string,
  right: string,
  code: string,
])[] = [
  [
    'end play before the caps are on',
    'part block\npart crankshaft\npart main-cap x3\nfastener main-bolt x6 {\n  torque hand-tight\n  clamps main-cap to block\n}\nlimit crank-end-play of crankshaft\n  kind end-play\n  measured\n  within 0.05..0.20 mm',
    'block',
    'fit crankshaft into block\nmeasure crank-end-play\nfit main-cap onto block\ntighten main-bolt',
    'fit crankshaft into block\nfit main-cap onto block\ntighten main-bolt\nmeasure crank-end-play',
    'sequence/measured-early',
  ],
  [
    'the rockers loosened after lash was set',
    'part block\npart cylinder-head\npart rocker-shaft\nfastener rocker-bolt x4 {\n  torque hand-tight\n  clamps rocker-shaft to cylinder-head\n}\nlimit lash of cylinder-head\n  kind valve-lash\n  measured\n  within 0.20..0.25 mm',
    'block, cylinder-head',
    'fit rocker-shaft onto cylinder-head\ntighten rocker-bolt\nadjust lash by "screw"\nmeasure lash\nloosen rocker-bolt\ntighten rocker-bolt',
    'fit rocker-shaft onto cylinder-head\ntighten rocker-bolt\nloosen rocker-bolt\ntighten rocker-bolt\nadjust lash by "screw"\nmeasure lash',
    'sequence/disturbed',
  ],
  [
    'a shim changed after lash was set',
    'part cylinder-head\npart lash-shim x4\nlimit lash of cylinder-head\n  kind valve-lash\n  measured\n  within 0.20..0.25 mm',
    'cylinder-head',
    'fit lash-shim into cylinder-head\nadjust lash by "shims"\nmeasure lash\nremove lash-shim 1\nfit lash-shim 1 into cylinder-head',
    'fit lash-shim into cylinder-head\nadjust lash by "shims"\nmeasure lash\nremove lash-shim 1\nfit lash-shim 1 into cylinder-head\nmeasure lash',
    'sequence/disturbed',
  ],
  [
    'lash set after it was measured',
    'part cylinder-head\npart lash-shim x4\nlimit lash of cylinder-head\n  kind valve-lash\n  measured\n  within 0.20..0.25 mm',
    'cylinder-head',
    'fit lash-shim into cylinder-head\nmeasure lash with "feeler gauge"\nadjust lash by "shims"',
    'fit lash-shim into cylinder-head\nmeasure lash with "feeler gauge"\nadjust lash by "shims"\nmeasure lash with "feeler gauge"',
    'sequence/not-measured',
  ],
  [
    'a pump turned after its lift was measured',
    'part block\npart injection-pump\nfastener pump-bolt x3 {\n  torque hand-tight\n  clamps injection-pump to block\n}\nlimit pump-lift of injection-pump\n  measured\n  within 1.10..1.14 mm',
    'block',
    'fit injection-pump onto block\nmeasure pump-lift with "dial gauge"\nadjust pump-lift by "turning the body"\ntighten pump-bolt',
    'fit injection-pump onto block\nmeasure pump-lift with "dial gauge"\nadjust pump-lift by "turning the body, dial gauge in"\ntighten pump-bolt',
    'sequence/not-measured',
  ],
  [
    'sealant when the halves are together',
    'part left-case\npart right-case\nfastener case-bolt x6 {\n  torque hand-tight\n  clamps right-case to left-case\n}\nsupply jointing { kind sealant }',
    'left-case',
    'fit right-case onto left-case\nseal left-case with jointing\ntighten case-bolt',
    'seal left-case with jointing\nfit right-case onto left-case\ntighten case-bolt',
    'sequence/sealed-late',
  ],
  [
    'a pump on another casting than its bolts say',
    'part block\npart cylinder-head\npart water-pump\nfastener water-pump-bolt x4 {\n  torque hand-tight\n  clamps water-pump to block\n}',
    'block, cylinder-head',
    'fit water-pump onto cylinder-head\ntighten water-pump-bolt',
    'fit water-pump onto block\ntighten water-pump-bolt',
    'sequence/wrong-place',
  ],
  [
    'run with an empty tank',
    'engine { cycle two-stroke cylinders 2 inline }\npart block\npart fuel-tank\nsupply petrol { kind fuel }',
    'block',
    'fit fuel-tank onto block\nrun engine for 5 min',
    'fit fuel-tank onto block\nfill fuel-tank with petrol 4 L\nrun engine for 5 min',
    'sequence/ran-dry',
  ],
];

describe.each(CASES)('%s', (_name, parts, starts, wrong, right, code) => {
  test('is found', () => {
    expect(found(job(parts, starts, wrong)).map((each) => each.split(':')[0])).toContain(code);
  });
  test('not where it is done right', () => {
    expect(found(job(parts, starts, right)).filter((each) => each.startsWith(code))).toEqual([]);
  });
});

/** What is said as information. */
const told = (text: string, files: Readonly<Record<string, string>> = {}): readonly string[] =>
  analyseText(text, files)
    .findings.filter(({ severity }) => severity === 'information')
    .map(({ code, message }) => `${code}: ${message}`);

test('studs that go in when what they hold is on are told, and are no fault: some heads go on so', () => {
  const parts =
    'part block\npart cylinder-head\nfastener head-stud x8 {\n  joint stud\n  torque 10 N.m\n}\nfastener head-nut x8 {\n  torque hand-tight\n  clamps cylinder-head to block\n}';
  const late = job(parts, 'block', 'fit cylinder-head onto block\ntighten head-stud\ntighten head-nut');
  const early = job(parts, 'block', 'tighten head-stud\nfit cylinder-head onto block\ntighten head-nut');
  const isIt = (each: string): boolean => each.startsWith('sequence/covered: head-stud');
  expect(told(late).filter(isIt)).toHaveLength(1);
  expect(told(early).filter(isIt)).toEqual([]);
});

test('a joint with oil behind it and neither gasket nor sealant is told where the spec has sealant', () => {
  const parts = (more: string): string =>
    `part block\npart sump\n${more}fastener sump-bolt x12 {\n  torque hand-tight\n  clamps sump to block\n}\n`;
  const isIt = (each: string): boolean => each.startsWith('sequence/fitted-dry');
  const work = 'fit sump onto block\ntighten sump-bolt';
  const jointing = 'supply jointing { kind sealant }\n';
  expect(told(job(parts(jointing), 'block', work)).filter(isIt)).toHaveLength(1);
  expect(told(job(parts(''), 'block', work)).filter(isIt)).toEqual([]);
  expect(told(job(parts(jointing), 'block', `seal sump with jointing\n${work}`)).filter(isIt)).toEqual([]);
  expect(
    told(job(parts(`${jointing}part sump-gasket\n`), 'block', `fit sump-gasket onto block\n${work}`)).filter(isIt),
  ).toEqual([]);
});

test('a plug of a used file that no step puts in is told', () => {
  const common = 'fastener gallery-plug x2 {\n  joint plug\n  torque 20 N.m\n}\n';
  const text = (work: string): string =>
    `use "common.fettle"\n${job('part block\npart camshaft', 'block', `tool "brushes for the galleries"\nfit camshaft into block\n${work}`)}`;
  const isIt = (each: string): boolean => each.includes('gallery-plug of a file');
  expect(told(text(''), { 'common.fettle': common }).filter(isIt)).toHaveLength(1);
  expect(told(text('tighten gallery-plug'), { 'common.fettle': common }).filter(isIt)).toEqual([]);
});

test('oil into the radiator: a place that is filled with something else everywhere', () => {
  const spec = (last: string): string =>
    `part block\npart sump\nsupply oil { kind oil }\nsupply coolant { kind coolant }\nsequence one {\n  phase install\n  step fill-up {\n    fill block with coolant 6 L\n    fill sump with oil 4 L\n  }\n}\nsequence two {\n  phase install\n  step fill-again {\n    fill sump with oil 4 L\n    ${last}\n  }\n}\n`;
  expect(found(spec('fill block with oil 6 L'))).toContain('sequence/wrong-supply: fill block with oil 6 L');
  expect(found(spec('fill block with coolant 6 L')).filter((each) => each.startsWith('sequence/wrong-supply'))).toEqual(
    [],
  );
});

const PINNED = `${FOUR}part block
part crankshaft
part camshaft
part crank-pulley { teeth 20 fixed-to crankshaft }
part cam-pulley { teeth 40 fixed-to camshaft }
part belt-tensioner
part timing-belt { teeth 120 }
drive cam-drive {
  belt timing-belt over crank-pulley, cam-pulley
  tensioner belt-tensioner
  marks-agree at tdc 1 on compression
}
`;
const belt = (work: string): readonly string[] =>
  found(
    PINNED +
      job(
        '',
        'block, crankshaft, camshaft',
        `set crankshaft at tdc 1 on compression\npin crankshaft, camshaft\nfit crank-pulley onto crankshaft\nfit cam-pulley onto camshaft\nfit belt-tensioner onto block\nfit timing-belt onto crank-pulley\nalign cam-drive\nunpin crankshaft, camshaft\n${work}`,
      ),
  );

test('pins go in only after a whole cycle: after one turn the camshaft stands half a turn on', () => {
  expect(belt('rotate crankshaft 2 turns\nconfirm cam-drive by pins')).toEqual([]);
  expect(belt('rotate crankshaft 1 turn\nconfirm cam-drive by pins')).toContain(
    'sequence/not-in-time: confirm cam-drive by pins',
  );
  expect(belt('rotate crankshaft 900 deg\nconfirm cam-drive by pins')).toContain(
    'sequence/not-in-time: confirm cam-drive by pins',
  );
});

test('a tensioner that comes off after the proof asks for another', () => {
  const proof = 'rotate crankshaft 2 turns\nconfirm cam-drive by pins\n';
  const off = 'remove belt-tensioner\nfit belt-tensioner onto block\n';
  expect(belt(`${off}${proof}`)).toEqual([]);
  expect(belt(`${proof}${off}`).map((each) => each.split(':')[0])).toEqual(['sequence/timing-not-proved']);
});

test('a wheel that nothing keys is loosened after the proof', () => {
  const bolt = 'fastener cam-pulley-bolt x1 {\n  torque hand-tight\n  clamps cam-pulley to camshaft\n}\n';
  const work = (after: string): readonly string[] =>
    found(
      PINNED +
        bolt +
        job(
          '',
          'block, crankshaft, camshaft',
          `set crankshaft at tdc 1 on compression\nfit crank-pulley onto crankshaft\nfit cam-pulley onto camshaft\nfit belt-tensioner onto block\nfit timing-belt onto crank-pulley\nalign cam-drive\ntighten cam-pulley-bolt\nrotate crankshaft 2 turns\nconfirm cam-drive by pins\n${after}`,
        ),
    ).map((each) => each.split(':')[0] ?? '');
  expect(work('')).toEqual([]);
  expect(work('loosen cam-pulley-bolt\ntighten cam-pulley-bolt')).toEqual(['sequence/timing-not-proved']);
});

test('lash that a job sets at some places, and leaves at the others', () => {
  const text = (more: string): string =>
    `spec twin {\n  revision 1\n}\npart valve x4\nlimit lash each valve\n  kind valve-lash\n  measured\n  within 0.20..0.25 mm\nsequence set-it {\n  phase assemble\n  step work {\n    adjust lash 1, 2 by "screw"\n    ${more}\n  }\n}\njob tune of twin {\n  begins whole\n  sequences set-it\n}\n`;
  const isIt = (each: string): boolean => each.startsWith('sequence/not-adjusted');
  expect(found(text('')).filter(isIt)).toHaveLength(1);
  expect(found(text('measure lash 3, 4')).filter(isIt)).toEqual([]);
  expect(found(text('adjust lash 3, 4 by "screw"')).filter(isIt)).toEqual([]);
});
