// The range of a sum in which one thing may be named several times: a bore over and under the line is one bore. Kept as a tree of its
// steps, of which every input is one thing, however often it stands there. No units and no tolerances by probability; see stack.ts.

import {
  compare,
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
  ZERO,
} from './exact.ts';

type Ends = { readonly low: Exact; readonly high: Exact };

/** How a value was made. An input with the same key is the same thing. */
export type Tree =
  | { readonly op: 'constant'; readonly value: Exact }
  | { readonly op: 'input'; readonly key: string; readonly ends: Ends }
  | { readonly op: 'plus' | 'minus' | 'times' | 'over'; readonly first: Tree; readonly second: Tree }
  | { readonly op: 'least' | 'greatest'; readonly of: readonly Tree[] };

/** A value with how steeply it follows each input, both over a whole box. */
type Sloped = { readonly ends: Ends; readonly slopes: ReadonlyMap<string, Ends> };
type Box = ReadonlyMap<string, Ends>;
/** How often an input stands over and under the line. */
type Degree = readonly [number, number];

/** No more boxes than this are looked at for one end: the rest is taken as wide as it may be. */
const MOST_BOXES = 120;
/** An end that is known to this part of the range that it lies in is known. */
const NEAR_ENOUGH: Exact = ratioOf(1, 1_000_000) ?? ONE;
const HALF: Exact = ratioOf(1, 2) ?? ONE;
const NOTHING: Ends = { low: ZERO, high: ZERO };

/** A longer one is not looked at in boxes: each of them goes over all of it. */
const MOST_STEPS = 400;

/** Whether a tree has so many steps that its range is left as wide as it is with two of each thing that is named twice. */
export function isLong(tree: Tree): boolean {
  let steps = 0;
  const left: Tree[] = [tree];
  for (let next = left.pop(); next !== undefined && steps <= MOST_STEPS; next = left.pop()) {
    steps += 1;
    if ('of' in next) left.push(...next.of.slice(0, MOST_STEPS + 1));
    else if ('first' in next) left.push(next.first, next.second);
  }
  return steps > MOST_STEPS;
}

/** All inputs of a tree that vary, with their ranges. */
function inputsOf(tree: Tree, into: Map<string, Ends> = new Map()): Map<string, Ends> {
  switch (tree.op) {
    case 'constant':
      break;
    case 'input':
      if (!isOne(tree.ends)) into.set(tree.key, tree.ends);
      break;
    case 'least':
    case 'greatest':
      for (const each of tree.of) inputsOf(each, into);
      break;
    default:
      inputsOf(tree.first, into);
      inputsOf(tree.second, into);
  }
  return into;
}

/** Whether two trees have an input in common. */
export function shareInput(first: Tree, second: Tree): boolean {
  const inputs = inputsOf(first);
  for (const key of inputsOf(second).keys()) if (inputs.has(key)) return true;
  return false;
}

/**
 * Lowest and highest value with every input anywhere in its range, each one thing. Exact where each input stands at most once over and
 * once under the line, or the value rises or falls with it all the way; else never too narrow. `undefined` where a divisor can be zero.
 */
export function rangeOf(tree: Tree): Ends | undefined {
  const low = lowest(tree);
  const high = lowest({ op: 'minus', first: { op: 'constant', value: ZERO }, second: tree });
  return low === undefined || high === undefined ? undefined : { low, high: negate(high) };
}

