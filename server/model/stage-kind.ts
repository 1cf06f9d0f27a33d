// Whether a stage of tightening is a torque or a further angle, by its unit alone.
import type { PlainValue, Value } from '../../grammar/tree.ts';
import { kindOf } from '../mechanics/units.ts';
import { unitFrom } from './measure.ts';

/** `torque`, `angle`, or undefined where the unit is missing, unknown or neither. */
export function angleUnitIn(value: Value | undefined): 'torque' | 'angle' | undefined {
  if (value === undefined || value.kind === 'by-place') return undefined;
  const kind = kindOfValue(value);
  return kind === 'torque' || kind === 'angle' ? kind : undefined;
}

/** The kind of unit of a plain value; undefined without a unit that is known. */
export function kindOfValue(value: PlainValue): ReturnType<typeof kindOf> {
  if (!('unit' in value) || value.unit?.parts === undefined) return undefined;
  const unit = unitFrom(value.unit.parts);
  return unit === undefined ? undefined : kindOf(unit);
}
