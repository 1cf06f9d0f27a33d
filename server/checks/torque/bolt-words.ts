// How a fastener is named in messages about its load: thread, class and the K or friction that was reckoned with. No check of its own.
import { type Told, told } from '../../../grammar/told.ts';
import type { Value } from '../../../grammar/tree.ts';
import { type Unit, unitOf } from '../../mechanics/units.ts';
import type { FastenerResult } from '../../model/fastener-sums.ts';
import { unitFrom } from '../../model/measure.ts';
import { figure } from '../figures.ts';

/** `M8x1.25 of class 8.8`. */
export function boltWords(result: FastenerResult): Told {
  const { strength, thread } = result;
  const bolt = thread === undefined ? told`bolt` : told.asIs(thread.designation);
  if (strength === undefined) return bolt;
  if (strength.source === 'stated')
    return told`${bolt} of tensile strength ${figure(strength.name.replace(/^tensile | MPa$/g, ''), 'MPa')}`;
  return /^\d/.test(strength.name) ? told`${bolt} of class ${strength.name}` : told`${bolt} of ${strength.name}`;
}

/** What the load was worked out with, so that it can be doubted: `K 0.18 (oiled)`. */
export function factorWords(result: FastenerResult): Told {
  if (result.friction !== undefined) return told`a friction of ${String(result.friction)}`;
  if (result.factor === undefined) return told.nothing;
  const { low, high, said } = result.factor;
  return told`K ${low.toFixed(2)} to ${high.toFixed(2)} (${told.term(said.split(':')[0] ?? '')})`;
}

/** The unit that a value is written in; N.m where it has none. */
export function writtenUnit(value: Value | undefined): Unit {
  const unit =
    value !== undefined && value.kind !== 'by-place' && 'unit' in value ? unitFrom(value.unit?.parts) : undefined;
  return unit === undefined || unit.length === 0 ? unitOf('N.m') : unit;
}
