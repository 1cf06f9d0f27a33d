// Firing orders: whether each cylinder is in one once, whether the crank allows it, and at what intervals it fires. Degrees of crank.
// Where the pistons stand is in piston-tops.ts.

import { type CrankLayout, levelled, possibleTops, type Senses, type Tops, withinTurn } from './piston-tops.ts';

export type { CrankLayout, Crankpin, EngineLayout, Senses } from './piston-tops.ts';

export type FiringQuestion = CrankLayout & { readonly order: readonly number[] };

export type NumberFaults = {
  readonly missing: readonly number[];
  readonly twice: readonly number[];
  readonly beyond: readonly number[];
};

/**
 * Where a piston reaches the top, degrees after the first of the order, and where even firing in this order needs it, each within one turn.
 * `needed` is `undefined` on a crank that cannot fire evenly: there, the two are the pair of which the second cannot follow the first.
 */
export type WrongPiston = { readonly cylinder: number; readonly stands: number; readonly needed: number | undefined };

/** `intervals` go with the order, the last back to its first; `firingAngles` are degrees after cylinder 1 fires. */
export type FiringVerdict =
  | {
      readonly verdict: 'fits';
      readonly even: boolean;
      readonly intervals: readonly number[];
      readonly firingAngles: ReadonlyMap<number, number>;
      readonly senses: Senses;
    }
  | { readonly verdict: 'conflict'; readonly wrong: readonly WrongPiston[] };

/** Angles nearer than this are one: specs round 360/7. */
const ALIKE = 0.5;

/** Which of 1..count are not there, which are there more than once, and which numbers are beyond. For orders, crankpins and tightening orders. */
export function numberFaults(numbers: readonly number[], count: number): NumberFaults {
  const seen = new Map<number, number>();
  for (const number of numbers) seen.set(number, (seen.get(number) ?? 0) + 1);
  const missing: number[] = [];
  for (let number = 1; number <= count; number += 1) if (!seen.has(number)) missing.push(number);
  const inside = (number: number): boolean => Number.isInteger(number) && number >= 1 && number <= count;
  return {
    missing,
    twice: [...seen].filter(([number, times]) => times > 1 && inside(number)).map(([number]) => number),
    beyond: [...seen.keys()].filter((number) => !inside(number)),
  };
}

export function isWhole(faults: NumberFaults): boolean {
  return faults.missing.length === 0 && faults.twice.length === 0 && faults.beyond.length === 0;
}

/** Whether two orders are the same round: a rotation of an order is the same order. */
export function sameOrder(first: readonly number[], second: readonly number[]): boolean {
  const shift = second.indexOf(first[0] ?? Number.NaN);
  if (first.length !== second.length) return false;
  return first.every((cylinder, at) => second[(at + shift) % second.length] === cylinder);
}

/** The order of the engine turned the other way, from the same first cylinder. */
export function reversedOrder(order: readonly number[]): readonly number[] {
  return [...order.slice(0, 1), ...order.slice(1).reverse()];
}

/** Firing angles after cylinder 1 where all intervals are alike; empty for an order without cylinder 1. */
export function evenFiringAngles(order: readonly number[], cycle: 360 | 720): ReadonlyMap<number, number> {
  const first = order.indexOf(1);
  if (first < 0) return new Map();
  const step = cycle / order.length;
  return new Map(order.map((cylinder, at) => [cylinder, ((at - first + order.length) % order.length) * step]));
}

/**
 * Whether the crank allows the order. Both senses of rotation and of counting are tried; an order that fires unevenly on a crank that could
 * fire evenly does not fit. A conflict names the pistons that are not where the order needs them, in the sense that leaves the fewest.
 * `undefined` where the order is not each of 1..n once, a cylinder is on no pin or on two, or an in-line, flat or vee engine has no pins.
 */
export function judgeFiring(question: FiringQuestion): FiringVerdict | undefined {
  const { order, cylinders, cycle } = question;
  if (!(cylinders >= 1 && cylinders <= 64) || !isWhole(numberFaults(order, cylinders))) return undefined;
  const tops = possibleTops(question);
  if (tops === undefined) return undefined;
  const tried = tops.map((each) => ({ each, angles: bestAngles(order, each.after, cycle) }));
  const fitting = tried.flatMap(({ each, angles }) =>
    angles === undefined ? [] : [{ each, angles, uneven: unevenness(angles, cycle) }],
  );
  const best = fitting.sort((first, second) => first.uneven - second.uneven)[0];
  const couldBeEven = tops.some((each) => allowsEven(each.after, cylinders, cycle));
  if (best === undefined && !couldBeEven) return { verdict: 'conflict', wrong: brokenPair(order, tops, cycle) };
  if (best === undefined || (best.uneven > ALIKE && couldBeEven))
    return { verdict: 'conflict', wrong: fewestWrong(order, tops, cycle) };
  const start = best.angles[order.indexOf(1)] ?? 0;
  return {
    verdict: 'fits',
    even: best.uneven <= ALIKE,
    intervals: intervalsOf(best.angles, cycle),
    firingAngles: new Map(order.map((cylinder, at) => [cylinder, ((best.angles[at] ?? 0) - start + cycle) % cycle])),
    senses: best.each.senses,
  };
}

