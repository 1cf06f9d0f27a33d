// Exact numbers: reading as written, refusal, sums, rounding.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  absolute,
  compare,
  decimalPlaces,
  type Exact,
  equal,
  exact,
  fromNumber,
  minus,
  negate,
  over,
  plus,
  ratioOf,
  roundTo,
  signOf,
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

/** The same sums in whole numbers of any size, as a pair in lowest terms. */
type Pair = readonly [over: bigint, under: bigint];

function inLowestTerms(over: bigint, under: bigint): Pair {
  let [shared, rest] = [over < 0n ? -over : over, under < 0n ? -under : under];
  while (rest !== 0n) [shared, rest] = [rest, shared % rest];
  const by = under < 0n ? -shared : shared;
  return over === 0n ? [0n, 1n] : [over / by, under / by];
}

const pairOf = (value: Exact): Pair => [signOf(value) < 0 ? -value.n : value.n, value.d];

/** A half goes away from zero. */
function rounded([over, under]: Pair, places: number, way: 'nearest' | 'down'): Pair {
  const [up, down] = [10n ** BigInt(Math.max(0, places)), 10n ** BigInt(Math.max(0, -places))];
  const size = over < 0n ? -over : over;
  const by = under * down;
  const whole = way === 'down' ? (size * up) / by : (2n * size * up + by) / (2n * by);
  return inLowestTerms((over < 0n ? -whole : whole) * down, up);
}

describe('small and large numbers alike are as in whole numbers of any size', () => {
  /** Round the size up to which a double is exact, and far below and above it. */
  const near = fc.oneof(
    fc.integer({ min: -1000, max: 1000 }).map(BigInt),
    fc.maxSafeInteger().map(BigInt),
    fc.bigInt({ min: 2n ** 53n - 40n, max: 2n ** 53n + 40n }),
    fc.bigInt({ min: -(2n ** 80n), max: 2n ** 80n }),
    fc.integer({ min: 0, max: 18 }).map((places) => 10n ** BigInt(places)),
  );
  const pair = fc
    .tuple(
      near,
      near.filter((under) => under !== 0n),
    )
    .map(([over, under]) => inLowestTerms(over, under));
  const exactly = ([above, under]: Pair): Exact => {
    const one = there(exact(`${above < 0n ? -above : above}/${under}`));
    return above < 0n ? negate(one) : one;
  };
  const many = { seed: 20260305, numRuns: 3000 };

  it('adds, takes away, multiplies, divides, compares and turns round', () => {
    fc.assert(
      fc.property(pair, pair, (first, second) => {
        const [one, other] = [exactly(first), exactly(second)];
        const [[a, b], [c, d]] = [first, second];
        expect(pairOf(one)).toEqual(first);
        expect(pairOf(plus(one, other))).toEqual(inLowestTerms(a * d + c * b, b * d));
        expect(pairOf(minus(one, other))).toEqual(inLowestTerms(a * d - c * b, b * d));
        expect(pairOf(times(one, other))).toEqual(inLowestTerms(a * c, b * d));
        const quotient = over(one, other);
        if (c === 0n) expect(quotient).toBeUndefined();
        else expect(pairOf(there(quotient))).toEqual(inLowestTerms(a * d, b * c));
        expect(compare(one, other)).toBe(a * d < c * b ? -1 : a * d > c * b ? 1 : 0);
        expect(equal(one, other)).toBe(a === c && b === d);
        expect(pairOf(negate(one))).toEqual([-a, b]);
        expect(pairOf(absolute(one))).toEqual([a < 0n ? -a : a, b]);
        expect(signOf(one)).toBe(a < 0n ? -1 : a > 0n ? 1 : 0);
        expect(toNumber(one)).toBe(Number(a) / Number(b));
        const down = a / b - (a % b < 0n ? 1n : 0n);
        expect(pairOf(one.floor())).toEqual([down, 1n]);
        expect(pairOf(one.round())).toEqual([(2n * (a - down * b) >= b ? 1n : 0n) + down, 1n]);
        expect(one.toFraction()).toBe(b === 1n ? `${a}` : `${a}/${b}`);
      }),
      many,
    );
  });

  it('rounds and writes', () => {
    fc.assert(
      fc.property(pair, fc.integer({ min: -18, max: 18 }), fc.constantFrom('nearest', 'down'), (first, places, way) => {
        const one = exactly(first);
        const is = rounded(first, places, way);
        expect(pairOf(roundTo(one, places, way))).toEqual(is);
        const kept = Math.max(0, places);
        const [above, under] = rounded(first, kept, 'nearest');
        const text = toText(one, kept);
        const digits = ((above < 0n ? -above : above) * 10n ** BigInt(kept)) / under;
        expect(BigInt(text.replace(/[-.]/g, ''))).toBe(digits);
        expect(text.startsWith('-')).toBe(above < 0n);
        expect(text.split('.')[1]?.length ?? 0).toBe(kept);
      }),
      many,
    );
  });
});
