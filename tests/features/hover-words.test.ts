// What is said on each word of the language, by place, and on the words and figures that no declaration stands for.
import { describe, expect, test } from 'vitest';
import { type Block, CHANGES, DECLARATIONS, statementsOf } from '../../grammar/vocabulary.ts';
import { headlines } from '../../server/features/hints.ts';
import { hover } from '../../server/features/hover.ts';
import { marked } from './marked.ts';

const said = (written: string): string => {
  const { analysis, cursor } = marked(written);
  return hover(analysis, cursor)?.markdown ?? '';
};

const HEADS: Readonly<Record<Block, readonly [string, string]>> = {
  spec: ['spec s {\n', '\n}\n'],
  engine: ['engine {\n', '\n}\n'],
  part: ['part p {\n', '\n}\n'],
  size: ['part p {\n  size u undersize 0.25 mm {\n', '\n  }\n}\n'],
  fastener: ['fastener f {\n', '\n}\n'],
  supply: ['supply s {\n', '\n}\n'],
  grades: ['grades g by l {\n', '\n}\n'],
  drive: ['drive d {\n', '\n}\n'],
  'valve-timing': ['valve-timing v on p {\n', '\n}\n'],
  limit: ['limit l\n  measured\n  within 1..2 mm {\n', '\n}\n'],
  sequence: ['sequence q {\n', '\n}\n'],
  step: ['sequence q {\n  step t {\n', '\n  }\n}\n'],
  job: ['job j of s {\n', '\n}\n'],
  record: ['record r of s revision 1 {\n', '\n}\n'],
};

