// A text held in pieces is the text that the edits make, with its lines, whatever the edits; and shares what they left alone.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  changedStretch,
  lineAt,
  lineStart,
  stretchOf,
  wholeText,
  withStretch,
  writtenAfter,
  writtenAs,
} from '../../grammar/written.ts';

const bit = fc.constantFrom(
  'a',
  'b',
  '\n',
  '\r',
  '\r\n',
  '😀',
  '  step one {\n',
  `${'part x\r\n'.repeat(700)}`,
  'w'.repeat(5000),
);
const text = fc.array(bit, { maxLength: 30 }).map((all) => all.join(''));
const share = fc.integer({ min: 0, max: 10_000 }).map((each) => each / 10_000);
const edits = fc.array(
  fc.record({
    at: share,
    cut: fc.constantFrom(0, 0, 1, 2, 40, 3000, 20_000),
    put: fc.oneof(fc.constant(''), bit, text),
  }),
  { minLength: 1, maxLength: 8 },
);

/** The offsets at which the lines of a text begin, the plain way. */
const startsOf = (whole: string): readonly number[] => [
  0,
  ...[...whole.matchAll(/\r\n|\r|\n/g)].map((each) => each.index + each[0].length),
];

describe('a text in pieces', () => {
  test('is the text that the edits make, with its lines', () => {
    fc.assert(
      fc.property(text, edits, (first, all) => {
        let [whole, held] = [first, writtenAs(first)];
        for (const { at, cut, put } of all) {
          const start = Math.floor(at * whole.length);
          const end = Math.min(whole.length, start + cut);
          const now = withStretch(held, start, end, put);
          const before = whole;
          whole = whole.slice(0, start) + put + whole.slice(end);
          const change = changedStretch(held, now);
          expect(before.slice(0, change.start)).toBe(whole.slice(0, change.start));
          expect(before.slice(change.end)).toBe(whole.slice(change.end + change.by));
          expect(wholeText(writtenAfter(held, whole))).toBe(whole);
          held = now;
        }
        expect(wholeText(held)).toBe(whole);
        expect(held.length).toBe(whole.length);
        const starts = startsOf(whole);
        expect(held.lines).toBe(starts.length);
        expect(Array.from({ length: starts.length + 1 }, (_, line) => lineStart(held, line))).toEqual([
          ...starts,
          whole.length,
        ]);
        for (const offset of [0, 1, whole.length >> 1, whole.length - 1, whole.length].filter((each) => each >= 0))
          expect(lineAt(held, offset)).toBe(starts.findLastIndex((start) => start <= Math.min(offset, whole.length)));
        const [from, to] = [whole.length >> 2, (whole.length * 3) >> 2];
        expect(stretchOf(held, from, to)).toBe(whole.slice(from, to));
      }),
      { numRuns: 300, seed: 3 },
    );
  });

  test('shares all pieces but those that an edit touched', () => {
    const before = writtenAs('part x\n'.repeat(20_000));
    const now = withStretch(before, 70_000, 70_001, 'q');
    expect(before.pieces.length).toBeGreaterThan(20);
    expect(now.pieces.filter((piece) => !before.pieces.includes(piece))).toHaveLength(1);
    expect(changedStretch(before, now)).toEqual({ start: 70_000, end: 70_001, by: 0 });
    expect(writtenAfter(before, wholeText(before))).toBe(before);
  });

  test('stays in pieces of a bearable size, however it is typed', () => {
    let held = writtenAs('');
    for (let i = 0; i < 30_000; i += 1)
      held = withStretch(held, held.length >> 1, held.length >> 1, i % 9 === 0 ? '\n' : 'x');
    expect(Math.max(...held.pieces.map((piece) => piece.text.length))).toBeLessThanOrEqual(8192);
    expect(held.pieces.length).toBeLessThan(30);
  });
});
