// What is entered, held against the spec: by the same sums and in the same words as the checker's, since it is the record that is judged.
// The spec is read here, the first time that something is to be judged.

import { warmUp } from '../../grammar/parse.ts';
import { speak, spoken } from '../../grammar/spoken.ts';
import { edgeShown, rangeShown } from '../checks/figures.ts';
import { fittedSizes, withFittedSizes } from '../checks/record/fitted-sizes.ts';
import { leftToDo } from '../checks/record/left-to-do.ts';
import {
  entryText,
  heldAt,
  type Judged,
  meantBy,
  measurementsIn,
  recordStatements,
  type Standing,
} from '../checks/record/measurements.ts';
import { unanswered } from '../checks/record/unanswered.ts';
import { workedOutFrom } from '../checks/record/worked-out.ts';
import { compare, type Exact, ZERO } from '../mechanics/exact.ts';
import { type BuiltView, buildView } from '../model/build-view.ts';
import { placesOfLimit } from '../model/limit-places.ts';
import { limitBounds, placeText } from '../model/limit-sums.ts';
import type { Bounds } from '../model/measure.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { readFile } from '../model/read-file.ts';
import type { View } from '../model/view.ts';
import { readRange } from '../sheet/action-text.ts';
import { boundsWords } from '../sheet/bounds.ts';
import type { BenchJob } from './bench-job.ts';
import type { Entries } from './entries.ts';
import { type Followed, followFrom } from './follows.ts';
import { type GradeToUse, gradesToUse } from './grades-to-use.ts';
import { newRecordText } from './record-text.ts';

/** Reads the spec of a job in pieces, so that something else can be done between two of them. */
export function* specInPieces(job: BenchJob): Generator<undefined, BuiltView, undefined> {
  warmUp();
  const files: ReadFile[] = [];
  for (const { file, text } of job.texts) {
    yield;
    files.push(readFile(file, text));
  }
  yield;
  return buildView(files, job.variant);
}

/** The spec of a job, read. */
export function specOf(job: BenchJob): BuiltView {
  const reading = specInPieces(job);
  for (;;) {
    const { done, value } = reading.next();
    if (done === true) return value;
  }
}

export interface Verdict {
  readonly standing: Standing | undefined;
  /** `inside`, and what else is to be said. */
  readonly words: string;
  /** What was meant where it looks like a slip of the pen: `0.041 mm`. */
  readonly meant: string | undefined;
  /** The bounds as they stand for the sizes that went in. */
  readonly bounds: string;
}

/** A limit that is worked out from what was measured. */
export interface WorkedOut {
  readonly limit: string;
  readonly title: string;
  readonly place: string;
  readonly text: string;
  readonly bounds: string;
  readonly standing: 'inside' | 'worn' | 'outside' | 'select' | undefined;
  readonly working: string;
  /** The measured limits that it comes from. */
  readonly from: readonly string[];
}

export interface Judgement {
  /** By limit and place, `crank-end-play ` or `valve-lash 3`. */
  readonly verdicts: ReadonlyMap<string, Verdict>;
  readonly workedOut: readonly WorkedOut[];
  /** Which rows of a table go with what was measured, by place. */
  readonly grades: readonly GradeToUse[];
  /** What is not answered yet, in words. */
  readonly unanswered: readonly string[];
  /** Limits that are still to be measured. */
  readonly left: readonly { readonly limit: string; readonly places: readonly string[] }[];
}

export function verdictKey(limit: string, place: string): string {
  return `${limit} ${place}`;
}

function recordOf(entries: Entries, job: BenchJob): Placed | undefined {
  // Judged alone, whatever stands round it in a file.
  const text = newRecordText({ ...entries, base: undefined }, { ...job, use: '' });
  return readFile('record.fettle', text).declarations.find((placed) => placed.declaration.word === 'record');
}

/** The bounds as read, with what is worn still. */
function heldWords(bounds: Bounds | undefined, wear: Bounds | undefined): string {
  const within = bounds === undefined ? '' : boundsWords(bounds);
  const edge = wear === undefined ? undefined : { ...wear, low: wear.high === undefined ? wear.low : undefined };
  const worn = edge === undefined ? '' : speak(edgeShown(edge) ?? '');
  return [within, worn === '' ? '' : spoken`wear limit ${worn}`].filter((each) => each !== '').join(', ');
}

