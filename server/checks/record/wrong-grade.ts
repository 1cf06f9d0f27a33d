// A grade that was fitted where what was measured asks for another one.
import { type Told, told } from '../../../grammar/told.ts';
import type { Place, RecordFitted, Span } from '../../../grammar/tree.ts';
import { compare } from '../../mechanics/exact.ts';
import { gradesFor } from '../../mechanics/fits.ts';
import type { Interval } from '../../mechanics/interval.ts';
import { sameDimension, type Unit } from '../../mechanics/units.ts';
import { allPlaces, pairedPlaces } from '../../model/feature-places.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { shownUnit } from '../../model/limit-sums.ts';
import { takesIn } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Grades, Limit, Part, View } from '../../model/view.ts';
import type { DeclarationCheck, Report } from '../check.ts';
import { rangeShown } from '../figures.ts';
import { type Row, rowOf } from '../limit/grades.ts';
import { concerns } from '../name/unknown.ts';
import { change, inWords } from '../support.ts';
import { entryText, type Judged, measurementsIn, recordStatements } from './measurements.ts';
import { byTheHighest, isOneForSeveral } from './one-for-several.ts';
import { workedOutFrom } from './worked-out.ts';
import page from './wrong-grade.md';

/** The measured values that a fitted part is chosen by: those at its own places, where it names some. */
function chosenBy(fitted: RecordFitted, table: Grades, measured: readonly Judged[], view: View): readonly Judged[] {
  const own = measured.filter(({ limit, again }) => limit.name === table.by?.owner.text && !again);
  const { places } = fitted.part;
  const part = view.things.get(table.name);
  const limit = own[0]?.limit;
  const at =
    limit === undefined || places.length === 0
      ? own
      : part?.kind === 'part'
        ? ownPlaces(part, limit, places, own, view)
        : samePlaces(limit, places, own, view);
  const isPlaceOfSeveral = part?.kind === 'part' && part.count !== 1 && places.length > 0;
  if (
    limit === undefined ||
    !(isPlaceOfSeveral ? isOneForSeveral(limit, part, view) : byTheHighest(limit, table, view))
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

/** A table without a part of its name goes by the places of what was measured. */
function samePlaces(limit: Limit, places: readonly Place[], own: readonly Judged[], view: View): readonly Judged[] {
  if (limit.each === undefined) return own;
  const wanted = placesOfLimit(limit, view)
    .map(({ name, number, index }) => ({ name, number: number ?? index }))
    .filter((asked) => places.some((written) => takesIn(written, asked)));
  return own.filter(
    ({ entry }) => entry === undefined || wanted.some((asked) => entry.places.some((place) => takesIn(place, asked))),
  );
}

/** A value that chooses a grade, in words, and where what it comes from is written. */
interface Choice {
  readonly limit: Limit;
  readonly interval: Interval;
  readonly unit: Unit;
  readonly shown: Told;
  readonly at: Span;
  /** It comes out of what was measured. */
  readonly workedOut?: true;
}

function choiceOf(placed: Placed, { limit, measure, entry, value }: Judged): Choice {
  const place = entryText(placed, entry);
  const shown =
    place === '' ? told`${written(placed, value)}` : told`${written(placed, value)} at ${told.place(place)}`;
  return { limit, interval: measure.interval, unit: measure.unit, shown, at: value };
}

/** What a table goes by that is not measured itself, and comes out of what was: the highest of several pistons. */
function workedOutBy(placed: Placed, table: Grades, view: View): readonly Choice[] {
  const found = workedOutFrom(placed, view).find(({ limit }) => limit.name === table.by?.owner.text);
  const [result, ...others] = found?.results ?? [];
  const at = found?.from[0]?.value;
  if (found === undefined || result === undefined || others.length > 0 || at === undefined) return [];
  const { worked } = result;
  const shown = rangeShown(worked.stack.interval, shownUnit(result), result.bounds?.places ?? 2, worked.zero);
  return [
    {
      limit: found.limit,
      interval: worked.stack.interval,
      unit: shownUnit(result),
      shown: told`${shown}`,
      at,
      workedOut: true,
    },
  ];
}

function written(placed: Placed, span: { readonly start: number; readonly end: number }): string {
  return placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
}

/** Whether a part that a table chooses has a place for each of what it is chosen by: each shim by its own valve. */
function isOneEach(table: Grades, limit: Limit | undefined, view: View): boolean {
  const part = view.things.get(table.name);
  const count = part?.kind === 'part' ? allPlaces(part, undefined).length : 0;
  return limit !== undefined && count > 1 && placesOfLimit(limit, view).length === count;
}

/** The values that ask for another grade, each by itself, where each place has its own. */
function otherThan(own: Row, rows: readonly Row[], chosen: readonly Choice[]): readonly Choice[] {
  const intervals = rows.map((row) => row.interval);
  return chosen.filter(({ interval }) =>
    [...gradesFor(intervals, interval.low), ...gradesFor(intervals, interval.high)].every((at) => rows[at] !== own),
  );
}

function sayGrade(
  placed: Placed,
  fitted: RecordFitted,
  table: Grades,
  by: readonly Choice[],
  view: View,
  report: Report,
) {
  const { grade } = fitted;
  const rows = table.rows.flatMap((row) => rowOf(row) ?? []);
  const own = rows.find((row) => row.row.name.text === grade?.text);
  if (grade === undefined || own === undefined || by.length === 0 || rows.length !== table.rows.length) return;
  const chosen = isOneEach(table, by[0]?.limit, view) ? otherThan(own, rows, by) : by;
  const right = new Set<Row>();
  for (const { interval, unit } of chosen) {
    if (!sameDimension(unit, own.unit)) return;
    const intervals = rows.map((row) => row.interval);
    const found = [...gradesFor(intervals, interval.low), ...gradesFor(intervals, interval.high)];
    for (const at of found) {
      const row = rows[at];
      if (row === own) return;
      if (row !== undefined) right.add(row);
    }
  }
  const first = chosen[0];
  if (first === undefined) return;
  const values = chosen.slice(0, 6).map((each) => each.shown);
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
  const [went, was] = [told`${told.thing(table)} ${told.named(grade.text)}`, inWords(values)];
  report(
    placed,
    grade,
    first.workedOut === true
      ? told`${went} went in, and ${told.thing(first.limit)} comes out at ${was}. ${shown(own)}; ${asks}.`
      : told`${went} went in, and ${told.thing(first.limit)} was measured as ${was}. ${shown(own)}; ${asks}.`,
    {
      fixes: only === undefined || others.length > 0 ? [] : [change(placed, grade, only.row.name.text)],
      related: [
        { placed, span: first.at, message: told`What was measured.` },
        { placed: table.placed, span: own.row.name, message: told`The grade ${told.named(grade.text)}.` },
      ],
    },
  );
}

/** The tables of which a record says that another grade went in than what was measured asks for. */
export function wronglyGraded(placed: Placed, view: View): ReadonlySet<string> {
  const found = new Set<string>();
  for (const table of view.grades) sayGrades(placed, view, [table], () => found.add(table.name));
  return found;
}

export const recordWrongGrade: DeclarationCheck = {
  code: 'record/wrong-grade',
  severity: 'error',
  scope: 'declaration',
  words: ['record'],
  page,
  run(placed, view, report) {
    sayGrades(placed, view, view.grades, report);
  },
};

function sayGrades(placed: Placed, view: View, tables: readonly Grades[], report: Report): void {
  if (!concerns(placed, view)) return;
  // A slip is said where it is written, and what was read wrong chooses nothing.
  const measured = measurementsIn(placed, view).filter(({ standing }) => standing !== 'slip');
  for (const each of recordStatements(placed, view)) {
    if (each.kind !== 'record-fitted' || each.grade === undefined) continue;
    for (const table of tables)
      if (table.name === each.part.owner.text && !table.broken) {
        const chosen = chosenBy(each, table, measured, view).map((judged) => choiceOf(placed, judged));
        sayGrade(placed, each, table, chosen.length > 0 ? chosen : workedOutBy(placed, table, view), view, report);
      }
  }
}
