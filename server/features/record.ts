// What a record says beside what its spec asks: steps done and left, measured values with how they stand, what was fitted and found.
// Plain values; their text for a terminal is in record-text.ts.
import { type Told, textOf, told } from '../../grammar/told.ts';
import type { Statement, Text } from '../../grammar/tree.ts';
import { boundsShown, edgeShown, rangeShown } from '../checks/figures.ts';
import { doneIn, leftToDo, signedIn } from '../checks/record/left-to-do.ts';
import { entryText, type Judged, meantBy, measurementsIn, recordStatements } from '../checks/record/measurements.ts';
import { revisionOf } from '../checks/record/other-revision.ts';
import { unanswered } from '../checks/record/unanswered.ts';
import { notWitnessed } from '../checks/record/witnesses.ts';
import { type WorkedOut, workedOutFrom } from '../checks/record/worked-out.ts';
import { ZERO } from '../mechanics/exact.ts';
import { unitText } from '../mechanics/units.ts';
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Finding } from '../model/finding.ts';
import { placeText, shownUnit } from '../model/limit-sums.ts';
import type { Bounds } from '../model/measure.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { namesIn } from '../model/statements.ts';
import { inUnit } from '../model/worked.ts';
import { placedNear } from './place-in-tree.ts';

/** A step of the work: done, left with a deviation that says why, or open. */
export interface ToldStep {
  readonly step: string;
  readonly title?: string;
  readonly sequence?: string;
  readonly state: 'done' | 'left' | 'open';
  readonly on?: string;
  readonly by?: string;
  readonly deviation?: string;
}

interface Figures {
  readonly low?: number;
  readonly high?: number;
  readonly unit: string;
}

/** A measured value. `again`: measured again later, so that it no longer counts. */
export interface ToldMeasurement {
  readonly limit: string;
  readonly title?: string;
  readonly place?: string;
  /** As written. */
  readonly text: string;
  readonly value: Figures;
  readonly within?: Figures;
  readonly withinText?: string;
  readonly wear?: Figures;
  readonly wearText?: string;
  readonly verdict?: Judged['standing'];
  /** What a slip may be meant to be. */
  readonly meant?: string;
  readonly again: boolean;
  readonly with?: string;
  readonly on?: string;
  readonly by?: string;
}

/** What a limit comes to with what was measured. */
export interface ToldWorkedOut {
  readonly limit: string;
  readonly title?: string;
  readonly place?: string;
  readonly value: Figures;
  readonly text: string;
  readonly within?: Figures;
  readonly withinText?: string;
  readonly verdict?: 'inside' | 'outside' | 'select';
}

export interface ToldPart {
  readonly part: string;
  readonly text?: string;
  readonly size?: string;
  readonly grade?: string;
  readonly verdict?: string;
}

/** One record with all that it says. */
export interface ToldRecord {
  readonly record: string;
  readonly title?: string;
  readonly spec?: string;
  readonly specTitle?: string;
  readonly revision?: number;
  readonly specRevision?: number;
  readonly variant?: string;
  readonly engineNumber?: string;
  readonly customer?: string;
  /** How far and how long the engine had run. */
  readonly run: readonly string[];
  readonly complaints: readonly string[];
  readonly agreed: readonly { readonly text: string; readonly on?: string; readonly by?: string }[];
  readonly witnessed: readonly { readonly step: string; readonly on?: string; readonly by?: string }[];
  /** Steps with a hold point that nobody is said to have looked at, though they are done. */
  readonly notWitnessed: readonly string[];
  readonly signed?: { readonly by: string; readonly on?: string };
  readonly steps: readonly ToldStep[];
  readonly measured: readonly ToldMeasurement[];
  /** Limits that are worked out from measured ones. */
  readonly workedOut: readonly ToldWorkedOut[];
  /** Limits without a value, with the places where there are some. */
  readonly notMeasured: readonly {
    readonly limit: string;
    readonly title?: string;
    readonly places: readonly string[];
  }[];
  /** Hold points without a name, scrap without what replaced it, grades not said. */
  readonly unanswered: readonly { readonly what: string; readonly name: string; readonly text: Told }[];
  readonly fitted: readonly ToldPart[];
  readonly found: readonly ToldPart[];
  readonly log: readonly { readonly on?: string; readonly text: string }[];
  readonly photos: readonly { readonly path: string; readonly of?: string }[];
  /** What is found in the record. */
  readonly findings: readonly Finding[];
}

