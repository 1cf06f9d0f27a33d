// What holds for reading and layout whatever the spec: layout keeps every word and comment in its order, a fault spoils
// its own declaration alone. Random changes of the samples from fixed seeds; fuzz.test.ts has texts that are no specs.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lex } from '../../grammar/lexer.ts';
import { formatText } from '../../grammar/printer.ts';
import { analyseText } from '../annotated.ts';
import { everySection, faultsOf, readingsOf } from './trees.ts';

const folder = join(import.meta.dirname, '../../samples');
const files = Object.fromEntries(
  [folder, join(folder, 'two-shops')].flatMap((each) =>
    readdirSync(each)
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [name, readFileSync(join(each, name), 'utf8')]),
  ),
);
const samples = Object.entries(files);
const seeded = (numRuns: number): { readonly seed: number; readonly numRuns: number } => ({ seed: 41_127, numRuns });

/** Words, figures and signs of a text in their usual form and order. */
const wordsOf = (text: string): readonly string[] =>
  everySection(text).flatMap(({ section }) => lex(section.text, section).tokens.map((token) => token.payload));

const laidOut = (text: string): string => {
  const result = formatText(text);
  if (result.kind === 'unchanged') throw new Error(result.why);
  return result.text;
};

/** Every section of a text by itself: what was read of it, and its faults at their own places. */
const readings = (text: string): readonly string[] =>
  readingsOf(text).map(({ parsed: { declaration, faults } }) => JSON.stringify([declaration, faults]));

test.each(samples)('%s: layout keeps every word in its order', (_name, text) => {
  expect(wordsOf(laidOut(text))).toEqual(wordsOf(text));
});

/** Offsets at which a remark may be put in: the ends of lines outside texts. */
const lineEnds = (text: string): readonly number[] => {
  let open = false;
  const ends: number[] = [];
  for (let at = 0; at < text.length; at += 1) {
    if (text[at] === '"' && text[at - 1] !== '\\') open = !open;
    if (text[at] === '\n' && !open) ends.push(at);
  }
  return ends;
};

test.each(samples)('%s: remarks anywhere are kept in their order', (_name, written) => {
  const text = written.replace(/^[ \t]*#.*\n/gm, '').replace(/[ \t]+#(?![^"\n]*"[^"\n]*$).*$/gm, '');
  const ends = lineEnds(text);
  fc.assert(
    fc.property(fc.uniqueArray(fc.nat(ends.length - 1), { minLength: 1, maxLength: 8 }), fc.boolean(), (which, own) => {
      let marked = text;
      const places = which.map((i) => ends[i] ?? 0).sort((a, b) => b - a);
      for (const [i, at] of places.entries())
        marked = `${marked.slice(0, at)}${own ? '\n' : ' '}# remark ${places.length - i}${marked.slice(at)}`;
      const out = laidOut(marked);
      expect(out.match(/# remark \d/g)).toEqual(places.map((_, i) => `# remark ${i + 1}`));
      expect(wordsOf(out)).toEqual(wordsOf(text));
      expect(laidOut(out)).toBe(out);
    }),
    seeded(4),
  );
});

/** Changes that spoil something inside braces, or the braces themselves. */
const SPOILING = [' ) ', ' ,, ', ' 4 4 ', ' = = ', ' xyzzy ', ' 3 nq ', ' dimension 4 ', ' ; ', ' #3\n', ' 0,05 mm '];

describe('a fault in one declaration', () => {
  test.each(samples)('%s: leaves what is read of the others', (_name, text) => {
    const before = readings(text);
    const sections = everySection(text);
    const bodies = sections
      .map(({ section }, i) => ({ i, section, open: section.text.indexOf('{') }))
      .filter(({ open, section }) => open >= 0 && section.children.length === 0);
    fc.assert(
      fc.property(fc.constantFrom(...bodies), fc.constantFrom(...SPOILING), ({ i, section, open }, put) => {
        // A word with a figure is a row of a table of grades, whatever the word.
        fc.pre(section.word !== 'grades' || put !== ' dimension 4 ');
        const at = section.start + open + 1;
        const spoilt = text.slice(0, at) + put + text.slice(at);
        const after = readings(spoilt);
        expect(after.length).toBe(before.length);
        expect(after[i]).not.toBe(before[i]);
        expect(after.filter((_, k) => k !== i)).toEqual(before.filter((_, k) => k !== i));
        expect(faultsOf(spoilt).length).toBeGreaterThan(0);
      }),
      seeded(12),
    );
  });

  test.each(samples)('%s: a brace that is missing is one fault, and the others are read', (_name, text) => {
    const before = readings(text);
    const closing = everySection(text)
      .map(({ section, inSequence }, i) => ({ i, section, inSequence }))
      // Steps and changes stand in another section, whose places move: they have tests of their own.
      .filter(({ section, inSequence }) => !inSequence && !['when', 'change', 'insert'].includes(section.word ?? ''))
      .filter(({ section }) => section.children.length === 0)
      .filter(({ section }) => section.text.trimEnd().endsWith('}') && section.end < text.length);
    for (const { i, section } of closing.slice(0, 12)) {
      const at = section.start + section.text.trimEnd().length - 1;
      const spoilt = `${text.slice(0, at)} ${text.slice(at + 1)}`;
      const after = readings(spoilt);
      expect(faultsOf(spoilt).map((fault) => fault.code)).toEqual(['syntax/unclosed']);
      expect(after.filter((_, k) => k !== i)).toEqual(before.filter((_, k) => k !== i));
    }
  });
});

test('stretches taken out, doubled and changed about: an analysis all the same', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...samples.map(([name]) => name)),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.integer({ min: 1, max: 60 }),
      fc.constantFrom('out', 'double', 'about'),
      (name, first, second, length, how) => {
        const text = files[name] ?? '';
        const [a, b] = [first, second].map((part) => Math.floor(part * (text.length - 130))).sort((x, y) => x - y);
        const from = a ?? 0;
        const to = Math.max(b ?? 0, from + length);
        const one = text.slice(from, from + length);
        const other = text.slice(to, to + length);
        const changed =
          how === 'out'
            ? text.slice(0, from) + text.slice(from + length)
            : how === 'double'
              ? text.slice(0, from) + one + text.slice(from)
              : text.slice(0, from) + other + text.slice(from + length, to) + one + text.slice(to + length);
        for (const finding of analyseText(changed, files, name).findings) {
          expect(finding.start).toBeGreaterThanOrEqual(0);
          expect(finding.end).toBeLessThanOrEqual(changed.length);
        }
      },
    ),
    seeded(60),
  );
});
