// Figures for the bench: a torque in both units, the source of a statement. What is worked out is in the model.
import { spoken } from '../../grammar/spoken.ts';
import type { Per, Value } from '../../grammar/tree.ts';
import { type Exact, toNumber } from '../mechanics/exact.ts';
import { fromBase, kindOf, otherSystem, type Unit, unitOf, unitText } from '../mechanics/units.ts';
import { measureOf } from '../model/measure.ts';
import { valueText } from './action-text.ts';

/** Below so many pound-feet, wrenches are marked in pound-inches. Common practice, no source. */
const LEAST_POUND_FEET = 10;

function otherUnit(unit: Unit, nominal: Exact): Unit | undefined {
  const other = otherSystem(unit);
  if (other === undefined || unitText(other) !== 'lbf.ft') return other;
  return toNumber(fromBase(nominal, other)) < LEAST_POUND_FEET ? unitOf('lbf.in') : other;
}

/** Three figures are as fine as a wrench is read. */
function readable(number: number): string {
  return number.toFixed(Math.abs(number) >= 20 ? 0 : Math.abs(number) >= 2 ? 1 : 2);
}

/** A torque in the other system, rounded as a wrench is read; undefined for an angle, or where the spec prints both itself. */
function otherTorque(value: Value | undefined): string | undefined {
  if (value === undefined || value.kind === 'by-place' || ('restated' in value && value.restated !== undefined))
    return undefined;
  const measure = measureOf(value);
  if (measure === undefined || kindOf(measure.unit) !== 'torque') return undefined;
  const { low, high, nominal } = measure.interval;
  const unit = otherUnit(measure.unit, nominal);
  if (unit === undefined) return undefined;
  const [from, to] = [low, high].map((number) => readable(toNumber(fromBase(number, unit))));
  return `${from === to ? from : spoken`${from ?? ''} to ${to ?? ''}`} ${unitText(unit)}`;
}

/** `manual 2-16`; empty where no source is said. */
export function sourceText(per: Per | undefined): string {
  return per === undefined ? '' : [per.source.text, per.place?.value].filter((each) => each !== undefined).join(' ');
}

/** A value, with the other unit of a torque behind it. */
export function bothUnits(value: Value | undefined): string {
  const other = otherTorque(value);
  return other === undefined ? valueText(value) : `${valueText(value)} (${other})`;
}