/** Leaves out what is not there. */
function only<given extends object>(given: given): { [key in keyof given]: Exclude<given[key], undefined> } {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as never;
}

function figures({ low, high, unit, zero }: Bounds): Figures {
  const shown = (edge: Bounds['low']): number | undefined =>
    edge === undefined ? undefined : inUnit(edge, unit, zero);
  return only({ low: shown(low), high: shown(high), unit: unitText(unit) }) as Figures;
}

/** The view of the variant that a record says; the first where it says none. */
function viewOf(placed: Placed, analysis: Analysis): BuiltView | undefined {
  const [name] = namesIn(placed.declaration.body?.statements ?? [], 'variant');
  return analysis.views.find((view) => view.variant === name?.text) ?? analysis.views[0];
}

function written(placed: Placed, span: { readonly start: number; readonly end: number }): string {
  return placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
}

function measurement(placed: Placed, judged: Judged): ToldMeasurement {
  const { statement, limit, entry, value, measure, bounds, wear, standing, again } = judged;
  const place = entryText(placed, entry);
  const edge = wear === undefined ? undefined : { ...wear, low: wear.high === undefined ? wear.low : undefined };
  return only({
    limit: limit.name,
    title: limit.title,
    place: place === '' ? undefined : place,
    text: written(placed, value),
    value: figures({ ...measure.interval, unit: measure.unit, places: measure.places }),
    within: bounds === undefined ? undefined : figures(bounds),
    withinText: bounds === undefined ? undefined : textOf(boundsShown(bounds)),
    wear: wear === undefined ? undefined : figures(wear),
    wearText: edge === undefined ? undefined : textOf(edgeShown(edge) ?? ''),
    verdict: standing,
    meant: standing === 'slip' ? meantBy(judged) : undefined,
    again,
    with: statement.with?.value,
    on: statement.on?.text,
    by: statement.by?.value,
  }) as ToldMeasurement;
}

function workedOut({ limit, results }: WorkedOut): readonly ToldWorkedOut[] {
  return results.map((result) => {
    const { bounds, worked, verdict } = result;
    const [unit, zero] = [shownUnit(result), worked.zero ?? ZERO];
    const places = bounds?.places ?? 3;
    const place = placeText(result.place);
    return only({
      limit: limit.name,
      title: limit.title,
      place: place === '' ? undefined : place,
      value: figures({ ...worked.stack.interval, unit, places, zero }),
      text: textOf(rangeShown(worked.stack.interval, unit, places, zero)),
      within: bounds === undefined ? undefined : figures(bounds),
      withinText: bounds === undefined ? undefined : textOf(boundsShown(bounds)),
      verdict,
    }) as ToldWorkedOut;
  });
}

