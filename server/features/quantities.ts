// The quantities of a file, and each in the other unit system.
import type { PlainValue } from '../../grammar/tree.ts';
import { writtenValues } from '../checks/unit/written-values.ts';
import { ONE, toNumber } from '../mechanics/exact.ts';
import { convertDifference, fromBase, kindOf, otherSystem, type Unit, unitText } from '../mechanics/units.ts';
import type { Analysis } from '../model/analysis.ts';
import { measureOf } from '../model/measure.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { liesIn } from './place-in-tree.ts';

export interface QuantityAt {
  readonly value: PlainValue;
  readonly start: number;
  readonly end: number;
}

function quantitiesOf(placed: Placed): readonly QuantityAt[] {
  return writtenValues(placed).flatMap(({ value }) => {
    if (value.kind !== 'quantity' && value.kind !== 'range' && value.kind !== 'tolerance') return [];
    const { start, end } = placeOf(placed, value);
    return [{ value, start, end }];
  });
}

/** All values with a unit between two offsets of a file, by place. */
export function quantitiesIn(analysis: Analysis, start: number, end: number): readonly QuantityAt[] {
  return analysis.file.sections
    .filter(({ section }) => section.start <= end && section.end >= start)
    .flatMap((section) => section.every.filter((placed) => liesIn(placed, start, end)))
    .flatMap(quantitiesOf)
    .filter((each) => each.start <= end && each.end >= start);
}

export function quantityAt(analysis: Analysis, offset: number): QuantityAt | undefined {
  return quantitiesIn(analysis, offset, offset)[0];
}

/** Decimal places that keep the precision of a number when its unit changes: as fine as the last place written. */
function placesFor(places: number, from: Unit, to: Unit): number {
  const one = convertDifference(ONE, from, to);
  const factor = one === undefined ? 1 : Math.abs(toNumber(one));
  return Math.max(0, Math.min(5, places - Math.floor(Math.log10(factor) + 0.3)));
}

/** The most by which a converted figure may be off for its rounding. */
const MOST_OFF = 0.02;

/** A value in the other system, as it would be printed; undefined where both systems share its unit. */
export function otherUnitText(value: PlainValue): string | undefined {
  const measure = measureOf(value);
  if (measure === undefined || kindOf(measure.unit) === undefined) return undefined;
  const other = otherSystem(measure.unit);
  if (other === undefined) return undefined;
  const { low, high, nominal } = measure.interval;
  const figures = (value.kind === 'quantity' ? [nominal] : [low, high]).map((base) => toNumber(fromBase(base, other)));
  let places = kindOf(measure.unit) === 'temperature' ? 0 : placesFor(measure.places, measure.unit, other);
  // 9 N.m is 6.6 lbf.ft, not 7: a short figure takes one place more.
  const isOff = (figure: number): boolean =>
    Math.abs(Number(figure.toFixed(places)) - figure) > MOST_OFF * Math.abs(figure);
  if (figures.some(isOff)) places += 1;
  return `${figures.map((figure) => figure.toFixed(places)).join('..')} ${unitText(other)}`;
}
