// The bounds of a limit as they are read at the bench: in both units where the spec says both, with the sum behind them worked out.
import type { Value } from '../../grammar/tree.ts';
import { unitText } from '../mechanics/units.ts';
import { placesOfLimit } from '../model/expression.ts';
import { boundsOf, ofItsSize, shownNumber } from '../model/limit-sums.ts';
import type { Limit, View } from '../model/view.ts';
import { boundsText, valueText } from './action-text.ts';

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

/** The bounds of a limit in words. */
export function limitText(limit: Limit, view: View): string {
  if (limit.within === undefined) {
    const own = ofItsSize(limit, 'within', view);
    if (own !== undefined) return valueText(own);
    return limit.wearLimit === undefined ? 'no bounds are said' : '';
  }
  const sum = comesTo(limit.within, limit, view);
  return sum === undefined ? boundsText(limit) : `${boundsText(limit)} ${sum}`;
}
