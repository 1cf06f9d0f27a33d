// Ranges of sums that name one thing several times, and the usual range of a least, a greatest and a spread. Held against all corners
// and a fine grid where a formula gives none, and against simulations with a fixed seed: nothing of the project is in either.
import { describe, expect, test } from 'vitest';
import { type Exact, exact, toNumber, ZERO } from '../../server/mechanics/exact.ts';
import { range } from '../../server/mechanics/interval.ts';
import {
  addStacks,
  divideStacks,
  greatestStack,
  leastStack,
  multiplyStacks,
  type Stack,
  spreadStack,
  stackConstant,
  stackInput,
  statisticalRange,
  subtractStacks,
} from '../../server/mechanics/stack.ts';

const number = (text: string): Exact => exact(text) ?? ZERO;
const input = (key: string, low: string, high: string): Stack => stackInput(key, range(number(low), number(high)));
const ends = (stack: Stack | undefined): readonly number[] =>
  stack === undefined ? [] : [toNumber(stack.interval.low), toNumber(stack.interval.high)];

/** Numbers from 0 to 1, the same each time (mulberry32). */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** Normal by Box and Muller. */
function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** Lowest and highest of a function on a grid of so many points in each direction, its corners included. */
function gridRange(box: readonly (readonly [number, number])[], points: number, f: (...at: number[]) => number) {
  let [low, high] = [Infinity, -Infinity];
  const walk = (at: number[]): void => {
    const side = box[at.length];
    if (side === undefined) {
      const value = f(...at);
      low = Math.min(low, value);
      high = Math.max(high, value);
      return;
    }
    for (let i = 0; i < points; i += 1) walk([...at, side[0] + ((side[1] - side[0]) * i) / (points - 1)]);
  };
  walk([]);
  return { low, high };
}

describe('one thing named twice is one thing', () => {
  const bore = input('bore', '80.000', '80.019');
  const skirt = input('skirt', '79.950', '79.960');

  // (b − s) / b = 1 − s / b: by hand the least is 1 − 79.960 / 80.000, the greatest 1 − 79.950 / 80.019.
  test('clearance as a share of the bore', () => {
    const share = divideStacks(subtractStacks(bore, skirt), bore);
    expect(ends(share)[0]).toBeCloseTo(1 - 79.96 / 80, 12);
    expect(ends(share)[1]).toBeCloseTo(1 - 79.95 / 80.019, 12);
  });

  test('a thing over itself is one, and less itself nothing', () => {
    expect(ends(divideStacks(bore, bore))).toEqual([1, 1]);
    expect(ends(subtractStacks(multiplyStacks(bore, skirt), multiplyStacks(skirt, bore)))).toEqual([0, 0]);
  });

  test('a square is no product of two things', () => {
    const play = input('play', '-2', '3');
    expect(ends(multiplyStacks(play, play))[1]).toBe(9);
    // −2 · 3 can't be: it is one play. The least is 0, is never told as more, and is closed in on to a millionth of −6 to 9.
    expect(ends(multiplyStacks(play, play))[0]).toBeLessThanOrEqual(0);
    expect(ends(multiplyStacks(play, play))[0]).toBeGreaterThan(-15e-6);
  });

  test('sums over sums, against a grid', () => {
    const [a, b, c] = [input('a', '1.0', '1.5'), input('b', '2.0', '2.2'), input('c', '0.4', '0.9')];
    const value = divideStacks(
      addStacks(multiplyStacks(a, b), c),
      addStacks(a, subtractStacks(multiplyStacks(b, b), c)),
    );
    const grid = gridRange(
      [
        [1, 1.5],
        [2, 2.2],
        [0.4, 0.9],
      ],
      41,
      (x, y, z) => ((x ?? 0) * (y ?? 0) + (z ?? 0)) / ((x ?? 0) + (y ?? 0) ** 2 - (z ?? 0)),
    );
    const [low, high] = ends(value);
    expect(low).toBeLessThanOrEqual(grid.low + 1e-12);
    expect(high).toBeGreaterThanOrEqual(grid.high - 1e-12);
    expect(grid.low - (low ?? 0)).toBeLessThan(1e-6);
    expect((high ?? 0) - grid.high).toBeLessThan(1e-6);
  });

  // 400 sums of up to five steps over three things, each against a grid: never narrower, and wider only where it bends inside.
  test('random sums are never too narrow and hardly too wide', () => {
    const random = chance(41);
    const pick = (count: number): number => Math.floor(random() * count);
    let [compared, close] = [0, 0];
    for (let turn = 0; turn < 400; turn += 1) {
      const box = [0, 1, 2].map(() => {
        const low = 1 + pick(40) / 10;
        return [low, low + (1 + pick(9)) / 10] as const;
      });
      const leaves = box.map(([low, high], i) => ({
        stack: input(`x${i}`, low.toFixed(1), high.toFixed(1)),
        f: (...at: number[]) => at[i] ?? 0,
      }));
      const build = (depth: number): { stack: Stack; f: (...at: number[]) => number } | undefined => {
        const leaf = leaves[pick(3)];
        if (depth === 0 || random() < 0.2) return leaf;
        const [one, two] = [build(depth - 1), build(depth - 1)];
        if (one === undefined || two === undefined) return undefined;
        switch (pick(4)) {
          case 0:
            return { stack: addStacks(one.stack, two.stack), f: (...at) => one.f(...at) + two.f(...at) };
          case 1:
            return { stack: subtractStacks(one.stack, two.stack), f: (...at) => one.f(...at) - two.f(...at) };
          case 2:
            return { stack: multiplyStacks(one.stack, two.stack), f: (...at) => one.f(...at) * two.f(...at) };
          default: {
            const stack = divideStacks(one.stack, two.stack);
            return stack === undefined ? undefined : { stack, f: (...at) => one.f(...at) / two.f(...at) };
          }
        }
      };
      const built = build(3);
      if (built === undefined) continue;
      compared += 1;
      const grid = gridRange(box, 21, built.f);
      const [low = 0, high = 0] = ends(built.stack);
      const size = 1e-9 * Math.max(1, Math.abs(grid.low), Math.abs(grid.high));
      expect(low).toBeLessThanOrEqual(grid.low + size);
      expect(high).toBeGreaterThanOrEqual(grid.high - size);
      // A grid misses an end that lies between its points, and what bends inside is only closed in on.
      const slack = size + 0.01 * (grid.high - grid.low);
      if (grid.low - low < slack && high - grid.high < slack) close += 1;
    }
    expect(compared).toBeGreaterThan(250);
    expect(close / compared).toBeGreaterThan(0.97);
  });
});

