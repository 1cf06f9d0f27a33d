// The work of the job that a finding is about, statement by statement, and how lines are put in among it. Which lines are wanted is in
// missing-work.ts.
import type { Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace, Finding, QuickFix } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import type { Sequence, Step, View } from '../model/view.ts';
import { plansOf } from '../rehearsal/plan.ts';
import { buildingSequences } from './reach.ts';

/** One statement of the job, in the order of the work. */
export interface Work {
  readonly sequence: Sequence;
  readonly step: Step;
  readonly statement: Statement;
}

/** What an answer is worked out from. */
export interface Job {
  readonly view: View;
  readonly file: string;
  readonly text: string;
  readonly works: readonly Work[];
  readonly sequences: readonly Sequence[];
}

/** Where a finding says that work was done: itself, or what it points at. */
function placesOf(finding: Finding): readonly FilePlace[] {
  return [finding, ...finding.related];
}

function holds(step: Step, place: FilePlace): boolean {
  const whole = placeOf(step.placed, step.declaration);
  return whole.file === place.file && whole.start <= place.start && place.end <= whole.end;
}

/** The sequences of the job that a finding is about: that of the work that it stands at, or else the one on a bare engine. */
function sequencesOf(view: View, file: string, finding: Finding): readonly Sequence[] {
  const plans = plansOf(view, file);
  for (const place of placesOf(finding)) {
    const plan = plans.find(({ sequences }) =>
      sequences.some((sequence) => sequence.steps.some((step) => holds(step, place))),
    );
    if (plan !== undefined) return plan.sequences;
  }
  return buildingSequences(view, file);
}

export function jobOf(analysis: Analysis, finding: Finding): Job | undefined {
  const { file, text } = analysis.file;
  const wanted = finding.variants?.[0];
  const view = analysis.views.find((each) => wanted === undefined || each.variant === wanted);
  if (view === undefined) return undefined;
  const sequences = sequencesOf(view, file, finding).filter(
    (sequence) => sequence.placed.file === file && sequence.placed.origin === undefined,
  );
  const works = sequences.flatMap((sequence) =>
    sequence.steps
      .filter((step) => !step.trial && step.placed.origin === undefined)
      .flatMap((step) => step.statements.map((statement) => ({ sequence, step, statement }))),
  );
  return { view, file, text, works, sequences };
}

/** The names that an action works on; none for any other statement. */
export function targetsOf({ statement }: Work, ...words: readonly string[]): readonly string[] {
  if (statement.kind === 'action')
    return words.includes(statement.word) ? statement.targets.map((target) => target.owner.text) : [];
  if (statement.kind === 'confirm') return words.includes('confirm') ? [statement.target.owner.text] : [];
  return [];
}

export function does(work: Work, names: readonly string[], ...words: readonly string[]): boolean {
  return targetsOf(work, ...words).some((name) => names.includes(name));
}

export function mateOf({ statement }: Work): string | undefined {
  return statement.kind === 'action' && statement.word === 'fit' ? statement.mate?.reference.owner.text : undefined;
}

export const lastOf = (job: Job, is: (work: Work) => boolean): Work | undefined => job.works.findLast(is);

/** Lines behind a statement, and behind the comment on its line. */
export function linesAfter(job: Job, work: Work, lines: readonly string[]): QuickFix['edits'] {
  const { file, end } = placeOf(work.step.placed, work.statement);
  const comment = /^[ \t]*#[^\r\n]*/.exec(job.text.slice(end))?.[0] ?? '';
  const at = end + comment.length;
  return [{ file, start: at, end: at, text: lines.map((line) => `\n    ${line}`).join('') }];
}

export function linesBefore(work: Work, lines: readonly string[]): QuickFix['edits'] {
  const { file, start } = placeOf(work.step.placed, work.statement);
  return [{ file, start, end: start, text: lines.map((line) => `${line}\n    `).join('') }];
}

export function isAt(work: Work, { file, start, end }: FilePlace): boolean {
  const place = placeOf(work.step.placed, work.statement);
  return place.file === file && place.start <= start && end <= place.end;
}

/** The work that a finding stands at. */
export function workAt(job: Job, finding: Finding): Work | undefined {
  return job.works.find((work) => isAt(work, finding));
}