function lowest(tree: Tree): Exact | undefined {
  const whole = inputsOf(tree);
  const atEnds = new Set([...whole.keys()].filter((key) => degreeOf(tree, key).every((degree) => degree <= 1)));
  let open: { readonly box: Box; readonly low: Exact }[] = [];
  /** The lowest that is reached for certain. */
  let best: Exact | undefined;
  const look = (given: Box): boolean => {
    const seen = narrowed(tree, given);
    if (seen === undefined) return false;
    const { box, ends } = seen;
    if ([...box.values()].every(isOne)) {
      best = best === undefined ? ends.low : smaller(best, ends.low);
      return true;
    }
    const middle = valueOver(tree, new Map([...box].map(([key, each]) => [key, at(middleOf(each))])));
    if (middle !== undefined) best = best === undefined ? middle.ends.high : smaller(best, middle.ends.high);
    open.push({ box, low: ends.low });
    return true;
  };
  if (!look(whole)) return undefined;
  const widest = valueOver(tree, whole)?.ends ?? NOTHING;
  const near = times(minus(widest.high, widest.low), NEAR_ENOUGH);
  /** The lowest of what was near enough to be left alone. */
  let left: Exact | undefined;
  for (let boxes = 0; boxes < MOST_BOXES; boxes += 1) {
    for (const { low } of open)
      if (best !== undefined && compare(minus(best, low), near) <= 0)
        left = left === undefined ? low : smaller(left, low);
    open = open.filter(({ low }) => best === undefined || compare(minus(best, low), near) > 0);
    const [first, ...rest] = open;
    if (first === undefined) return best === undefined || left === undefined ? best : smaller(best, left);
    const next = rest.reduce((least, each) => (compare(each.low, least.low) < 0 ? each : least), first);
    open = open.filter((each) => each !== next);
    for (const part of cut(next.box, atEnds)) look(part);
  }
  return open.reduce<Exact | undefined>(
    (least, { low }) => (least === undefined ? low : smaller(least, low)),
    left ?? best,
  );
}

/** A box with the inputs that the value goes one way with set to the end that gives the least, and the value over what is left of it. */
function narrowed(tree: Tree, given: Box): { readonly box: Box; readonly ends: Ends } | undefined {
  let box = given;
  for (;;) {
    const value = valueOver(tree, box);
    if (value === undefined) return undefined;
    const set = new Map(box);
    let isNarrower = false;
    for (const [key, ends] of box) {
      if (isOne(ends)) continue;
      const slope = value.slopes.get(key) ?? NOTHING;
      const rises = signOf(slope.low) >= 0;
      if (!rises && signOf(slope.high) > 0) continue;
      set.set(key, at(rises ? ends.low : ends.high));
      isNarrower = true;
    }
    if (!isNarrower) return { box, ends: value.ends };
    box = set;
  }
}

function isOne({ low, high }: Ends): boolean {
  return compare(low, high) === 0;
}

/** A box in two: at both ends of an input that can only be extreme there, else the widest in halves. */
function cut(box: Box, atEnds: ReadonlySet<string>): readonly Box[] {
  const open = [...box].filter(([, ends]) => !isOne(ends));
  const end = open.find(([key]) => atEnds.has(key));
  const width = ([, ends]: readonly [string, Ends]): Exact => minus(ends.high, ends.low);
  const first = end ?? open[0];
  if (first === undefined) return [];
  const [key, { low, high }] =
    end ?? open.reduce((wide, each) => (compare(width(each), width(wide)) > 0 ? each : wide), first);
  const middle = middleOf({ low, high });
  const parts: readonly Ends[] =
    end === undefined
      ? [
          { low, high: middle },
          { low: middle, high },
        ]
      : [at(low), at(high)];
  return parts.map((part) => new Map([...box, [key, part]]));
}

function at(value: Exact): Ends {
  return { low: value, high: value };
}

function middleOf({ low, high }: Ends): Exact {
  return times(plus(low, high), HALF);
}

function add(first: Ends, second: Ends): Ends {
  return { low: plus(first.low, second.low), high: plus(first.high, second.high) };
}

function opposite({ low, high }: Ends): Ends {
  return { low: negate(high), high: negate(low) };
}

function multiply(first: Ends, second: Ends): Ends {
  const corners = [
    times(first.low, second.low),
    times(first.low, second.high),
    times(first.high, second.low),
    times(first.high, second.high),
  ];
  return { low: corners.reduce(smaller), high: corners.reduce(larger) };
}

/** One over a range; `undefined` where it can be zero. */
function inverse({ low, high }: Ends): Ends | undefined {
  if (signOf(low) <= 0 && signOf(high) >= 0) return undefined;
  const [first, last] = [over(ONE, high), over(ONE, low)];
  return first === undefined || last === undefined ? undefined : { low: first, high: last };
}

