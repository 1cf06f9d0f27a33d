// A wear limit that lies inside the range of new parts: a new part could be worn out.
import { told } from '../../../grammar/told.ts';
import type { PlainValue, Statement, Value } from '../../../grammar/tree.ts';
import { compare, type Exact } from '../../mechanics/exact.ts';
import { sameDimension } from '../../mechanics/units.ts';
import { type Bounds, measureOf } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Report, ThingCheck } from '../check.ts';
import page from './wear-inside.md';

/** The bounds of a new range or a wear limit; undefined where they can't be read. */
export function plainBounds(value: PlainValue): Bounds | undefined {
  if (value.kind === 'open') {
    const edge = value.value.kind === 'quantity' ? measureOf(value.value) : undefined;
    if (edge === undefined) return undefined;
    const { nominal } = edge.interval;
    return value.side === 'at-least'
      ? { ...edge, low: nominal, high: undefined }
      : { ...edge, low: undefined, high: nominal };
  }
  const measure = measureOf(value);
  return measure === undefined
    ? undefined
    : { low: measure.interval.low, high: measure.interval.high, unit: measure.unit, places: measure.places };
}

/** Whether a bound of wear cuts into the new range. */
function isInside(wear: Exact, fresh: Bounds): boolean {
  const above = fresh.low === undefined || compare(wear, fresh.low) > 0;
  const below = fresh.high === undefined || compare(wear, fresh.high) < 0;
  return above && below;
}

/** New ranges and their wear limits, place by place where they differ; each wear limit once. */
export function pairsOf(
  fresh: Value | undefined,
  wear: Value | undefined,
): readonly { readonly one: PlainValue; readonly other: PlainValue }[] {
  if (fresh === undefined || wear === undefined) return [];
  const pairs: { one: PlainValue; other: PlainValue }[] = [];
  const freshes = fresh.kind === 'by-place' ? fresh.entries : [{ places: [], value: fresh }];
  const wears = wear.kind === 'by-place' ? wear.entries : [{ places: [], value: wear }];
  for (const one of freshes) {
    const other = wears.find(
      (each) =>
        each.places.length === 0 ||
        one.places.length === 0 ||
        each.places.some((place) =>
          one.places.some(
            (own) => own.name?.text === place.name?.text && own.from === place.from && own.to === place.to,
          ),
        ),
    );
    if (other !== undefined && pairs.every((pair) => pair.other !== other.value))
      pairs.push({ one: one.value, other: other.value });
  }
  return pairs;
}

function say(placed: Placed, name: string, fresh: Value | undefined, wear: Value | undefined, report: Report): void {
  for (const { one, other } of pairsOf(fresh, wear)) {
    const [range, limit] = [plainBounds(one), plainBounds(other)];
    if (range === undefined || limit === undefined || !sameDimension(range.unit, limit.unit)) continue;
    const edges = [limit.low, limit.high].filter((edge) => edge !== undefined);
    if (!edges.some((edge) => isInside(edge, range))) continue;
    const text = (value: PlainValue): string => placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
    report(
      placed,
      other,
      told`The wear limit ${text(other)} lies inside the new range ${text(one)} of ${name}, so a new part could be past it. A wear limit lies at the end of the new range or beyond.`,
      {
        related: [{ placed, span: one, message: told`The new range.` }],
      },
    );
  }
}

function walk(placed: Placed, statements: readonly Statement[], report: Report): void {
  for (const each of statements) {
    if (each.kind === 'dimension' || each.kind === 'figure')
      say(placed, each.name.text, each.value, each.wearLimit, report);
    if (each.kind === 'value' && each.word === 'wall') say(placed, 'wall', each.value, each.wearLimit, report);
    if (each.kind === 'size') walk(placed, each.body?.statements ?? [], report);
  }
}

export const wearInside: ThingCheck = {
  code: 'limit/wear-inside',
  severity: 'warning',
  scope: 'thing',
  page,
  run(thing, _view, report) {
    if (thing.kind === 'part') walk(thing.placed, thing.statements, report);
    else if (thing.kind === 'limit' && !thing.broken)
      say(thing.placed, thing.name, thing.within, thing.wearLimit, report);
  },
};
