// Any text gives a tree and findings, and comes to an end; layout keeps meaning and comments. Random texts from fixed seeds.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseSection } from '../../grammar/parse.ts';
import { formatText } from '../../grammar/printer.ts';
import { cutSections } from '../../grammar/sections.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import { KEYWORDS } from '../../grammar/vocabulary.ts';
import { analyseText } from '../annotated.ts';
import { everySection, treesOf } from './trees.ts';

const folder = join(import.meta.dirname, '../../samples');
const files = Object.fromEntries(
  [folder, join(folder, 'two-shops')].flatMap((each) =>
    readdirSync(each)
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [name, readFileSync(join(each, name), 'utf8')]),
  ),
);
const samples = Object.entries(files);
const SETTINGS = { seed: 20261125, numRuns: 60 };

const withoutComments = (text: string): string =>
  text.replace(/^[ \t]*#.*\n/gm, '').replace(/[ \t]+#(?![^"\n]*"[^"\n]*$).*$/gm, '');
const formatted = (text: string): string => {
  const result = formatText(text);
  if (result.kind === 'unchanged') throw new Error(result.why);
  return result.text;
};

/** Breaks lines at blanks so that none is wider than `width`, as mail does. */
function wrapped(text: string, width: number): string {
  return text
    .split('\n')
    .map((line) => {
      const out: string[] = [];
      let row = '';
      for (const word of line.trim().split(/ +/)) {
        if (row !== '' && row.length + 1 + word.length > width) {
          out.push(row);
          row = word;
        } else row = row === '' ? word : `${row} ${word}`;
      }
      return [...out, row].join('\n');
    })
    .join('\n');
}

describe.each(samples)('%s', (_name, text) => {
  const plain = withoutComments(text);

  test('the same tree at any width and run together', () => {
    const trees = treesOf(plain);
    for (const width of [20, 31, 44, 72, 100]) expect(treesOf(wrapped(plain, width))).toEqual(trees);
    expect(
      treesOf(
        plain
          .split('\n')
          .map((line) => line.trim())
          .join(' '),
      ),
    ).toEqual(trees);
  });

  test('layout restores what mail has wrapped or run together', () => {
    const proper = formatted(plain);
    for (const width of [20, 44, 100]) expect(formatted(wrapped(plain, width))).toBe(proper);
    expect(
      formatted(
        plain
          .split('\n')
          .map((line) => line.trim())
          .join(' '),
      ),
    ).toBe(proper);
  });

  test('layout twice changes nothing, and keeps every comment', () => {
    const once = formatted(text);
    expect(formatted(once)).toBe(once);
    const comments = (of: string): readonly string[] =>
      everySection(of).flatMap(({ section, inSequence }) =>
        parseSection(section, inSequence).comments.map((comment) => comment.text),
      );
    expect(comments(once)).toEqual(comments(text));
  });
});

const WORDS = [
  ...KEYWORDS,
  ...UNITS.map((row) => row.unit),
  'a',
  'b-c',
  'x4',
  '{',
  '}',
  '(',
  ')',
  ',',
  ':',
  '.',
  '..',
  '=',
  '+',
  '-',
  '*',
  '/',
  '±',
  '"',
  '"t"',
  '1',
  '2.5',
  '.3',
  '1/2',
  '1-3-4-2',
  '2026-03-04',
  '#',
  '\n',
  '\n\n',
  '>',
  '°',
  "'",
  "o'clock",
  'M8x1.25',
];

test('a soup of words comes to an end, and layout changes no meaning', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...WORDS), { maxLength: 120 }), (words) => {
      const text = words.join(' ');
      analyseText(text);
      const result = formatText(text);
      if (result.kind === 'formatted') expect(formatText(result.text)).toEqual(result);
    }),
    { ...SETTINGS, numRuns: 400 },
  );
});

test('any characters at all', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (text) => {
      analyseText(text);
      formatText(text);
    }),
    { ...SETTINGS, numRuns: 300 },
  );
});

test('damaged samples', () => {
  const [, text = ''] = samples.find(([name]) => name === 'flat-twin.fettle') ?? [];
  fc.assert(
    fc.property(
      fc.nat(text.length),
      fc.nat(300),
      fc.nat(text.length),
      fc.constantFrom('', '"', '{', '}', '#', 'part', '\n\n'),
      (at, length, from, put) => {
        analyseText(text.slice(0, at) + put + text.slice(from, from + 40) + text.slice(at + length), files);
      },
    ),
    { ...SETTINGS, numRuns: 80 },
  );
});

const example = readFileSync(join(import.meta.dirname, 'language-1.fettle'), 'utf8');

test('one character taken out of the first example: findings, and a layout that settles', () => {
  for (let at = 0; at < example.length; at += 97) {
    const damaged = example.slice(0, at) + example.slice(at + 1);
    if (at % 3 === 0) analyseText(damaged);
    const once = formatText(damaged);
    if (once.kind === 'formatted') expect(formatText(once.text)).toEqual(once);
  }
});

test('one declaration taken out of the first example: the others read as before', () => {
  const whole = treesOf(example);
  let tree = 0;
  for (const [i, section] of cutSections(example).entries()) {
    const own = treesOf(example.slice(section.start, section.end)).length;
    const rest = example.slice(0, section.start) + example.slice(section.end);
    expect(treesOf(rest)).toEqual([...whole.slice(0, tree), ...whole.slice(tree + own)]);
    if (i % 5 === 0) analyseText(rest);
    tree += own;
  }
  expect(tree).toBe(whole.length);
});

test.each([
  ['braces', '{'.repeat(20_000)],
  ['brackets', `limit l = ${'('.repeat(20_000)}`],
  ['minus signs', `limit l = ${'- '.repeat(20_000)}1`],
  ['quotes', '"'.repeat(20_001)],
  ['lines with one quote each', 'note "x\n'.repeat(4_001)],
  ['one long line', `part a { note "${'x '.repeat(100_000)}" }`],
  ['nested whens', 'when a { '.repeat(3_000)],
  ['statement words', `part a { ${'mark '.repeat(5_000)} }`],
  ['actions', `sequence s { step t { ${'fit '.repeat(5_000)} } }`],
  ['hole characters', `part a { \ufffc \ufffc }`],
])('much of one thing: %s', (_what, text) => {
  analyseText(text);
  formatText(text);
  expect(everySection(text).length).toBeGreaterThan(0);
});
