// A wear limit that lies inside the range of new parts: a new part could be worn out.
import { told } from '../../../grammar/told.ts';
import { compare, type Exact } from '../../mechanics/exact.ts';
import type { Bounds } from '../../model/measure.ts';
import type { ThingCheck } from '../check.ts';
import page from './wear-inside.md';
import { wearPairs, wearText } from './wear-pairs.ts';

/** Whether a bound of wear cuts into the new range. */
function isInside(wear: Exact | undefined, fresh: Bounds): boolean {
  if (wear === undefined) return false;
  const above = fresh.low === undefined || compare(wear, fresh.low) > 0;
  const below = fresh.high === undefined || compare(wear, fresh.high) < 0;
  return above && below;
}

export const wearInside: ThingCheck<'part' | 'limit'> = {
  code: 'limit/wear-inside',
  severity: 'warning',
  scope: 'thing',
  of: ['part', 'limit'],
  page,
  run(thing, _view, report) {
    const { placed } = thing;
    for (const { name, fresh, wear, range, limit } of wearPairs(thing)) {
      if (![limit.low, limit.high].some((edge) => isInside(edge, range))) continue;
      report(
        placed,
        wear,
        told`The wear limit ${wearText(placed, wear)} lies inside the new range ${wearText(placed, fresh)} of ${name}, so a new part could be past it. A wear limit lies at the end of the new range or beyond.`,
        { related: [{ placed, span: fresh, message: told`The new range.` }] },
      );
    }
  },
};
