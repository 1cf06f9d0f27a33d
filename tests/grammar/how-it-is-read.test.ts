// The rules of reading, each with a text that shows it: what is cut where, what is read as meant, what is a finding with a
// way out. The texts are short; the lines below each say what must be found.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { DeclarationParser } from '../../grammar/declaration-parser.ts';
import { parseSection } from '../../grammar/parse.ts';
import { formatText } from '../../grammar/printer.ts';
import { cutSections } from '../../grammar/sections.ts';
import { readUnit, UNITS } from '../../grammar/vocabulary/units.ts';
import { ACTIONS, CHANGES, DECLARATIONS, KEYWORDS, STATEMENTS } from '../../grammar/vocabulary.ts';
import { unitFrom } from '../../server/model/measure.ts';
import { faultsOf, treesOf } from './trees.ts';

const language = (n: number): string => readFileSync(join(import.meta.dirname, `language-${n}.fettle`), 'utf8');

test("Chevrotain's own validation has nothing against the grammar", () => {
  expect(() => new DeclarationParser(false)).not.toThrow();
});

test.each([1, 2, 3])('example %i of the language reads without a fault', (n) => {
  expect(faultsOf(language(n))).toEqual([]);
});

test('the first example is in canonical layout', () => {
  expect(formatText(language(1))).toEqual({ kind: 'formatted', text: language(1) });
});

describe('the table of words', () => {
  test.each(
    [...STATEMENTS, ...ACTIONS].flatMap((row) =>
      row.in
        .filter((block) => row.shape !== 'when' || block === 'part')
        .map((block) => [block, row.word, row.example, row.inChange === true] as const),
    ),
  )('the example of %s %s reads', (block, _word, example, inChange) => {
    const head = block === 'engine' ? 'engine' : `${block} some-name`;
    const text =
      block === 'size'
        ? `part p {\n  size s undersize 0.25 mm {\n    ${example}\n  }\n}\n`
        : block === 'step'
          ? `sequence q {\n  step s {\n    ${example}\n  }\n}\n`
          : `${head} {\n  ${example}\n}\n`;
    expect(faultsOf(inChange ? `spec s extends b {\n  change ${text}}\n` : text)).toEqual([]);
  });

  test.each(CHANGES.map((row) => [row.word, row.example] as const))('the example of %s reads', (_word, example) => {
    expect(faultsOf(`spec s extends b {\n  ${example}\n}\n`)).toEqual([]);
  });

  test.each(DECLARATIONS.map((row) => [row.word, row.example] as const))('the example of %s reads', (word, example) => {
    expect(faultsOf(word === 'step' ? `sequence q {\n${example}\n}\n` : example)).toEqual([]);
  });

  test('no word is also a unit', () => {
    expect([...KEYWORDS].filter((word) => readUnit(word) !== undefined)).toEqual([]);
  });

  test('every unit can be worked with', () => {
    expect(UNITS.filter((row) => unitFrom(readUnit(row.unit)?.parts) === undefined).map((row) => row.unit)).toEqual([]);
    expect(UNITS.flatMap((row) => row.also.filter((spelling) => readUnit(spelling)?.usual !== row.unit))).toEqual([]);
  });
});