describe('least, greatest and spread', () => {
  const bores = [1, 2, 3, 4].map((i) => input(`bore ${i}`, '80.000', '80.020'));
  const uneven = [
    input('a', '10.00', '10.06'),
    input('b', '10.02', '10.05'),
    input('c', '9.98', '10.10'),
    input('d', '10.01', '10.02'),
  ];

  // Worst case: four bores of 80.000 to 80.020 lie between nothing and 0.020 apart.
  test('the worst case of a spread', () => {
    expect(ends(spreadStack(bores))[0]).toBe(0);
    expect(ends(spreadStack(bores))[1]).toBeCloseTo(0.02, 12);
  });

  test('greatest less least of the same is their spread', () => {
    const [most, least] = [greatestStack(bores), leastStack(bores)];
    if (most === undefined || least === undefined) throw new Error('no value');
    expect(ends(subtractStacks(most, least))).toEqual(ends(spreadStack(bores)));
    expect(statisticalRange(subtractStacks(most, least))).toEqual(statisticalRange(spreadStack(bores) ?? most));
  });

  // Heights of four pistons above one deck: the deck is one thing, and takes no part in how far they stand apart.
  test('what all have in common is no spread', () => {
    const deck = input('deck', '200.00', '200.10');
    const heights = [1, 2, 3, 4].map((i) => subtractStacks(input(`piston ${i}`, '200.50', '200.53'), deck));
    expect(ends(spreadStack(heights))[1]).toBeCloseTo(0.03, 12);
    const own = [1, 2, 3, 4].map((i) => input(`piston ${i}`, '200.50', '200.53'));
    const bare = spreadStack(own);
    const usual = spreadStack(heights);
    if (bare === undefined || usual === undefined) throw new Error('no value');
    expect(statisticalRange(usual).high).toBeCloseTo(statisticalRange(bare).high, 9);
  });

  const cases: readonly (readonly [string, readonly Stack[]])[] = [
    ['four alike', bores],
    ['four unlike', uneven],
    ['two alike', bores.slice(0, 2)],
    ['twelve alike', Array.from({ length: 12 }, (_, i) => input(`rod ${i}`, '4.240', '4.260'))],
  ];
  // Each input normal about its middle, its tolerance three standard deviations: what a root-sum-square takes for granted. 400,000
  // sets; the quantiles 0.135 % and 99.865 % of them against what is counted out.
  test.each(cases)('the usual range of %s is that of a simulation', (_, values) => {
    const random = chance(7);
    const middles = values.map((value) => toNumber(value.middle));
    const sigmas = values.map((value) => (toNumber(value.interval.high) - toNumber(value.interval.low)) / 6);
    const sets = 400_000;
    const found = { least: new Float64Array(sets), greatest: new Float64Array(sets), spread: new Float64Array(sets) };
    for (let at = 0; at < sets; at += 1) {
      let [low, high] = [Infinity, -Infinity];
      for (let i = 0; i < middles.length; i += 1) {
        const drawn = (middles[i] ?? 0) + (sigmas[i] ?? 0) * normal(random);
        low = Math.min(low, drawn);
        high = Math.max(high, drawn);
      }
      found.least[at] = low;
      found.greatest[at] = high;
      found.spread[at] = high - low;
    }
    const sides = { least: leastStack(values), greatest: greatestStack(values), spread: spreadStack(values) };
    for (const how of ['least', 'greatest', 'spread'] as const) {
      const sorted = found[how].sort();
      const stack = sides[how];
      if (stack === undefined) throw new Error('no value');
      // Not cut off at the worst case, which a normal distribution goes past now and then.
      const half = Math.hypot(...[...stack.weights.values()].map(toNumber));
      const width = Math.max(...values.map((value) => toNumber(value.interval.high) - toNumber(value.interval.low)));
      expect(Math.abs(toNumber(stack.middle) - half - (sorted[Math.round(sets * 0.00135)] ?? 0))).toBeLessThan(
        0.02 * width,
      );
      expect(Math.abs(toNumber(stack.middle) + half - (sorted[Math.round(sets * 0.99865)] ?? 0))).toBeLessThan(
        0.02 * width,
      );
    }
  });

  test('values that do not vary', () => {
    const fixed = [stackConstant(number('3')), stackConstant(number('5')), stackConstant(number('5'))];
    const spread = spreadStack(fixed);
    if (spread === undefined) throw new Error('no value');
    expect(ends(spread)).toEqual([2, 2]);
    expect(statisticalRange(spread)).toEqual({ low: 2, high: 2 });
  });
});
