// Each measured value of a record beside the limit that it is held against, at its place. Nothing is reported here.
import { lookUp } from '../../../grammar/look-up.ts';
import type { Measured, PlaceEntry, PlainValue, Statement } from '../../../grammar/tree.ts';
import {
  compare,
  type Exact,
  equal,
  minus,
  plus,
  ratioOf,
  signOf,
  times,
  wholeNumber,
  ZERO,
} from '../../mechanics/exact.ts';
import { likelySlip } from '../../mechanics/fits.ts';
import { sameDimension, unitText } from '../../mechanics/units.ts';
import { evaluation } from '../../model/evaluation.ts';
import { readAs } from '../../model/expression.ts';
import { type Asked, lookedThrough, type NamedPlace, type Places } from '../../model/feature-places.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { limitBounds } from '../../model/limit-sums.ts';
import { type Bounds, type Measure, measureOf, valueAt } from '../../model/measure.ts';
import { type Placed, statementsSeen } from '../../model/placed.ts';
import type { Limit, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { fittedSizes, withFitted, withFittedSizes } from './fitted-sizes.ts';

/** How a measured value stands: `worn` is inside the wear limit and outside the new range, `slip` is off by a point or a unit. */
export type Standing = 'inside' | 'worn' | 'slip' | 'outside' | 'wrong-kind';

/** One measured value of a record. */
export interface Judged {
  readonly statement: Measured;
  readonly limit: Limit;
  /** The places as written, where the value is for some alone. */
  readonly entry: PlaceEntry | undefined;
  readonly value: PlainValue;
  readonly measure: Measure;
  readonly bounds: Bounds | undefined;
  readonly wear: Bounds | undefined;
  /** Undefined where there is nothing to hold it against. */
  readonly standing: Standing | undefined;
  /** The factor that puts a slip right. */
  readonly slip: '10' | '1/10' | '25.4' | '1/25.4' | undefined;
  /** Measured again later at all of its places. */
  readonly again: boolean;
}

const TEN = wholeNumber(10) ?? ZERO;

/** The statements of a record that hold for a variant. */
export function recordStatements(placed: Placed, view: View): readonly Statement[] {
  return statementsSeen(placed, view);
}

function samePlace(asked: Asked): { readonly name: string | undefined; readonly number: number } {
  return { name: asked.name, number: asked.number ?? asked.index };
}

/** The places of a limit that an entry is about; a limit that is the same everywhere has any place. */
function askedFor(limit: Limit, all: readonly Asked[], find: Places<AskedPlace>, entry: PlaceEntry | undefined) {
  if (entry === undefined || limit.each === undefined) return all;
  const found = new Set(entry.places.flatMap((place) => find.find(place).map(({ asked }) => asked)));
  return [...found].sort((one, other) => one.index - other.index);
}

interface AskedPlace extends NamedPlace {
  readonly asked: Asked;
}

const askedPlaces = (all: readonly Asked[]): Places<AskedPlace> =>
  lookedThrough(all.map((asked) => ({ ...samePlace(asked), asked })));

/** The dimension that a limit is about by itself: what it is, or what it is measured at. */
function dimensionOfLimit(limit: Limit, view: View) {
  const reference = limit.expression?.kind === 'reference' ? limit.expression.reference : limit.each;
  if (limit.expression !== undefined && limit.expression.kind !== 'reference') return undefined;
  const part = reference === undefined ? undefined : view.things.get(reference.owner.text);
  const feature = reference?.feature?.text;
  return part?.kind !== 'part' || feature === undefined ? undefined : part.dimensions.get(feature);
}

interface Held {
  readonly bounds: Bounds | undefined;
  readonly wear: Bounds | undefined;
}

/** The bounds at a place. Those of a standard dimension move with the repair size that was fitted, and its wear limit with them. */
export function heldAt(limit: Limit, asked: Asked, view: View, sized: View): Held {
  const bounds = limitBounds(limit, 'within', asked, sized);
  const wear = limitBounds(limit, 'wearLimit', asked, sized);
  if (view === sized || bounds?.low === undefined || bounds.high === undefined) return { bounds, wear };
  const measured = (from: View): Measure | undefined => {
    const value = dimensionOfLimit(limit, from)?.value;
    const plain = value === undefined ? undefined : valueAt(value, samePlace(asked));
    return plain === undefined ? undefined : measureOf(plain);
  };
  const [standard, fitted] = [measured(view), measured(sized)];
  if (standard === undefined || fitted === undefined) return { bounds, wear };
  if (!equal(standard.interval.low, bounds.low) || !equal(standard.interval.high, bounds.high)) return { bounds, wear };
  const shift = minus(fitted.interval.nominal, standard.interval.nominal);
  const moved = (edge: Exact | undefined): Exact | undefined => (edge === undefined ? undefined : plus(edge, shift));
  return {
    bounds: { ...bounds, low: fitted.interval.low, high: fitted.interval.high },
    wear: wear === undefined ? undefined : { ...wear, low: moved(wear.low), high: moved(wear.high) },
  };
}

function holds(measure: Measure, { low, high }: { readonly low: Exact | undefined; readonly high: Exact | undefined }) {
  const { interval } = measure;
  return (
    (low === undefined || compare(interval.low, low) >= 0) && (high === undefined || compare(interval.high, high) <= 0)
  );
}

/** Whether a value outside the new range lies between it and the wear limit, on the side that wears. */
function isWorn(measure: Measure, bounds: Bounds | undefined, wear: Bounds | undefined): boolean {
  if (wear === undefined || bounds === undefined) return false;
  const isOne = wear.low !== undefined && wear.high !== undefined && equal(wear.low, wear.high);
  if (!isOne) return holds(measure, { low: wear.low ?? bounds.low, high: wear.high ?? bounds.high });
  const grows = bounds.high !== undefined && wear.low !== undefined && compare(wear.low, bounds.high) >= 0;
  return holds(measure, grows ? { low: bounds.low, high: wear.high } : { low: wear.low, high: bounds.high });
}

/** A wear limit alone is the most that a clearance may come to. */
function wearAlone(wear: Bounds | undefined): Bounds | undefined {
  if (wear?.low === undefined || wear.high === undefined || !equal(wear.low, wear.high)) return wear;
  return { ...wear, low: undefined };
}

/** The units that are taken for each other, by the factor that puts it right. */
const OTHER_UNIT: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  '25.4': { mm: 'in', um: 'thou' },
  '1/25.4': { in: 'mm', thou: 'um' },
};

