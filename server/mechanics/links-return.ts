// When marked links and shafts are all back where their marks agree: whole-number work on exact ratios, for any graph of wheels.

import { type Exact, equal, ONE, over, ratioOf, times, toNumber, wholeNumber } from './exact.ts';

/** A chain or belt with a whole number of links or teeth, and how many pass in one turn of the crankshaft. */
export type MarkedLoop = { readonly links: number; readonly passedPerTurn: Exact };

/**
 * The fewest whole turns of the crankshaft after which each loop has gone round a whole number of times and each shaft (turns for one of the
 * crankshaft) has turned a whole number of times. With no loops it is the whole cycle of the shafts.
 * `undefined` where a loop has no links, or the answer is beyond what a double counts exactly.
 */
export function turnsUntilBack(loops: readonly MarkedLoop[], shafts: readonly Exact[]): number | undefined {
  let turns = 1n;
  const rounds = [...shafts];
  for (const loop of loops) {
    const links = loop.links > 0 ? wholeNumber(loop.links) : undefined;
    const each = links && over(loop.passedPerTurn, links);
    if (each === undefined) return undefined;
    rounds.push(each);
  }
  for (const each of rounds) turns = leastCommonMultiple(turns, each.d);
  return turns <= BigInt(Number.MAX_SAFE_INTEGER) ? Number(turns) : undefined;
}

/**
 * The common case, one chain: lcm(links, teeth) / teeth turns of the wheel, taken up to whole cycles of every shaft. `speed` is what the toothed
 * wheel turns for one of the crankshaft (1 on the crankshaft itself), `shafts` likewise.
 */
export function chainReturn(
  links: number,
  teeth: number,
  shafts: readonly Exact[],
  speed: Exact = ONE,
): number | undefined {
  const count = teeth > 0 ? wholeNumber(teeth) : undefined;
  return count && turnsUntilBack([{ links, passedPerTurn: times(count, speed) }], shafts);
}

/** Links that have passed a fixed point, 0 to links − 1 and a fraction where it is not whole, after so many turns; forward for positive turns. */
export function linksPassed(loop: MarkedLoop, turns: Exact): Exact | undefined {
  const links = loop.links > 0 ? wholeNumber(loop.links) : undefined;
  if (links === undefined) return undefined;
  const passed = times(loop.passedPerTurn, turns);
  const rounds = over(passed, links);
  return rounds && passed.sub(rounds.floor().mul(links));
}

/** Whether after so many turns every loop and shaft is back. */
export function isBack(loops: readonly MarkedLoop[], shafts: readonly Exact[], turns: Exact): boolean {
  const whole = (value: Exact): boolean => value.d === 1n;
  return (
    shafts.every((shaft) => whole(times(shaft, turns))) &&
    loops.every((loop) => {
      const links = wholeNumber(loop.links);
      const rounds = links && over(times(loop.passedPerTurn, turns), links);
      return rounds !== undefined && whole(rounds);
    })
  );
}

/**
 * The finest step of a coupling with two toothed or splined ends, as a part of a turn: 1 / lcm. 24 and 28 splines: 1/168 of a turn, 2.143 degrees.
 * `undefined` for numbers that are not whole and above 0.
 */
export function finestStep(first: number, second: number): Exact | undefined {
  if (!(first > 0) || !(second > 0) || !Number.isSafeInteger(first) || !Number.isSafeInteger(second)) return undefined;
  return ratioOf(1, Number(leastCommonMultiple(BigInt(first), BigInt(second))));
}

/**
 * How to make a step with such a coupling: teeth forward on the first end and back on the second so that the sum is nearest the wanted part of a
 * turn, with the fewest teeth. `undefined` as for `finestStep`, or where either end has more than 2000 teeth.
 */
export function vernierSetting(
  first: number,
  second: number,
  wanted: Exact,
): { readonly firstTeeth: number; readonly secondTeeth: number; readonly reached: Exact } | undefined {
  const step = finestStep(first, second);
  if (step === undefined || first > 2000 || second > 2000) return undefined;
  const steps = over(wanted, step);
  const nearest = steps && times(steps.round(), step);
  if (nearest === undefined) return undefined;
  for (let teeth = 0; teeth < first; teeth += 1) {
    const rest = nearest.sub(ratioOf(teeth, first) ?? nearest).mul(second);
    if (equal(rest, rest.round())) {
      const back = toNumber(rest) % second;
      return { firstTeeth: teeth, secondTeeth: back, reached: nearest };
    }
  }
  return undefined;
}

function leastCommonMultiple(first: bigint, second: bigint): bigint {
  let [one, other] = [first, second];
  while (other !== 0n) [one, other] = [other, one % other];
  return (first / one) * second;
}
