// A grade whose sizes bring the limit that its table is made for out of bounds: two grades crossed, or a figure of one.
import { leavesOf } from '../../../grammar/terms.ts';
import { told } from '../../../grammar/told.ts';
import type { PlainValue, Value } from '../../../grammar/tree.ts';
import { compare, type Exact, minus, over, plus, wholeNumber, ZERO } from '../../mechanics/exact.ts';
import { evaluation } from '../../model/evaluation.ts';
import { workOutSum } from '../../model/expression.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { boundsFor, limitBounds } from '../../model/limit-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { Grades, Limit, MeasuredAt, View } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
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

const middleOf = (value: Value): Exact | undefined =>
  value.kind === 'by-place' || value.kind === 'open' ? undefined : measureOf(value)?.interval.nominal;

/** Rows whose sizes rise, or fall, as what chooses them does; one that goes the other way is out of its row. */
function sayOutOfRow(table: Grades, report: Report): void {
  const names = new Set(table.rows.flatMap((row) => row.brings.map((each) => each.name.text)));
  for (const name of names) {
    const rows = table.rows.flatMap((row) => {
      const brought = row.brings.find((each) => each.name.text === name);
      const [by, size] = [middleOf(row.value), brought === undefined ? undefined : middleOf(brought.value)];
      return brought === undefined || by === undefined || size === undefined ? [] : [{ row, brought, by, size }];
    });
    if (rows.length < 3 || rows.length !== table.rows.length) continue;
    rows.sort((one, other) => compare(one.by, other.by));
    const ways = rows.slice(1).map((row, i) => compare(row.size, rows[i]?.size ?? row.size));
    const ups = ways.filter((way) => way > 0).length;
    const downs = ways.filter((way) => way < 0).length;
    if (ups === 0 || downs === 0) continue;
    // The first and the last tell which way it goes; the row after which it turns round is told.
    const whole = compare(rows.at(-1)?.size ?? ZERO, rows[0]?.size ?? ZERO);
    const at = ways.findIndex((way) => way !== 0 && way !== whole);
    const wrong = rows[at + 1];
    if (wrong === undefined || whole === 0) continue;
    report(
      table.placed,
      wrong.brought.value,
      told`The ${told.named(name)} of ${told.named(wrong.row.name.text)} is out of its row: from grade to grade it goes one way, and here the other. See whether a figure is wrong.`,
    );
    return;
  }
}

export const gradeOutside: ThingCheck<'grades'> = {
  code: 'limit/grade-outside',
  severity: 'warning',
  scope: 'thing',
  of: ['grades'],
  page,
  run(table, view, report) {
    if (table.broken || table.rows.length < 2) return;
    const two = wholeNumber(2) ?? ZERO;
    let isSaid = false;
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
        // Where several are out it is no grade of theirs alone: it is said once.
        if (by === undefined || isSaid) continue;
        const unit = bounds.unit.length === 0 ? worked.unit : bounds.unit;
        isSaid = true;
        report(
          table.placed,
          row.name,
          told`With ${told.named(row.name.text)} and all else in the middle of its range ${told.thing(limit)} comes out at ${rangeShown({ low: middle, high: middle }, unit, bounds.places, bounds.zero)}, and must be ${boundsShown(bounds)}. See whether two grades are crossed, or a figure of this one is wrong.`,
          {
            related: [{ placed: limit.placed, span: limit.within, message: told`The limit of ${told.thing(limit)}.` }],
          },
        );
      }
    }
    if (!isSaid) sayOutOfRow(table, report);
  },
};
