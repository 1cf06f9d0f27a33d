// How many there are of a part, against what it goes with: what does not come out even is told, and what may be so is not. Common practice,
// no source.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const FOUR = 'engine {\n  cylinders 4 inline\n}\n\n';
const VALVES = `${FOUR}part valve {\n  places inlet 1..4, exhaust 1..4\n}\n\n`;
const CRANK =
  'part block {\n  dimension main-bore x5 60.00..60.01 mm\n}\n\npart crankshaft {\n  dimension main-journal x5 55.00..55.01 mm\n}\n\n';
const BOLT = '  thread M8\n  class 8\n  torque 20 N.m\n';

const WRONG: readonly (readonly [string, string])[] = [
  ['three pistons in a four', `${FOUR}part piston x3`],
  ['five rods in a four', `${FOUR}part connecting-rod x5`],
  ['seven rings', `${FOUR}part top-ring x7`],
  ['five plugs', `${FOUR}fastener spark-plug x5 {\n${BOLT}}`],
  ['seven valves', `${FOUR}part valve {\n  places inlet 1..4, exhaust 1..3\n}`],
  ['fourteen collets to eight valves', `${VALVES}part collet x14`],
  ['six pushrods to eight valves', `${VALVES}part pushrod x6`],
  ['seven springs', `${VALVES}part valve-spring x7`],
  ['uneven shells', 'part main-shell {\n  places upper 1..5, lower 1..4\n}'],
  ['four caps to five mains', `${CRANK}part main-cap x4`],
  [
    'nine bolts to five caps',
    `${CRANK}part main-cap x5\n\nfastener main-bolt x9 {\n${BOLT}  clamps main-cap to block\n}`,
  ],
  ['fourteen nuts on sixteen studs', `fastener exhaust-stud x16 {\n${BOLT}}\n\nfastener exhaust-nut x14 {\n${BOLT}}`],
  ['four swirl chambers in a five', 'engine {\n  cylinders 5 inline\n}\n\npart swirl-chamber x4'],
  ['seven studs of barrels', `${FOUR}fastener barrel-stud x15 {\n${BOLT}}`],
  [
    'one bolt to a cap',
    `${CRANK}part cam-cap x5\n\nfastener cam-cap-bolt x1 {\n  each cam-cap\n${BOLT}  clamps cam-cap to block\n}`,
  ],
];

const RIGHT: readonly (readonly [string, string])[] = [
  ['a part that does not say how many', `${FOUR}part piston\n\npart pushrod`],
  ['pistons of two hands', `${FOUR}part left-piston x2\n\npart right-piston x2`],
  ['the piston of a compressor', `${FOUR}part piston x4\n\npart compressor-piston x3`],
  [
    'a master rod and its link rods',
    'engine {\n  cylinders 5 radial\n}\n\npart master-rod\n\npart link-rod x4\n\npart rod-cap',
  ],
  ['two plugs to a cylinder', `${FOUR}fastener spark-plug x8 {\n${BOLT}}`],
  ['one heater plug for all', `${FOUR}fastener glow-plug x1 {\n${BOLT}}`],
  ['two springs to a valve', `${VALVES}part valve-spring x16`],
  ['inner and outer springs', `${VALVES}part inner-spring x8\n\npart outer-spring x8`],
  ['stem seals on the inlet side', `${VALVES}part stem-seal x4`],
  ['collets in halves, and in one piece', `${VALVES}part collet x16`],
  ['a rocker for two valves', `${VALVES}part rocker x4`],
  ['an upper thrust washer alone', 'part thrust-washer {\n  places upper 1..2, lower 1..1\n}'],
  [
    'an end main that runs in the end plate',
    'part block {\n  dimension main-bore x4 60.00..60.01 mm\n}\n\npart crankshaft {\n  dimension main-journal x5 55.00..55.01 mm\n}\n\npart main-cap x4',
  ],
  [
    'long and short bolts that come out even together',
    `${CRANK}part main-cap x5\n\nfastener long-bolt x6 {\n${BOLT}  clamps main-cap to block\n}\n\nfastener short-bolt x4 {\n${BOLT}  clamps main-cap to block\n}`,
  ],
  [
    'nuts on the other end of the stud',
    `fastener side-stud x6 {\n${BOLT}}\n\nfastener side-nut x4 {\n${BOLT.replace('M8', 'M8x1')}}`,
  ],
];

const told = (text: string): readonly string[] =>
  analyseText(`${text}\n`)
    .findings.filter((each) => each.code === 'engine/counts')
    .map((each) => each.code);

describe('counts that do not come out even', () => {
  test.each(WRONG)('%s', (_what, text) => {
    expect(told(text)).toEqual(['engine/counts']);
  });
});

describe('counts that may be so', () => {
  test.each(RIGHT)('%s', (_what, text) => {
    expect(told(text)).toEqual([]);
  });
});