function slipOf(value: PlainValue, measure: Measure, bounds: Bounds | undefined): Judged['slip'] {
  if (value.kind !== 'quantity' || bounds?.low === undefined || bounds.high === undefined) return undefined;
  const slip = likelySlip(measure.interval.nominal, bounds.low, bounds.high);
  if (slip === '10' || slip === '1/10') return slip;
  return slip !== undefined && lookUp(lookUp(OTHER_UNIT, slip) ?? {}, unitText(measure.unit)) !== undefined
    ? slip
    : undefined;
}

/** So many times its one bound is no reading, where the figure in the unit of the limit lies near that. Judgement; no source. */
const FAR = ratioOf(15, 1) ?? ZERO;

/** A reading far beyond an open bound, in another unit than the limit's: `2.6 in` where at least 2.1 mm is asked. */
function unitSlip(value: PlainValue, measure: Measure, { low, high }: Bounds): Judged['slip'] {
  if (value.kind !== 'quantity' || low === undefined || high !== undefined || signOf(low) <= 0) return undefined;
  if (unitText(measure.unit) !== 'in' || compare(measure.interval.nominal, times(low, FAR)) < 0) return undefined;
  return compare(measure.interval.nominal, times(low, times(FAR, FAR))) < 0 ? '1/25.4' : undefined;
}

