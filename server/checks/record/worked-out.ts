// Limits that rest on others: what they come to with the values that a record measured. Nothing is reported here.
import { leavesOf } from '../../../grammar/terms.ts';
import type { Expression } from '../../../grammar/tree.ts';
import { type LimitResult, workOutLimit } from '../../model/limit-sums.ts';
import type { Placed } from '../../model/placed.ts';
import type { Limit, MeasuredAt, View } from '../../model/view.ts';
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

/** A view with what a record measured, and the repair sizes that it says were fitted. */
function withMeasured(placed: Placed, view: View, judged: readonly Judged[]): View {
  const measured = new Map<string, MeasuredAt[]>();
  for (const { limit, entry, value, again } of judged) {
    if (again) continue;
    const own = measured.get(limit.name) ?? [];
    measured.set(limit.name, [{ places: entry?.places ?? [], value }, ...own]);
  }
  const statements = recordStatements(placed, view.variant);
  const sized = withFitted(withFittedSizes(view, fittedSizes(statements, view)), statements);
  // Seen through, not copied: a copy would lack what the view looks up when it is asked.
  return Object.create(sized, { measured: { value: measured } }) as View;
}

/** What the limits come to that rest on measured ones and were not measured themselves; none of which a place is still to be measured. */
export function workedOutFrom(placed: Placed, view: View): readonly WorkedOut[] {
  const judged = measurementsIn(placed, view);
  const names = new Set(judged.map(({ limit }) => limit.name));
  if (names.size === 0) return [];
  let sized: View | undefined;
  return view.limits.flatMap((limit): WorkedOut[] => {
    if (limit.expression === undefined || limit.broken || names.has(limit.name)) return [];
    const rests = limitsIn(limit.expression, view).filter((name) => names.has(name));
    if (rests.length === 0) return [];
    sized ??= withMeasured(placed, view, judged);
    const results = workOutLimit(limit, sized).filter((result) => !result.worked.toMeasure);
    const from = judged.filter((each) => rests.includes(each.limit.name) && !each.again);
    return results.length === 0 ? [] : [{ limit, results, from }];
  });
}
