// A grade that was fitted where what was measured asks for another one.
import { type Told, told } from '../../../grammar/told.ts';
import type { Place, RecordFitted } from '../../../grammar/tree.ts';
import { compare } from '../../mechanics/exact.ts';
import { gradesFor } from '../../mechanics/fits.ts';
import { sameDimension } from '../../mechanics/units.ts';
import { placesOfLimit } from '../../model/expression.ts';
import { allPlaces, pairedPlaces } from '../../model/feature-places.ts';
import { takesIn } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Grades, Limit, Part, View } from '../../model/view.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { type Row, rowOf } from '../limit/grades.ts';
import { concerns } from '../name/unknown.ts';
import { change, inWords } from '../support.ts';
import { entryText, type Judged, measurementsIn, recordStatements } from './measurements.ts';
import page from './wrong-grade.md';

/** The measured values that a fitted part is chosen by: those at its own places, where it names some. */
function chosenBy(fitted: RecordFitted, table: Grades, measured: readonly Judged[], view: View): readonly Judged[] {
  const own = measured.filter(({ limit, again }) => limit.name === table.by?.owner.text && !again);
  const { places } = fitted.part;
  const part = view.things.get(table.name);
  const limit = own[0]?.limit;
  const at =
    part?.kind !== 'part' || limit === undefined || places.length === 0
      ? own
      : ownPlaces(part, limit, places, own, view);
  // One gasket for several cylinders: the piston that stands proudest chooses it (common practice, no source).
  const isForSeveral =
    part?.kind !== 'part' ||
    part.count === 1 ||
    (limit !== undefined && placesOfLimit(limit, view).length > part.count);
  if (
    limit?.sort !== 'protrusion' ||
    !isForSeveral ||
    (places.length === 0 && part?.kind === 'part' && part.count !== 1)
  )
    return at;
  const [first, ...rest] = at;
  if (first === undefined) return [];
  return [
    rest.reduce(
      (most, each) => (compare(each.measure.interval.high, most.measure.interval.high) > 0 ? each : most),
      first,
    ),
  ];
}

/** The values at the places that go with those of the part: equal counts by number, a multiple evenly, three cylinders under each of two heads. */
function ownPlaces(
  part: Part,
  limit: Limit,
  places: readonly Place[],
  own: readonly Judged[],
  view: View,
): readonly Judged[] {
  const all = allPlaces(part, undefined);
  const limitPlaces = placesOfLimit(limit, view);
  const wanted = all.flatMap((place, i) =>
    places.some((written) => takesIn(written, place))
      ? pairedPlaces({ index: i + 1, of: all.length }, limitPlaces.length).flatMap(
          (number) => limitPlaces[number - 1] ?? [],
        )
      : [],
  );
  return own.filter(
    ({ entry }) =>
      entry === undefined ||
      wanted.some((asked) =>
        entry.places.some((place) => takesIn(place, { name: asked.name, number: asked.number ?? asked.index })),
      ),
  );
}

function written(placed: Placed, span: { readonly start: number; readonly end: number }): string {
  return placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
}

function sayGrade(placed: Placed, fitted: RecordFitted, table: Grades, chosen: readonly Judged[], report: Report) {
  const { grade } = fitted;
  const rows = table.rows.flatMap((row) => rowOf(row) ?? []);
  const own = rows.find((row) => row.row.name.text === grade?.text);
  if (grade === undefined || own === undefined || chosen.length === 0 || rows.length !== table.rows.length) return;
  const right = new Set<Row>();
  for (const { measure } of chosen) {
    if (!sameDimension(measure.unit, own.unit)) return;
    const intervals = rows.map((row) => row.interval);
    const found = [...gradesFor(intervals, measure.interval.low), ...gradesFor(intervals, measure.interval.high)];
    for (const at of found) {
      const row = rows[at];
      if (row === own) return;
      if (row !== undefined) right.add(row);
    }
  }
  const first = chosen[0];
  if (first === undefined) return;
  const values = chosen.slice(0, 6).map(({ entry, value }) => {
    const place = entryText(placed, entry);
    return place === '' ? written(placed, value) : told`${written(placed, value)} at ${told.place(place)}`;
  });
  const shown = (row: Row): Told =>
    told`${told.named(row.row.name.text)} is for ${written(table.placed, row.row.value)}`;
  const [only, ...others] = [...right];
  const asks =
    only === undefined
      ? told`no grade of the table holds that`
      : told`that asks for ${inWords(
          [only, ...others].map((row) => row.row.name.text),
          'or',
        )}: ${inWords([only, ...others].map(shown))}`;
  report(
    placed,
    grade,
    told`${told.thing(table)} ${told.named(grade.text)} went in, and ${told.thing(first.limit)} was measured as ${inWords(values)}. ${shown(own)}; ${asks}.`,
    {
      fixes: only === undefined || others.length > 0 ? [] : [change(placed, grade, only.row.name.text)],
      related: [
        { placed, span: first.value, message: told`What was measured.` },
        { placed: table.placed, span: own.row.name, message: told`The grade ${told.named(grade.text)}.` },
      ],
    },
  );
}

export const recordWrongGrade: DeclarationCheck = {
  code: 'record/wrong-grade',
  severity: 'error',
  scope: 'declaration',
  page,
  run(placed, view, report) {
    if (placed.declaration.word !== 'record' || !concerns(placed, view.variant)) return;
    // A slip is said where it is written, and what was read wrong chooses nothing.
    const measured = measurementsIn(placed, view).filter(({ standing }) => standing !== 'slip');
    for (const each of recordStatements(placed, view.variant)) {
      if (each.kind !== 'record-fitted' || each.grade === undefined) continue;
      for (const table of view.grades)
        if (table.name === each.part.owner.text && !table.broken)
          sayGrade(placed, each, table, chosenBy(each, table, measured, view), report);
    }
  },
};
