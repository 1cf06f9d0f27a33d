// What is entered, held against the spec: by the same sums and in the same words as the checker's, since it is the record that is judged.
// The spec is read here, the first time that something is to be judged.

import { warmUp } from '../../grammar/parse.ts';
import { textOf } from '../../grammar/told.ts';
import type { ByPlace, Expression, PlaceEntry, Value } from '../../grammar/tree.ts';
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
import { compare, type Exact } from '../mechanics/exact.ts';
import { gradesFor } from '../mechanics/fits.ts';
import { type BuiltView, buildView } from '../model/build-view.ts';
import { evaluation } from '../model/evaluation.ts';
import { placesOfLimit, type Worked, workOut } from '../model/expression.ts';
import { type Asked, allPlaces, placesFor } from '../model/feature-places.ts';
import { limitBounds, placeText } from '../model/limit-sums.ts';
import { type Bounds, measureOf } from '../model/measure.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { readFile } from '../model/read-file.ts';
import type { Limit, Part, Thing, View } from '../model/view.ts';
import { boundsWords } from '../sheet/bounds.ts';
import type { BenchJob } from './bench-job.ts';
import type { Entries } from './entries.ts';
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
  readonly grades: readonly { readonly table: string; readonly place: string; readonly rows: readonly string[] }[];
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
  const worn = edge === undefined ? '' : textOf(edgeShown(edge) ?? '');
  return [within, worn === '' ? '' : `wear limit ${worn}`].filter((each) => each !== '').join(', ');
}

function words(judged: Judged): string {
  switch (judged.standing) {
    case 'inside':
      return 'Inside.';
    case 'worn':
      return 'Worn: outside the new range, inside the wear limit.';
    case 'slip': {
      const meant = meantBy(judged);
      return meant === undefined
        ? 'A slip of the pen? As it stands it is outside.'
        : `A slip of the pen? ${meant} would be inside. As it stands it is OUTSIDE.`;
    }
    case 'outside':
      return 'OUTSIDE. Find out why, put it right and measure again.';
    case 'wrong-kind':
      return 'This unit is of another kind than the limit.';
    default:
      return 'There is nothing to hold it against.';
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
      bounds: heldWords(each.bounds, each.wear),
    });
  const statements = recordStatements(placed, view.variant);
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
          bounds: heldWords(held.bounds, held.wear),
        });
      }
  return {
    verdicts,
    workedOut: [
      ...followFrom(judged, sized),
      // What rests on other limits that were measured, the checker works out itself.
      ...workedOutFrom(placed, view).flatMap(({ limit, results, from }) =>
        results.map((result) =>
          workedOut(
            limit,
            result.place,
            result.worked,
            sized,
            from.map((each) => each.limit.name),
          ),
        ),
      ),
    ],
    grades: gradesOf(judged, placed, view),
    unanswered: unanswered(placed, view).map((each) => each.text.text),
    left: leftToDo(placed, view).limits.map(({ limit, places }) => ({
      limit: limit.name,
      places: places.map(placeText),
    })),
  };
}

function gradesOf(judged: readonly Judged[], placed: Placed, view: View): Judgement['grades'] {
  return view.grades.flatMap((table) => {
    const ranges = table.rows.map((row) => (row.value.kind === 'by-place' ? undefined : measureOf(row.value)));
    const known = ranges.flatMap((range) => (range === undefined ? [] : [range.interval]));
    if (known.length !== ranges.length) return [];
    return judged
      .filter((each) => each.limit.name === table.by?.owner.text)
      .map((each) => ({
        table: table.name,
        place: entryText(placed, each.entry),
        rows: gradesFor(known, each.measure.interval.nominal).flatMap((at) => table.rows[at]?.name.text ?? []),
      }));
  });
}

/** The dimension that a limit measures: what it is, or what it is measured at. */
function dimensionOf(limit: Limit, view: View): { readonly part: Part; readonly feature: string } | undefined {
  const reference = limit.expression?.kind === 'reference' ? limit.expression.reference : limit.each;
  if (limit.expression !== undefined && limit.expression.kind !== 'reference') return undefined;
  const part = reference === undefined ? undefined : view.things.get(reference.owner.text);
  const feature = reference?.feature?.text;
  return part?.kind !== 'part' || feature === undefined || !part.dimensions.has(feature)
    ? undefined
    : { part, feature };
}

/** What an expression refers to, by the name that a sum gives it. */
function references(expression: Expression): readonly {
  readonly owner: string;
  readonly feature: string | undefined;
  readonly of: Extract<Expression, { kind: 'reference' }>;
}[] {
  switch (expression.kind) {
    case 'reference':
      return [{ owner: expression.reference.owner.text, feature: expression.reference.feature?.text, of: expression }];
    case 'binary':
      return [...references(expression.left), ...references(expression.right)];
    case 'negated':
      return references(expression.operand);
    case 'call':
      return expression.operands.flatMap(references);
    default:
      return [];
  }
}

function measuredAt(limit: Limit, judged: readonly Judged[], view: View, asked: Asked): Judged | undefined {
  const places = placesOfLimit(limit, view);
  const own = judged.filter((each) => each.limit === limit);
  if (places.length < 2) return own[0];
  if (asked.of !== places.length) return undefined;
  const at = places[asked.index - 1];
  return own.find(
    (each) =>
      each.entry === undefined ||
      each.entry.places.some(
        (place) =>
          at !== undefined &&
          (place.name === undefined || place.name.text === at.name) &&
          (place.from === undefined ||
            (place.from <= (at.number ?? at.index) && (place.to ?? place.from) >= (at.number ?? at.index))),
      ),
  );
}

