// New ranges and their wear limits, of the sizes of a part and of a limit, each pair once. No check of its own.
import type { PlainValue, Statement, Value } from '../../../grammar/tree.ts';
import { sameDimension } from '../../mechanics/units.ts';
import { type Bounds, measureOf } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Limit, Thing } from '../../model/view.ts';

/** One new range beside its wear limit, both in one kind of unit. */
export interface WearPair {
  /** What it is of: a dimension, a wall, a figure, or the limit itself. */
  readonly name: string;
  readonly of: 'dimension' | 'wall' | 'figure' | Limit;
  readonly fresh: PlainValue;
  readonly wear: PlainValue;
  readonly range: Bounds;
  readonly limit: Bounds;
}

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

/** New ranges and their wear limits, place by place where they differ; each wear limit once. */
function pairsOf(
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

function pairsNamed(
  name: string,
  of: WearPair['of'],
  fresh: Value | undefined,
  wear: Value | undefined,
): readonly WearPair[] {
  return pairsOf(fresh, wear).flatMap(({ one, other }): readonly WearPair[] => {
    const [range, limit] = [plainBounds(one), plainBounds(other)];
    return range === undefined || limit === undefined || !sameDimension(range.unit, limit.unit)
      ? []
      : [{ name, of, fresh: one, wear: other, range, limit }];
  });
}

function pairsIn(statements: readonly Statement[]): readonly WearPair[] {
  return statements.flatMap((each): readonly WearPair[] => {
    if (each.kind === 'dimension' || each.kind === 'figure')
      return pairsNamed(each.name.text, each.kind, each.value, each.wearLimit);
    if (each.kind === 'value' && each.word === 'wall') return pairsNamed('wall', 'wall', each.value, each.wearLimit);
    return each.kind === 'size' ? pairsIn(each.body?.statements ?? []) : [];
  });
}

/** The pairs of a thing: of a part those of its sizes and repair sizes, of a limit its own. */
export function wearPairs(thing: Thing): readonly WearPair[] {
  if (thing.kind === 'part') return pairsIn(thing.statements);
  if (thing.kind !== 'limit' || thing.broken) return [];
  return pairsNamed(thing.name, thing, thing.within, thing.wearLimit);
}

/** A value as it is written, on one line. */
export function wearText(placed: Placed, value: PlainValue): string {
  return placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
}
