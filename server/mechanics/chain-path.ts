// The way of a chain or belt round any number of wheels whose centres are known: its taut length, and how many links lie between two
// marks on it. Lengths in pitches, angles in degrees clockwise from 12 o'clock as seen from the front. Geometry; two wheels are in chain.ts.

import { sprocketDiameter } from './chain.ts';

/** A wheel with its centre: `right` and `up` from any fixed point, as seen from the front. */
export type PlacedWheel = {
  readonly teeth: number;
  readonly right: number;
  readonly up: number;
  /** The back of the belt runs on it, so that it turns the other way. */
  readonly outside?: boolean;
};

/** Where the loop comes onto a wheel and leaves it, going clockwise round the loop, and the straight run to the next. */
type Contact = { readonly on: number; readonly off: number; readonly arc: number; readonly run: number };

export type LoopPath = { readonly length: number; readonly contacts: readonly Contact[] };

const DEGREES = 180 / Math.PI;

function radiusOf(kind: 'chain' | 'belt', { teeth }: PlacedWheel): number | undefined {
  if (!Number.isInteger(teeth) || teeth < 3) return undefined;
  return kind === 'chain' ? (sprocketDiameter(teeth) ?? 0) / 2 : teeth / (2 * Math.PI);
}

/**
 * The taut way clockwise round the wheels in the order given. `undefined` where two wheels lie too near for a straight run, the order does
 * not go clockwise round, or there are fewer than two.
 */
export function pathRound(kind: 'chain' | 'belt', wheels: readonly PlacedWheel[]): LoopPath | undefined {
  if (wheels.length < 2) return undefined;
  const radii = wheels.map((wheel) => radiusOf(kind, wheel));
  const ons: number[] = [];
  const offs: number[] = [];
  const runs: number[] = [];
  for (const [i, wheel] of wheels.entries()) {
    const next = wheels[(i + 1) % wheels.length];
    const [radius, nextRadius] = [radii[i], radii[(i + 1) % wheels.length]];
    if (next === undefined || radius === undefined || nextRadius === undefined) return undefined;
    const [right, up] = [next.right - wheel.right, next.up - wheel.up];
    const distance = Math.hypot(right, up);
    const direction = Math.atan2(right, up) * DEGREES;
    // Going clockwise the wheel lies to the right of the run, with its radius to the left of it; of an outside wheel it is the other way.
    const [own, other] = [wheel.outside ? -radius : radius, next.outside ? -nextRadius : nextRadius];
    const step = other - own;
    if (!(distance > Math.abs(step)) || (own * other < 0 && distance <= radius + nextRadius)) return undefined;
    // The run leans outward by this toward the larger wheel.
    const lean = Math.asin(step / distance) * DEGREES;
    const normal = direction - 90 - lean;
    offs[i] = turned(own < 0 ? normal + 180 : normal);
    ons[(i + 1) % wheels.length] = turned(other < 0 ? normal + 180 : normal);
    runs[i] = Math.sqrt(distance ** 2 - step ** 2);
  }
  let length = 0;
  let whole = 0;
  const contacts: Contact[] = [];
  for (const [i, wheel] of wheels.entries()) {
    const [on, off, run] = [ons[i], offs[i], runs[i]];
    if (on === undefined || off === undefined || run === undefined) return undefined;
    const arc = wheel.outside ? turned(on - off) : turned(off - on);
    whole += wheel.outside ? -arc : arc;
    length += run + (arc * wheel.teeth) / 360;
    contacts.push({ on, off, arc, run });
  }
  // Once round the wheels is once round the clock: anything else is a loop that crosses itself or goes the other way.
  return Math.abs(whole - 360) < 1e-6 ? { length, contacts } : undefined;
}

/**
 * Links clockwise along the loop from a mark on one wheel to a mark on another: at least with all between them taut, at most with all the
 * slack of the loop in between. `undefined` where a mark stands where the loop is not on its wheel, or the loop is too short to go round.
 */
export function linksBetween(
  path: LoopPath,
  wheels: readonly PlacedWheel[],
  links: number,
  from: { readonly wheel: number; readonly mark: number },
  to: { readonly wheel: number; readonly mark: number },
): { readonly least: number; readonly most: number } | undefined {
  const [start, end] = [along(path, wheels, from), along(path, wheels, to)];
  const spare = links - path.length;
  if (start === undefined || end === undefined || spare < -0.5) return undefined;
  const taut = (((end - start) % path.length) + path.length) % path.length;
  return { least: Math.min(taut, taut + spare), most: Math.max(taut, taut + spare) };
}

/** How far along the loop a mark is, from where the loop comes onto the first wheel. */
function along(
  path: LoopPath,
  wheels: readonly PlacedWheel[],
  { wheel, mark }: { readonly wheel: number; readonly mark: number },
): number | undefined {
  const [contact, placed] = [path.contacts[wheel], wheels[wheel]];
  if (contact === undefined || placed === undefined) return undefined;
  const past = placed.outside ? turned(contact.on - mark) : turned(mark - contact.on);
  if (past > contact.arc + 1e-9) return undefined;
  const before = path.contacts
    .slice(0, wheel)
    .reduce((sum, each, i) => sum + each.run + (each.arc * (wheels[i]?.teeth ?? 0)) / 360, 0);
  return before + (past * placed.teeth) / 360;
}

function turned(degrees: number): number {
  const rest = ((degrees % 360) + 360) % 360;
  return rest > 360 - 1e-9 ? 0 : rest;
}
