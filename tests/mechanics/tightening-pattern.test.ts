// Orders of tightening from the middle outward. Common practice, no source: held are the rules that any such order keeps.
import { expect, test } from 'vitest';
import { fromTheMiddle } from '../../server/mechanics/tightening-pattern.ts';

test('two rows of five go round and round from the middle', () => {
  expect(fromTheMiddle([5, 5])).toEqual([
    [9, 5, 1, 4, 8],
    [10, 6, 2, 3, 7],
  ]);
});

test.each([[[5, 5]], [[4, 4]], [[7]], [[3, 4, 3]], [[1]], [[6, 5]]])(
  '%j: each number once, never further in than the one before',
  (rows) => {
    const numbers = fromTheMiddle(rows);
    const count = rows.reduce((sum, each) => sum + each, 0);
    expect(numbers.flat().sort((a, b) => a - b)).toEqual(Array.from({ length: count }, (_none, i) => i + 1));
    const across = numbers.flatMap((row) =>
      row.map((number, at) => ({ number, out: Math.abs(at - (row.length - 1) / 2) })),
    );
    const outward = across.sort((a, b) => a.number - b.number).map(({ out }) => out);
    expect(outward).toEqual([...outward].sort((a, b) => a - b));
  },
);
