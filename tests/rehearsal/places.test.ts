// Work is done at the places that are named, and at no others. Common practice, no source.
import { expect, test } from 'vitest';
import { analyseText } from '../annotated.ts';
import { found } from './work.ts';

const ENGINE = `part block
part head-plate x2
part rod x3
part rod-cap x3
part clip x2 { secured-by circlip }
part shell { places upper 1..3, lower 1..3 single-use }
part nozzle x3
part cover { places left, right }
fastener plate-bolt x28 { thread M8 class 8.8 fitted oiled joint structural clamps head-plate to block torque 10 N.m, 20 N.m }
fastener rod-bolt x2 { each rod thread M8 class 8.8 fitted oiled single-use secured-by wire joint structural clamps rod-cap to rod torque 20 N.m }
fastener cover-nut x4 { each cover thread M8 class 8.8 fitted dry joint cover clamps cover to block torque 20 N.m }
limit gap each nozzle
  measured
  within 0.20..0.30 mm
`;

const job = (work: string): string =>
  `${ENGINE}sequence build {\n  phase assemble\n  starts-with block\n  step first {\n    fit rod\n    fit head-plate, nozzle onto block\n${work}\n  }\n}\n`;

const PINS = 'fit clip\nsecure clip';
const PLATES = 'tighten plate-bolt';
const RODS = 'fit rod-cap onto rod\ntighten rod-bolt\nsecure rod-bolt';
const SHELLS = 'fit shell';
const COVERS = 'fit cover onto block\ntighten cover-nut';
const GAPS = 'measure gap';

const without = (left: string, ...instead: readonly string[]): string =>
  job([PINS, PLATES, RODS, SHELLS, COVERS, GAPS].flatMap((each) => (each === left ? instead : [each])).join('\n'));

/** What is said, without the code. */
const said = (text: string): readonly string[] =>
  analyseText(text, {})
    .findings.filter((finding) => finding.severity !== 'information')
    .map((finding) => `${finding.code}: ${finding.message.split(/\.( |$)/)[0]}`);

test('the job as it should be', () => {
  expect(said(without(''))).toEqual([]);
});

test.each<[string, string, string, string]>([
  [
    'nuts 9 to 20 of 28',
    PLATES,
    'tighten plate-bolt 9..20',
    'never-tightened: plate-bolt 1 to 8 and 21 to 28 are never tightened',
  ],
  [
    'three of four',
    COVERS,
    'fit cover onto block\ntighten cover-nut left, right 1..3',
    'never-tightened: cover-nut right (4) is never tightened',
  ],
  [
    'one place of two',
    COVERS,
    'fit cover onto block\ntighten cover-nut left',
    'never-tightened: cover-nut right is never tightened',
  ],
  [
    'a stage for some',
    PLATES,
    'tighten plate-bolt stage 1\ntighten plate-bolt 1..14',
    'stage-left: plate-bolt 15 to 28 stop at stage 1 of 2',
  ],
  [
    'one pin of two',
    PINS,
    'fit clip\nsecure clip 1',
    'not-secured: clip 2 goes on here and is never secured: it has a circlip',
  ],
  [
    'wire on one rod',
    RODS,
    'fit rod-cap onto rod\ntighten rod-bolt\nsecure rod-bolt 1, 3',
    'not-secured: rod-bolt 2 is tightened here and never secured: it has a wire',
  ],
  [
    'a shell that comes off is old, and the new ones go elsewhere',
    SHELLS,
    'fit shell\nremove shell upper 2, lower 2\nrenew shell upper 2\nfit shell upper 2, lower 2',
    'not-renewed: shell lower 2 is single-use and has been off in this job: it has to be new when it goes back',
  ],
  [
    'screws that were loosened, and those that are renewed',
    RODS,
    'fit rod-cap onto rod\ntighten rod-bolt\nloosen rod-bolt 1, 2\nrenew rod-bolt 1\ntighten rod-bolt\nsecure rod-bolt',
    'not-renewed: rod-bolt 2 is single-use and has been loosened in this job: it has to be new when it goes back',
  ],
  [
    'a gap that is measured at two of three',
    GAPS,
    'measure gap 1, 2',
    'not-measured: gap is measured here, and never at 3',
  ],
  [
    'one bolt in when the part comes off',
    PLATES,
    'tighten plate-bolt\nloosen plate-bolt 1..27\nremove head-plate\nfit head-plate onto block\ntighten plate-bolt',
    "still-fastened: head-plate can't come off yet: plate-bolt 28 still holds it and is not loosened before",
  ],
  [
    'loosened, and some tightened again',
    PLATES,
    'tighten plate-bolt\nloosen plate-bolt\ntighten plate-bolt 1..10',
    'never-tightened: plate-bolt 11 to 28 are loosened here and never tightened again',
  ],
])('%s', (_name, left, instead, finding) => {
  expect(said(without(left, instead))).toEqual([`sequence/${finding}`]);
});

test.each<[string, string, string, string]>([
  ['a bolt too many', PLATES, 'tighten plate-bolt\ntighten plate-bolt 29', 'tighten plate-bolt 29'],
  ['a rod that is not there', RODS, `${RODS}\nloosen rod-bolt 4`, 'loosen rod-bolt 4'],
  ['a gap that is not there', GAPS, 'measure gap\nmeasure gap 1..4', 'measure gap 1..4'],
  ['a part', PINS, `${PINS}\nsecure clip 3`, 'secure clip 3'],
  ['a name', COVERS, `${COVERS}\ntighten cover-nut top`, 'tighten cover-nut top'],
  ['a number of a name', SHELLS, `${SHELLS}\ninspect shell upper 1, 4`, 'inspect shell upper 1, 4'],
  [
    'in a list as places is written',
    SHELLS,
    `${SHELLS}\ninspect shell upper 1, lower 4`,
    'inspect shell upper 1, lower 4',
  ],
])('a place that is not there: %s', (_name, left, instead, line) => {
  expect(found(without(left, instead))).toEqual([`name/unknown: ${line}`]);
});

test.each<[string, string, string]>([
  ['an upper one in a list is upper', SHELLS, 'fit shell upper 1, 3\nfit shell upper 2\nfit shell lower'],
  ['places in one list, as they are written in the part', SHELLS, 'fit shell upper 1..3, lower 1..3'],
  ['names alone in one list', SHELLS, 'fit shell upper, lower'],
  ['all screws in two goes', PLATES, 'tighten plate-bolt 1..14\ntighten plate-bolt 15..28'],
  ['left and right', COVERS, 'fit cover onto block\ntighten cover-nut left\ntighten cover-nut right 1..4'],
  ['place by place', PINS, 'fit clip\nsecure clip 1\nsecure clip 2'],
])('nothing is wrong: %s', (_name, left, instead) => {
  expect(said(without(left, instead))).toEqual([]);
});