/** What a slip is meant to be, as written: the point moved, or the other unit. */
export function meantBy({ value, measure, slip }: Judged): string | undefined {
  if (value.kind !== 'quantity' || slip === undefined) return undefined;
  const { number } = value;
  const unit = unitText(measure.unit);
  const other = lookUp(lookUp(OTHER_UNIT, slip) ?? {}, unit);
  if (other !== undefined) return `${number.text} ${other}`;
  const match = /^(-?)(\d*)(?:\.(\d*))?$/.exec(number.text);
  if (match === null) return undefined;
  const [sign, whole, rest] = [match[1] ?? '', match[2] ?? '', match[3] ?? ''];
  const digits = `${whole === '' ? '0' : whole}${rest}`;
  const point = digits.length - rest.length + (slip === '10' ? 1 : -1);
  const padded = point <= 0 ? digits.padStart(digits.length - point + 1, '0') : digits.padEnd(point, '0');
  const at = Math.max(1, point);
  const plain = `${padded.slice(0, at).replace(/^0+(?=\d)/, '')}${padded.length > at ? `.${padded.slice(at)}` : ''}`;
  return `${sign}${plain}${unit === '' ? '' : ` ${unit}`}`;
}

const WORST: readonly (Standing | undefined)[] = [undefined, 'inside', 'worn', 'slip', 'outside', 'wrong-kind'];

function stand(value: PlainValue, measure: Measure, { bounds, wear }: Held): Pick<Judged, 'standing' | 'slip'> {
  const against = bounds ?? wearAlone(wear);
  if (against === undefined) return { standing: undefined, slip: undefined };
  if (!sameDimension(measure.unit, against.unit))
    // A number without a unit is said by unit/missing.
    return { standing: measure.unit.length === 0 ? undefined : 'wrong-kind', slip: undefined };
  if (holds(measure, against)) {
    const slip = bounds === undefined ? undefined : unitSlip(value, measure, bounds);
    return { standing: slip === undefined ? 'inside' : 'slip', slip };
  }
  if (isWorn(measure, bounds, wear)) return { standing: 'worn', slip: undefined };
  const slip = slipOf(value, measure, bounds);
  return { standing: slip === undefined ? 'outside' : 'slip', slip };
}

interface Found extends Omit<Judged, 'again'> {
  readonly places: readonly number[];
}

/** Whether the later of two measurements is meant: by their days, else as written. */
function isLater(one: Found, other: Found, order: number): boolean {
  const [a, b] = [one.statement.on?.text, other.statement.on?.text];
  if (a === undefined || b === undefined || a === b) return order > 0;
  return a > b;
}

/** Limits for how far sizes at one place differ. */
const OF_DIFFERENCES: ReadonlySet<string> = new Set(['out-of-round', 'taper']);

/**
 * Several diameters written under a limit for out of round or taper are how far they differ: the largest less the smallest. Readings that
 * are differences themselves are not far beyond the bound, as diameters always are.
 */
function spreadOf(
  value: PlainValue,
  limit: Limit,
  measure: Measure | undefined,
  bound: Exact | undefined,
): Measure | undefined {
  if (measure === undefined || value.kind !== 'range' || value.readings === undefined) return measure;
  if (!OF_DIFFERENCES.has(limit.sort ?? '')) return measure;
  const { low, high } = measure.interval;
  if (bound === undefined || compare(low, times(bound, TEN)) <= 0) return measure;
  const apart = minus(high, low);
  return { ...measure, interval: { low: apart, nominal: apart, high: apart } };
}

/** The measured values of a record in the view of its variant, as written. What can't be read, or is unknown, is left out. */
export function measurementsIn(placed: Placed, view: View): readonly Judged[] {
  return measured(view, placed);
}

