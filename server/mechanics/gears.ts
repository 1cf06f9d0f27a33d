// What turns what, how fast and which way: shafts coupled by chains, belts and gears, with speeds as exact fractions.
// Lengths, marks and links are in chain.ts, belt.ts and links-return.ts.

import { type Exact, equal, negate, ONE, over, ratioOf, times, ZERO } from './exact.ts';

/** A toothed wheel on a shaft. `outside`: a belt's back runs on it, or it is outside a loop that goes round the others; it turns the other way. */
export type Wheel = { readonly shaft: string; readonly teeth: number; readonly outside?: boolean };

/** A chain or belt round all its wheels, or gears in mesh one after the other (each with the next). Internal teeth are not known. */
export type Coupling = { readonly kind: 'loop' | 'mesh'; readonly name: string; readonly wheels: readonly Wheel[] };

/** Turns for one turn of the driver; negative for the other way round. */
export type Speeds = ReadonlyMap<string, Exact>;

/** A shaft that two ways round the drive turn differently: both speeds, and the coupling at which it shows. */
export type TwoAnswers = { readonly shaft: string; readonly by: string; readonly first: Exact; readonly second: Exact };

export type DriveSolution = {
  readonly speeds: Speeds;
  readonly twoAnswers: readonly TwoAnswers[];
  readonly notDriven: readonly string[];
};

/**
 * Speeds of all shafts that the driver turns. Couplings with a wheel of no teeth (not a whole number above 0) are left out. Each shaft has the
 * speed of the first way that reaches it, by the fewest couplings; another way that disagrees is in `twoAnswers`, once for each shaft and coupling.
 */
export function solveDrive(driver: string, couplings: readonly Coupling[]): DriveSolution {
  const links = couplings.flatMap(pairsOf);
  const speeds = new Map<string, Exact>([[driver, ONE]]);
  const from = byShaft(bothWays(links));
  // A map goes on to what is put into it meanwhile: shafts by the fewest couplings first.
  for (const [shaft, speed] of speeds)
    for (const { far, ratio } of from.get(shaft) ?? []) if (!speeds.has(far)) speeds.set(far, times(speed, ratio));
  const twoAnswers: TwoAnswers[] = [];
  const said = new Set<string>();
  for (const { near, far, ratio, name } of links) {
    const [nearSpeed, farSpeed] = [speeds.get(near), speeds.get(far)];
    if (nearSpeed === undefined || farSpeed === undefined) continue;
    const second = times(nearSpeed, ratio);
    const key = `${far}\n${name}`;
    if (equal(farSpeed, second) || said.has(key)) continue;
    said.add(key);
    twoAnswers.push({ shaft: far, by: name, first: farSpeed, second });
  }
  const named = new Set(couplings.flatMap((coupling) => coupling.wheels.map((wheel) => wheel.shaft)));
  return { speeds, twoAnswers, notDriven: [...named].filter((shaft) => !speeds.has(shaft)) };
}

/** Turns of the second shaft for one of the first, its sign the direction; `undefined` where either is not driven. */
export function speedRatio(speeds: Pick<Speeds, 'get'>, first: string, second: string): Exact | undefined {
  const [one, other] = [speeds.get(first), speeds.get(second)];
  return one === undefined || other === undefined ? undefined : over(other, one);
}

/** Speed of the last gear of a train to the first, direction included; idlers between change direction only. `undefined` for fewer than two or no teeth. */
export function trainRatio(teeth: readonly number[]): Exact | undefined {
  const first = teeth[0];
  const last = teeth.at(-1);
  if (teeth.length < 2 || first === undefined || last === undefined || !teeth.every(countsAsTeeth)) return undefined;
  const size = ratioOf(first, last);
  return size === undefined ? undefined : teeth.length % 2 === 0 ? negate(size) : size;
}

/**
 * A radial engine's cam ring: lobes for each valve and turns for one of the crank, by direction. The ring with (n+1)/2 lobes turns with the crank
 * at 1/(n+1), that with (n−1)/2 against it at 1/(n−1). FAA-H-8083-32 as quoted in public files. `undefined` for other than an odd number from 3.
 */
export function camRing(
  cylinders: number,
  against: boolean,
): { readonly lobes: number; readonly speed: Exact } | undefined {
  if (!Number.isInteger(cylinders) || cylinders < 3 || cylinders % 2 === 0) return undefined;
  const lobes = against ? (cylinders - 1) / 2 : (cylinders + 1) / 2;
  return { lobes, speed: ratioOf(against ? -1 : 1, 2 * lobes) ?? ZERO };
}

type Pair = { readonly near: string; readonly far: string; readonly ratio: Exact; readonly name: string };

/** Neighbours of one coupling; two wheels on one shaft in one loop are a pair too, so that their disagreement shows. */
function pairsOf(coupling: Coupling): readonly Pair[] {
  if (!coupling.wheels.every((wheel) => countsAsTeeth(wheel.teeth))) return [];
  const pairs: Pair[] = [];
  coupling.wheels.forEach((wheel, at) => {
    const next = coupling.wheels[at + 1];
    const size = next && ratioOf(wheel.teeth, next.teeth);
    if (next === undefined || size === undefined) return;
    const turned = coupling.kind === 'mesh' || (wheel.outside ?? false) !== (next.outside ?? false);
    pairs.push({ near: wheel.shaft, far: next.shaft, ratio: turned ? negate(size) : size, name: coupling.name });
  });
  return pairs;
}

function bothWays(pairs: readonly Pair[]): readonly Pair[] {
  return pairs.flatMap((pair) => {
    const back = over(ONE, pair.ratio);
    return back === undefined ? [pair] : [pair, { near: pair.far, far: pair.near, ratio: back, name: pair.name }];
  });
}

/** What each shaft is coupled to, in the order written. */
function byShaft(pairs: readonly Pair[]): ReadonlyMap<string, readonly Pair[]> {
  const all = new Map<string, Pair[]>();
  for (const pair of pairs) {
    const own = all.get(pair.near);
    if (own === undefined) all.set(pair.near, [pair]);
    else own.push(pair);
  }
  return all;
}

function countsAsTeeth(teeth: number): boolean {
  return Number.isSafeInteger(teeth) && teeth > 0;
}
