// A wear limit that lies far from the new range: hundreds of times its width away, or many times its bound. A point or a unit has slipped.
import { type Told, told } from '../../../grammar/told.ts';
import { compare, type Exact, minus, ratioOf, signOf, times, toNumber, ZERO } from '../../mechanics/exact.ts';
import type { Bounds } from '../../model/measure.ts';
import type { ThingCheck } from '../check.ts';
import page from './wear-far.md';
import { type WearPair, wearPairs, wearText } from './wear-pairs.ts';

/** So many widths of the new range is no wear any more. Judgement; no source: published wear limits lie within about fifty. */
const WIDTHS = ratioOf(200, 1) ?? ZERO;
/** A bound of a clearance may be worn to so many times itself. Judgement; no source. */
const TIMES = ratioOf(20, 1) ?? ZERO;
/** What is worn to less than so many times less of its least is not there any more. Judgement; no source. */
const LEFT_OVER = ratioOf(10, 1) ?? ZERO;
/** And less than this of the size itself is never far, however tight the range. */
const LEAST = ratioOf(1, 50) ?? ZERO;

/** Whether an edge of wear lies far outside the new bounds. */
function isFar(wear: Exact, fresh: Bounds): boolean {
  const { low, high } = fresh;
  if (low !== undefined && high !== undefined) {
    const away = compare(wear, high) > 0 ? minus(wear, high) : minus(low, wear);
    const width = minus(high, low);
    // A clearance of a wide range: 5 mm for one of 0.02..0.05 mm.
    if (signOf(high) > 0 && compare(wear, times(high, TIMES)) > 0) return true;
    // A pressure, a load or a height that is down to hardly any of itself.
    if (signOf(low) > 0 && signOf(wear) >= 0 && compare(times(wear, LEFT_OVER), low) < 0) return true;
    return signOf(width) > 0 && compare(away, times(width, WIDTHS)) > 0 && compare(away, times(high.abs(), LEAST)) > 0;
  }
  const bound = high ?? low;
  if (bound === undefined || signOf(bound) <= 0 || signOf(wear) <= 0) return false;
  return high === undefined ? compare(times(wear, TIMES), bound) < 0 : compare(wear, times(bound, TIMES)) > 0;
}

function howFar(wear: Exact, { low, high }: Bounds): Told {
  if (low === undefined || high === undefined) {
    const bound = toNumber(high ?? low ?? ZERO);
    const by = high === undefined ? bound / toNumber(wear) : toNumber(wear) / bound;
    const times = Math.round(by);
    return high === undefined ? told`${times} times as small as` : told`${times} times as large as`;
  }
  const away = compare(wear, high) > 0 ? minus(wear, high) : minus(low, wear);
  return told`${Math.round(toNumber(away) / toNumber(minus(high, low)))} times its width away from`;
}

/** Whether all of a wear limit lies far from its new range. */
export function isFarAway({ range, limit }: WearPair): boolean {
  const edges = [limit.low, limit.high].filter((edge) => edge !== undefined);
  return edges.length > 0 && edges.every((edge) => isFar(edge, range));
}

export const wearFar: ThingCheck<'part' | 'limit'> = {
  code: 'limit/wear-far',
  severity: 'warning',
  scope: 'thing',
  of: ['part', 'limit'],
  page,
  run(thing, _view, report) {
    const { placed } = thing;
    for (const pair of wearPairs(thing)) {
      if (!isFarAway(pair)) continue;
      const { name, fresh, wear, range, limit } = pair;
      const edge = limit.low ?? limit.high ?? ZERO;
      report(
        placed,
        wear,
        told`The wear limit ${wearText(placed, wear)} is ${howFar(edge, range)} the new range ${wearText(placed, fresh)} of ${name}: nothing wears as far as that. See whether a point or a unit slipped.`,
        { related: [{ placed, span: fresh, message: told`The new range.` }] },
      );
    }
  },
};
