// Works out limits: the range that the parts give at each place, held against the bounds.

import type { Value } from '../../grammar/tree.ts';
import { type Exact, minus, ONE, over, plus, times, toNumber, ZERO } from '../mechanics/exact.ts';
import { standing } from '../mechanics/interval.ts';
import { type Share, sharesOf, statisticalRange } from '../mechanics/stack.ts';
import { dimensionKey } from '../mechanics/unit-kinds.ts';
import { dimensionOf, factorOf, kindOf, offsetOf, type Unit } from '../mechanics/units.ts';
import { forFitted } from './bounds-by-size.ts';
import { evaluation } from './evaluation.ts';
import { workOut, workOutSum, zeroOfLimit } from './expression.ts';
import type { Asked } from './feature-places.ts';
import { placesOfLimit } from './limit-places.ts';
import { type Bounds, measureOf, valueAt } from './measure.ts';
import { MOST_LIMIT_PLACES } from './most.ts';
import type { Limit, View } from './view.ts';
import { question } from './view-questions.ts';
import { inUnit, type Worked } from './worked.ts';

export type Verdict = 'inside' | 'outside' | 'select';

/** A limit worked out at one place or, where all places agree, at all of them. */
export interface LimitResult {
  readonly worked: Worked;
  readonly bounds: Bounds | undefined;
  /** Undefined where there is nothing to hold it against, or what is still to be measured may bring it in or out. */
  readonly verdict: Verdict | undefined;
  /** The place, where the limit differs from place to place; a name without a number is all places of that name. */
  readonly place: Asked | undefined;
  readonly statistical: { readonly low: number; readonly high: number };
  readonly shares: readonly Share[];
}

/** The bounds of a value at a place, in base units. An open limit may be an expression. Undefined where unreadable. */
export function boundsOf(value: Value, asked: Asked, view: View): Bounds | undefined {
  const plain = valueAt(value, { name: asked.name, number: asked.number ?? asked.index });
  if (plain === undefined) return undefined;
  if (plain.kind === 'open') {
    const worked = workOutSum(plain.value, evaluation(view, asked));
    if (worked === undefined) return undefined;
    const places = plain.value.kind === 'quantity' ? (measureOf(plain.value)?.places ?? 3) : 3;
    const edge = plain.side === 'at-least' ? worked.stack.interval.high : worked.stack.interval.low;
    const { unit, zero } = worked;
    return plain.side === 'at-least'
      ? { low: edge, high: undefined, unit, places, ...(zero === undefined ? {} : { zero }) }
      : { low: undefined, high: edge, unit, places, ...(zero === undefined ? {} : { zero }) };
  }
  const measure = measureOf(plain);
  return measure === undefined
    ? undefined
    : { low: measure.interval.low, high: measure.interval.high, unit: measure.unit, places: measure.places };
}

/** A limit without bounds that is one size of a part by itself holds what the part says of it: its range, and its wear limit. */
export function ofItsSize(limit: Limit, clause: 'within' | 'wearLimit', view: View): Value | undefined {
  if (limit.within !== undefined || limit.wearLimit !== undefined || limit.expression?.kind !== 'reference')
    return undefined;
  const { owner, feature } = limit.expression.reference;
  const part = view.things.get(owner.text);
  if (part?.kind !== 'part' || feature === undefined) return undefined;
  const size = part.dimensions.get(feature.text) ?? part.figures.get(feature.text);
  if (size !== undefined) return clause === 'within' ? size.value : size.wearLimit;
  if (feature.text !== 'wall') return undefined;
  return clause === 'within' ? part.wall : part.wallWear;
}

/**
 * What a limit holds at a place: for the repair size or the grade that was fitted, and for the size that they go with. Undefined where
 * that is not known.
 */
export function limitBounds(
  limit: Limit,
  clause: 'within' | 'wearLimit',
  asked: Asked,
  view: View,
): Bounds | undefined {
  const value = forFitted(limit[clause] ?? ofItsSize(limit, clause, view), limit, view);
  const bounds = value === undefined ? undefined : boundsGiven(value, limit, asked, view);
  if (bounds === undefined || kindOf(bounds.unit) !== 'temperature') return bounds;
  return boundsFor(bounds, { zero: zeroOfLimit(limit, evaluation(view, asked)) });
}

/** One of the values of a limit as bounds, for the size that they go with. */
export function boundsGiven(value: Value, limit: Limit, asked: Asked, view: View): Bounds | undefined {
  const bounds = boundsOf(value, asked, view);
  if (bounds === undefined || limit.forEach === undefined) return bounds;
  const { size, of } = limit.forEach;
  const unit = measureOf(size);
  const worked = workOut({ kind: 'reference', reference: of, start: of.start, end: of.end }, evaluation(view, asked));
  if (unit === undefined || worked === undefined) return undefined;
  const ratio = over(worked.stack.interval.nominal, unit.interval.nominal);
  if (ratio === undefined) return undefined;
  const scaled = (edge: Exact | undefined): Exact | undefined => (edge === undefined ? undefined : times(edge, ratio));
  return { ...bounds, low: scaled(bounds.low), high: scaled(bounds.high), places: bounds.places + 1 };
}

