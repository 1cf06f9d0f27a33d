// How a fastener is named in messages about its load: thread, class and the K or friction that was reckoned with. No check of its own.
import type { Value } from '../../../grammar/tree.ts';
import { type Unit, unitOf } from '../../mechanics/units.ts';
import type { FastenerResult } from '../../model/fastener-sums.ts';
import { unitFrom } from '../../model/measure.ts';

/** `M8x1.25 of class 8.8`. */
export function boltWords(result: FastenerResult): string {
  const strength = result.strength;
  const strong =
    strength === undefined
      ? ''
      : strength.source === 'stated'
        ? ` of ${strength.name.replace('tensile', 'tensile strength')}`
        : ` of ${/^\d/.test(strength.name) ? 'class ' : ''}${strength.name}`;
  return `${result.thread?.designation ?? 'bolt'}${strong}`;
}

/** What the load was worked out with, so that it can be doubted: `K 0.18 (oiled)`. */
export function factorWords(result: FastenerResult): string {
  if (result.friction !== undefined) return `a friction of ${result.friction}`;
  if (result.factor === undefined) return '';
  return `K ${result.factor.low.toFixed(2)} to ${result.factor.high.toFixed(2)} (${result.factor.said.split(':')[0]})`;
}

/** The unit that a value is written in; N.m where it has none. */
export function writtenUnit(value: Value | undefined): Unit {
  const unit =
    value !== undefined && value.kind !== 'by-place' && 'unit' in value ? unitFrom(value.unit?.parts) : undefined;
  return unit === undefined || unit.length === 0 ? unitOf('N.m') : unit;
}
