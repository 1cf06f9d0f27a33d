// Tolerance stacks: a worst-case range with, beside it, how much of its width each input brings, for the root-sum-square range.
// An input that occurs twice is one thing in sums, products and quotients (see sum-range.ts); shares are to first order. The usual
// range of a least, a greatest and a spread is counted out by chance (see usual-extremes.ts).

import {
  type Exact,
  fromNumber,
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
import { isLong, rangeOf, shareInput, type Tree } from './sum-range.ts';
import { usualExtreme } from './usual-extremes.ts';

type Interval = intervals.Interval;

/**
 * `weights` holds for each input the signed half width that it brings; `middle` the value with all inputs at their middles, for a
 * least, a greatest and a spread the middle of their usual range; `linear` whether only sums and scaling made it; `tree` how it was
 * made, and `gathered` of what it is the least or the greatest.
 */
export type Stack = {
  readonly interval: Interval;
  readonly middle: Exact;
  readonly weights: ReadonlyMap<string, Exact>;
  readonly linear: boolean;
  readonly tree: Tree;
  readonly gathered?: { readonly how: 'least' | 'greatest'; readonly values: readonly Stack[] };
};

/** Of more values than this what they have in common is not looked for: the range is left as wide as it is without. */
const MOST_COMPARED = 128;

export type Share = { readonly input: string; readonly share: number };

/** An input of a sum. The same key twice is the same part measured once (one journal), and its tolerance can cancel; different keys vary independently. */
export function stackInput(key: string, interval: Interval): Stack {
  const half = intervals.halfWidth(interval);
  const weights = new Map<string, Exact>(signOf(half) === 0 ? [] : [[key, half]]);
  const tree: Tree = { op: 'input', key, ends: interval };
  return { interval, middle: intervals.middleOf(interval), weights, linear: true, tree };
}

export function stackConstant(value: Exact): Stack {
  const tree: Tree = { op: 'constant', value };
  return { interval: intervals.point(value), middle: value, weights: new Map(), linear: true, tree };
}

export function addStacks(first: Stack, second: Stack): Stack {
  return combine('plus', first, second);
}

export function subtractStacks(first: Stack, second: Stack): Stack {
  return spreadWritten(first, second) ?? combine('minus', first, second);
}

export function negateStack(value: Stack): Stack {
  return scale(value, negate(ONE));
}

export function multiplyStacks(first: Stack, second: Stack): Stack {
  if (intervals.isPoint(first.interval)) return scale(second, first.middle);
  if (intervals.isPoint(second.interval)) return scale(first, second.middle);
  const tree: Tree = { op: 'times', first: first.tree, second: second.tree };
  const interval = intervals.multiplyIntervals(first.interval, second.interval);
  return {
    interval: oneOfEach(tree, interval, first, second) ?? interval,
    middle: times(first.middle, second.middle),
    weights: mixed(first.weights, second.middle, second.weights, first.middle),
    linear: false,
    tree,
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
  const tree: Tree = { op: 'over', first: first.tree, second: second.tree };
  return {
    interval: oneOfEach(tree, interval, first, second) ?? interval,
    middle,
    weights: mixed(first.weights, inverse, second.weights, byDivisor),
    linear: false,
    tree,
  };
}

/** The least; its usual range and its shares are those of all values. `undefined` for none. */
export function leastStack(values: readonly Stack[]): Stack | undefined {
  return pick(values, 'least');
}

/** The greatest, likewise. */
export function greatestStack(values: readonly Stack[]): Stack | undefined {
  return pick(values, 'greatest');
}

/** `undefined` for no values. */
export function meanStack(values: readonly Stack[]): Stack | undefined {
  const share = ratioOf(1, values.length);
  const first = values[0];
  if (share === undefined || first === undefined) return undefined;
  return scale(sumOf(values, 0, values.length) ?? first, share);
}

/** A sum in halves, so that what it is made of is no deeper than it must be. */
function sumOf(values: readonly Stack[], from: number, to: number): Stack | undefined {
  if (to - from <= 1) return values[from];
  const [first, second] = [sumOf(values, from, (from + to) >> 1), sumOf(values, (from + to) >> 1, to)];
  return first === undefined || second === undefined ? undefined : addStacks(first, second);
}

/** Greatest less least: what several values have in common is no spread. `undefined` for no values. */
export function spreadStack(values: readonly Stack[]): Stack | undefined {
  const plain = intervals.spreadOf(values.map((value) => value.interval));
  if (plain === undefined) return undefined;
  let interval = plain;
  const isFew = values.length <= MOST_COMPARED;
  if (isFew && values.some((one, i) => values.some((other, j) => j > i && shareInput(one.tree, other.tree)))) {
    const apart = values.flatMap((one, i) =>
      values.flatMap((other, j) => (i === j ? [] : [subtractStacks(one, other).interval])),
    );
    interval = {
      low: apart.map(({ low }) => low).reduce(larger, ZERO),
      high: apart.map(({ high }) => high).reduce(larger, ZERO),
      nominal: plain.nominal,
    };
  }
  const tree: Tree = {
    op: 'minus',
    first: { op: 'greatest', of: values.map((value) => value.tree) },
    second: { op: 'least', of: values.map((value) => value.tree) },
  };
  return { interval, ...usual('spread', values, interval), linear: false, tree };
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
    tree: { op: 'times', first: value.tree, second: { op: 'constant', value: by } },
  };
}

function combine(op: 'plus' | 'minus', first: Stack, second: Stack): Stack {
  const sign = op === 'plus' ? ONE : negate(ONE);
  const plain =
    op === 'plus'
      ? intervals.addIntervals(first.interval, second.interval)
      : intervals.subtractIntervals(first.interval, second.interval);
  const weights = mixed(first.weights, ONE, second.weights, sign);
  const middle = plus(first.middle, times(second.middle, sign));
  const linear = first.linear && second.linear;
  const tree: Tree = { op, first: first.tree, second: second.tree };
  if (!linear) return { interval: oneOfEach(tree, plain, first, second) ?? plain, middle, weights, linear, tree };
  let half = ZERO;
  for (const weight of weights.values()) half = plus(half, weight.abs());
  return {
    interval: { low: minus(middle, half), high: plus(middle, half), nominal: plain.nominal },
    middle,
    weights,
    linear,
    tree,
  };
}

/** The range where both sides name the same thing, which is then one thing. Never wider than with two. */
function oneOfEach(tree: Tree, plain: Interval, first: Stack, second: Stack): Interval | undefined {
  const range = !isLong(tree) && shareInput(first.tree, second.tree) ? rangeOf(tree) : undefined;
  if (range === undefined) return undefined;
  return { low: larger(range.low, plain.low), high: smaller(range.high, plain.high), nominal: plain.nominal };
}

/** `max(…) - min(…)` of the same values is their spread. */
function spreadWritten(first: Stack, second: Stack): Stack | undefined {
  if (first.gathered?.how !== 'greatest' || second.gathered?.how !== 'least') return undefined;
  const [these, those] = [first.gathered.values, second.gathered.values];
  const isSame =
    these.length === those.length &&
    these.every((one, i) => {
      const other = those[i];
      return other !== undefined && treeText(one.tree) === treeText(other.tree);
    });
  return isSame ? spreadStack(these) : undefined;
}

function treeText(tree: Tree): string {
  switch (tree.op) {
    case 'constant':
      return tree.value.toFraction();
    case 'input':
      return `<${tree.key} ${tree.ends.low.toFraction()} ${tree.ends.high.toFraction()}>`;
    case 'least':
    case 'greatest':
      return `${tree.op}(${tree.of.map(treeText).join(' ')})`;
    default:
      return `${tree.op}(${treeText(tree.first)} ${treeText(tree.second)})`;
  }
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

function pick(values: readonly Stack[], how: 'least' | 'greatest'): Stack | undefined {
  const gather = how === 'least' ? intervals.leastOf : intervals.greatestOf;
  const interval = gather(values.map((value) => value.interval));
  const first = values[0];
  if (interval === undefined || first === undefined) return undefined;
  const gathered = { how, values };
  if (values.length === 1) return { ...first, gathered };
  const tree: Tree = { op: how, of: values.map((value) => value.tree) };
  return { interval, ...usual(how, values, interval), linear: false, tree, gathered };
}

/**
 * Middle and shares of a least, a greatest or a spread, so that the root of their squares gives the usual range. What all values have in
 * common moves a least and a greatest, and no spread. Where only some have something in common, the usual range is the worst case.
 */
function usual(
  how: 'least' | 'greatest' | 'spread',
  values: readonly Stack[],
  worst: Interval,
): Pick<Stack, 'middle' | 'weights'> {
  if (values.length > MOST_COMPARED)
    return { middle: intervals.middleOf(worst), weights: weightsOfMany(values, worst) };
  const keys = new Set(values.flatMap((value) => [...value.weights.keys()]));
  const own = new Map<string, number>();
  let together = 0;
  let isMixed = values.some((value) => !value.linear);
  for (const key of keys) {
    const weights = values.map((value) => toNumber(value.weights.get(key) ?? ZERO));
    const [first] = weights;
    if (first !== undefined && values.length > 1 && weights.every((weight) => weight === first)) {
      if (how === 'spread') continue;
      together += first ** 2;
      own.set(key, Math.abs(first));
    } else {
      if (weights.filter((weight) => weight !== 0).length > 1) isMixed = true;
      own.set(key, Math.hypot(...weights));
    }
  }
  const scattered = values.map((value) => {
    const half = Math.hypot(...[...value.weights].map(([, weight]) => toNumber(weight)));
    // Where all have something in common, its part is taken out.
    return { middle: toNumber(value.middle), half: Math.sqrt(Math.max(0, half ** 2 - commonOf(value, values))) };
  });
  const found = isMixed || intervals.isPoint(worst) ? undefined : usualExtreme(how, scattered);
  const [low, high] = [toNumber(worst.low), toNumber(worst.high)];
  const range = found ?? { low, high };
  const centre = (range.low + range.high) / 2;
  const half = Math.hypot((range.high - range.low) / 2, found === undefined ? 0 : Math.sqrt(together));
  return { middle: fromNumber(centre) ?? intervals.middleOf(worst), weights: scaledTo(half, own) };
}

/** Weights with the root of their squares brought to a half width. */
function scaledTo(half: number, own: ReadonlyMap<string, number>): ReadonlyMap<string, Exact> {
  const whole = Math.sqrt([...own.values()].reduce((sum, weight) => sum + weight ** 2, 0));
  const scaled = new Map<string, Exact>();
  for (const [key, weight] of own) {
    const share = whole === 0 ? undefined : fromNumber((weight * half) / whole);
    if (share !== undefined && signOf(share) !== 0) scaled.set(key, share);
  }
  return scaled;
}

/** What each input brings where there are so many values that the worst case stands for the usual one. */
function weightsOfMany(values: readonly Stack[], worst: Interval): ReadonlyMap<string, Exact> {
  const own = new Map<string, number>();
  for (const { weights } of values)
    for (const [key, weight] of weights) own.set(key, Math.hypot(own.get(key) ?? 0, toNumber(weight)));
  return scaledTo((toNumber(worst.high) - toNumber(worst.low)) / 2, own);
}

/** The squared half widths that all values have alike. */
function commonOf(value: Stack, values: readonly Stack[]): number {
  let sum = 0;
  for (const [key, weight] of value.weights)
    if (values.length > 1 && values.every((each) => each.weights.get(key)?.equals(weight) ?? false))
      sum += toNumber(weight) ** 2;
  return sum;
}
