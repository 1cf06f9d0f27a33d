// What mail, word processors and phones make of a spec is read as it was meant: whole samples with one thing changed
// throughout, and pairs of short texts. Where a change must give a finding instead, recovery.test.ts shows it.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { formatText } from '../../grammar/printer.ts';
import { DECLARATIONS } from '../../grammar/vocabulary.ts';
import { expectSame } from '../same.ts';
import { faultsOf, treesOf } from './trees.ts';

const folder = join(import.meta.dirname, '../../samples');
const samples = readdirSync(folder)
  .filter((name) => name.endsWith('.fettle'))
  .map((name) => [name, readFileSync(join(folder, name), 'utf8')] as const);

/** Changes a spec outside its texts and comments. */
function outside(text: string, change: (piece: string) => string): string {
  return text
    .split(/("(?:\\.|[^"\\])*"|#.*)/)
    .map((piece, i) => (i % 2 === 0 ? change(piece) : piece))
    .join('');
}

const swap =
  (what: RegExp, by: string | ((found: string) => string)) =>
  (text: string): string =>
    outside(text, (piece) => (typeof by === 'string' ? piece.replace(what, by) : piece.replace(what, by)));
const quotes =
  (opening: string, closing: string) =>
  (text: string): string =>
    text.replace(/"((?:\\.|[^"\\\u201c-\u201f])*)"|#.*/g, (all, inner?: string) =>
      inner === undefined ? all : `${opening}${inner}${closing}`,
    );
const reserved = new RegExp(
  `(?<![\\p{L}\\d._-])(${DECLARATIONS.map((row) => row.word).join('|')})(?![\\p{L}\\d_./-])`,
  'gu',
);

/** Each change; at least one sample must have something to change. */
const CHANGES: readonly (readonly [string, (text: string) => string])[] = [
  ['curly quotes', quotes('“', '”')],
  ['closing quotes on both sides', quotes('”', '”')],
  ['low quotes', quotes('„', '“')],
  ['low quotes, closed high', quotes('„', '”')],
  ['line ends of two characters', (text) => text.replace(/\n/g, '\r\n')],
  ['old line ends', (text) => text.replace(/\n/g, '\r')],
  ['tabs', swap(/ {2}/g, '\t')],
  ['a byte order mark', (text) => `\ufeff${text}`],
  ['blanks that do not break', swap(/(?<=\S) (?=\S)/g, '\u00a0')],
  ['thin blanks', swap(/(?<=\S) (?=\S)/g, '\u2009')],
  ['narrow blanks that do not break', swap(/(?<=\d) (?=\S)/g, '\u202f')],
  ['zero-width characters after blanks', swap(/(?<=\S) (?=\S)/g, ' \u200b')],
  ['joined words with a zero-width character', swap(/(?<=[a-z])(?=-[a-z])/g, '\u200b')],
  ['an ellipsis for the dots', swap(/(?<=\d)\.\.(?=\d)/g, '…')],
  ['three dots', swap(/(?<=\d)\.\.(?=\d+\.)/g, '...')],
  ['a dash for the dots', swap(/(?<=\d)\.\.(?=\d)/g, '–')],
  ['a longer dash for the dots', swap(/(?<=\d)\.\.(?=\d)/g, ' — ')],
  ['true minus', swap(/(?<= )-(?= )/g, '−')],
  ['a raised point in units', swap(/(?<=N|lbf|kgf)\.(?=m|ft|in|cm)/g, '·')],
  ['a dot operator in units', swap(/(?<=N|lbf|kgf)\.(?=m|ft|in|cm)/g, '⋅')],
  ['a bullet operator in units', swap(/(?<=N|lbf|kgf)\.(?=m|ft|in|cm)/g, '∙')],
  ['a bullet in units', swap(/(?<=N|lbf|kgf)\.(?=m|ft|in|cm)/g, '•')],
  ['torques run together', swap(/(?<=\d )N\.m\b/g, 'Nm')],
  ['the degree sign', swap(/(?<=\d) deg\b/g, '°')],
  ['an ordinal sign for degrees', swap(/(?<=\d) deg\b/g, 'º')],
  ['a ring for degrees', swap(/(?<=\d) deg\b/g, '˚')],
  ['no nought before the point', swap(/(?<= )0(?=\.\d)/g, '')],
  ['the sign for times before a count', swap(/(?<= )x(?=\d+\b)/g, '×')],
  ['a plus over a minus', swap(/±/g, '+/-')],
  ['capitals in units', swap(/(?<=\d )(?:mm|deg|rpm|lbf\.ft)\b/g, (unit) => unit.toUpperCase())],
  ['capitals at the head of declarations', swap(reserved, (word) => word.toUpperCase())],
  [
    'American spelling',
    swap(
      /\b(?:inlet(?= opens)|anticlockwise|centre(?=-distance)|toward)\b/g,
      (word) =>
        ({ inlet: 'intake', anticlockwise: 'counterclockwise', centre: 'center', toward: 'towards' })[word] ?? word,
    ),
  ],
];

