// A grade whose sizes bring the limit that its table is made for out of bounds: two grades crossed, or a figure of one.
import { leavesOf } from '../../../grammar/terms.ts';
import { told } from '../../../grammar/told.ts';
import type { PlainValue } from '../../../grammar/tree.ts';
import { compare, minus, over, plus, wholeNumber, ZERO } from '../../mechanics/exact.ts';
import { evaluation } from '../../model/evaluation.ts';
import { workOutSum } from '../../model/expression.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { boundsFor, limitBounds } from '../../model/limit-sums.ts';
import type { Grades, Limit, MeasuredAt, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { boundsShown, rangeShown } from '../figures.ts';
import page from './grade-outside.md';

/** Whether a limit is worked out from both what chooses a grade and what the grade brings. */
function goesBy(limit: Limit, table: Grades): boolean {
  const names = new Set(
    leavesOf(limit.expression).flatMap((leaf) => (leaf.kind === 'reference' ? [leaf.reference.owner.text] : [])),
  );
  return table.by !== undefined && names.has(table.by.owner.text) && names.has(table.name);
}

/** A view in which what chooses a grade was measured as that grade has it. */
function withGrade(view: View, table: Grades, value: PlainValue): View {
  const measured = new Map<string, readonly MeasuredAt[]>([[table.by?.owner.text ?? '', [{ places: [], value }]]]);
  return Object.create(view, { measured: { value: measured } }) as View;
}

export const gradeOutside: ThingCheck = {
  code: 'limit/grade-outside',
  severity: 'warning',
  scope: 'thing',
  page,
  run(table, view, report) {
    if (table.kind !== 'grades' || table.broken || table.rows.length < 2) return;
    const two = wholeNumber(2) ?? ZERO;
    for (const limit of view.limits) {
      if (limit.broken || limit.within === undefined || !goesBy(limit, table)) continue;
      const [asked] = placesOfLimit(limit, view);
      const said = asked === undefined ? undefined : limitBounds(limit, 'within', asked, view);
      if (asked === undefined || said === undefined || limit.expression === undefined) continue;
      for (const row of table.rows) {
        const { value } = row;
        if (value.kind === 'by-place' || value.kind === 'open' || row.brings.length === 0) continue;
        const worked = workOutSum(limit.expression, evaluation(withGrade(view, table, value), asked));
        if (worked === undefined) continue;
        const bounds = boundsFor(said, worked);
        const { low, high } = worked.stack.interval;
        const middle = over(plus(low, high), two) ?? low;
        const by =
          bounds.low !== undefined && compare(middle, bounds.low) < 0
            ? minus(bounds.low, middle)
            : bounds.high !== undefined && compare(middle, bounds.high) > 0
              ? minus(middle, bounds.high)
              : undefined;
        if (by === undefined) continue;
        const unit = bounds.unit.length === 0 ? worked.unit : bounds.unit;
        report(
          table.placed,
          row.name,
          told`With ${told.named(row.name.text)} and all else in the middle of its range ${told.thing(limit)} comes out at ${rangeShown({ low: middle, high: middle }, unit, bounds.places, bounds.zero)}, and must lie within ${boundsShown(bounds)}. See whether two grades are crossed, or a figure of this one is wrong.`,
          {
            related: [{ placed: limit.placed, span: limit.within, message: told`The limit of ${told.thing(limit)}.` }],
          },
        );
      }
    }
  },
};
