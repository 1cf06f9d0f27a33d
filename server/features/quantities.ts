// The quantities of a file, and each in the other unit system.
import type { PlainValue } from '../../grammar/tree.ts';
import { writtenValues } from '../checks/unit/written-values.ts';
import { ONE, toNumber } from '../mechanics/exact.ts';
import { convertDifference, fromBase, kindOf, otherSystem, type Unit, unitText } from '../mechanics/units.ts';
import type { Analysis } from '../model/analysis.ts';
import { measureOf } from '../model/measure.ts';
import { placeOf } from '../model/placed.ts';
import { everyPlaced } from './place-in-tree.ts';

export interface QuantityAt {
  readonly value: PlainValue;
  readonly start: number;
  readonly end: number;
}

/** All values with a unit in a file, by place. */
export function quantitiesIn(analysis: Analysis): readonly QuantityAt[] {
  return everyPlaced(analysis).flatMap((placed) =>
    writtenValues(placed).flatMap(({ value }) => {
      if (value.kind !== 'quantity' && value.kind !== 'range' && value.kind !== 'tolerance') return [];
      const { start, end } = placeOf(placed, value);
      return [{ value, start, end }];
    }),
  );
}

export function quantityAt(analysis: Analysis, offset: number): QuantityAt | undefined {
  return quantitiesIn(analysis).find((each) => each.start <= offset && offset <= each.end);
}

/** Decimal places that keep the precision of a number when its unit changes: as fine as the last place written. */
function placesFor(places: number, from: Unit, to: Unit): number {
  const one = convertDifference(ONE, from, to);
  const factor = one === undefined ? 1 : Math.abs(toNumber(one));
  return Math.max(0, Math.min(5, places - Math.floor(Math.log10(factor) + 0.3)));
}
/** A value in the other system, as it would be printed; undefined where both systems share its unit. */
export function otherUnitText(value: PlainValue): string | undefined {
  const measure = measureOf(value);
  if (measure === undefined || kindOf(measure.unit) === undefined) return undefined;
  const other = otherSystem(measure.unit);
  if (other === undefined) return undefined;
  const places = kindOf(measure.unit) === 'temperature' ? 0 : placesFor(measure.places, measure.unit, other);
  const shown = (base: typeof measure.interval.low): string => toNumber(fromBase(base, other)).toFixed(places);
  const { low, high, nominal } = measure.interval;
  const numbers = value.kind === 'quantity' ? shown(nominal) : `${shown(low)}..${shown(high)}`;
  return `${numbers} ${unitText(other)}`;
}
