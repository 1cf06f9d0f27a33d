// Limits that rest on others: what they come to with the values that a record measured. Nothing is reported here.
import { leavesOf } from '../../../grammar/terms.ts';
import type { Expression } from '../../../grammar/tree.ts';
import { type Entry, keyed } from '../../model/keyed.ts';
import { type LimitResult, workOutLimit } from '../../model/limit-sums.ts';
import type { Placed } from '../../model/placed.ts';
import type { Limit, MeasuredAt, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { fittedSizes, withFitted, withFittedSizes } from './fitted-sizes.ts';
import { type Judged, measurementsIn, recordStatements } from './measurements.ts';

/** A limit that is worked out from measured ones, with what it comes to and the values that it comes from. */
export interface WorkedOut {
  readonly limit: Limit;
  readonly results: readonly LimitResult[];
  readonly from: readonly Judged[];
}

/** The limits that an expression names, and those that these are worked out from. */
function limitsIn(expression: Expression, view: View, depth = 0): readonly string[] {
  return leavesOf(expression).flatMap((leaf) => {
    const thing = leaf.kind === 'reference' ? view.things.get(leaf.reference.owner.text) : undefined;
    if (thing?.kind !== 'limit' || leaf.kind !== 'reference' || leaf.reference.feature !== undefined) return [];
    const inner = thing.expression === undefined || depth > 8 ? [] : limitsIn(thing.expression, view, depth + 1);
    return [thing.name, ...inner];
  });
}

/** The limits that are worked out from others, by the names of those. */
const restingOn = keyed(
  (view) => view.limits,
  (view, limit): readonly Entry<Limit>[] =>
    limit.expression === undefined
      ? []
      : [...new Set(limitsIn(limit.expression, view))].map((name) => [name, limit] as const),
);

const places = question(
  (view, _subject: 'limits'): ReadonlyMap<Limit, number> => new Map(view.limits.map((limit, i) => [limit, i])),
);

/** Limits that rest on some of these, as written. */
function restingOnSome(names: ReadonlySet<string>, view: View): readonly Limit[] {
  const all = [...new Set([...names].flatMap((name) => restingOn(view, name)))];
  if (all.length < 2) return all;
  const placeOf = places(view, 'limits');
  return all.sort((one, other) => (placeOf.get(one) ?? 0) - (placeOf.get(other) ?? 0));
}

/** A view with what a record measured, and the repair sizes that it says were fitted. */
function withMeasured(placed: Placed, view: View, judged: readonly Judged[]): View {
  const measured = new Map<string, MeasuredAt[]>();
  for (const { limit, entry, value, again } of judged) {
    if (again) continue;
    const own = measured.get(limit.name) ?? [];
    measured.set(limit.name, [{ places: entry?.places ?? [], value }, ...own]);
  }
  const statements = recordStatements(placed, view);
  const sized = withFitted(withFittedSizes(view, fittedSizes(statements, view)), statements);
  // Seen through, not copied: a copy would lack what the view looks up when it is asked.
  return Object.create(sized, { measured: { value: measured } }) as View;
}

/** What the limits come to that rest on measured ones and were not measured themselves; none of which a place is still to be measured. */
export function workedOutFrom(placed: Placed, view: View): readonly WorkedOut[] {
  return workedOut(view, placed);
}

const workedOut = question((view, placed: Placed): readonly WorkedOut[] => {
  const judged = measurementsIn(placed, view);
  const names = new Set(judged.map(({ limit }) => limit.name));
  let sized: View | undefined;
  return restingOnSome(names, view).flatMap((limit): WorkedOut[] => {
    if (limit.expression === undefined || limit.broken || names.has(limit.name)) return [];
    sized ??= withMeasured(placed, view, judged);
    const results = workOutLimit(limit, sized).filter((result) => !result.worked.toMeasure);
    if (results.length === 0) return [];
    const rests = new Set(limitsIn(limit.expression, view));
    const from = judged.filter((each) => rests.has(each.limit.name) && !each.again);
    return [{ limit, results, from }];
  });
});
