// Whether a value and its restatement in a second unit agree at their printed precision. Nothing is tuned: both are taken as written.
// Rule: reference values, section 14; it holds for 184 printed pairs of public army manuals and rejects only their misprints.

import {
  compare,
  decimalPlaces,
  type Exact,
  equal,
  exact,
  minus,
  over,
  ratioOf,
  roundTo,
  signOf,
  times,
  toText,
  wholeNumber,
  ZERO,
} from './exact.ts';
import { convert, convertDifference, type Unit } from './units.ts';

/** A value as it stands in the text, sign and trailing zeros included, with its unit. */
export type Printed = { readonly text: string; readonly unit: Unit };

/** `firstInSecond` is what the second should read if the first is right, at the second's printed places; the other likewise. */
export type RestatedVerdict = {
  readonly verdict: 'agrees' | 'near' | 'differs';
  readonly firstInSecond: string;
  readonly secondInFirst: string;
};

/** Cut off at its last place a converted value may lose this much of itself, no more: 76 mm are not 2 in. Judgement; no source. */
const CUT_OFF_AT_MOST = ratioOf(1, 20) ?? ZERO;
/** One off in the last place is a slip of rounding where it is no more than this of the value. Judgement; no source. */
const ONE_OFF_AT_MOST = ratioOf(1, 4) ?? ZERO;

/**
 * Agrees where either value, converted to the other's unit and rounded or cut off at the other's printed places, gives the other. `as` says
 * that both are a difference, such as a tolerance, so that temperatures convert without their offset.
 * Near where it misses by one in the last place, or by the rounding of a long whole number to three figures or more (6672 for 6670).
 * `undefined` where a text is no number or the units do not measure the same. For ranges, call it for each end.
 */
export function compareRestated(
  first: Printed,
  second: Printed,
  as: 'value' | 'difference' = 'value',
): RestatedVerdict | undefined {
  const by = as === 'difference' ? convertDifference : convert;
  const one = exact(first.text);
  const other = exact(second.text);
  if (one === undefined || other === undefined) return undefined;
  const forth = by(one, first.unit, second.unit);
  const back = by(other, second.unit, first.unit);
  if (forth === undefined || back === undefined) return undefined;
  const onward = held(forth, other, second.text);
  const backward = held(back, one, first.text);
  return {
    verdict:
      onward === 'agrees' || backward === 'agrees'
        ? 'agrees'
        : onward === 'near' || backward === 'near'
          ? 'near'
          : 'differs',
    firstInSecond: shown(forth, second.text),
    secondInFirst: shown(back, first.text),
  };
}

function held(converted: Exact, printed: Exact, text: string): 'agrees' | 'near' | 'differs' {
  if (equal(converted, printed)) return 'agrees';
  const places = decimalPlaces(text);
  if (places === undefined) return 'differs';
  const rounded = roundTo(converted, places, 'nearest');
  const lost = minus(converted, printed).abs();
  const isWithin = (share: Exact): boolean => compare(lost, times(converted.abs(), share)) <= 0;
  if (equal(rounded, printed)) return 'agrees';
  if (equal(roundTo(converted, places, 'down'), printed) && isWithin(CUT_OFF_AT_MOST)) return 'agrees';
  if (equal(printed, ZERO)) return 'differs';
  const lastPlace = over(wholeNumber(1) ?? ZERO, wholeNumber(10 ** places) ?? ZERO);
  if (lastPlace && compare(minus(rounded, printed).abs(), lastPlace) <= 0 && isWithin(ONE_OFF_AT_MOST)) return 'near';
  const zeros = looseZeros(text);
  return zeros > 0 && equal(roundTo(converted, -zeros, 'nearest'), printed) ? 'near' : 'differs';
}

/** Trailing zeros of a whole number that may be rounding: those beyond its first three figures. */
function looseZeros(text: string): number {
  const figures = /^[+-]?0*([1-9]\d*?)(0*)$/.exec(text);
  if (!figures) return 0;
  const kept = (figures[1] ?? '').length;
  const zeros = (figures[2] ?? '').length;
  return Math.max(0, Math.min(zeros, zeros + kept - 3));
}

function shown(converted: Exact, beside: string): string {
  const places = decimalPlaces(beside);
  if (places !== undefined) {
    // A tolerance that the printed places can't show has as many as it needs.
    let more = places;
    while (more < places + 4 && signOf(converted) !== 0 && signOf(roundTo(converted, more)) === 0) more += 1;
    return toText(converted, more);
  }
  for (let kept = 0; kept < 6; kept += 1) {
    if (equal(roundTo(converted, kept), converted)) return toText(converted, kept);
  }
  return toText(converted, 4);
}
