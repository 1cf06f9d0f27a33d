// Sums of any length come to what their terms come to: the same as in a short one, each term a length that is known beforehand.
import { expect, test } from 'vitest';
import { valuesOf } from '../../server/model/values.ts';
import { analyseText } from '../annotated.ts';

const PART = 'part a {\n  dimension b 10.00..10.02 mm\n  dimension c x4 3 mm\n}\n';

function worth(sum: string): { readonly low?: number; readonly high?: number; readonly nominal?: number } | undefined {
  const [view] = analyseText(`${PART}limit l = ${sum}\n  within 1..2 mm\n`).views;
  return view === undefined ? undefined : valuesOf(view, 'limit.l')[0];
}

test.each([1, 31, 32, 33, 100, 4_000])('%d millimetres more', (n) => {
  expect(worth(`1 mm${' + 1 mm'.repeat(n)}`)?.nominal).toBe(n + 1);
});

test.each([1, 16, 17, 50, 2_000])('%d millimetres up and down again, and one thing named in all of them', (n) => {
  expect(worth(`7 mm${' + 2 mm - 1 mm'.repeat(n)}`)?.nominal).toBe(7 + n);
  // One journal, not many: what is added and taken off again is nothing, whatever it measures.
  expect(worth(`a.b${' + a.b - a.b'.repeat(n)}`)).toMatchObject({ low: 10, high: 10.02 });
  expect(worth(`a.b${' - a.b'.repeat(2 * n)}`)?.nominal).toBeCloseTo(10.01 * (1 - 2 * n), 6);
});

test.each([1, 16, 17, 50, 1_000])('%d times doubled and halved', (n) => {
  expect(worth(`3 mm${' * 2 / 2'.repeat(n)}`)?.nominal).toBe(3);
  expect(worth(`3 mm * 2${' / 1 * 1'.repeat(n)} + 1 mm`)?.nominal).toBe(7);
});

test('a mean, a least and a spread of many', () => {
  expect(worth(`mean(1 mm${', 3 mm'.repeat(3_999)})`)?.nominal).toBeCloseTo(2.9995, 6);
  expect(worth(`min(1 mm${', 3 mm'.repeat(3_999)})`)?.nominal).toBe(1);
  expect(worth(`spread(1 mm${', 3 mm'.repeat(3_999)})`)?.nominal).toBe(2);
});

test('brackets one in the other: read to a depth that is said', () => {
  const said = (deep: number): readonly string[] =>
    analyseText(`limit l = ${'('.repeat(deep)}1 mm${')'.repeat(deep)}\n  within 1..2 mm\n`).findings.map(
      ({ message }) => message,
    );
  expect(said(50).join()).not.toContain('deep');
  expect(said(5_000)).toEqual([expect.stringContaining('more than 60 deep')]);
});

test.each([
  ['factors', ' * a.b / 1 mm', 1_300],
  ['terms', ' + a.b', 10_001],
])('a sum of more %s than any engine has is not worked out, and that is told', (_, term, n) => {
  const { findings } = analyseText(`${PART}limit l = a.b${term.repeat(n)}\n  within 1..2 mm\n`);
  expect(findings.map(({ code, message }) => [code, message])).toEqual([
    ['limit/no-value', expect.stringContaining("l can't be worked out: its sum is too long")],
  ]);
});