function slopesWith(
  first: ReadonlyMap<string, Ends>,
  second: ReadonlyMap<string, Ends>,
  join: (one: Ends, other: Ends) => Ends,
): ReadonlyMap<string, Ends> {
  const keys = new Set([...first.keys(), ...second.keys()]);
  return new Map([...keys].map((key) => [key, join(first.get(key) ?? NOTHING, second.get(key) ?? NOTHING)]));
}

/** The value over a box, as wide as it may be, with its slopes. */
function valueOver(tree: Tree, box: Box): Sloped | undefined {
  switch (tree.op) {
    case 'constant':
      return { ends: at(tree.value), slopes: new Map() };
    case 'input': {
      const ends = box.get(tree.key) ?? tree.ends;
      return { ends, slopes: new Map([[tree.key, at(ONE)]]) };
    }
    case 'least':
    case 'greatest':
      return outermost(tree, box);
    default: {
      const first = valueOver(tree.first, box);
      const second = valueOver(tree.second, box);
      return first === undefined || second === undefined ? undefined : joined(tree.op, first, second);
    }
  }
}

function joined(op: 'plus' | 'minus' | 'times' | 'over', first: Sloped, second: Sloped): Sloped | undefined {
  switch (op) {
    case 'plus':
      return { ends: add(first.ends, second.ends), slopes: slopesWith(first.slopes, second.slopes, add) };
    case 'minus':
      return {
        ends: add(first.ends, opposite(second.ends)),
        slopes: slopesWith(first.slopes, second.slopes, (one, other) => add(one, opposite(other))),
      };
    case 'times':
      return {
        ends: multiply(first.ends, second.ends),
        slopes: slopesWith(first.slopes, second.slopes, (one, other) =>
          add(multiply(one, second.ends), multiply(other, first.ends)),
        ),
      };
    case 'over': {
      const under = inverse(second.ends);
      if (under === undefined) return undefined;
      // (a/b)' = (a' - b' · a/b) / b
      const ends = multiply(first.ends, under);
      return {
        ends,
        slopes: slopesWith(first.slopes, second.slopes, (one, other) =>
          multiply(add(one, opposite(multiply(other, ends))), under),
        ),
      };
    }
  }
}

/** The least or greatest of several; each that may be it has its slopes in the answer. */
function outermost(tree: Tree & { readonly op: 'least' | 'greatest' }, box: Box): Sloped | undefined {
  const values = tree.of.map((each) => valueOver(each, box));
  const known = values.filter((each) => each !== undefined);
  const [first] = known;
  if (first === undefined || known.length !== values.length) return undefined;
  const pick = tree.op === 'least' ? smaller : larger;
  const ends = {
    low: known.map((each) => each.ends.low).reduce(pick),
    high: known.map((each) => each.ends.high).reduce(pick),
  };
  const may = known.filter((each) =>
    tree.op === 'least' ? compare(each.ends.low, ends.high) <= 0 : compare(each.ends.high, ends.low) >= 0,
  );
  const [one, ...others] = may;
  const slopes = others.reduce(
    (all, each) =>
      slopesWith(all, each.slopes, (a, b) => ({ low: smaller(a.low, b.low), high: larger(a.high, b.high) })),
    one?.slopes ?? first.slopes,
  );
  return { ends, slopes };
}

/** How often an input stands over and under the line, once all is brought onto one; least and greatest can bend anywhere. */
function degreeOf(tree: Tree, key: string): Degree {
  switch (tree.op) {
    case 'constant':
      return [0, 0];
    case 'input':
      return [tree.key === key ? 1 : 0, 0];
    case 'least':
    case 'greatest':
      return inputsOf(tree).has(key) ? [9, 9] : [0, 0];
    default: {
      const [over1, under1] = degreeOf(tree.first, key);
      const [over2, under2] = degreeOf(tree.second, key);
      if (tree.op === 'times') return [over1 + over2, under1 + under2];
      if (tree.op === 'over') return [over1 + under2, under1 + over2];
      return [Math.max(over1 + under2, over2 + under1), under1 + under2];
    }
  }
}
