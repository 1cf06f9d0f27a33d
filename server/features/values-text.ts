// A worked-out value as text, and all of them as JSON for other programs. What people read of them is values-people.ts.
import { type Told, told } from '../../grammar/told.ts';
import { exact, toNumber } from '../mechanics/exact.ts';
import { convert, convertDifference, isUnitId, otherSystem, type Unit, unitOf, unitText } from '../mechanics/units.ts';
import type { ValueRow } from '../model/values.ts';

/** A figure to as many places as say something. */
export function figure(number: number, places = 0): string {
  const size = Math.abs(number);
  const digits = size === 0 ? 0 : size < 1 ? 4 : size < 10 ? 3 : size < 1000 ? 2 : 0;
  return String(Number(number.toFixed(Math.max(digits, places))));
}

/** A figure to at least so many places, noughts too: a bound as the book prints it. */
export function printedFigure(number: number, finest: number, least = 0): string {
  const text = figure(number, finest);
  return Number(text).toFixed(Math.max(least, text.split('.')[1]?.length ?? 0));
}

/** Bounds that are worked out have no end of places. */
const MOST_PLACES = 5;

/** How many decimals the bounds of a limit are written with: what is held against them is shown as finely. */
export function boundPlaces({ within, places: asPrinted }: ValueRow): number {
  const places = [within?.low, within?.high].map((edge) => {
    if (edge === undefined) return 0;
    const written = String(Number(edge.toFixed(MOST_PLACES + 1))).split('.')[1] ?? '';
    return written.includes('e') || written.length > MOST_PLACES ? 0 : written.length;
  });
  return Math.max(...places, asPrinted ?? 0);
}

/** As finely as the bounds are written, and one more place where an end that misses its bound would else look like it. */
function placesBeside(row: ValueRow): number {
  const { low, high, within, verdict } = row;
  const places = boundPlaces(row);
  if (verdict === undefined || verdict === 'inside') return places;
  const hides = (end: number | undefined, bound: number | undefined): boolean =>
    end !== undefined && bound !== undefined && figure(end, places) === figure(bound, places) && end !== bound;
  return hides(low, within?.low) || hides(high, within?.high) ? places + 1 : places;
}

/** Units that have an inch or a pound in them are those of the other system. */
const isMetric = (unit: string): boolean => !/in|ft|lb|psi|oz|degF|gal|qt|pt/.test(unit);

function unitOfRow(row: ValueRow): Unit | undefined {
  return isUnitId(row.unit) ? unitOf(row.unit) : undefined;
}

function converted(number: number, from: Unit, to: Unit, isDifference: boolean): number | undefined {
  const value = exact(number.toFixed(9));
  const by = isDifference ? convertDifference : convert;
  const result = value === undefined ? undefined : by(value, from, to);
  return result === undefined ? undefined : toNumber(result);
}

/** Two ends, to as many places as the longer one has: `0.020 to 0.055`; one where both come out alike. `least` are shown, if only noughts. */
export function endsText(low: number, high: number, finest = 0, least = 0): Told {
  const [from, to] = [figure(low, finest), figure(high, finest)];
  if (from === to) return told.asIs(from);
  const places = Math.max(least, ...[from, to].map((each) => each.split('.')[1]?.length ?? 0));
  return told`${Number(from).toFixed(places)} to ${Number(to).toFixed(places)}`;
}

/** `0.020 to 0.060 mm (0.0008 to 0.0024 in)`; with inches first, where that is asked for, the other way about. */
export function rangeText(row: ValueRow, inchesFirst = false): Told {
  if (row.values !== undefined)
    return told.asIs(`${row.values.map((each) => figure(each)).join(', ')} ${row.unit}`.trim());
  const figures = (scale: (number: number) => number | undefined, places = 0, least = 0): Told | undefined => {
    const [low, high, nominal] = [row.low, row.high, row.nominal].map((number) =>
      number === undefined ? undefined : scale(number),
    );
    if (low !== undefined && high !== undefined && figure(low, places) !== figure(high, places))
      return endsText(low, high, places, least);
    return nominal === undefined ? undefined : told.asIs(figure(nominal, places));
  };
  const own = figures((number) => number, placesBeside(row), row.places) ?? told.nothing;
  const unit = unitOfRow(row);
  const other = unit === undefined ? undefined : otherSystem(unit);
  const also =
    unit === undefined || other === undefined
      ? undefined
      : figures((number) => converted(number, unit, other, row.difference ?? false));
  const first = withUnit(own, row);
  if (also === undefined || other === undefined) return first;
  const second = told`${also} ${unitText(other)}`;
  return inchesFirst && isMetric(row.unit) ? told`${second} (${first})` : told`${first} (${second})`;
}

function withUnit(figures: Told, { unit, nominal }: ValueRow): Told {
  switch (unit) {
    case '':
      return figures;
    case 'pitch':
      return told`${figures} pitches`;
    case 'turn':
      return nominal === 1 ? told`${figures} turn` : told`${figures} turns`;
    default:
      return told`${figures} ${unit}`;
  }
}

/** The rows without where they stand and how finely they are printed, as `fettle values --format json` gives them. */
export function valuesJson(rows: readonly ValueRow[]): {
  readonly values: readonly Omit<ValueRow, 'place' | 'places'>[];
} {
  return { values: rows.map(({ place: _place, places: _places, ...row }) => row) };
}