describe('each word that begins a statement is told in each block', () => {
  const rows = Object.entries(HEADS).flatMap(([block, [before, after]]) =>
    statementsOf(block as Block)
      .filter((row) => row.inChange !== true)
      .map((row) => [block, row.word, before, row, after] as const),
  );
  test.each(rows)('%s: %s', (_block, word, before, row, after) => {
    const text = said(`${before}    ${word.slice(0, 1)}|${row.example.slice(1)}${after}`);
    expect(text.replaceAll('\\', '')).toContain(row.help.replace(/`/g, '`'));
  });

  const choices = rows.flatMap(([block, word, before, row, after]) =>
    row.shape === 'choice'
      ? Object.entries(row.choices ?? {}).map(([choice, help]) => [block, word, choice, before, help, after] as const)
      : [],
  );
  test.each(choices)('%s: %s %s', (_block, word, choice, before, help, after) => {
    const text = said(`${before}    ${word} ${choice.slice(0, 1)}|${choice.slice(1)}${after}`);
    expect(text.replaceAll('\\', '')).toContain(help);
  });
});

test.each([...DECLARATIONS, ...CHANGES].filter((row) => row.word !== 'step').map((row) => [row.word, row] as const))(
  'a declaration begins with %s',
  (word, row) => {
    const where = CHANGES.includes(row)
      ? `spec base { }\n\nspec s extends base {\n  ${word.slice(0, 1)}|${word.slice(1)} part p\n}\n`
      : `${word.slice(0, 1)}|${row.example.slice(1)}\n`;
    expect(said(where).replaceAll('\\', '')).toMatch(
      word === 'engine' ? /The engine/ : new RegExp(row.help.slice(0, 20).replace(/[^\w ]/g, '.')),
    );
  },
);

const BOLT = `part block

part lid {
  places left, right into block
  dimension depth x2 3 mm
  feature face
  orient arrow toward front
  size over-5 oversize 0.5 mm
}

fastener lid-bolt x10 {
  thread M8x1.25
  class 8.8
  fitted oiled
  clamps lid to block
  torque 12 N.m, 150 deg
  single-use
}
`;

describe('words and figures', () => {
  test.each([
    [
      'a torque: this bolt, stage by stage',
      BOLT.replace('torque', 'to|rque'),
      /stage 1, 12 N\\\.m: pulls .* kN, .* % of its proof load, before its angle[\s\S]*then 150 degrees: past yield as meant/,
    ],
    ['a choice', BOLT.replace('oiled', 'oi|led'), /\*\*oiled\*\* \(fitted\)/],
    [
      'a thread',
      BOLT.replace('M8x1.25', 'M8|x1.25'),
      /diameter 8 mm, pitch 1\\\.25 mm, the coarse pitch[\s\S]*stress area 36\\\.6 mm²/,
    ],
    ['a class', BOLT.replace('8.8', '8|.8'), /proof 580 MPa, yield 640 MPa, tensile 800 MPa/],
    ['a count', BOLT.replace('x10', 'x1|0'), /10 of lid\\-bolt on the engine/],
    ['a count of sizes', BOLT.replace('x2', 'x|2'), /depth is there 2 times on one lid/],
    ['a place', BOLT.replace('right', 'ri|ght'), /\*\*right\*\* \(place of lid\): one place, into block/],
    ['a feature', BOLT.replace('face', 'fa|ce'), /\*\*face\*\* of lid[\s\S]*feature face/],
    ['what is turned', BOLT.replace('arrow', 'arr|ow'), /\*\*arrow\*\* of lid[\s\S]*orient arrow toward front/],
    ['a repair size', BOLT.replace('over-5', 'over|-5'), /\*\*over\\-5\*\* of lid[\s\S]*oversize 0\.5 mm/],
    [
      'a source',
      'spec s {\n  source man|ual "The manual"\n}\n\npart p {\n  mass 3 kg per manual\n}\n',
      /\(source\)[\s\S]*The manual[\s\S]*one statement of this file rests on it/,
    ],
    ['a variant', 'spec s {\n  variants a|a, bb\n}\n\nwhen aa {\n  part p\n}\n', /\(variant\): in it alone: part p/],
    ['a share', 'part p {\n  figure f 3 |%\n}\n', /per cent/],
    ['a stage without a figure', 'fastener f {\n  thread M8\n  torque hand-ti|ght\n}\n', /run up by hand/],
    ['a kind of limit', 'limit l kind oil-cl|earance\n  measured\n  within 1..2 mm\n', /play of a plain bearing/],
  ])('%s', (_what, written, wanted) => expect(said(written)).toMatch(wanted));
});

test('a sequence is shown with the heads of its steps, and no sign stands for them', () => {
  const text = said(
    'part p\n\nsequence se|q {\n  phase assemble\n\n  step one "First" {\n    fit p\n  }\n\n  step two {\n    note "x"\n  }\n}\n',
  );
  expect(text).toContain('step one "First" { … }');
  expect(text).toContain('step two { … }');
  expect(text).not.toContain('\ufffc');
});

test('above a bolt that turns on through an angle the share of its torque does not stand as the result', () => {
  const { analysis } = marked(BOLT);
  expect(headlines(analysis).map((hint) => hint.text.text)).toEqual([
    expect.stringMatching(/of proof load before 150 degrees more$/),
  ]);
});

test('nothing of books and formulas stands in a hover of a bolt', () => {
  expect(said(BOLT.replace('lid-bolt', 'lid|-bolt'))).not.toMatch(/Shigley|lcm|T = K/);
});

test.each([
  ['a word in a text', 'supply oil "En|gine oil"\n', ''],
  ['a letter in a text that is a unit too', 'part p {\n  note "seen by A|"\n}\n', ''],
  ['a word in a comment', '# the eng|ine\npart p\n', ''],
  [
    'a grade in its table',
    'limit l\n  measured\n  within 1..2 mm\n\ngrades g by l {\n  th|in 2.00..2.05 mm\n}\n',
    'thin 2.00..2.05 mm',
  ],
  [
    'a grade that was fitted',
    'grades g by l {\n  thin 2.00..2.05 mm\n}\n\nrecord r of s revision 1 {\n  fitted g grade th|in\n}\n',
    'thin 2.00..2.05 mm',
  ],
  [
    'the name of a record',
    'record bui|ld-7 "Seventh" of s revision 1 {\n  customer "Ada"\n}\n',
    'build-7 (record): Seventh',
  ],
  ["twelve o'clock", "part p {\n  mark dot at 12 o'cl|ock\n}\n", 'straight up'],
  ['half past one', "part p {\n  mark dot at 1:3|0 o'clock\n}\n", '45 degrees clockwise from the top'],
  [
    'screws for each of a part',
    'part rod x4\n\nfastener f x|2 {\n  each rod\n}\n',
    '2 of f for each rod, 8 on the engine',
  ],
  ['an example is named as one', 'fastener f {\n  cl|ass 8.8\n}\n', 'As an example:'],
])('told: %s', (_what, written, wanted) => {
  const text = said(written).replaceAll('\\', '').replaceAll('**', '');
  if (wanted === '') expect(text).toBe('');
  else expect(text).toContain(wanted);
});

test('a file that is used tells what it declares, an action that changes nothing tells nothing of it', () => {
  const { analysis, cursor } = marked('use "b.f|ettle"\n', { 'b.fettle': 'part lid\n\nsupply oil\n' });
  expect(hover(analysis, cursor)?.markdown).toContain('part: lid');
  const job = 'spec s {\n  revision 1\n}\n\npart p\n\nsequence q {\n  step t {\n    fit p\n    insp|ect p\n  }\n}\n';
  expect(said(job)).toContain('**inspect**');
  expect(said(job)).not.toContain('After it');
  expect(said(job.replace('insp|ect', 'inspect').replace('fit p', 'f|it p'))).toContain('After it');
});