function words(judged: Judged): string {
  switch (judged.standing) {
    case 'inside':
      return spoken`Inside.`;
    case 'worn':
      return spoken`Worn: outside the new range, inside the wear limit.`;
    case 'slip': {
      const meant = meantBy(judged);
      return meant === undefined
        ? spoken`A slip of the pen? As it stands it is outside.`
        : spoken`A slip of the pen? ${meant} would be inside. As it stands it is OUTSIDE.`;
    }
    case 'outside':
      return spoken`OUTSIDE. Find out why, put it right and measure again.`;
    case 'wrong-kind':
      return spoken`This unit is of another kind than the limit.`;
    default:
      return spoken`There is nothing to hold it against.`;
  }
}

/** What is entered, judged. */
export function judge(entries: Entries, job: BenchJob, view: BuiltView): Judgement {
  const placed = recordOf(entries, job);
  if (placed === undefined) return { verdicts: new Map(), workedOut: [], grades: [], unanswered: [], left: [] };
  const judged = measurementsIn(placed, view).filter((each) => !each.again);
  const verdicts = new Map<string, Verdict>();
  for (const each of judged)
    verdicts.set(verdictKey(each.limit.name, entryText(placed, each.entry)), {
      standing: each.standing,
      words: words(each),
      meant: each.standing === 'slip' ? meantBy(each) : undefined,
      bounds: heldWords(each.bounds, each.wear),
    });
  const statements = recordStatements(placed, view);
  const sized = withFittedSizes(view, fittedSizes(statements, view));
  if (sized !== view)
    for (const limit of view.limits)
      for (const asked of placesOfLimit(limit, view)) {
        const place = placesOfLimit(limit, view).length > 1 ? placeText(asked) : '';
        if (verdicts.has(verdictKey(limit.name, place))) continue;
        const held = heldAt(limit, asked, view, sized);
        verdicts.set(verdictKey(limit.name, place), {
          standing: undefined,
          words: '',
          meant: undefined,
          bounds: heldWords(held.bounds, held.wear),
        });
      }
  const followed: readonly Followed[] = [
    ...followFrom(judged, sized),
    // What rests on other limits that were measured, the checker works out itself.
    ...workedOutFrom(placed, view).flatMap(({ limit, results, from }) =>
      results.map(({ place, worked }) => ({
        limit,
        asked: place,
        worked,
        from: [...new Set(from.map((each) => each.limit.name))],
      })),
    ),
  ];
  return {
    verdicts,
    workedOut: followed.map((each) => workedOut(each, sized)),
    grades: gradesToUse(judged, followed, placed, view),
    unanswered: unanswered(placed, view).map((each) => speak(each.text)),
    left: leftToDo(placed, view).limits.map(({ limit, places }) => ({
      limit: limit.name,
      places: places.map(placeText),
    })),
  };
}

/** A limit at a place as it comes to, in words. */
function workedOut({ limit, asked, worked, from }: Followed, view: View): WorkedOut {
  const at = asked ?? { index: 1, of: 1 };
  const bounds = limitBounds(limit, 'within', at, view);
  const wear = limitBounds(limit, 'wearLimit', at, view);
  const { interval } = worked.stack;
  const unit = bounds !== undefined && bounds.unit.length > 0 ? bounds.unit : worked.unit;
  return {
    limit: limit.name,
    title: limit.title ?? limit.name.replace(/[-_]/g, ' '),
    place: asked === undefined || placesOfLimit(limit, view).length < 2 ? '' : placeText(asked),
    text: readRange(
      speak(
        rangeShown({ low: interval.low, high: interval.high }, unit, (bounds?.places ?? 3) + 1, worked.zero ?? ZERO),
      ),
    ),
    bounds: heldWords(bounds, wear),
    standing: standingOf(interval.low, interval.high, bounds, wear),
    working: [...worked.inputs].map(([name, value]) => `${name} ${value}`).join('; '),
    from,
  };
}

function standingOf(
  low: Exact,
  high: Exact,
  bounds: Bounds | undefined,
  wear: Bounds | undefined,
): WorkedOut['standing'] {
  if (bounds === undefined) return undefined;
  const above = bounds.high !== undefined && compare(high, bounds.high) > 0;
  const below = bounds.low !== undefined && compare(low, bounds.low) < 0;
  if (!above && !below) return 'inside';
  const allAbove = bounds.high !== undefined && compare(low, bounds.high) > 0;
  const allBelow = bounds.low !== undefined && compare(high, bounds.low) < 0;
  if (!allAbove && !allBelow) return 'select';
  const worn = wear?.high ?? wear?.low;
  return allAbove && worn !== undefined && compare(high, worn) <= 0 ? 'worn' : 'outside';
}
