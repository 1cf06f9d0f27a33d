// A limit as the page asks for it: its bounds, the places, the units that a reading may be entered in.
import { speak } from '../../grammar/spoken.ts';
import { otherSystem, unitText } from '../mechanics/units.ts';
import { placesOfLimit } from '../model/limit-places.ts';
import { boundsOf, placeText, workOutLimit } from '../model/limit-sums.ts';
import type { Limit, View } from '../model/view.ts';
import { valueText } from '../sheet/action-text.ts';
import { boundsByPlace, boundsSaid, NO_BOUNDS } from '../sheet/bounds.ts';
import { sourceText } from '../sheet/figures.ts';
import { spaced } from '../sheet/pieces.tsx';
import type { BenchLimit } from './bench-job.ts';

/** Units that a value may be entered in: that of the limit, and its like in the other system. */
function unitsOf(limit: Limit, view: View): readonly string[] {
  const value = limit.within ?? limit.wearLimit;
  const asked = placesOfLimit(limit, view)[0] ?? { index: 1, of: 1 };
  const bounds = value === undefined ? undefined : boundsOf(value, asked, view);
  const unit = bounds?.unit ?? workOutLimit(limit, view)[0]?.worked.unit ?? [];
  if (unit.length === 0) return [];
  const own = unitText(unit);
  const other = otherSystem(unit);
  const more = own === 'mm' ? ['um'] : own === 'in' ? ['thou'] : [];
  return [...new Set([own, ...more, ...(other === undefined ? [] : [unitText(other)])])];
}

export function limitOf(limit: Limit, view: View): BenchLimit {
  const places = placesOfLimit(limit, view);
  const shown = places.length > 1 && places.length <= 64 ? places.map(placeText) : [];
  const { figure, rule } = boundsSaid(limit, view);
  const byPlace = boundsByPlace(limit, view);
  return {
    name: limit.name,
    title: limit.title ?? spaced(limit.name),
    within: figure === speak(NO_BOUNDS) ? '' : figure,
    rule,
    byPlace:
      shown.length > 0 && new Set(byPlace.map((each) => each.text)).size > 1
        ? byPlace.map((each) => each.text ?? '')
        : [],
    wear: limit.wearLimit === undefined ? '' : valueText(limit.wearLimit),
    source: sourceText(limit.placed.declaration.per),
    places: shown,
    units: unitsOf(limit, view),
    readings: limit.readings,
    isMeasured: limit.measured,
    working:
      limit.expression === undefined
        ? undefined
        : limit.placed.section.text.slice(limit.expression.start, limit.expression.end).replace(/\s+/g, ' '),
  };
}
