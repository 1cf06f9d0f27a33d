// The sizes that the grades of a table bring to the part that they choose: `one-notch 0.60..0.70 mm with thickness 1.25 mm` gives a
// head gasket its thickness. What was measured tells which grade it is; before that it may be any of them.
import type { Value } from '../../grammar/tree.ts';
import { standing } from '../mechanics/interval.ts';
import { measureOf } from './measure.ts';
import type { Grades, View } from './view.ts';

/** The table that chooses a part, or stands for a thing itself. */
export function tableOf(name: string, view: View): Grades | undefined {
  const own = view.things.get(name);
  return own?.kind === 'grades' ? own : view.grades.find((table) => table.name === name);
}

/** The names of the sizes that the grades of a table bring. */
export function broughtNames(table: Grades | undefined): ReadonlySet<string> {
  return new Set(table?.rows.flatMap((row) => row.brings.map((size) => size.name.text)));
}

/** The row that what was measured falls into; undefined where nothing was, or it falls into none. */
function measuredRow(table: Grades, view: View): Grades['rows'][number] | undefined {
  const written = view.measured?.get(table.by?.owner.text ?? '');
  const [value, more] = written ?? [];
  const measured = value === undefined || more !== undefined ? undefined : measureOf(value.value);
  if (measured === undefined) return undefined;
  return table.rows.find((row) => {
    const range = row.value.kind === 'by-place' ? undefined : measureOf(row.value);
    return range !== undefined && standing(measured.interval, range.interval) === 'inside';
  });
}

/** What a size may be: that of the grade that was measured, or those of all grades. */
export function broughtValues(name: string, size: string, view: View): readonly Value[] {
  const table = tableOf(name, view);
  if (table === undefined) return [];
  const row = measuredRow(table, view);
  const rows = row === undefined ? table.rows : [row];
  return rows.flatMap((each) => each.brings.flatMap((own) => (own.name.text === size ? [own.value] : [])));
}
