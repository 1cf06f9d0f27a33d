// Where the wheels of a drive stand, from its centre distances and their directions; and the way of its chain or belt round them.
import type { Value } from '../../grammar/tree.ts';
import { type LoopPath, type PlacedWheel, pathRound } from '../mechanics/chain-path.ts';
import { toNumber } from '../mechanics/exact.ts';
import { kindOf } from '../mechanics/units.ts';
import { measureOf } from './measure.ts';
import type { Drive, Part, View } from './view.ts';

/** The wheels of a loop in the order that it meets them going clockwise, with its taut way round them. */
export interface LoopRound {
  readonly wheels: readonly PlacedWheel[];
  /** The part of each wheel. */
  readonly parts: readonly string[];
  readonly path: LoopPath;
}

function partOf(view: View, name: string): Part | undefined {
  const thing = view.things.get(name);
  return thing?.kind === 'part' ? thing : undefined;
}

/** Degrees clockwise from 12 o'clock, seen from the front. */
export function directionOf(value: Value | undefined): number | undefined {
  if (value?.kind === 'clock') return (value.hour % 12) * 30 + value.minute / 2;
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  return measure === undefined || kindOf(measure.unit) !== 'angle' ? undefined : toNumber(measure.interval.nominal);
}

/** The centres of all wheels that a centre distance with its direction leads to, in mm from the first of them. */
function centresOf(drive: Drive, first: string): ReadonlyMap<string, { readonly right: number; readonly up: number }> {
  const found = new Map([[first, { right: 0, up: 0 }]]);
  for (const from of found.keys()) {
    for (const each of drive.statements) {
      if (each.kind !== 'centre-distance' || each.value.kind === 'by-place') continue;
      const [one, two] = [each.from.text, each.to.text];
      const other = one === from ? two : two === from ? one : undefined;
      const [distance, toward, start] = [measureOf(each.value), directionOf(each.at), found.get(from)];
      if (other === undefined || found.has(other) || distance === undefined || toward === undefined) continue;
      if (start === undefined || kindOf(distance.unit) !== 'length') continue;
      const at = ((one === from ? toward : toward + 180) * Math.PI) / 180;
      const length = toNumber(distance.interval.nominal);
      found.set(other, { right: start.right + length * Math.sin(at), up: start.up + length * Math.cos(at) });
    }
  }
  return found;
}

/** A drive's one loop round its wheels; undefined where a centre, a tooth count or the pitch is not known, or the wheels don't go round. */
export function loopRound(drive: Drive, view: View): LoopRound | undefined {
  const [wrap, second] = drive.wraps;
  const [first] = wrap?.wheels ?? [];
  if (wrap === undefined || second !== undefined || first === undefined) return undefined;
  const loop = partOf(view, wrap.part);
  const pitch = loop?.pitch === undefined || loop.pitch.kind === 'by-place' ? undefined : measureOf(loop.pitch);
  if (pitch === undefined || kindOf(pitch.unit) !== 'length') return undefined;
  const one = toNumber(pitch.interval.nominal);
  const centres = centresOf(drive, first.part);
  const wheels: PlacedWheel[] = [];
  for (const wheel of wrap.wheels) {
    const centre = centres.get(wheel.part);
    const teeth = partOf(view, wheel.part)?.teeth;
    if (centre === undefined || teeth === undefined) return undefined;
    wheels.push({
      teeth,
      right: centre.right / one,
      up: centre.up / one,
      ...(wheel.onBack ? { outside: true } : {}),
    });
  }
  const parts = wrap.wheels.map((wheel) => wheel.part);
  const path = pathRound(wrap.sort, wheels);
  if (path !== undefined) return { wheels, parts, path };
  // Written the other way round.
  const [back, backParts] = [[...wheels].reverse(), [...parts].reverse()];
  const other = pathRound(wrap.sort, back);
  return other === undefined ? undefined : { wheels: back, parts: backParts, path: other };
}
