// A written figure as it is printed: its ends with their digits, in each of its units. Nothing is compared here.
import type { PlainValue } from '../../grammar/tree.ts';
import { compare, type Exact, exact, toText } from '../mechanics/exact.ts';
import { fromBase, type Unit, unitText } from '../mechanics/units.ts';
import { measureOf } from '../model/measure.ts';

/** How the second of two figures stands to the first. */
export type Relation = 'same' | 'more' | 'less' | 'wider' | 'narrower' | 'shifted' | 'other';

/** One end of a figure as printed. */
export interface End {
  readonly value: Exact;
  readonly text: string;
}

/** A figure in one of its units; an open side is absent. */
export interface Printed {
  readonly low: End | undefined;
  readonly high: End | undefined;
  readonly unit: Unit;
}

function endOf(text: string): End | undefined {
  const value = exact(text);
  return value === undefined ? undefined : { value, text };
}

/** Undefined for a sum, a clock, a ratio and what can not be read. */
export function printedOf(value: PlainValue): Printed | undefined {
  if (value.kind === 'open') {
    const bound = value.value;
    if (bound.kind !== 'quantity') return undefined;
    const printed = printedOf(bound);
    if (printed === undefined) return undefined;
    return value.side === 'at-least' ? { ...printed, high: undefined } : { ...printed, low: undefined };
  }
  const measure = measureOf(value);
  if (measure === undefined) return undefined;
  const { unit, places } = measure;
  if (value.kind === 'quantity' && value.minutes === undefined) {
    const end = endOf(value.number.text);
    return end === undefined ? undefined : { low: end, high: end, unit };
  }
  if (value.kind === 'range') {
    const [one, other] = [endOf(value.low.text), endOf(value.high.text)];
    if (one === undefined || other === undefined) return undefined;
    return compare(one.value, other.value) <= 0 ? { low: one, high: other, unit } : { low: other, high: one, unit };
  }
  const shown = (base: Exact): End => {
    const plain = fromBase(base, unit);
    return { value: plain, text: toText(plain, value.kind === 'quantity' ? 4 : places) };
  };
  return { low: shown(measure.interval.low), high: shown(measure.interval.high), unit };
}

export function restatedOf(value: PlainValue): PlainValue | undefined {
  return 'restated' in value ? value.restated : undefined;
}

/** The figure in each unit that it is printed in, its first one first. */
export function allPrinted(value: PlainValue): readonly Printed[] {
  const restated = restatedOf(value);
  return [value, ...(restated === undefined ? [] : [restated])].flatMap((each) => printedOf(each) ?? []);
}

export const sameUnit = (one: Unit, other: Unit): boolean => unitText(one) === unitText(other);