/** A text, and what must be found: code, the faulty stretch, and the first way out. */
const FOUND: readonly (readonly [string, string, readonly (readonly [string, string, string?])[]])[] = [
  [
    'a name is missing before a statement',
    'part a {\n  covers\n  mark dot at 90 deg\n}',
    [['syntax/unexpected', 'covers']],
  ],
  [
    'a name is missing before an action',
    'sequence s {\n  step t {\n    fit\n    tighten bolt\n  }\n}',
    [['syntax/unexpected', 'fit']],
  ],
  ['a name is missing in a head', 'part {\n  teeth 18\n}', [['syntax/unexpected', 'part']]],
  [
    'a brace is missing before the next declaration',
    'part a {\n  teeth 18\n\npart b {\n  teeth 19\n}',
    [['syntax/unclosed', '{']],
  ],
  [
    'two braces are missing',
    'sequence s {\n  step t {\n    fit a\n\npart b',
    [
      ['syntax/unclosed', '{'],
      ['syntax/unclosed', '{'],
    ],
  ],
  [
    'a step closes the step before it',
    'sequence s {\n  step t {\n    fit a\n  step u {\n    fit b\n  }\n}',
    [['syntax/unclosed', '{']],
  ],
  ['a brace too many', 'part a {\n  teeth 18\n}\n}', [['syntax/unexpected', '}', 'Take out the }']]],
  ['a text is not closed before an empty line', 'part a "Title\n\npart b', [['syntax/unclosed', '"Title']]],
  [
    'the first text over a line end is the unclosed one',
    'part a {\n  note "one\n  note "two"\n}\n\npart b',
    [['syntax/unclosed', '"one']],
  ],
  ['a misspelt statement', 'part a {\n  tooth 18\n}', [['syntax/unexpected', 'tooth', 'Change tooth to teeth']]],
  ['a misspelt declaration', 'prat a {\n  teeth 18\n}', [['syntax/unexpected', 'prat', 'Change prat to part']]],
  [
    'a misspelt choice',
    'engine {\n  cycle four-strok\n}',
    [['syntax/unexpected', 'four-strok', 'Change four-strok to four-stroke']],
  ],
  ['a value is missing', 'part a {\n  mass\n  teeth 18\n}', [['syntax/unexpected', 'mass']]],
  ['a list has a gap', 'part a {\n  covers b,, c\n}', [['syntax/unexpected', ',']]],
  ['a word too many', 'part a {\n  matched really\n}', [['syntax/unexpected', 'really']]],
  [
    'a comment that mail has wrapped',
    '# a comment that is rather\nlong\npart a',
    [['syntax/unexpected', 'long', 'Make it part of the comment above']],
  ],
  [
    'a quoted mail',
    '> part a\n> part b',
    [
      ['syntax/stray-character', '>', 'Take out the >'],
      ['syntax/stray-character', '>', 'Take out the >'],
    ],
  ],
  [
    'a number sign',
    'sequence s {\n  step t {\n    fit piston #3\n  }\n}',
    [['syntax/stray-character', '#3', 'Write 3']],
  ],
  ['a semicolon', 'part a;', [['syntax/stray-character', ';', 'Take out ;']]],
  ['a decimal comma', 'part a {\n  mass 0,05 g\n}', [['syntax/decimal-comma', '0,05', 'Write 0.05']]],
  ['a comma of thousands', 'engine {\n  redline 6,200 rpm\n}', [['syntax/decimal-comma', '6,200', 'Write 6.200']]],
  ['a hyphen in a range', 'part a {\n  mass 53.970-53.990 g\n}', [['syntax/unexpected', '-', 'Write 53.970..53.990']]],
  ['a hyphen in a fraction', 'part a {\n  dimension b 1-1/2 in\n}', [['syntax/unexpected', '1-1/2', 'Write 1 1/2']]],
  ['an inch mark', 'part a {\n  dimension b 3/8"\n}', [['unit/unknown', '"', 'Write in']]],
  ['an inch mark after a point', 'part a {\n  dimension b .002"\n}', [['unit/unknown', '"', 'Write in']]],
  ['in with a point', 'part a {\n  dimension b 2 in.\n}', [['unit/unknown', 'in.', 'Write in']]],
  ['N m', 'fastener a {\n  torque 9 N m\n}', [['unit/unknown', 'N m', 'Write N.m']]],
  ['ft. lbs.', 'fastener a {\n  torque 9 ft. lbs.\n}', [['unit/unknown', 'ft. lbs.', 'Write lbf.ft']]],
  ['a unit that there is not', 'fastener a {\n  torque 9 Nq\n}', [['unit/unknown', 'Nq']]],
  [
    'a soft hyphen',
    'part crank\u00adshaft',
    [['syntax/stray-character', 'crank\u00adshaft', 'Take out the hidden characters']],
  ],
  ['a direction mark', 'part a \u202e"b"', [['syntax/stray-character', '\u202e']]],
  ['a clause twice', 'sequence s {\n  step t {\n    fit a into b into c\n  }\n}', [['syntax/unexpected', 'c']]],
  ['no reason for an allow', 'part a {\n  allow unit/missing\n}', [['syntax/unexpected', 'unit/missing']]],
  ['a step outside a sequence', 'step t {\n  fit a\n}', [['syntax/unexpected', 'step']]],
  ['no such day', 'record r of s revision 1 {\n  signed "RT" on 2026-02-30\n}', [['syntax/unexpected', '2026-02-30']]],
];

test.each(FOUND)('%s', (_what, text, expected) => {
  const found = faultsOf(text);
  expect(found.map((fault) => [fault.code, fault.text])).toEqual(expected.map(([code, stretch]) => [code, stretch]));
  for (const [i, [, , fix]] of expected.entries())
    if (fix !== undefined) expect(String(found[i]?.fixes[0]?.title)).toBe(fix);
});

test('the verdict on a part is none of its places', () => {
  const record = (statement: string): string => `record r of s revision 1 {\n  ${statement}\n}\n`;
  const proper = treesOf(record('found piston 3 "scuffed" scrap'));
  expect(treesOf(record('found piston 3 scrap "scuffed"'))).toEqual(proper);
  expect(JSON.stringify(treesOf(record('found piston left scrap')))).toContain(
    '"verdict":{"word":"scrap","known":true}',
  );
});