/**
 * Firing angles in the given order, rising within one cycle, each at a top of its piston; of all that are possible the most even.
 * A two-stroke fires at every top, and two of its cylinders may fire together.
 */
function bestAngles(
  order: readonly number[],
  tops: ReadonlyMap<number, number>,
  cycle: 360 | 720,
): readonly number[] | undefined {
  type Path = { readonly angles: readonly number[]; readonly squares: number };
  const start = tops.get(order[0] ?? 0) ?? 0;
  let paths: readonly Path[] = [{ angles: [0], squares: 0 }];
  for (const cylinder of order.slice(1)) {
    const top = levelled(withinTurn((tops.get(cylinder) ?? 0) - start), ALIKE);
    const choices = cycle === 720 ? [top, top + 360] : [top];
    paths = choices.flatMap((angle) => {
      const ways = paths.flatMap(({ angles, squares }) => {
        const gap = angle - (angles.at(-1) ?? 0);
        const follows = gap > ALIKE || (cycle === 360 && gap > -ALIKE);
        return follows ? [{ angles: [...angles, angle], squares: squares + gap ** 2 }] : [];
      });
      const best = ways.sort((first, second) => first.squares - second.squares)[0];
      return best === undefined ? [] : [best];
    });
  }
  const closed = paths.map((path) => ({ ...path, squares: path.squares + (cycle - (path.angles.at(-1) ?? 0)) ** 2 }));
  return closed.sort((first, second) => first.squares - second.squares)[0]?.angles;
}

function intervalsOf(angles: readonly number[], cycle: number): readonly number[] {
  return angles.map((angle, at) => (angles[at + 1] ?? cycle) - angle);
}

/** By how many degrees the worst interval misses the even one. */
function unevenness(angles: readonly number[], cycle: number): number {
  return Math.max(...intervalsOf(angles, cycle).map((interval) => Math.abs(interval - cycle / angles.length)));
}

/** Whether the tops fall on the even places, in whatever order. */
function allowsEven(tops: ReadonlyMap<number, number>, cylinders: number, cycle: number): boolean {
  const first = tops.get(1) ?? 0;
  const inTurn = (angle: number): number => levelled(withinTurn(angle), ALIKE);
  const found = [...tops.values()].map((top) => inTurn(top - first)).sort((one, other) => one - other);
  const wanted = Array.from({ length: cylinders }, (_, at) => inTurn((at * cycle) / cylinders)).sort(
    (one, other) => one - other,
  );
  return found.every((top, at) => Math.abs(top - (wanted[at] ?? Number.NaN)) <= ALIKE);
}

/** The pistons away from their even places, in the sense that has the fewest of them. */
function fewestWrong(order: readonly number[], tops: readonly Tops[], cycle: number): readonly WrongPiston[] {
  const lists = tops.map(({ after }) =>
    order.flatMap((cylinder, at) => {
      const stands = levelled(withinTurn((after.get(cylinder) ?? 0) - (after.get(order[0] ?? 0) ?? 0)), ALIKE);
      const needed = levelled(withinTurn((at * cycle) / order.length), ALIKE);
      const apart = Math.abs(stands - needed);
      return Math.min(apart, 360 - apart) <= ALIKE ? [] : [{ cylinder, stands, needed }];
    }),
  );
  return lists.sort((first, second) => first.length - second.length)[0] ?? [];
}

/** The pair at which the order breaks off, in the sense in which it gets furthest. */
function brokenPair(order: readonly number[], tops: readonly Tops[], cycle: 360 | 720): readonly WrongPiston[] {
  const reached = tops.map(({ after }) => {
    let count = 1;
    while (count < order.length && bestAngles(order.slice(0, count + 1), after, cycle) !== undefined) count += 1;
    return { after, count };
  });
  const furthest = reached.sort((first, second) => second.count - first.count)[0];
  if (furthest === undefined) return [];
  const start = furthest.after.get(order[0] ?? 0) ?? 0;
  return order.slice(furthest.count - 1, furthest.count + 1).map((cylinder) => ({
    cylinder,
    stands: levelled(withinTurn((furthest.after.get(cylinder) ?? 0) - start), ALIKE),
    needed: undefined,
  }));
}
