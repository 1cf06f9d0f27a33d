// Where something was done in a job.
import type { Told } from '../../grammar/told.ts';
import type { Reference, Span, Statement } from '../../grammar/tree.ts';
import type { Step } from '../model/view.ts';
import type { RehearsalFinding } from './rehearsal-finding.ts';

export interface Act {
  readonly step: Step;
  readonly statement: Statement;
  /** The target in the statement, or the statement itself. */
  readonly span: Span;
}

export function targetAct(step: Step, statement: Statement, reference: Reference): Act {
  return { step, statement, span: { start: reference.start, end: reference.end } };
}

/** Points at where something was done, if it was in this job. */
export function pointAt(act: Act | undefined, message: Told): RehearsalFinding['related'] {
  return act === undefined ? [] : [{ placed: act.step.placed, span: act.span, message }];
}
