// Which grade goes with what was measured, or with what comes out of it: a gasket by the highest piston, a shim by the gap.

import { entryText, type Judged } from '../checks/record/measurements.ts';
import { byTheHighest } from '../checks/record/one-for-several.ts';
import { compare } from '../mechanics/exact.ts';
import type { Interval } from '../mechanics/interval.ts';
import { sameDimension, type Unit } from '../mechanics/units.ts';
import { placesOfLimit } from '../model/limit-places.ts';
import { placeText } from '../model/limit-sums.ts';
import { measureOf } from '../model/measure.ts';
import type { Placed } from '../model/placed.ts';
import type { Grades, Limit, View } from '../model/view.ts';
import { type Followed, measuredAt } from './follows.ts';

/** The rows of a table that go with what it is chosen by; none where the table has none for it. */
export interface GradeToUse {
  readonly table: string;
  /** Empty where one goes for all places. */
  readonly place: string;
  readonly rows: readonly string[];
}

interface Choice {
  readonly place: string;
  readonly interval: Interval;
  readonly unit: Unit;
}

/** Where it was measured, each place for itself; nothing of what looks like a slip. */
function measuredChoices(limit: Limit, judged: readonly Judged[], placed: Placed): readonly Choice[] {
  return judged
    .filter((each) => each.limit === limit && each.standing !== 'slip')
    .map(({ entry, measure }) => ({
      place: entryText(placed, entry),
      interval: measure.interval,
      unit: measure.unit,
    }));
}

/** What it comes to, where nothing of what it comes from is still to be measured or looks like a slip. */
function followedChoices(
  limit: Limit,
  followed: readonly Followed[],
  judged: readonly Judged[],
  view: View,
): readonly Choice[] {
  return followed
    .filter(
      (each) =>
        each.limit === limit &&
        each.worked.toMeasure !== true &&
        !judged.some(({ limit: of, standing }) => standing === 'slip' && each.from.includes(of.name)),
    )
    .map(({ asked, worked }) => ({
      place: asked === undefined || placesOfLimit(limit, view).length < 2 ? '' : placeText(asked),
      interval: worked.stack.interval,
      unit: worked.unit,
    }));
}

/** One for all places is chosen by the highest of them, when all are known. */
function theHighest(choices: readonly Choice[], isComplete: boolean): readonly Choice[] {
  const [first, ...rest] = choices;
  if (first === undefined || !isComplete) return [];
  const most = rest.reduce((high, each) => (compare(each.interval.high, high.interval.high) > 0 ? each : high), first);
  return [{ ...most, place: '' }];
}

function choicesFor(
  table: Grades,
  judged: readonly Judged[],
  followed: readonly Followed[],
  placed: Placed,
  view: View,
): readonly Choice[] {
  const limit = view.limits.find((each) => each.name === table.by?.owner.text);
  if (limit === undefined || limit.broken) return [];
  const measured = judged.some((each) => each.limit === limit);
  const choices = measured ? measuredChoices(limit, judged, placed) : followedChoices(limit, followed, judged, view);
  if (!byTheHighest(limit, table, view)) return choices;
  const places = placesOfLimit(limit, view);
  const isComplete = measured
    ? places.every((asked) => {
        const found = measuredAt(limit, judged, view, asked);
        return found !== undefined && found.standing !== 'slip';
      })
    : choices.length >= places.length;
  return theHighest(choices, isComplete);
}

/** The grades to use, by table and place. */
export function gradesToUse(
  judged: readonly Judged[],
  followed: readonly Followed[],
  placed: Placed,
  view: View,
): readonly GradeToUse[] {
  return view.grades.flatMap((table): readonly GradeToUse[] => {
    if (table.broken) return [];
    const ranges = table.rows.map((row) => (row.value.kind === 'by-place' ? undefined : measureOf(row.value)));
    if (ranges.includes(undefined)) return [];
    return choicesFor(table, judged, followed, placed, view).flatMap(({ place, interval, unit }) => {
      if (ranges.some((each) => each === undefined || !sameDimension(each.unit, unit))) return [];
      const rows = ranges.flatMap((each, at) =>
        each !== undefined &&
        compare(each.interval.low, interval.high) <= 0 &&
        compare(interval.low, each.interval.high) <= 0
          ? (table.rows[at]?.name.text ?? [])
          : [],
      );
      return [{ table: table.name, place, rows }];
    });
  });
}
