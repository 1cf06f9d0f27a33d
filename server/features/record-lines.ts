// What a record that is being written still lacks, and the lines that go into it: a step that is done, a value that was measured.
import { leftToDo, signedIn, worksIn } from '../checks/record/left-to-do.ts';
import { recordStatements } from '../checks/record/measurements.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace, FixEdit } from '../model/finding.ts';
import { placeText } from '../model/limit-sums.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { namesIn } from '../model/statements.ts';
import type { Step, View } from '../model/view.ts';
import { asWords } from '../pictures/words.ts';
import { dayOf } from './offered-values.ts';

/** A step or a limit that is open, with where it is declared. */
export interface Open {
  readonly name: string;
  readonly title: string | undefined;
  readonly place: FilePlace;
  /** The places of a limit that have no value yet. */
  readonly places: readonly string[];
  /** The bounds of a limit as they are written. */
  readonly within?: string;
}

/** A record of the file that nobody has signed, with what is open in it. */
export interface OpenRecord {
  readonly name: string;
  /** Where it begins. */
  readonly start: number;
  /** Where nothing is done and there are several jobs, the first step of each. */
  readonly steps: readonly Open[];
  /** Whether it can be told which work it is of. */
  readonly isBegun: boolean;
  readonly limits: readonly Open[];
}

function recordsOf(analysis: Analysis): readonly Placed[] {
  return analysis.file.declarations.filter((each) => each.declaration.word === 'record');
}

/** The records of a file that are being written. */
export function openRecords(analysis: Analysis): readonly OpenRecord[] {
  return recordsOf(analysis).flatMap((placed): readonly OpenRecord[] => {
    const { declaration } = placed;
    const said = namesIn(declaration.body?.statements ?? [], 'variant')[0]?.text;
    const view = analysis.views.find((each) => said === undefined || each.variant === said);
    if (view === undefined || declaration.name === undefined) return [];
    if (signedIn(recordStatements(placed, view)) !== undefined) return [];
    const left = leftToDo(placed, view);
    const at = (thing: { readonly placed: Placed; readonly declaration: Placed['declaration'] }): FilePlace =>
      placeOf(thing.placed, thing.declaration.wordSpan);
    return [
      {
        name: declaration.name.text,
        start: placeOf(placed, declaration.wordSpan).start,
        isBegun: left.work.length > 0,
        steps:
          left.work.length > 0
            ? left.steps.map(({ step }) => ({ name: step.name, title: step.title, place: at(step), places: [] }))
            : beginnings(view).map(({ step, job }) => ({
                name: step.name,
                title: `${step.title ?? asWords(step.name)} (${job})`,
                place: at(step),
                places: [],
              })),
        limits: left.limits.map(({ limit, places }) => ({
          name: limit.name,
          title: limit.title,
          place: at(limit),
          places: places.map(placeText),
          ...(limit.within === undefined
            ? {}
            : { within: limit.placed.section.text.slice(limit.within.start, limit.within.end) }),
        })),
      },
    ];
  });
}

/** The first step of each job, each once. */
function beginnings(view: View): readonly { readonly step: Step; readonly job: string }[] {
  const found = new Map<string, { readonly step: Step; readonly job: string }>();
  for (const { plan, steps } of worksIn(view)) {
    const [first] = steps;
    if (first === undefined || found.has(first.step.name)) continue;
    found.set(first.step.name, { step: first.step, job: plan.job?.title ?? plan.job?.name ?? first.sequence.name });
  }
  return [...found.values()];
}

/** The edit that puts a line at the end of a record; undefined where there is no such record, or its braces are not closed. */
function lineInto(analysis: Analysis, record: string, line: string): FixEdit | undefined {
  const placed = recordsOf(analysis).find((each) => each.declaration.name?.text === record);
  const body = placed?.declaration.body;
  if (placed === undefined || body === undefined || placed.section.unclosedBraces.length > 0) return undefined;
  const last = body.statements[body.statements.length - 1];
  const { file, end } = placeOf(placed, last ?? { start: body.start, end: body.start + 1 });
  return { file, start: end, end, text: `\n  ${line}` };
}

/** A step is written as done today. */
export function doneLine(analysis: Analysis, record: string, step: string): FixEdit | undefined {
  return isName(step) ? lineInto(analysis, record, `done ${step} on ${dayOf(new Date())}`) : undefined;
}

/** A measured value is written, as somebody typed it: a figure with its unit, and nothing else. */
export function measuredLine(analysis: Analysis, record: string, limit: string, value: string): FixEdit | undefined {
  const plain = value.trim().replace(/(\d),(\d)/g, '$1.$2');
  if (!isName(limit) || !/^[\p{L} \d:,]*-?\d[\d.]*(?:\.\.-?\d[\d.]*)? ?[\p{L}µ°%./0-9]*$/u.test(plain))
    return undefined;
  return lineInto(analysis, record, `measured ${limit} ${plain} on ${dayOf(new Date())}`);
}

function isName(name: string): boolean {
  return /^\p{L}[\p{L}\p{M}\p{N}]*(?:[-_][\p{L}\p{M}\p{N}]+)*$/u.test(name);
}
