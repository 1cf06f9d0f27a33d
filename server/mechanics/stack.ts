// Tolerance stacks: a worst-case range with, beside it, how much of its width each input brings, for the root-sum-square range.
// Sums, differences and scaling stay exact even where an input occurs twice; products and quotients are exact in their worst case
// as intervals and to first order in their shares.

import {
  type Exact,
  larger,
  minus,
  negate,
  ONE,
  over,
  plus,
  ratioOf,
  signOf,
  smaller,
  times,
  toNumber,
  ZERO,
} from './exact.ts';
import * as intervals from './interval.ts';

type Interval = intervals.Interval;

/**
 * `weights` holds for each input the signed half width that it brings; `middle` the value with all inputs at their middles;
 * `linear` whether only sums and scaling made it.
 */
export type Stack = {
  readonly interval: Interval;
  readonly middle: Exact;
  readonly weights: ReadonlyMap<string, Exact>;
  readonly linear: boolean;
};

export type Share = { readonly input: string; readonly share: number };

/** An input of a sum. The same key twice is the same part measured once (one journal), and its tolerance can cancel; different keys vary independently. */
export function stackInput(key: string, interval: Interval): Stack {
  const half = intervals.halfWidth(interval);
  const weights = new Map<string, Exact>(signOf(half) === 0 ? [] : [[key, half]]);
  return { interval, middle: intervals.middleOf(interval), weights, linear: true };
}

export function stackConstant(value: Exact): Stack {
  return { interval: intervals.point(value), middle: value, weights: new Map(), linear: true };
}

export function addStacks(first: Stack, second: Stack): Stack {
  return combine(first, ONE, second, ONE, intervals.addIntervals(first.interval, second.interval));
}

export function subtractStacks(first: Stack, second: Stack): Stack {
  return combine(first, ONE, second, negate(ONE), intervals.subtractIntervals(first.interval, second.interval));
}

export function negateStack(value: Stack): Stack {
  return scale(value, negate(ONE));
}

export function multiplyStacks(first: Stack, second: Stack): Stack {
  if (intervals.isPoint(first.interval)) return scale(second, first.middle);
  if (intervals.isPoint(second.interval)) return scale(first, second.middle);
  const interval = intervals.multiplyIntervals(first.interval, second.interval);
  return {
    interval,
    middle: times(first.middle, second.middle),
    weights: mixed(first.weights, second.middle, second.weights, first.middle),
    linear: false,
  };
}

/** `undefined` where the divisor can be zero. */
export function divideStacks(first: Stack, second: Stack): Stack | undefined {
  const interval = intervals.divideIntervals(first.interval, second.interval);
  const middle = over(first.middle, second.middle);
  const inverse = over(ONE, second.middle);
  if (interval === undefined || middle === undefined || inverse === undefined) return undefined;
  if (intervals.isPoint(second.interval)) return scale(first, inverse);
  const byDivisor = negate(times(middle, inverse));
  return { interval, middle, weights: mixed(first.weights, inverse, second.weights, byDivisor), linear: false };
}

/** The least; its shares are those of the value that is least with all inputs at their middles. `undefined` for none. */
export function leastStack(values: readonly Stack[]): Stack | undefined {
  return pick(values, intervals.leastOf, smaller);
}

/** The greatest, likewise. */
export function greatestStack(values: readonly Stack[]): Stack | undefined {
  return pick(values, intervals.greatestOf, larger);
}

/** `undefined` for no values. */
export function meanStack(values: readonly Stack[]): Stack | undefined {
  const share = ratioOf(1, values.length);
  const first = values[0];
  if (share === undefined || first === undefined) return undefined;
  return scale(values.slice(1).reduce(addStacks, first), share);
}

/** Greatest less least; shares are those of the two values furthest apart at their middles. `undefined` for no values. */
export function spreadStack(values: readonly Stack[]): Stack | undefined {
  const interval = intervals.spreadOf(values.map((value) => value.interval));
  const top = greatestStack(values);
  const bottom = leastStack(values);
  if (interval === undefined || top === undefined || bottom === undefined) return undefined;
  const middle = minus(top.middle, bottom.middle);
  return { interval, middle, weights: mixed(top.weights, ONE, bottom.weights, negate(ONE)), linear: false };
}

/** Root of the sum of the squared half widths: ± this about `middle` holds nearly all assemblies of parts that vary independently. */
export function statisticalHalfWidth(stack: Stack): number {
  let sum = 0;
  for (const weight of stack.weights.values()) sum += toNumber(weight) ** 2;
  return Math.sqrt(sum);
}

/** The statistical range about the middle, as numbers; never wider than the worst case. */
export function statisticalRange(stack: Stack): { readonly low: number; readonly high: number } {
  const half = statisticalHalfWidth(stack);
  const middle = toNumber(stack.middle);
  return {
    low: Math.max(middle - half, toNumber(stack.interval.low)),
    high: Math.min(middle + half, toNumber(stack.interval.high)),
  };
}

/** Each input's share (0 to 1) of the statistical spread, the largest first; empty where nothing varies. */
export function sharesOf(stack: Stack): readonly Share[] {
  const squares = [...stack.weights].map(([input, weight]) => ({ input, square: toNumber(weight) ** 2 }));
  const total = squares.reduce((sum, { square }) => sum + square, 0);
  if (total === 0) return [];
  return squares
    .map(({ input, square }) => ({ input, share: square / total }))
    .sort((first, second) => second.share - first.share || (first.input < second.input ? -1 : 1));
}

function scale(value: Stack, by: Exact): Stack {
  const interval = intervals.multiplyIntervals(value.interval, intervals.point(by));
  return {
    interval,
    middle: times(value.middle, by),
    weights: mixed(value.weights, by, new Map(), ONE),
    linear: value.linear,
  };
}

function combine(first: Stack, firstBy: Exact, second: Stack, secondBy: Exact, plain: Interval): Stack {
  const weights = mixed(first.weights, firstBy, second.weights, secondBy);
  const middle = plus(times(first.middle, firstBy), times(second.middle, secondBy));
  const linear = first.linear && second.linear;
  if (!linear) return { interval: plain, middle, weights, linear };
  let half = ZERO;
  for (const weight of weights.values()) half = plus(half, weight.abs());
  return {
    interval: { low: minus(middle, half), high: plus(middle, half), nominal: plain.nominal },
    middle,
    weights,
    linear,
  };
}

function mixed(
  first: ReadonlyMap<string, Exact>,
  firstBy: Exact,
  second: ReadonlyMap<string, Exact>,
  secondBy: Exact,
): ReadonlyMap<string, Exact> {
  const weights = new Map<string, Exact>();
  for (const [key, weight] of first) weights.set(key, times(weight, firstBy));
  for (const [key, weight] of second) weights.set(key, plus(weights.get(key) ?? ZERO, times(weight, secondBy)));
  for (const [key, weight] of weights) if (signOf(weight) === 0) weights.delete(key);
  return weights;
}

function pick(
  values: readonly Stack[],
  gather: (values: readonly Interval[]) => Interval | undefined,
  choose: (first: Exact, second: Exact) => Exact,
): Stack | undefined {
  const interval = gather(values.map((value) => value.interval));
  const first = values[0];
  if (interval === undefined || first === undefined) return undefined;
  if (values.length === 1) return first;
  const chosen = values.reduce(
    (best, value) => (choose(best.middle, value.middle) === best.middle ? best : value),
    first,
  );
  return { interval, middle: chosen.middle, weights: chosen.weights, linear: false };
}
