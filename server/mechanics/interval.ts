// Worst-case sums over ranges, exact on the decimals as written. Units are settled before (see units.ts): all values of one sum are in
// base units or in one unit. The statistical side, and sums in which one input occurs twice, are in stack.ts.

import {
  compare,
  type Exact,
  equal,
  larger,
  minus,
  ONE,
  over,
  plus,
  ratioOf,
  signOf,
  smaller,
  times,
  ZERO,
} from './exact.ts';

/** Lowest and highest value, both included, and the value aimed at: a tolerance's nominal, a range's middle. */
export type Interval = { readonly low: Exact; readonly high: Exact; readonly nominal: Exact };

const HALF: Exact = ratioOf(1, 2) ?? ONE;

export function point(value: Exact): Interval {
  return { low: value, high: value, nominal: value };
}

/** From the lower to the higher of two values, whichever comes first; the nominal is the middle unless one is given. */
export function range(first: Exact, second: Exact, nominal?: Exact): Interval {
  const low = smaller(first, second);
  const high = larger(first, second);
  return { low, high, nominal: nominal ?? times(plus(low, high), HALF) };
}

/** `nominal +upper -lower`, both as signed deviations (81.00 +0.02 -0.01 has the lower deviation -0.01). */
export function tolerance(nominal: Exact, upper: Exact, lower: Exact): Interval {
  return range(plus(nominal, lower), plus(nominal, upper), nominal);
}

export function isPoint(value: Interval): boolean {
  return equal(value.low, value.high);
}

export function middleOf(value: Interval): Exact {
  return times(plus(value.low, value.high), HALF);
}

/** Half of the width from lowest to highest. */
export function halfWidth(value: Interval): Exact {
  return times(minus(value.high, value.low), HALF);
}

export function addIntervals(first: Interval, second: Interval): Interval {
  return {
    low: plus(first.low, second.low),
    high: plus(first.high, second.high),
    nominal: plus(first.nominal, second.nominal),
  };
}

export function subtractIntervals(first: Interval, second: Interval): Interval {
  return {
    low: minus(first.low, second.high),
    high: minus(first.high, second.low),
    nominal: minus(first.nominal, second.nominal),
  };
}

export function multiplyIntervals(first: Interval, second: Interval): Interval {
  const corners = [
    times(first.low, second.low),
    times(first.low, second.high),
    times(first.high, second.low),
    times(first.high, second.high),
  ];
  return {
    low: corners.reduce(smaller),
    high: corners.reduce(larger),
    nominal: times(first.nominal, second.nominal),
  };
}

/** `undefined` where the divisor can be zero. */
export function divideIntervals(first: Interval, second: Interval): Interval | undefined {
  if (signOf(second.low) <= 0 && signOf(second.high) >= 0) return undefined;
  const low = over(ONE, second.high);
  const high = over(ONE, second.low);
  const nominal = over(first.nominal, second.nominal);
  if (low === undefined || high === undefined || nominal === undefined) return undefined;
  return { ...multiplyIntervals(first, range(low, high)), nominal };
}

/** The least of several values that may each lie anywhere in their ranges; `undefined` for none. */
export function leastOf(values: readonly Interval[]): Interval | undefined {
  return gather(values, smaller);
}

/** The greatest of several; `undefined` for none. */
export function greatestOf(values: readonly Interval[]): Interval | undefined {
  return gather(values, larger);
}

/** `undefined` for no values. */
export function meanOf(values: readonly Interval[]): Interval | undefined {
  const share = ratioOf(1, values.length);
  const first = values[0];
  if (share === undefined || first === undefined) return undefined;
  const sum = values.slice(1).reduce(addIntervals, first);
  return { low: times(sum.low, share), high: times(sum.high, share), nominal: times(sum.nominal, share) };
}

/** Greatest less least: how far apart several values that vary independently can be. `undefined` for no values. */
export function spreadOf(values: readonly Interval[]): Interval | undefined {
  const lows = values.map((value) => value.low);
  const highs = values.map((value) => value.high);
  const nominals = values.map((value) => value.nominal);
  if (values.length === 0) return undefined;
  // The greatest spread is between the highest high and the lowest low of two different values: one of the two is the outermost of all.
  const top = highs.indexOf(highs.reduce(larger));
  const bottom = lows.indexOf(lows.reduce(smaller));
  const reach = values.map(({ high, low }, at) =>
    larger(
      at === top ? ZERO : minus(highs[top] ?? ZERO, low),
      at === bottom ? ZERO : minus(high, lows[bottom] ?? ZERO),
    ),
  );
  const high = reach.reduce(larger, ZERO);
  const low = larger(ZERO, minus(lows.reduce(larger), highs.reduce(smaller)));
  return { low, high, nominal: minus(nominals.reduce(larger), nominals.reduce(smaller)) };
}

export function contains(outer: Interval, value: Exact): boolean {
  return compare(outer.low, value) <= 0 && compare(value, outer.high) <= 0;
}

/**
 * How a worked-out range stands to its limits, each of which may be open: inside whatever happens, outside whatever happens, or
 * `select` in between. A range that touches a limit is inside it.
 */
export function standing(
  value: { readonly low: Exact; readonly high: Exact },
  limits: { readonly low?: Exact | undefined; readonly high?: Exact | undefined },
): 'inside' | 'outside' | 'select' {
  const { low, high } = limits;
  if ((low && compare(value.high, low) < 0) || (high && compare(value.low, high) > 0)) return 'outside';
  const above = low === undefined || compare(value.low, low) >= 0;
  const below = high === undefined || compare(value.high, high) <= 0;
  return above && below ? 'inside' : 'select';
}

function gather(values: readonly Interval[], pick: (first: Exact, second: Exact) => Exact): Interval | undefined {
  if (values.length === 0) return undefined;
  return {
    low: values.map((value) => value.low).reduce(pick),
    high: values.map((value) => value.high).reduce(pick),
    nominal: values.map((value) => value.nominal).reduce(pick),
  };
}
