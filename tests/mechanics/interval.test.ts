// Ranges and stacks: the synthetic stack of the reference values, an independent interval library, an independent statistics library,
// and samples drawn at random.

import fc from 'fast-check';
import Interval from 'interval-arithmetic';
import { rootMeanSquare } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { type Exact, equal, toNumber, toText } from '../../server/mechanics/exact.ts';
import {
  addIntervals,
  contains,
  divideIntervals,
  greatestOf,
  leastOf,
  meanOf,
  multiplyIntervals,
  point,
  type Interval as Range,
  range,
  spreadOf,
  standing,
  subtractIntervals,
  tolerance,
} from '../../server/mechanics/interval.ts';
import {
  addStacks,
  divideStacks,
  multiplyStacks,
  type Stack,
  sharesOf,
  stackConstant,
  stackInput,
  statisticalHalfWidth,
  statisticalRange,
  subtractStacks,
} from '../../server/mechanics/stack.ts';
import { there, written } from './numbers.ts';

const between = (low: string, high: string): Range => range(written(low), written(high));
const shown = (value: { low: Exact; high: Exact }, places: number) => [
  toText(value.low, places),
  toText(value.high, places),
];
const settings = { seed: 20260304, numRuns: 300 };

describe('the bearing stack of reference values 8.4 (synthetic, computed)', () => {
  const wall = between('0.0930', '0.0933');
  const housing = stackInput('housing', between('2.6870', '2.6880'));
  const journal = stackInput('journal', between('2.4990', '2.5000'));
  const stack = [stackInput('upper wall', wall), stackInput('lower wall', wall), journal].reduce(
    subtractStacks,
    housing,
  );

  it('is 0.0004 to 0.0030 at worst, 0.0017 in the middle', () => {
    expect(shown(stack.interval, 4)).toEqual(['0.0004', '0.0030']);
    expect(equal(stack.middle, written('0.0017'))).toBe(true);
  });

  it('is 0.00096 to 0.00244 by root sum square', () => {
    expect(statisticalHalfWidth(stack)).toBeCloseTo(0.00074, 5);
    const { low, high } = statisticalRange(stack);
    expect(low.toFixed(5)).toBe('0.00096');
    expect(high.toFixed(5)).toBe('0.00244');
  });

  it('has the same half width as the root mean square of simple-statistics', () => {
    const halves = [0.0005, 0.00015, 0.00015, 0.0005];
    expect(statisticalHalfWidth(stack)).toBeCloseTo(rootMeanSquare(halves) * Math.sqrt(halves.length), 12);
  });

  it('names the shares, the largest first', () => {
    const shares = sharesOf(stack);
    expect(shares.map((share) => share.input)).toEqual(['housing', 'journal', 'lower wall', 'upper wall']);
    expect(shares.reduce((sum, share) => sum + share.share, 0)).toBeCloseTo(1, 12);
    // 25 : 25 : 2.25 : 2.25 by squares.
    expect(shares[0]?.share).toBeCloseTo(25 / 54.5, 12);
  });
});

describe('fits computed from published sizes (reference values 8.2)', () => {
  it('TM 5-3895-346-14 cam journal in its bore: 0.0045 to 0.0060 in', () => {
    expect(shown(subtractIntervals(between('2.1870', '2.1880'), between('2.1820', '2.1825')), 4)).toEqual([
      '0.0045',
      '0.0060',
    ]);
  });

  it('TM 5-3895-369-14 bore less skirt: 0.104 to 0.293 mm', () => {
    expect(shown(subtractIntervals(between('102.000', '102.116'), between('101.823', '101.896')), 3)).toEqual([
      '0.104',
      '0.293',
    ]);
  });
});

describe('the language page', () => {
  const wall = stackInput('wall', between('1.991', '1.995'));
  const twoWalls = multiplyStacks(stackConstant(written('2')), wall);
  const clearance = [twoWalls, stackInput('journal', between('56.170', '56.190'))].reduce(
    subtractStacks,
    stackInput('bore', between('60.200', '60.212')),
  );

  it('main oil clearance is exactly 0.020 to 0.060 mm and lies within that', () => {
    expect(equal(clearance.interval.low, written('0.020'))).toBe(true);
    expect(equal(clearance.interval.high, written('0.060'))).toBe(true);
    expect(standing(clearance.interval, { low: written('0.020'), high: written('0.060') })).toBe('inside');
  });
});

describe('standing', () => {
  const value = between('1', '2');
  it.each([
    ['0', '3', 'inside'],
    ['1', '2', 'inside'],
    ['1.5', '3', 'select'],
    ['2', '3', 'select'],
    ['2.1', '3', 'outside'],
    ['0', '0.9', 'outside'],
    [undefined, '1.5', 'select'],
    [undefined, '2', 'inside'],
    ['3', undefined, 'outside'],
    [undefined, undefined, 'inside'],
  ])('1..2 within %s..%s is %s', (low, high, expected) => {
    const bound = (text: string | undefined) => (text === undefined ? undefined : written(text));
    expect(standing(value, { low: bound(low), high: bound(high) })).toBe(expected);
  });
});