test('a fault in one declaration leaves the others whole', () => {
  const good = 'part b {\n  teeth 19\n}\n';
  for (const bad of [
    'part a {\n  teeth\n}\n',
    'part a {\n  teeth 18\n',
    'part a "x\n\n',
    'part a }\n',
    'part a { ( }\n',
  ]) {
    expect(treesOf(`${bad}${good}`).at(-1)).toEqual(treesOf(good)[0]);
  }
});

/** What is read as meant, and how it is properly written. */
const MEANT: readonly (readonly [string, string])[] = [
  ['part a “Title”', 'part a "Title"'],
  ['part a „Title“', 'part a "Title"'],
  ['limit l = a.b − c.d', 'limit l = a.b - c.d'],
  ['part a { mass 1.0–2.0 g }', 'part a { mass 1.0..2.0 g }'],
  ['part a { mass 1.0…2.0 g }', 'part a { mass 1.0..2.0 g }'],
  ['part a { mass 0.267...0.330 g }', 'part a { mass 0.267..0.330 g }'],
  ['part a { dimension b 0.001...002 in }', 'part a { dimension b 0.001..0.002 in }'],
  ['part a { dimension b 5 µm }', 'part a { dimension b 5 um }'],
  ['part a { dimension b 5 μm }', 'part a { dimension b 5 um }'],
  ['fastener a { torque 9 N·m }', 'fastener a { torque 9 N.m }'],
  ['fastener a { torque 9 N⋅m }', 'fastener a { torque 9 N.m }'],
  ['fastener a { torque 9 Nm, 90º }', 'fastener a { torque 9 N.m, 90 deg }'],
  ['part a { dimension b 32°30′ }', "part a { dimension b 32°30' }"],
  ['part a { figure b 3 mm² }', 'part a { figure b 3 mm2 }'],
  ['part\u00a0a {\u2009mass\u202f3\u00a0g }', 'part a { mass 3 g }'],
  ['part crank\u200bshaft', 'part crankshaft'],
  ['part a { dimension b 1½ in }', 'part a { dimension b 1 1/2 in }'],
  ['part a { dimension b .002 in }', 'part a { dimension b 0.002 in }'],
  ['fastener a { thread M8 x 1.25 }', 'fastener a { thread M8x1.25 }'],
  ['fastener a ×4', 'fastener a x4'],
  ['part a { dimension b 2 +/- 0.1 mm }', 'part a { dimension b 2 ±0.1 mm }'],
  ['drive d { center-distance a to b 5 mm }', 'drive d { centre-distance a to b 5 mm }'],
  [
    'valve-timing v on c { intake opens 2 deg btdc closes 3 deg abdc }',
    'valve-timing v on c { inlet opens 2 deg btdc closes 3 deg abdc }',
  ],
  ['engine { rotation counterclockwise }', 'engine { rotation anticlockwise }'],
  ['part a { orient arrow towards front }', 'part a { orient arrow toward front }'],
  ['supply a { amount 4 liters }', 'supply a { amount 4 L }'],
  ['PART a { TEETH 18 }', 'part a { teeth 18 }'],
  ['fastener a { torque 9 n.M }', 'fastener a { torque 9 N.m }'],
  ['part a {\r\n\tteeth 18\r\n}\r\n', 'part a {\n  teeth 18\n}\n'],
  ['part a {\rteeth 18\r}', 'part a { teeth 18 }'],
  ['\ufeffpart a', 'part a'],
  ['part e\u0301cran', 'part \u00e9cran'],
  ['part a { mark b at 6 o’clock }', "part a { mark b at 6 o'clock }"],
  ['engine { firing-order 1–3–4–2 }', 'engine { firing-order 1-3-4-2 }'],
];

test.each(MEANT)('%s is read as %s', (written, proper) => {
  expect(faultsOf(written)).toEqual([]);
  expect(treesOf(written)).toEqual(treesOf(proper));
  const formatted = formatText(written);
  expect(formatted.kind === 'formatted' ? formatted.text.replace(/\r\n/g, '\n') : formatted).toBe(
    (formatText(proper) as { readonly text: string }).text,
  );
});

test.each(['поршень', 'έμβολο', '活塞', 'पिस्टन', 'מנוע', 'kolben-3', 'vilebrequin_2'])(
  'names of every script: %s',
  (name) => {
    expect(faultsOf(`part ${name} {\n  covers ${name}.${name}\n}`)).toEqual([]);
    const section = cutSections(`part ${name}`)[0];
    expect(section === undefined ? '' : parseSection(section, false).declaration?.name?.text).toBe(
      name.normalize('NFC'),
    );
  },
);
