// From a written value to numbers in base units (mm, N, MPa, degree, tonne, second: see mechanics/units.ts). Nothing is looked up here.
import type { NumberText, Place, PlainValue, Range, Tolerance, UnitPart, UnitText, Value } from '../../grammar/tree.ts';
import { type Exact, exact, minus, ONE, plus, ratioOf, times, ZERO } from '../mechanics/exact.ts';
import { type Interval, point, range, tolerance } from '../mechanics/interval.ts';
import { factorOf, isUnitId, toBase, type Unit } from '../mechanics/units.ts';

/** A value in base units, with the unit it was written in (empty for a bare number). */
export interface Measure {
  readonly interval: Interval;
  readonly unit: Unit;
  /** Decimal places as written, for showing results alike. */
  readonly places: number;
}

/** Bounds of which either may be open, in base units. */
export interface Bounds {
  readonly low: Exact | undefined;
  readonly high: Exact | undefined;
  readonly unit: Unit;
  readonly places: number;
  /** See `Worked`: one where it is not said, which is a temperature as it is read. */
  readonly zero?: Exact;
}

const NO_UNIT: Unit = [];

/** The unit as the sums know it; undefined when a part of it is unknown. A bare number has the empty unit. */
export function unitFrom(parts: readonly UnitPart[] | undefined): Unit | undefined {
  if (parts === undefined) return NO_UNIT;
  return parts.every((part): part is Unit[number] => isUnitId(part.unit)) ? parts : undefined;
}

function unitOfText(unit: UnitText | undefined): Unit | undefined {
  if (unit === undefined) return [];
  return unit.parts === undefined ? undefined : unitFrom(unit.parts);
}

/** How many decimals a number is written with; a fraction counts as three. */
function placesOf(number: NumberText): number {
  if (number.text.includes('/')) return 3;
  const point = number.text.indexOf('.');
  return point < 0 ? 0 : number.text.length - point - 1;
}

function offsetFree(value: Exact, unit: Unit): Exact {
  return times(value, factorOf(unit));
}

/**
 * The numbers of a plain value. Undefined when something in it could not be read, for a clock, a ratio, an expression and an open limit.
 */
export function measureOf(value: PlainValue): Measure | undefined {
  switch (value.kind) {
    case 'quantity': {
      const number = exact(value.number.text);
      const unit = unitOfText(value.unit);
      if (number === undefined || unit === undefined) return undefined;
      const minutes = value.minutes === undefined ? ZERO : exact(value.minutes.text);
      const sixtieth = ratioOf(1, 60) ?? ONE;
      if (minutes === undefined) return undefined;
      return {
        // Minutes go the way of their degrees: -5°30' is 5.5 degrees back.
        interval: point(
          toBase((value.number.text.startsWith('-') ? minus : plus)(number, times(minutes, sixtieth)), unit),
        ),
        unit,
        places: placesOf(value.number),
      };
    }
    case 'range':
      return rangeMeasure(value);
    case 'tolerance':
      return toleranceMeasure(value);
    default:
      return undefined;
  }
}

function rangeMeasure(value: Range): Measure | undefined {
  const low = exact(value.low.text);
  const high = exact(value.high.text);
  const unit = unitOfText(value.unit);
  if (low === undefined || high === undefined || unit === undefined) return undefined;
  return {
    interval: range(toBase(low, unit), toBase(high, unit)),
    unit,
    places: Math.max(placesOf(value.low), placesOf(value.high)),
  };
}

function toleranceMeasure(value: Tolerance): Measure | undefined {
  const [nominal, up, down] = [exact(value.nominal.text), exact(value.plus.text), exact(value.minus.text)];
  const unit = unitOfText(value.unit);
  if (nominal === undefined || up === undefined || down === undefined || unit === undefined) return undefined;
  const interval = tolerance(toBase(nominal, unit), offsetFree(up, unit), offsetFree(down, unit));
  return { interval, unit, places: Math.max(placesOf(value.nominal), placesOf(value.plus), placesOf(value.minus)) };
}

/** A place as it is written, without where that is. */
export interface WrittenPlace {
  readonly name?: { readonly text: string } | undefined;
  readonly from?: number | undefined;
  readonly to?: number | undefined;
}

export const asWritten = ({ name, from, to }: Place): WrittenPlace => ({
  name: name === undefined ? undefined : { text: name.text },
  from,
  to,
});

/** Whether a place as written takes in the place that is asked for. A name alone takes in all places of that name. */
export function takesIn(
  written: WrittenPlace,
  asked: { readonly name: string | undefined; readonly number: number },
): boolean {
  if (written.name !== undefined && written.name.text !== asked.name) return false;
  if (written.from === undefined) return true;
  return asked.number >= written.from && asked.number <= (written.to ?? written.from);
}

/** The plain value that holds at a place; the value itself where it does not differ from place to place. */
export function valueAt(
  value: Value,
  asked: { readonly name: string | undefined; readonly number: number },
): PlainValue | undefined {
  if (value.kind !== 'by-place') return value;
  return value.entries.find((entry) => entry.places.some((place) => takesIn(place, asked)))?.value;
}

/** All plain values of a value. */
export function plainValues(value: Value | undefined): readonly PlainValue[] {
  if (value === undefined) return [];
  return value.kind === 'by-place' ? value.entries.map((entry) => entry.value) : [value];
}
