// Where something was done in a job.
import type { Told } from '../../grammar/told.ts';
import type { Reference, Span, Statement } from '../../grammar/tree.ts';
import { BY_FIELDS } from '../model/deep-equal.ts';
import type { Step } from '../model/view.ts';
import type { RehearsalFinding } from './rehearsal-finding.ts';

export interface Act {
  readonly step: Step;
  readonly statement: Statement;
  /** The place of the statement among those of the step; -1 where it is none of them. */
  readonly at: number;
  /** The target in the statement, or the statement itself. */
  readonly span: Span;
}

/** An act as it is kept: by its place among the statements of the step and by its place in that, so that what moves in the text is no other. */
interface KeptAct {
  readonly step: Step;
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

const statementOf = ({ step, at }: KeptAct): Statement => step.statements[at] as Statement;

/** Where it stands is looked up when somebody asks: who only knows that something was done hangs on no place in the text. */
const ACT = Object.create(Object.prototype, {
  [BY_FIELDS]: { value: true },
  statement: {
    get(this: KeptAct): Statement {
      return statementOf(this);
    },
  },
  span: {
    get(this: KeptAct): Span {
      const { start } = statementOf(this);
      return { start: start + this.from, end: start + this.to };
    },
  },
}) as object;

/** Something is done by a statement of a step, at a place in it. */
export function actAt(step: Step, statement: Statement, { start, end }: Span): Act {
  const at = step.statements.indexOf(statement);
  if (at < 0) return { step, statement, at, span: { start, end } };
  const act: KeptAct = { step, at, from: start - statement.start, to: end - statement.start };
  return Object.assign(Object.create(ACT) as Act, act);
}

export const targetAct = (step: Step, statement: Statement, reference: Reference): Act =>
  actAt(step, statement, reference);

/** Points at where something was done, if it was in this job. */
export function pointAt(act: Act | undefined, message: Told): RehearsalFinding['related'] {
  return act === undefined ? [] : [{ placed: act.step.placed, span: act.span, message }];
}
