// The rehearsal of a job as plain data: each step, what its actions change, and what is found there. How it is shown is decided by
// whoever asks; places are offsets.
import type { Finding } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import type { View } from '../model/view.ts';
import { type Trace, type TracedStep, traces } from '../rehearsal/trace.ts';

export interface ToldAction {
  /** As it is written in the spec, on one line. */
  readonly text: string;
  readonly file: string;
  readonly start: number;
  readonly end: number;
  readonly changes: readonly string[];
  readonly findings: readonly Finding[];
}

export interface ToldStep {
  readonly sequence: string;
  readonly step: string;
  readonly title: string | undefined;
  readonly times: number;
  readonly actions: readonly ToldAction[];
}

export interface ToldJob {
  /** Undefined for the sequences of a file without a job. */
  readonly job: string | undefined;
  readonly title: string | undefined;
  readonly begins: 'whole' | 'bare' | 'unknown';
  readonly steps: readonly ToldStep[];
}

function written(placed: Placed, start: number, end: number): string {
  return placed.section.text.slice(start, end).replace(/\s+/g, ' ').trim();
}

function toldStep({ sequence, step, times, actions }: TracedStep, findings: readonly Finding[]): ToldStep {
  return {
    sequence: sequence.name,
    step: step.name,
    title: step.title,
    times,
    actions: actions.map(({ statement, changes }) => {
      const at = placeOf(step.placed, statement);
      const here = findings.filter(
        (finding) => finding.file === at.file && finding.start >= at.start && finding.start < at.end,
      );
      return { text: written(step.placed, statement.start, statement.end), ...at, changes, findings: here };
    }),
  };
}

function toldJob({ plan, steps }: Trace, findings: readonly Finding[]): ToldJob {
  return {
    job: plan.job?.name,
    title: plan.job?.title,
    begins: plan.begins,
    steps: steps.map((step) => toldStep(step, findings)),
  };
}

/** The jobs of a file told step by step, with the findings that stand at each action; one job alone where it is asked for. */
export function tellRehearsal(
  view: View,
  file: string,
  findings: readonly Finding[],
  job?: string,
): readonly ToldJob[] {
  return traces(view, file)
    .filter(({ plan }) => job === undefined || plan.job?.name === job)
    .map((trace) => toldJob(trace, findings));
}

const BEGINS = { whole: 'a whole engine', bare: 'a bare engine', unknown: 'an engine that other sequences have begun' };

/** A job as text: an action a line, what it changes behind an arrow, what is found there under it. */
export function rehearsalText(told: ToldJob): string {
  const title =
    told.job === undefined ? 'All sequences' : `Job ${told.job}${told.title === undefined ? '' : `, ${told.title}`}`;
  const steps = told.steps.map((step, i) => {
    const times = step.times > 1 ? `, ${step.times} times` : '';
    const lines = step.actions.map(({ text, changes, findings }) => {
      const found = findings.map((finding) => `       ${finding.severity}: ${finding.message} [${finding.code}]\n`);
      return `     ${text}\n${changes.map((change) => `       -> ${change}\n`).join('')}${found.join('')}`;
    });
    return `\n${String(i + 1).padStart(3)}. ${step.sequence}: ${step.title ?? step.step}${times}\n${lines.join('')}`;
  });
  return `${title}, on ${BEGINS[told.begins]}\n${steps.join('')}`;
}
