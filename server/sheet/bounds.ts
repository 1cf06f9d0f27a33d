// The bounds of a limit as they are read at the bench: in both units where the spec says both, with the sum behind them worked out.
import { speak, spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { Value } from '../../grammar/tree.ts';
import { boundsShown } from '../checks/figures.ts';
import type { Exact } from '../mechanics/exact.ts';
import { unitText } from '../mechanics/units.ts';
import { placesOfLimit } from '../model/limit-places.ts';
import { boundsOf, limitBounds, ofItsSize, placeText, shownNumber } from '../model/limit-sums.ts';
import type { Bounds } from '../model/measure.ts';
import type { Limit, View } from '../model/view.ts';
import { inUnit } from '../model/worked.ts';
import { readRange, sumText, valueText } from './action-text.ts';
import { bothUnits } from './figures.ts';
import { calledBy } from './plain-words.ts';

function isSum(value: Value | undefined): value is Value {
  if (value === undefined) return false;
  const plain = value.kind === 'by-place' ? value.entries.map((each) => each.value) : [value];
  return plain.some((each) => each.kind === 'open' && each.value.kind !== 'quantity');
}

/** `= 0.363 mm`: what a bound comes to that is written as a sum; undefined for one that is a number, or rests on what is not known. */
export function comesTo(value: Value | undefined, limit: Limit, view: View): string | undefined {
  if (!isSum(value)) return undefined;
  const asked = placesOfLimit(limit, view)[0] ?? { index: 1, of: 1 };
  const bounds = boundsOf(value, asked, view);
  const edge = bounds?.low ?? bounds?.high;
  if (bounds === undefined || edge === undefined) return undefined;
  return `= ${shownNumber(edge, bounds.unit, bounds.places, bounds.zero)} ${unitText(bounds.unit)}`.trim();
}

/** Bounds as they are read: `0.30 to 0.35 mm`, `at least 1.6 mm`. */
export function boundsWords(bounds: Bounds): string {
  return readRange(speak(boundsShown(bounds)));
}

/** Bounds that go with a size are read as finely as they are written for one of it: a gauge shows no more. */
function asFineAsWritten(bounds: Bounds, limit: Limit): string {
  const { low, high, unit, places } = bounds;
  if (limit.forEach === undefined || low === undefined || high === undefined) return boundsWords(bounds);
  const shown = (edge: Exact): string => inUnit(edge, unit).toFixed(places - 1);
  return `${spoken`${shown(low)} to ${shown(high)}`} ${unitText(unit)}`;
}

/** What the bounds of a limit come to at each of its places; undefined where that is not known. */
export function boundsByPlace(
  limit: Limit,
  view: View,
): readonly { readonly place: string; readonly text: string | undefined }[] {
  return placesOfLimit(limit, view).map((asked) => {
    const bounds = limitBounds(limit, 'within', asked, view);
    return { place: placeText(asked), text: bounds === undefined ? undefined : asFineAsWritten(bounds, limit) };
  });
}

/** `1, 3: 0.0014 to 0.0019 in; 2: 0.0012 to 0.0016 in`; the bounds alone where they are the same everywhere. */
function gathered(limit: Limit, view: View): string | undefined {
  const places = new Map<string, string[]>();
  for (const { place, text } of boundsByPlace(limit, view)) {
    if (text === undefined) return undefined;
    places.set(text, [...(places.get(text) ?? []), place]);
  }
  if (places.size < 2) return [...places.keys()][0];
  return [...places].map(([text, at]) => `${at.join(', ')}: ${text}`).join('; ');
}

/** What is read from a distance of a limit's bounds, and the rule that it comes from, where there is one. */
interface BoundsSaid {
  readonly figure: string;
  /** `at least 0.0045 * block.bore`, `0.00075 to 0.0010 in for each 1 in of the main journal`; empty where the figure is the rule. */
  readonly rule: string;
}

export const NO_BOUNDS = told`no bounds are said`;

export function boundsSaid(limit: Limit, view: View): BoundsSaid {
  const { over, at, forEach } = limit;
  const within = limit.within ?? ofItsSize(limit, 'within', view);
  if (within === undefined) return { figure: limit.wearLimit === undefined ? speak(NO_BOUNDS) : '', rule: '' };
  const when = `${over === undefined ? '' : spoken` over ${valueText(over)}`}${at === undefined ? '' : spoken` at ${valueText(at)}`}`;
  const written = `${bothUnits(within)}${when}`;
  if (forEach !== undefined) {
    const rule = spoken`${written} for each ${valueText(forEach.size)} of ${calledBy(view)(forEach.of)}`;
    const figure = gathered(limit, view);
    return figure === undefined ? { figure: rule, rule: '' } : { figure: `${figure}${when}`, rule };
  }
  const sum = comesTo(within, limit, view);
  if (sum === undefined) return { figure: written, rule: '' };
  if (within.kind !== 'open') return { figure: `${sum.slice(2)}${when}`, rule: written };
  const onSide = (text: string): string =>
    within.side === 'at-least' ? spoken`at least ${text}` : spoken`at most ${text}`;
  return { figure: `${onSide(sum.slice(2))}${when}`, rule: onSide(sumText(within.value, calledBy(view))) };
}

/** The bounds of a limit in words. */
export function limitText(limit: Limit, view: View): string {
  const { figure, rule } = boundsSaid(limit, view);
  return rule === '' ? figure : `${figure} (${rule})`;
}