/** Bounds as they are held against a value: those of a difference of temperatures are differences, those of a sum of two are sums. */
export function boundsFor(bounds: Bounds, worked: Pick<Worked, 'zero'>): Bounds {
  const zero = worked.zero ?? ZERO;
  const offset = times(minus(zero, bounds.zero ?? ONE), offsetOf(bounds.unit));
  const moved = (edge: Exact | undefined): Exact | undefined => (edge === undefined ? undefined : plus(edge, offset));
  return { ...bounds, low: moved(bounds.low), high: moved(bounds.high), zero };
}

function sameRange(first: LimitResult, second: LimitResult): boolean {
  const [a, b] = [first.worked.stack.interval, second.worked.stack.interval];
  const sameEdge = (x: Exact | undefined, y: Exact | undefined): boolean =>
    x === undefined || y === undefined ? x === y : x.equals(y);
  return (
    a.low.equals(b.low) &&
    a.high.equals(b.high) &&
    sameEdge(first.bounds?.low, second.bounds?.low) &&
    sameEdge(first.bounds?.high, second.bounds?.high)
  );
}

/** Works a limit out; empty where it is only measured, or something in it is unknown or unreadable. */
export function workOutLimit(limit: Limit, view: View): readonly LimitResult[] {
  return limitAsked(view, limit);
}

const limitAsked = question((view, limit: Limit): readonly LimitResult[] => {
  if (limit.expression === undefined) return [];
  const results: LimitResult[] = [];
  const isSaidAlike = areBoundsAlike(limit, view);
  for (const asked of placesOfLimit(limit, view).slice(0, MOST_LIMIT_PLACES)) {
    const at = evaluation(view, asked);
    const worked = workOutSum(limit.expression, at);
    if (worked === undefined) return [];
    const said = limitBounds(limit, 'within', asked, view);
    const bounds =
      said !== undefined && dimensionKey(dimensionOf(said.unit)) === dimensionKey(worked.dimension)
        ? boundsFor(said, worked)
        : undefined;
    const held = bounds === undefined ? undefined : standing(worked.stack.interval, bounds);
    // What is still to be measured has to lie within its own bounds: missed by all of that it is missed whatever comes out.
    const verdict = worked.toMeasure && held !== 'outside' ? undefined : held;
    results.push({
      worked,
      bounds,
      verdict,
      place: asked,
      statistical: statisticalRange(worked.stack),
      shares: sharesOf(worked.stack),
    });
    // Where nothing of it is said by place, it comes to the same at all places.
    if (isSaidAlike && !at.place.counts) break;
  }
  const first = results[0];
  if (first === undefined) return [];
  return results.every((result) => sameRange(first, result)) ? [{ ...first, place: undefined }] : byGroup(results);
});

/** Whether the bounds of a limit are plain figures, the same at all places. */
function areBoundsAlike(limit: Limit, view: View): boolean {
  const value = limit.within ?? ofItsSize(limit, 'within', view);
  return value?.kind !== 'by-place' && value?.kind !== 'open' && limit.forEach === undefined;
}

/** Where all places of each named group agree, one result stands for the group. */
function byGroup(results: readonly LimitResult[]): readonly LimitResult[] {
  const groups = new Map<string, LimitResult>();
  for (const result of results) {
    const name = result.place?.name;
    if (name === undefined) return results;
    const first = groups.get(name);
    if (first === undefined) groups.set(name, { ...result, place: { index: 1, of: 1, name } });
    else if (!sameRange(first, result)) return results;
  }
  return [...groups.values()];
}

/** A place of a limit as it is written: `inlet`, `inlet 3`, `3`; empty where it is the same at all places. */
export function placeText(place: Asked | undefined): string {
  if (place === undefined) return '';
  if (place.name === undefined) return String(place.index);
  return place.number === undefined ? place.name : `${place.name} ${place.number}`;
}

/** The unit that a limit is shown in: that of its bounds, else that of its inputs. */
export function shownUnit(result: LimitResult): Unit {
  return result.bounds !== undefined && result.bounds.unit.length > 0 ? result.bounds.unit : result.worked.unit;
}

/** A number of base units, without their exactness, as a number in a unit. */
export function numberInUnit(value: number, unit: Unit, zero: Exact = ONE): number {
  return (value - toNumber(times(zero, offsetOf(unit)))) / toNumber(factorOf(unit));
}

/** A base-unit number as text in the unit it is shown in: as many places as the bounds have, and one more where the value needs it. */
export function shownNumber(value: Exact | number, unit: Unit, places: number, zero?: Exact): string {
  const number = typeof value === 'number' ? value : inUnit(value, unit, zero);
  const plain = number.toFixed(places);
  const text =
    Math.abs(Number(plain) - number) < 1e-9 * Math.max(1, Math.abs(number)) ? plain : number.toFixed(places + 1);
  return Number(text) === 0 ? text.replace('-', '') : text;
}