describe('one part twice in a sum', () => {
  it('cancels, and does not widen the result', () => {
    const shim = stackInput('shim', between('1.0', '1.2'));
    const other = stackInput('other', between('5.0', '5.1'));
    const back = subtractStacks(addStacks(other, shim), shim);
    expect(shown(back.interval, 2)).toEqual(['5.00', '5.10']);
    expect(sharesOf(back).map((share) => share.input)).toEqual(['other']);
  });

  it('counts a wall on both sides double, not by root', () => {
    const wall = stackInput('wall', between('1.9', '2.1'));
    expect(statisticalHalfWidth(addStacks(wall, wall))).toBeCloseTo(0.2, 12);
  });
});

describe('nominals and kinds of range', () => {
  it('keeps a tolerance its nominal and a range its middle', () => {
    const uneven = tolerance(written('81.00'), written('0.02'), written('0'));
    expect([...shown(uneven, 2), toText(uneven.nominal, 2)]).toEqual(['81.00', '81.02', '81.00']);
    expect(toText(between('1', '2').nominal, 2)).toBe('1.50');
    expect(toText(between('2', '1').low, 0)).toBe('1');
  });

  it('spreads the middle, not the nominal, by root sum square', () => {
    const stack = stackInput('a', tolerance(written('10'), written('0.4'), written('0')));
    expect(statisticalRange(stack).low).toBeCloseTo(10, 12);
    expect(statisticalRange(stack).high).toBeCloseTo(10.4, 12);
  });

  it('has no answer for a divisor that may be zero, or for nothing at all', () => {
    expect(divideIntervals(between('1', '2'), between('-1', '1'))).toBeUndefined();
    expect(divideStacks(stackInput('a', between('1', '2')), stackInput('b', between('0', '1')))).toBeUndefined();
    expect([leastOf([]), greatestOf([]), meanOf([]), spreadOf([])]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
  });
});

const decimal = fc.integer({ min: -50000, max: 50000 }).map((value) => written(`${value}/1000`));
const ranges = fc.tuple(decimal, decimal).map(([first, second]) => range(first, second));

describe('a second opinion: interval-arithmetic', () => {
  const asTheirs = (value: Range) => Interval(toNumber(value.low), toNumber(value.high));
  const close = (ours: Range, theirs: { lo: number; hi: number }) => {
    expect(toNumber(ours.low)).toBeCloseTo(theirs.lo, 7);
    expect(toNumber(ours.high)).toBeCloseTo(theirs.hi, 7);
  };

  it('agrees on sums, differences, products and quotients', () => {
    fc.assert(
      fc.property(ranges, ranges, (first, second) => {
        close(addIntervals(first, second), Interval.add(asTheirs(first), asTheirs(second)));
        close(subtractIntervals(first, second), Interval.sub(asTheirs(first), asTheirs(second)));
        close(multiplyIntervals(first, second), Interval.mul(asTheirs(first), asTheirs(second)));
        const quotient = divideIntervals(first, second);
        if (quotient && Math.min(Math.abs(toNumber(second.low)), Math.abs(toNumber(second.high))) > 0.5) {
          close(quotient, Interval.div(asTheirs(first), asTheirs(second)));
        }
      }),
      settings,
    );
  });
});

describe('samples', () => {
  const at = (value: Range, share: number): Exact =>
    written('0')
      .add(value.low)
      .add(value.high.sub(value.low).mul(written(`${share}/1000`)));
  const shares = fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 3, maxLength: 3 });

  it('lie in the worst case, whatever is drawn from the inputs', () => {
    fc.assert(
      fc.property(ranges, ranges, ranges, shares, (first, second, third, [a = 0, b = 0, c = 0]) => {
        const [x, y, z] = [at(first, a), at(second, b), at(third, c)];
        const [one, two, three]: [Stack, Stack, Stack] = [
          stackInput('1', first),
          stackInput('2', second),
          stackInput('3', third),
        ];
        const linear = subtractStacks(addStacks(one, two), addStacks(three, one));
        expect(contains(linear.interval, y.sub(z))).toBe(true);
        const product = addStacks(multiplyStacks(one, two), one);
        expect(contains(product.interval, x.mul(y).add(x))).toBe(true);
        const quotient = divideStacks(one, two);
        if (quotient) expect(contains(quotient.interval, x.div(y))).toBe(true);
        const all = [first, second, third];
        const drawn = [toNumber(x), toNumber(y), toNumber(z)];
        const apart = there(spreadOf(all));
        const spread = Math.max(...drawn) - Math.min(...drawn);
        expect(spread).toBeGreaterThanOrEqual(toNumber(apart.low) - 1e-9);
        expect(spread).toBeLessThanOrEqual(toNumber(apart.high) + 1e-9);
        expect(contains(there(meanOf(all)), x.add(y).add(z).div(3))).toBe(true);
      }),
      settings,
    );
  });

  it('never spread wider by root sum square than at worst', () => {
    fc.assert(
      fc.property(ranges, ranges, (first, second) => {
        const sum = addStacks(stackInput('1', first), stackInput('2', second));
        expect(2 * statisticalHalfWidth(sum)).toBeLessThanOrEqual(
          toNumber(sum.interval.high.sub(sum.interval.low)) + 1e-12,
        );
      }),
      settings,
    );
  });

  it('has the ends as its result for a point', () => {
    const one = point(written('1.25'));
    expect(equal(multiplyIntervals(one, one).low, written('1.5625'))).toBe(true);
  });
});
