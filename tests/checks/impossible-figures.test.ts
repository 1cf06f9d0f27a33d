// Figures that nothing can have, and what is said of a thing and itself: one finding each, at the figure or the name.
import { describe, expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';

const INTRO = `spec odd "Odd" {
  revision 1
  source shop "Decided at Quarry Lane Engine Works"
  per shop
}

part block

part head

part crankshaft

part gear

part belt-a
`;

const fastener = (statement: string): string => `fastener bolt x4 {\n  ${statement}\n}`;
const part = (statement: string): string => `part plate {\n  ${statement}\n}`;
const step = (statement: string): string =>
  `supply oil\n\nsequence work {\n  phase assemble\n  step one {\n    ${statement}\n  }\n}`;
const drive = (statement: string): string => `drive cam-drive {\n  ${statement}\n}`;

function found(text: string, code: string): readonly string[] {
  const whole = `${INTRO}\n${text}\n`;
  const { findings } = analyseText(whole);
  expect(findings.filter((each) => each.code.startsWith('syntax/')).map((each) => each.message)).toEqual([]);
  return findings.filter((each) => each.code === code).map((each) => whole.slice(each.start, each.end));
}

describe('can not be', () => {
  test.each([
    [fastener('torque -30 N.m'), '-30 N.m'],
    [fastener('torque 0 N.m, 90 deg'), '0 N.m'],
    [fastener('torque 30 N.m, -90 deg'), '-90 deg'],
    [fastener('torque 20 N.m\n  retorque 0 N.m'), '0 N.m'],
    [fastener('draw-up -300 N.m'), '-300 N.m'],
    [fastener('reuse to -101 mm'), '-101 mm'],
    [fastener('shank 0 mm'), '0 mm'],
    [part('mass 0 kg'), '0 kg'],
    [part('mass -2..3 kg'), '-2..3 kg'],
    [part('wall -2 mm'), '-2 mm'],
    [part('teeth 0'), '0'],
    [part('links 0'), '0'],
    [part('dimension pin-bore -22 mm'), '-22 mm'],
    [part('size over oversize -0.5 mm'), '-0.5 mm'],
    ['part plate x0', 'x0'],
    ['supply oil {\n  amount -4 l\n}', '-4 l'],
    ['supply sealant {\n  cure 0 h\n}', '0 h'],
    ['supply sealant {\n  close-within -10 min\n}', '-10 min'],
    [drive('centre-distance crankshaft to gear 0 mm'), '0 mm'],
    [step('wait 0 min'), '0 min'],
    [step('run engine at 0 rpm for 5 min'), '0 rpm'],
    [step('run engine for -5 min'), '-5 min'],
    [step('run engine until -300 degC'), '-300 degC'],
    [step('fit head onto block by heat at -500 degF'), '-500 degF'],
    [step('fill oil 0 l'), '0 l'],
    ['limit warm measured within -280..90 degC', '-280..90 degC'],
    [part('mark dot at 400 deg'), '400 deg'],
    [part('orient notch at 370 deg'), '370 deg'],
  ])('%s', (text, at) => {
    expect(found(text, 'unit/impossible')).toEqual([at]);
  });

  test.each([
    part('dimension crown-height -0.3 mm'),
    part('dimension offset -1.5..1.5 mm'),
    part('figure push -40 N'),
    'limit squeeze measured within -0.02..0.01 mm',
    'limit vacuum measured within -0.7..-0.5 bar',
    'limit colder measured within -30..40 degC',
    'limit rise measured within -5..5 K',
    step('rotate crankshaft -90 deg'),
    step('rotate crankshaft 720 deg'),
    part('orient notch at -90 deg'),
  ])('but this may be: %s', (text) => {
    expect(found(text, 'unit/impossible')).toEqual([]);
  });
});

describe('said of itself', () => {
  test.each([
    [fastener('clamps head to head'), 'head'],
    [part('fixed-to plate'), 'plate'],
    [part('covers plate'), 'plate'],
    [part('clear-of plate'), 'plate'],
    [drive('mesh gear with gear'), 'gear'],
    [drive('ratio gear to gear 2:1'), 'gear'],
    [drive('centre-distance gear to gear 80 mm'), 'gear'],
    [drive('belt belt-a over gear, crankshaft, gear'), 'gear'],
    [step('fit head onto head'), 'head'],
  ])('%s', (text, at) => {
    expect(found(text, 'name/itself')).toEqual([at]);
  });

  test.each([
    part('covers plate.hole\n  feature hole'),
    drive('belt belt-a over gear, crankshaft'),
    step('fit head onto block'),
  ])('but this is of another: %s', (text) => {
    expect(found(text, 'name/itself')).toEqual([]);
  });
});

describe('banks', () => {
  const engine = (...banks: readonly string[]): string =>
    `engine {\n  cylinders 4 vee 90 deg\n${banks.map((bank) => `  bank ${bank}\n`).join('')}}`;
  test.each([
    [['left 1, 2', 'right 2, 3, 4'], 1],
    [['left 1, 2', 'right 4'], 1],
    [['left 1, 2', 'right 3, 5'], 1],
    [['left 1, 3', 'right 2, 4'], 0],
    [['left 1, 3'], 0],
  ] as const)('%s', (banks, times) => {
    expect(found(engine(...banks), 'engine/banks')).toHaveLength(times);
  });
});

test('single-use and reuse contradict each other, as teeth and links do', () => {
  expect(found(fastener('single-use\n  reuse to 101 mm'), 'name/duplicate')).toEqual(['reuse']);
  expect(found(part('links 60\n  teeth 20'), 'name/duplicate')).toEqual(['teeth']);
});

describe('the side to which a thing wears, common practice, no source', () => {
  test.each([
    [part('dimension main-journal 60.00..60.02 mm wear-limit 60.05 mm'), '60.05 mm'],
    [part('dimension stem 6.96..6.98 mm wear-limit at-most 7.02 mm'), 'at-most 7.02 mm'],
    [part('wall 2.00..2.01 mm wear-limit 2.05 mm'), '2.05 mm'],
    [part('dimension bush-bore 22.00..22.02 mm wear-limit 21.95 mm'), '21.95 mm'],
    ['limit crank-play measured kind end-play within 0.10..0.20 mm wear-limit 0.05 mm', '0.05 mm'],
    ['limit piston-clearance measured within 0.10..0.20 mm wear-limit 0.05 mm', '0.05 mm'],
    ['limit grip measured kind press-fit within 0.02..0.04 mm wear-limit 0.06 mm', '0.06 mm'],
  ])('%s', (text, at) => {
    expect(found(text, 'limit/wear-side')).toEqual([at]);
  });

  test.each([
    part('dimension main-journal 60.00..60.02 mm wear-limit 59.95 mm'),
    part('dimension bore 81.00..81.02 mm wear-limit 81.10 mm'),
    part('dimension stem-height 30.0..30.5 mm wear-limit 31.0 mm'),
    part('dimension offset 3.0..3.1 mm wear-limit 2.8 mm'),
    'limit crank-play measured kind end-play within 0.10..0.20 mm wear-limit 0.30 mm',
  ])('but this is the right one, or none is known: %s', (text) => {
    expect(found(text, 'limit/wear-side')).toEqual([]);
  });
});

describe('a place that is written twice in one list', () => {
  test.each([
    [part('places 1..4, 3..5'), '3..5'],
    [part('places left, right, left'), 'left'],
    [part('places 1..4\n  dimension bore 1: 3 mm, 2..3: 4 mm, 3..4: 5 mm'), '3..4'],
    [part('places 1..4\n  dimension bore 3 mm for 1, 4 mm for 1, 2'), '1'],
  ])('%s', (text, at) => {
    expect(found(text, 'name/duplicate')).toEqual([at]);
  });

  test.each([
    part('places upper 1..5, lower 1..5'),
    part('places 1..4\n  dimension bore 1: 3 mm, 2..3: 4 mm, 4: 5 mm'),
    part('places upper 1..3, lower 1..3\n  dimension bore 3 mm for upper, 4 mm for lower'),
  ])('but these are others: %s', (text) => {
    expect(found(text, 'name/duplicate')).toEqual([]);
  });
});

describe('figures of a bolt and a valve that none has, judgement, no source', () => {
  test.each([
    [fastener('torque 60 N.m\n  nut-factor 5'), '5'],
    [fastener('torque 60 N.m\n  friction 0.012'), '0.012'],
    [fastener('length 60 mm\n  shank 100 mm'), '100 mm'],
    [fastener('length 60 mm\n  thread-length 9 in'), '9 in'],
    ['valve-timing road on crankshaft {\n  lift 90 mm\n}', '90 mm'],
    ['valve-timing road on crankshaft {\n  lift 0.4 mm\n}', '0.4 mm'],
  ])('%s', (text, at) => {
    expect(found(text, 'unit/suspect')).toEqual([at]);
  });

  test.each([
    fastener('torque 60 N.m\n  nut-factor 0.16\n  friction 0.12'),
    fastener('length 60 mm\n  shank 40 mm\n  thread-length 20 mm'),
    'valve-timing road on crankshaft {\n  lift 0.45 in\n}',
  ])('but these there are: %s', (text) => {
    expect(found(text, 'unit/suspect')).toEqual([]);
  });
});

test('a redline ten times too high is one finding, and no run is told to be slow for it', () => {
  const text = `engine {\n  cylinders 4 inline\n  bore 80 mm\n  stroke 90 mm\n  redline 54000 rpm\n}\n\nsequence first-start {\n  phase run-in\n  step run { run engine at 2200 rpm for 20 min }\n}\n\njob try {\n  begins whole\n  sequences first-start\n}\n`;
  const codes = (of: string): readonly string[] =>
    analyseText(of)
      .findings.filter((each) => ['engine/impossible', 'unit/suspect'].includes(each.code))
      .map((each) => each.code);
  expect(codes(text)).toEqual(['engine/impossible']);
  expect(codes(text.replace('54000', '5400').replace('2200 rpm', '220 rpm'))).toEqual(['unit/suspect']);
});
