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
import { expectSame } from '../same.ts';
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

/** A text is analysed to the end: nothing in Fettle itself fails over it. */
function analysed(text: string, beside: Readonly<Record<string, string>> = {}): void {
  const faults = analyseText(text, beside).findings.filter(({ code }) => code === 'fettle/fault');
  expect(faults.map(({ message }) => message)).toEqual([]);
}

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
    for (const width of [20, 31, 44, 72, 100]) expectSame(treesOf(wrapped(plain, width)), trees);
    expectSame(
      treesOf(
        plain
          .split('\n')
          .map((line) => line.trim())
          .join(' '),
      ),
      trees,
    );
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
  '3"',
  '3"for use',
  'x4"part b"',
  'constructor',
  '__proto__',
];

test('a soup of words comes to an end, and layout changes no meaning', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...WORDS), { maxLength: 120 }), (words) => {
      const text = words.join(' ');
      analysed(text);
      const result = formatText(text);
      if (result.kind === 'formatted') expect(formatText(result.text)).toEqual(result);
    }),
    { ...SETTINGS, numRuns: 400 },
  );
});

/** Words that every object of the machine answers to, and words that are in a spec. */
const NAMES = [
  'a',
  'b',
  'bore',
  'constructor',
  '__proto__',
  'toString',
  'valueOf',
  'hasOwnProperty',
  'prototype',
  'oiled',
];
const name = fc.constantFrom(...NAMES);
const term = fc.oneof(
  fc.constantFrom('1 mm', '0.5', '2 in'),
  name.map((figure) => `engine.${figure}`),
  fc.tuple(name, name).map(([part, figure]) => `${part}.${figure}`),
  fc.tuple(name, name).map(([word, figure]) => `${word}(${figure}.${word})`),
);
/** Sums, now and then one that is far too long. */
const sum = fc
  .tuple(
    fc.array(term, { minLength: 1, maxLength: 5 }),
    fc.constantFrom(...Array.from({ length: 15 }, () => 1), 2000),
    fc.constantFrom('+', '-', '*'),
  )
  .map(([terms, times, sign]) => Array.from({ length: times }, () => terms.join(` ${sign} `)).join(` ${sign} `));
/** Texts in quotes, with figures and words before them and in them. */
const quoted = fc
  .tuple(
    fc.constantFrom('', '3', '3/8', '1½', 'x4', '0.5 '),
    fc.array(fc.constantFrom('use', 'part', 'a', '3', '{', '}', 'of'), { maxLength: 4 }),
  )
  .map(([before, inside]) => `${before}"${inside.join(' ')}"`);

/** Declarations in which any name may be any word, and any text may stand behind a figure. */
const declared = fc
  .tuple(fc.array(name, { minLength: 8, maxLength: 8 }), sum, quoted, fc.nat(11))
  .map(([[a = '', b = '', c = '', d = '', e = '', f = '', g = '', h = ''], long, text, which]) => {
    const kinds = [
      `part ${a} ${text} { dimension ${b} 1.00..1.02 mm mark ${c} at 12 o'clock orient ${d} toward ${e} note ${text} }`,
      `limit ${a} of ${b} kind ${c} = ${long} within 1..2 mm`,
      `limit ${a} measured within ${long}`,
      `fastener ${a} x4 { thread M8x1.25 class ${b} into ${c} fitted ${d} torque 10 N.m clamps ${e} to ${f} }`,
      `sequence ${a} { after ${b} step ${c} ${text} { ${d} ${e} fit ${f} into ${g}.${h} measure ${a} with ${text} } }`,
      `spec ${a} ${text} extends ${b} { variants ${c}, ${d} change part ${e} { ${f} ${g} drop ${h} } }`,
      `grades ${a} by ${b}.${c} { ${d} 1..2 mm ${e} 2..3 mm }`,
      `drive ${a} { mesh ${b} with ${c} ratio ${d} to ${e} 2:1 }`,
      `valve-timing ${a} on ${b} { ${c} opens 8 deg btdc stated ${d} 9 deg }`,
      `when ${a} { part ${b} { ${c} 3 mm size ${d} { wall 2 mm } } }`,
      `record ${a} of ${b} { measured ${c} ${d} 1 mm fitted ${e} ${f} }`,
      `engine { ${a} 4 bore ${b}.${c} bank ${d} 1 }\nsupply ${e} { kind ${f} }\nuse ${text}\njob ${g} of ${h} { begins ${a} }`,
    ];
    return kinds[which] ?? '';
  });

test('any word for any name, long sums and quotes behind figures: analysed to the end, and laid out', () => {
  fc.assert(
    fc.property(fc.array(declared, { minLength: 1, maxLength: 6 }), (declarations) => {
      const text = declarations.join('\n');
      analysed(text);
      const result = formatText(text);
      if (result.kind !== 'formatted') return;
      expect(formatText(result.text)).toEqual(result);
      // What is quoted on one line is never torn by an empty one.
      for (const [written] of text.matchAll(/"[^"\n]*"/g))
        if (written !== '""')
          expect(result.text.replace(/[^\S\n]*\n(?!\s*\n)\s*/g, ' ')).toContain(written.replace(/^" +| +"$/g, '"'));
    }),
    { ...SETTINGS, numRuns: 100 },
  );
}, 60_000);

test('any characters at all', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (text) => {
      analysed(text);
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
        analysed(text.slice(0, at) + put + text.slice(from, from + 40) + text.slice(at + length), files);
      },
    ),
    { ...SETTINGS, numRuns: 80 },
  );
});

const example = readFileSync(join(import.meta.dirname, 'language-1.fettle'), 'utf8');

test('one character taken out of the first example: findings, and a layout that settles', () => {
  for (let at = 0; at < example.length; at += 97) {
    const damaged = example.slice(0, at) + example.slice(at + 1);
    if (at % 3 === 0) analysed(damaged);
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
    if (i % 5 === 0) analysed(rest);
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
  ['terms of a sum', `limit l = 1 mm${' + 1 mm'.repeat(16_000)} within 1..2 mm`],
  ['factors', `limit l = 1 mm${' * 2 / 2'.repeat(4_000)} within 1..2 mm`],
  ['names in a sum', `part a { dimension b 1..2 mm }\nlimit l = a.b${' - a.b'.repeat(4_000)} within 1..2 mm`],
  ['operands', `part a { dimension b 1..2 mm }\nlimit l = spread(a.b${', a.b'.repeat(4_000)}) within 1..2 mm`],
])('much of one thing: %s', (_what, text) => {
  analysed(text);
  formatText(text);
  expect(everySection(text).length).toBeGreaterThan(0);
});
