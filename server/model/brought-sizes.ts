// The sizes that the grades of a table bring to the part that they choose: `one-notch 0.60..0.70 mm with thickness 1.25 mm` gives a
// head gasket its thickness. What was measured tells which grade it is; before that it may be any of them.
import type { Value } from '../../grammar/tree.ts';
import { standing } from '../mechanics/interval.ts';
import { type Asked, allPlaces, type NamedPlace, pairedPlaces } from './feature-places.ts';
import { measureOf, takesIn } from './measure.ts';
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

/** The places of a part that a table chooses which go with the place asked for; none of one that has a single place. */
function chosenPlaces(table: Grades, view: View, asked: Asked): readonly NamedPlace[] {
  const part = view.things.get(table.name);
  if (part?.kind !== 'part' || asked.of < 2) return [];
  const all = allPlaces(part, undefined);
  if (all.length < 2) return [];
  const group = all.filter(({ name }) => name === asked.name);
  if (asked.name !== undefined && group.length > 0) return group.filter(({ number }) => number === (asked.number ?? 1));
  return pairedPlaces(asked, all.length).flatMap((number) => all[number - 1] ?? []);
}

/** The row that a record says went in at a place; undefined where it says none, or several. */
function fittedRow(table: Grades, view: View, places: readonly NamedPlace[]): Grades['rows'][number] | undefined {
  const own = (view.fitted ?? []).filter((each) => each.part === table.name);
  const names = new Set(
    (places.length === 0 ? [undefined] : places).map(
      (place) =>
        own.find((each) =>
          place === undefined
            ? own.length === 1
            : each.places.length === 0 || each.places.some((at) => takesIn(at, place)),
        )?.name,
    ),
  );
  const [name] = names;
  return names.size !== 1 ? undefined : table.rows.find((row) => row.name.text === name);
}

/** The row that what was measured falls into; undefined where nothing was, or it falls into none. */
function measuredRow(table: Grades, view: View, places: readonly NamedPlace[]): Grades['rows'][number] | undefined {
  const written = view.measured?.get(table.by?.owner.text ?? '') ?? [];
  const [only] = places;
  const at =
    only === undefined || places.length > 1
      ? written
      : written.filter((each) => each.places.length === 0 || each.places.some((place) => takesIn(place, only)));
  const [value, more] = at;
  // Of several at one place the later stands first; several places choose by the one that is told elsewhere.
  const measured = value === undefined || (more !== undefined && at === written) ? undefined : measureOf(value.value);
  if (measured === undefined) return undefined;
  return table.rows.find((row) => {
    const range = row.value.kind === 'by-place' ? undefined : measureOf(row.value);
    return range !== undefined && standing(measured.interval, range.interval) === 'inside';
  });
}

const ONLY: Asked = { index: 1, of: 1 };

/** What a size may be at a place: that of the grade that went in, else of the one that was measured, else those of all grades. */
export function broughtValues(name: string, size: string, view: View, asked: Asked = ONLY): readonly Value[] {
  const table = tableOf(name, view);
  if (table === undefined) return [];
  const places = view.measured === undefined && view.fitted === undefined ? [] : chosenPlaces(table, view, asked);
  const row = fittedRow(table, view, places) ?? measuredRow(table, view, places);
  const rows = row === undefined ? table.rows : [row];
  return rows.flatMap((each) => each.brings.flatMap((own) => (own.name.text === size ? [own.value] : [])));
}