const trees = new Map(samples.map(([name, text]) => [name, treesOf(text)]));

describe.each(CHANGES)('%s', (_what, change) => {
  test('there is something to change', () => {
    expect(samples.some(([, text]) => change(text) !== text)).toBe(true);
  });

  test.each(samples)('%s is the same', (name, text) => {
    const pasted = change(text);
    if (pasted === text) return;
    expect(faultsOf(pasted)).toEqual([]);
    expectSame(treesOf(pasted), trees.get(name));
  });
});

/** What is read as meant, and how it is properly written; more of them in how-it-is-read.test.ts. */
const PAIRS: readonly (readonly [string, string])[] = [
  ['part a { dimension b 1–2 mm }', 'part a { dimension b 1..2 mm }'],
  ['part a { dimension b 1—2 mm }', 'part a { dimension b 1..2 mm }'],
  ['part a { dimension b −5 mm }', 'part a { dimension b -5 mm }'],
  ['part a { dimension b .001…​.002 in }', 'part a { dimension b 0.001..0.002 in }'],
  ['part a { dimension b 3/8in }', 'part a { dimension b 3/8 in }'],
  ['part a { dimension b 1  1/2 in }', 'part a { dimension b 1 1/2 in }'],
  ['part a { dimension b ¾ in }', 'part a { dimension b 3/4 in }'],
  ['part a { dimension b 2 ½ in }', 'part a { dimension b 2 1/2 in }'],
  ['part a { dimension b 40µm }', 'part a { dimension b 40 um }'],
  ['part a { dimension b 40 ΜM }', 'part a { dimension b 40 um }'],
  ['part a { figure b 3 cm³ }', 'part a { figure b 3 cc }'],
  ['part a { figure b 3 in² }', 'part a { figure b 3 in2 }'],
  ['part a { mark b at 32º 30’ }', "part a { mark b at 32°30' }"],
  ['part a { mark b at 32˚30′ }', "part a { mark b at 32°30' }"],
  ['part a { mark b at 6 oclock }', "part a { mark b at 6 o'clock }"],
  ['part a { mark b at 1:30 O Clock }', "part a { mark b at 1:30 o'clock }"],
  ['supply a { amount 4 litres }', 'supply a { amount 4 L }'],
  ['supply a { amount 4.5 Liter }', 'supply a { amount 4.5 L }'],
  ['fastener a { thread m8 × 1.25 }', 'fastener a { thread M8x1.25 }'],
  ['fastener a { thread M8*1.25 }', 'fastener a { thread M8x1.25 }'],
  ['fastener a { thread 3/8–16 unc }', 'fastener a { thread 3/8-16 UNC }'],
  ['fastener a { torque 18 Ft-Lb }', 'fastener a { torque 18 lbf.ft }'],
  ['fastener a { torque 18 LB-FT }', 'fastener a { torque 18 lbf.ft }'],
  ['fastener a { torque 2.4 kg-m }', 'fastener a { torque 2.4 kgf.m }'],
  ['fastener a X4', 'fastener a x4'],
  ['Part a { Dimension b 5 Mm }', 'part a { dimension b 5 mm }'],
  ['part a { note "one\n  two" }', 'part a { note "one two" }'],
  ['part a { note "\ufeffone\u200btwo \u2060 three" }', 'part a { note "onetwo three" }'],
  ['part a { note "one\r\n  two" }', 'part a { note "one two" }'],
  ['engine { firing-order 1−3−4−2 }', 'engine { firing-order 1-3-4-2 }'],
  ['engine { firing-order 1‑3‑4‑2 }', 'engine { firing-order 1-3-4-2 }'],
  ['part नी\u200bली', 'part नीली'],
  ['part Å', 'part A\u030a'],
  ['part \u1112\u1161\u11ab', 'part 한'],
];

test.each(PAIRS)('%s is read as %s', (written, proper) => {
  expect(faultsOf(written)).toEqual([]);
  expect(treesOf(written)).toEqual(treesOf(proper));
  const laidOut = (text: string): string => {
    const result = formatText(text);
    return result.kind === 'formatted' ? result.text.replace(/\r\n/g, '\n') : result.why;
  };
  expect(laidOut(written)).toBe(laidOut(proper));
});
