// Holes and overlaps in a table of grades: a measured value that has no grade, or two.
import { told } from '../../../grammar/told.ts';
import type { GradeRow, Value } from '../../../grammar/tree.ts';
import { compare, exact, ONE, over, wholeNumber, ZERO } from '../../mechanics/exact.ts';
import { gradeFaults } from '../../mechanics/fits.ts';
import { type Interval, range } from '../../mechanics/interval.ts';
import { factorOf, sameDimension, type Unit } from '../../mechanics/units.ts';
import { measureOf } from '../../model/measure.ts';
import type { Grades, View } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { rangeShown } from '../figures.ts';
import page from './grades.md';

/** Where an open grade ends, in base units: beyond anything that an engine has. */
const FAR = exact('1000000000') ?? ZERO;

/** A row of a table of grades with its range in base units. */
export interface Row {
  readonly row: { readonly name: GradeRow['name']; readonly value: Value };
  readonly interval: Interval;
  readonly unit: Unit;
  readonly places: number;
}

/** The range of a row; undefined where it can't be read. */
export function rowOf(row: Row['row']): Row | undefined {
  const { value } = row;
  if (value.kind === 'by-place') return undefined;
  if (value.kind === 'open') {
    const edge = value.value.kind === 'quantity' ? measureOf(value.value) : undefined;
    if (edge === undefined) return undefined;
    const { low } = edge.interval;
    return {
      row,
      interval: value.side === 'at-least' ? range(low, FAR) : range(FAR.neg(), low),
      unit: edge.unit,
      places: edge.places,
    };
  }
  const measure = measureOf(value);
  return measure === undefined
    ? undefined
    : { row, interval: measure.interval, unit: measure.unit, places: measure.places };
}

/** What the limit that chooses a grade allows, and that no grade reaches to, at either end. Where grades lie beyond it they are made for something else. */
function sayEnds(table: Grades, rows: readonly Row[], view: View, report: Report): void {
  const limit = table.by === undefined ? undefined : view.things.get(table.by.owner.text);
  const value = limit?.kind === 'limit' && !limit.broken && limit.wearLimit === undefined ? limit.within : undefined;
  if (limit?.kind !== 'limit' || value === undefined || value.kind === 'by-place' || value.kind === 'open') return;
  const allowed = measureOf(value);
  const sorted = [...rows].sort((one, other) => compare(one.interval.low, other.interval.low));
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (allowed === undefined || first === undefined || last === undefined || rows.length < 2) return;
  if (!sameDimension(allowed.unit, first.unit)) return;
  const { low, high } = allowed.interval;
  if (rows.some(({ interval }) => compare(interval.high, low) <= 0 || compare(interval.low, high) >= 0)) return;
  const under = compare(first.interval.low, low) > 0 ? { row: first, low, high: first.interval.low } : undefined;
  const over = compare(last.interval.high, high) < 0 ? { row: last, low: last.interval.high, high } : undefined;
  const open = under ?? over;
  if (open === undefined) return;
  const places = Math.max(allowed.places, ...rows.map((row) => row.places));
  report(
    table.placed,
    open.row.row.value,
    told`${told.thing(limit)} may come to ${rangeShown(open, first.unit, places)}, and no grade holds that. Give it one, or see whether a figure is wrong.`,
    {
      severity: 'warning',
      related: [{ placed: limit.placed, span: value, message: told`The limit of ${told.thing(limit)}.` }],
    },
  );
}

export const gradesCheck: ThingCheck<'grades'> = {
  code: 'limit/grades',
  severity: 'error',
  scope: 'thing',
  of: ['grades'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    const rows = thing.rows.flatMap((row) => rowOf(row) ?? []);
    const first = rows[0];
    if (
      first === undefined ||
      rows.length !== thing.rows.length ||
      rows.some((row) => !sameDimension(row.unit, first.unit))
    )
      return;
    sayEnds(thing, rows, view, report);
    const places = Math.max(...rows.map((row) => row.places));
    const lastPlace = over(factorOf(first.unit), wholeNumber(10 ** places) ?? ONE) ?? ZERO;
    for (const fault of gradeFaults(
      rows.map((row) => row.interval),
      lastPlace,
    )) {
      const [after, before] = [rows[fault.after], rows[fault.before]];
      if (after === undefined || before === undefined) continue;
      const between = rangeShown(fault, before.unit, places);
      const message =
        fault.kind === 'hole'
          ? told`No grade holds ${between}, between ${told.named(after.row.name.text)} and ${told.named(before.row.name.text)}. Each must begin where the one before it ends.`
          : told`${told.named(after.row.name.text)} and ${told.named(before.row.name.text)} both hold ${between}. Each must begin where the one before it ends.`;
      report(thing.placed, before.row.value, message, {
        related: [
          { placed: thing.placed, span: after.row.value, message: told`The grade ${told.named(after.row.name.text)}.` },
        ],
      });
    }
  },
};