const measured = question((view, placed: Placed): readonly Judged[] => {
  const statements = recordStatements(placed, view);
  const sized = withFitted(withFittedSizes(view, fittedSizes(statements, view)), statements);
  const found: Found[] = [];
  for (const statement of statements) {
    if (statement.kind !== 'measured' || statement.value === undefined) continue;
    const limit = view.things.get(statement.limit.owner.text);
    if (limit?.kind !== 'limit' || limit.broken) continue;
    const all = placesOfLimit(limit, view);
    const find = askedPlaces(statement.value.kind === 'by-place' ? all : []);
    const entries = statement.value.kind === 'by-place' ? statement.value.entries : [undefined];
    for (const entry of entries) {
      const value = entry?.value ?? (statement.value.kind === 'by-place' ? undefined : statement.value);
      const measure =
        value === undefined
          ? undefined
          : spreadOf(
              value,
              limit,
              readAs(value, limit, evaluation(sized)),
              limitBounds(limit, 'within', all[0] ?? { index: 1, of: 1 }, view)?.high,
            );
      if (value === undefined || measure === undefined) continue;
      const asked = askedFor(limit, all, find, entry);
      const judged = asked.map((each) => {
        const held = heldAt(limit, each, view, sized);
        return { ...held, ...stand(value, measure, held) };
      });
      const worst = [...judged].sort((one, two) => WORST.indexOf(two.standing) - WORST.indexOf(one.standing))[0];
      if (worst === undefined) continue;
      const places =
        limit.each === undefined && entry !== undefined
          ? entry.places.map((place) => -(place.from ?? 0) - 1)
          : asked.map((each) => each.index);
      found.push({ statement, limit, entry, value, measure, ...worst, places });
    }
  }
  const at = byPlace(found);
  return found.map((one, i) => {
    const { places, ...each } = one;
    const isMeasuredLater = (place: number | undefined): boolean =>
      at
        .get(each.limit)
        ?.get(place)
        ?.findLast(([other, j]) => j !== i && isLater(other, one, j - i)) !== undefined;
    const again = (places.length === 0 ? [undefined] : places).every(isMeasuredLater);
    return { ...each, again };
  });
});

/** The measurements of each place of each limit as written, with the number of each; all of a limit under no place. */
function byPlace(
  found: readonly Found[],
): ReadonlyMap<Limit, ReadonlyMap<number | undefined, readonly (readonly [Found, number])[]>> {
  const all = new Map<Limit, Map<number | undefined, (readonly [Found, number])[]>>();
  for (const [i, one] of found.entries()) {
    const own = all.get(one.limit) ?? new Map<number | undefined, (readonly [Found, number])[]>();
    all.set(one.limit, own);
    for (const place of new Set([...one.places, undefined])) {
      const there = own.get(place);
      if (there === undefined) own.set(place, [[one, i]]);
      else there.push([one, i]);
    }
  }
  return all;
}

/** The places of a limit that no measured value of a record is about; empty where all have one. */
export function placesLeft(limit: Limit, statements: readonly Statement[], view: View): readonly Asked[] {
  const own = statements.filter(
    (each): each is Measured => each.kind === 'measured' && each.limit.owner.text === limit.name,
  );
  if (own.some((each) => each.value !== undefined && (each.value.kind !== 'by-place' || limit.each === undefined)))
    return [];
  const entries = own.flatMap((each) => (each.value?.kind === 'by-place' ? each.value.entries : []));
  const all = placesOfLimit(limit, view);
  if (entries.length === 0) return all;
  const find = askedPlaces(all);
  const has = new Set(
    entries.flatMap((entry) => entry.places.flatMap((place) => find.find(place))).map(({ asked }) => asked),
  );
  return all.filter((asked) => !has.has(asked));
}

/** The places of an entry as written: `1..3`, `inlet 2`. */
export function entryText(placed: Placed, entry: PlaceEntry | undefined): string {
  if (entry === undefined) return '';
  return entry.places.map((place) => placed.section.text.slice(place.start, place.end).replace(/\s+/g, ' ')).join(', ');
}

/** By how much a value misses its bounds and on which side, in base units. */
export function missOf({ measure, bounds }: Judged): { readonly by: Exact; readonly small: boolean } | undefined {
  if (bounds === undefined) return undefined;
  const { low, high } = measure.interval;
  if (bounds.low !== undefined && compare(low, bounds.low) < 0) return { by: minus(bounds.low, low), small: true };
  if (bounds.high !== undefined && compare(high, bounds.high) > 0)
    return { by: minus(high, bounds.high), small: false };
  return undefined;
}