function stepsOf(placed: Placed, view: BuiltView): readonly ToldStep[] {
  const statements = recordStatements(placed, view);
  const [done, deviations] = [doneIn(statements, 'done'), doneIn(statements, 'deviation')];
  const { work, steps } = leftToDo(placed, view);
  const open = new Set(steps.map(({ step }) => step.name));
  const told = new Set(work.map(({ step }) => step.name));
  const besides = [...new Set([...done, ...deviations].map((each) => each.step.owner.text))].filter(
    (name) => !told.has(name),
  );
  const row = (name: string, title?: string, sequence?: string): ToldStep => {
    const own = done.filter((each) => each.step.owner.text === name);
    const last = own[own.length - 1];
    const why = deviations.find((each) => each.step.owner.text === name);
    const state = own.length > 0 && !open.has(name) ? 'done' : why !== undefined ? 'left' : 'open';
    return only({
      step: name,
      title,
      sequence,
      state,
      on: last?.on?.text,
      by: last?.by?.value,
      deviation: why === undefined ? undefined : (why.text?.value ?? 'without a reason'),
    }) as ToldStep;
  };
  return [
    ...work.map(({ step, sequence }) => row(step.name, step.title, sequence.name)),
    ...besides.map((name) => row(name)),
  ];
}

function textsOf(statements: readonly Statement[], word: string): readonly string[] {
  return statements.flatMap((each) => (each.kind === 'text' && each.word === word ? [each.text.value] : []));
}

function toldRecord(placed: Placed, view: BuiltView, analysis: Analysis): ToldRecord {
  const { declaration } = placed;
  const statements = recordStatements(placed, view);
  const spec = view.specs.find((each) => each.declaration.name?.text === declaration.of?.owner.text);
  const signed = signedIn(statements);
  const number = statements.find((each) => each.word === 'engine-number');
  const text = (value: Text | undefined): string | undefined => value?.value;
  const { start, end } = placeOf(placed, declaration);
  const inside = (finding: Finding): boolean => finding.start >= start && finding.end <= end;
  return only({
    record: declaration.name?.text ?? '',
    title: text(declaration.title),
    spec: declaration.of?.owner.text,
    specTitle: text(spec?.declaration.title),
    revision: declaration.revision?.value,
    specRevision: spec === undefined ? undefined : revisionOf(spec, view.variant)?.number,
    variant: namesIn(statements, 'variant')[0]?.text,
    engineNumber: number?.kind === 'text' ? number.text.value : undefined,
    customer: textsOf(statements, 'customer')[0],
    run: statements.flatMap((each) =>
      each.kind === 'value' && (each.word === 'distance' || each.word === 'running-hours')
        ? [written(placed, each.value)]
        : [],
    ),
    complaints: textsOf(statements, 'complaint'),
    agreed: statements.flatMap((each) =>
      each.kind === 'agreed' ? [only({ text: each.text.value, on: each.on?.text, by: each.by?.value })] : [],
    ),
    witnessed: statements.flatMap((each) =>
      each.kind === 'witnessed' ? [only({ step: each.step.owner.text, on: each.on?.text, by: each.by?.value })] : [],
    ),
    notWitnessed: notWitnessed(placed, view),
    signed: signed === undefined ? undefined : only({ by: signed.by.value, on: signed.on?.text }),
    steps: stepsOf(placed, view),
    measured: measurementsIn(placed, view).map((judged) => measurement(placed, judged)),
    workedOut: workedOutFrom(placed, view).flatMap(workedOut),
    notMeasured: leftToDo(placed, view).limits.map(({ limit, places }) =>
      only({ limit: limit.name, title: limit.title, places: places.map(placeText) }),
    ),
    unanswered: unanswered(placed, view),
    fitted: statements.flatMap((each) =>
      each.kind === 'record-fitted'
        ? [
            only({
              part: written(placed, each.part),
              size: each.size?.text,
              grade: each.grade?.text,
              text: text(each.text),
            }),
          ]
        : [],
    ),
    found: statements.flatMap((each) =>
      each.kind === 'found'
        ? [only({ part: written(placed, each.part), text: text(each.text), verdict: each.verdict?.word })]
        : [],
    ),
    log: statements.flatMap((each) => {
      if (each.kind !== 'log') return [];
      const { time } = each;
      const clock = time === undefined ? '' : ` ${time.hour}:${String(time.minute).padStart(2, '0')}`;
      const readings = each.readings.map((reading) => written(placed, reading));
      return [
        only({
          on: each.on === undefined ? undefined : `${each.on.text}${clock}`,
          text: [...readings, ...(each.text === undefined ? [] : [each.text.value])].join(', '),
        }),
      ];
    }),
    photos: statements.flatMap((each) =>
      each.kind === 'photo'
        ? [only({ path: each.path.value, of: each.of === undefined ? undefined : written(placed, each.of) })]
        : [],
    ),
    findings: analysis.findings.filter(inside),
  }) as ToldRecord;
}