/** Dimensions as they were measured, in place of what the spec says of them. */
function withMeasured(
  view: View,
  judged: readonly Judged[],
): { readonly view: View; readonly known: ReadonlySet<string> } {
  const things = new Map<string, Thing>(view.things);
  const known = new Set<string>();
  for (const limit of view.limits) {
    const dimension = dimensionOf(limit, view);
    if (dimension === undefined) continue;
    const part = things.get(dimension.part.name);
    const written = part?.kind === 'part' ? part.dimensions.get(dimension.feature) : undefined;
    if (part?.kind !== 'part' || written === undefined) continue;
    const places = allPlaces(part, dimension.feature);
    const entries: PlaceEntry[] = [];
    for (const [i, place] of places.entries()) {
      const found = measuredAt(limit, judged, view, {
        index: i + 1,
        of: places.length,
        name: place.name,
        number: place.number,
      });
      if (found === undefined) continue;
      known.add(`${part.name}.${dimension.feature} ${i}`);
      entries.push({
        places: [
          {
            ...(place.name === undefined ? {} : { name: { text: place.name, start: 0, end: 0 } }),
            from: place.number,
            to: place.number,
            start: 0,
            end: 0,
          },
        ],
        value: found.value,
        start: 0,
        end: 0,
      });
    }
    if (entries.length === 0) continue;
    const rest: readonly PlaceEntry[] =
      written.value === undefined
        ? []
        : written.value.kind === 'by-place'
          ? written.value.entries
          : [{ places: [{ start: 0, end: 0 }], value: written.value, start: 0, end: 0 }];
    const value: ByPlace = { kind: 'by-place', entries: [...entries, ...rest], start: 0, end: 0 };
    const dimensions = new Map(part.dimensions).set(dimension.feature, { ...written, value: value as Value });
    things.set(part.name, { ...part, dimensions });
  }
  return { view: { ...view, things, parts: view.parts.map((part) => (things.get(part.name) ?? part) as Part) }, known };
}

/** A limit at a place as it comes to, in words. */
function workedOut(
  limit: Limit,
  asked: Asked | undefined,
  worked: Worked,
  view: View,
  from: readonly string[],
): WorkedOut {
  const at = asked ?? { index: 1, of: 1 };
  const bounds = limitBounds(limit, 'within', at, view);
  const wear = limitBounds(limit, 'wearLimit', at, view);
  const { interval } = worked.stack;
  const unit = bounds !== undefined && bounds.unit.length > 0 ? bounds.unit : worked.unit;
  return {
    limit: limit.name,
    title: limit.title ?? limit.name.replace(/[-_]/g, ' '),
    place: asked === undefined || placesOfLimit(limit, view).length < 2 ? '' : placeText(asked),
    text: textOf(rangeShown({ low: interval.low, high: interval.high }, unit, (bounds?.places ?? 3) + 1)).replace(
      '..',
      ' to ',
    ),
    bounds: heldWords(bounds, wear),
    standing: standingOf(interval.low, interval.high, bounds, wear),
    working: [...worked.inputs].map(([name, value]) => `${name} ${value}`).join('; '),
    from,
  };
}

/** Limits that follow from dimensions that were measured, as soon as all of those that can be measured are there. */
function followFrom(judged: readonly Judged[], view: View): readonly WorkedOut[] {
  if (judged.length === 0) return [];
  const measured = withMeasured(view, judged);
  if (measured.known.size === 0) return [];
  const isMeasurable = (owner: string, feature: string): boolean =>
    view.limits.some((each) => {
      const dimension = dimensionOf(each, view);
      return dimension?.part.name === owner && dimension.feature === feature;
    });
  return view.limits.flatMap((limit): readonly WorkedOut[] => {
    const { expression } = limit;
    if (expression === undefined || expression.kind === 'reference') return [];
    const uses = references(expression).flatMap((use) => {
      const part = use.feature === undefined ? undefined : view.things.get(use.owner);
      return part?.kind === 'part' && use.feature !== undefined && isMeasurable(use.owner, use.feature)
        ? [{ part, feature: use.feature, reference: use.of.reference }]
        : [];
    });
    const from = view.limits
      .filter((each) => {
        const dimension = dimensionOf(each, view);
        return uses.some((use) => use.part.name === dimension?.part.name && use.feature === dimension.feature);
      })
      .map((each) => each.name);
    return placesOfLimit(limit, view).flatMap((asked) => {
      const inputs = uses.flatMap(({ part, feature, reference }) => {
        const all = allPlaces(part, feature);
        return placesFor(part, feature, reference, asked).map((place) => {
          const at = all.findIndex((each) => each.name === place.name && each.number === place.number);
          return measured.known.has(`${part.name}.${feature} ${at}`);
        });
      });
      if (inputs.length === 0 || inputs.includes(false)) return [];
      const worked = workOut(expression, evaluation(measured.view, asked));
      return worked === undefined ? [] : [workedOut(limit, asked, worked, view, from)];
    });
  });
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
