// A wear limit that lies far from the new range: hundreds of times its width away, or many times its bound. A point or a unit has slipped.
import { type Told, told } from '../../../grammar/told.ts';
import type { PlainValue, Statement, Value } from '../../../grammar/tree.ts';
import { compare, type Exact, minus, ratioOf, signOf, times, toNumber, ZERO } from '../../mechanics/exact.ts';
import { sameDimension } from '../../mechanics/units.ts';
import type { Bounds } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Report, ThingCheck } from '../check.ts';
import page from './wear-far.md';
import { pairsOf, plainBounds } from './wear-inside.ts';

/** So many widths of the new range is no wear any more. Judgement; no source: published wear limits lie within about fifty. */
const WIDTHS = ratioOf(200, 1) ?? ZERO;
/** A bound of a clearance may be worn to so many times itself. Judgement; no source. */
const TIMES = ratioOf(20, 1) ?? ZERO;
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
    return signOf(width) > 0 && compare(away, times(width, WIDTHS)) > 0 && compare(away, times(high.abs(), LEAST)) > 0;
  }
  const bound = high ?? low;
  if (bound === undefined || signOf(bound) <= 0 || signOf(wear) <= 0) return false;
  return high === undefined ? compare(times(wear, TIMES), bound) < 0 : compare(wear, times(bound, TIMES)) > 0;
}

function say(placed: Placed, name: string, fresh: Value | undefined, wear: Value | undefined, report: Report): void {
  for (const { one, other } of pairsOf(fresh, wear)) {
    const [range, limit] = [plainBounds(one), plainBounds(other)];
    if (range === undefined || limit === undefined || !sameDimension(range.unit, limit.unit)) continue;
    const edges = [limit.low, limit.high].filter((edge) => edge !== undefined);
    if (edges.length === 0 || !edges.every((edge) => isFar(edge, range))) continue;
    const text = (value: PlainValue): string => placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
    report(
      placed,
      other,
      told`The wear limit ${text(other)} is ${howFar(edges[0] ?? ZERO, range)} the new range ${text(one)} of ${name}: nothing wears as far as that. See whether a point or a unit slipped.`,
      { related: [{ placed, span: one, message: told`The new range.` }] },
    );
  }
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

function walk(placed: Placed, statements: readonly Statement[], report: Report): void {
  for (const each of statements) {
    if (each.kind === 'dimension' || each.kind === 'figure')
      say(placed, each.name.text, each.value, each.wearLimit, report);
    if (each.kind === 'size') walk(placed, each.body?.statements ?? [], report);
  }
}

export const wearFar: ThingCheck = {
  code: 'limit/wear-far',
  severity: 'warning',
  scope: 'thing',
  page,
  run(thing, _view, report) {
    if (thing.kind === 'part') walk(thing.placed, thing.statements, report);
    else if (thing.kind === 'limit' && !thing.broken)
      say(thing.placed, thing.name, thing.within, thing.wearLimit, report);
  },
};