/** The records of a file, each in the view of its variant. */
export function recordsOf(analysis: Analysis): readonly ToldRecord[] {
  return analysis.file.declarations.flatMap((placed) => {
    if (placed.declaration.word !== 'record') return [];
    const view = viewOf(placed, analysis);
    return view === undefined ? [] : [toldRecord(placed, view, analysis)];
  });
}

/** `within 0.05..0.20 mm`, `at least 2.1 mm`, with the wear limit; empty where there is nothing. */
export function boundsWords({ withinText, wearText }: ToldMeasurement): Told {
  return told`${told.list(
    [
      ...(withinText === undefined ? [] : [withinWords(withinText)]),
      ...(wearText === undefined ? [] : [told`wear limit ${told.term(wearText)}`]),
    ],
    ',',
  )}`;
}

/** `within 0.05..0.20 mm`, `at least 2.1 mm`. */
export function withinWords(text: string): Told {
  const edge = /^at (least|most) (.+)$/.exec(text);
  if (edge === null) return told`within ${text}`;
  return edge[1] === 'least' ? told`at least ${edge[2] ?? ''}` : told`at most ${edge[2] ?? ''}`;
}

/** How a measured value stands, in words. */
export function verdictWords({ verdict, meant, again }: ToldMeasurement): Told {
  if (again) return told`measured again later`;
  switch (verdict) {
    case 'inside':
      return told`inside`;
    case 'worn':
      return told`worn: outside the new range, inside the wear limit`;
    case 'slip':
      return meant === undefined ? told`a slip of the pen?` : told`a slip of the pen? ${meant} would be inside`;
    case 'outside':
      return told`OUTSIDE`;
    case 'wrong-kind':
      return told`of another kind than its limit`;
    default:
      return told`nothing to hold it against`;
  }
}

/** What is told of the measured values under the cursor: of the one, or of all of its line. `start` and `end` are offsets in the file. */
export function measuredAt(
  analysis: Analysis,
  offset: number,
): { readonly lines: readonly Told[]; readonly start: number; readonly end: number } | undefined {
  for (const placed of placedNear(analysis, offset)) {
    if (placed.declaration.word !== 'record') continue;
    const whole = placeOf(placed, placed.declaration);
    if (offset < whole.start || offset > whole.end) continue;
    const view = viewOf(placed, analysis);
    if (view === undefined) return undefined;
    const holds = (span: { readonly start: number; readonly end: number }): boolean => {
      const at = placeOf(placed, span);
      return at.start <= offset && offset <= at.end;
    };
    if (!recordStatements(placed, view).some((each) => each.kind === 'measured' && holds(each))) return undefined;
    const line = measurementsIn(placed, view).filter(({ statement }) => holds(statement));
    const one = line.filter(({ entry, value }) => holds(entry ?? value));
    const [first] = line;
    if (first === undefined) return undefined;
    const { start, end } = placeOf(placed, one[0]?.entry ?? one[0]?.value ?? first.statement);
    const lines = (one.length > 0 ? one : line).map((judged) => {
      const measured = measurement(placed, judged);
      const bounds = boundsWords(measured);
      const value = `${measured.limit}${measured.place === undefined ? '' : ` ${measured.place}`}: ${measured.text}`;
      return bounds.text === ''
        ? told`${value}: ${verdictWords(measured)}`
        : told`${value}, ${bounds}: ${verdictWords(measured)}`;
    });
    return { lines, start, end };
  }
  return undefined;
}
