// Exact numbers: reading as written, refusal, sums, rounding.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compare,
  decimalPlaces,
  equal,
  exact,
  fromNumber,
  minus,
  over,
  plus,
  ratioOf,
  roundTo,
  times,
  toNumber,
  toText,
  ZERO,
} from '../../server/mechanics/exact.ts';
import { there, written } from './numbers.ts';

const seed = { seed: 20260304, numRuns: 300 };

describe('numbers as written', () => {
  it.each([
    ['53.970', 5397, 100],
    ['-0.0010', -1, 1000],
    ['+0.02', 1, 50],
    ['.002', 1, 500],
    ['24', 24, 1],
    ['3/8', 3, 8],
    ['1 1/2', 3, 2],
    ['-1 1/2', -3, 2],
    ['0', 0, 1],
    ['-0.00', 0, 1],
    ['7.', 7, 1],
  ])('reads %s', (text, above, below) => {
    expect(equal(written(text), there(ratioOf(above, below)))).toBe(true);
  });

  it.each(['', '.', '-', '1/0', '1e5', '0x10', '1,5', ' 1', '1 2', '1.2/3', 'NaN', '--1', '1'.repeat(61), '1..2', '½'])(
    'refuses %j',
    (text) => {
      expect(exact(text)).toBeUndefined();
    },
  );

  it('counts the places as written', () => {
    expect(['53.970', '24', '.002', '-0.0010', '3/8', 'x', '.'].map(decimalPlaces)).toEqual([
      3,
      0,
      3,
      4,
      undefined,
      undefined,
      undefined,
    ]);
  });

  it('never throws, whatever the text', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        exact(text);
        decimalPlaces(text);
      }),
      seed,
    );
  });
});

describe('sums', () => {
  it('gives the main oil clearance of the language page exactly', () => {
    const low = minus(minus(written('60.200'), times(written('2'), written('1.995'))), written('56.190'));
    expect(toText(low, 3)).toBe('0.020');
    expect(equal(low, written('0.02'))).toBe(true);
  });

  it('follows the rules of rational numbers', () => {
    const number = fc
      .tuple(fc.integer({ min: -99999, max: 99999 }), fc.integer({ min: 1, max: 9999 }))
      .map(([n, d]) => there(ratioOf(n, d)));
    fc.assert(
      fc.property(number, number, number, (a, b, c) => {
        expect(equal(times(a, plus(b, c)), plus(times(a, b), times(a, c)))).toBe(true);
        expect(equal(plus(minus(a, b), b), a)).toBe(true);
        if (compare(b, ZERO) !== 0) expect(equal(times(there(over(a, b)), b), a)).toBe(true);
        expect(compare(a, b)).toBe(Math.sign(toNumber(minus(a, b))) + 0);
      }),
      seed,
    );
  });

  it('divides by nothing into nothing', () => {
    expect(over(written('1'), ZERO)).toBeUndefined();
  });

  it('stays of a bearable size under endless multiplication, and near the truth', () => {
    let value = written('1.0000000000000000000000001');
    for (let at = 0; at < 60; at += 1) value = times(value, value);
    expect(value.n.toString().length).toBeLessThan(700);
    expect(Number.isNaN(toNumber(written('1')))).toBe(false);
    // (1 + 1e-25) to the power 2^60: exp(2^60 * 1e-25), computed.
    expect(toNumber(value)).toBeCloseTo(Math.exp(2 ** 60 * 1e-25), 12);
  });

  it('turns doubles into what they stand for', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
        const kept = fromNumber(value);
        if (Math.abs(value) > 1e-200) expect(toNumber(there(kept))).toBe(value);
      }),
      seed,
    );
    expect(fromNumber(Number.POSITIVE_INFINITY)).toBeUndefined();
  });
});

describe('rounding', () => {
  it.each([
    ['0.125', 2, '0.13'],
    ['-0.125', 2, '-0.13'],
    ['2.5', 0, '3'],
    ['-0.001', 2, '0.00'],
    ['24.4', 3, '24.400'],
    ['1/3', 4, '0.3333'],
    ['999.996', 2, '1000.00'],
  ])('%s to %i places is %s', (text, places, expected) => {
    expect(toText(written(text), places)).toBe(expected);
  });

  it('cuts off toward zero, and rounds to tens and hundreds', () => {
    expect(toText(roundTo(written('-1.99'), 1, 'down'), 1)).toBe('-1.9');
    expect(toText(roundTo(written('11565.4'), -2), 0)).toBe('11600');
  });
});
