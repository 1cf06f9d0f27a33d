// The rehearsal told step by step: what each action changes on the engine. What is wrong with it is not told here: see rehearse.ts.
import type { Told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Sequence, Step, View } from '../model/view.ts';
import { type Changes, changesBetween, changeTexts, joined, snapshot } from './changes.ts';
import { doStep, timesOf } from './each-place.ts';
import { type Plan, plansOf, refitsOf } from './plan.ts';
import { begin, beginJob } from './run.ts';
import { type StandsNow, standsNow } from './standing.ts';
import type { State } from './state.ts';

export interface TracedAction {
  readonly statement: Statement;
  /** What is otherwise after it than before, in words. */
  readonly changes: readonly Told[];
}

export interface TracedStep {
  readonly sequence: Sequence;
  readonly step: Step;
  /** How often it is done: once, or once for each of its places. */
  readonly times: number;
  readonly actions: readonly TracedAction[];
  /** How the engine stands when it is done. */
  readonly stands: StandsNow;
}

export interface Trace {
  readonly plan: Plan;
  readonly steps: readonly TracedStep[];
}

const ACTIONS = ['action', 'rotate', 'set', 'confirm', 'run', 'crank', 'wait'];

/** The jobs of a file, or its sequences without one, each carried out step by step. */
export function traces(view: View, file: string): readonly Trace[] {
  const plans = plansOf(view, file);
  const refits = refitsOf(plans);
  return plans.map((plan) => ({ plan, steps: traceOf(beginJob({ view, file, refits }, plan), plan) }));
}

function traceOf(state: State, plan: Plan): readonly TracedStep[] {
  for (const sequence of plan.before) carryOut(state, sequence);
  return plan.sequences.flatMap((sequence) => carryOut(state, sequence));
}

function carryOut(state: State, sequence: Sequence): readonly TracedStep[] {
  begin(state, sequence);
  return sequence.steps.map((step) => {
    const changes = new Map<Statement, Changes[]>();
    let before = snapshot(state);
    doStep(state, step, (statement) => {
      const now = snapshot(state);
      changes.set(statement, [...(changes.get(statement) ?? []), changesBetween(before, now)]);
      before = now;
    });
    const actions = step.statements
      .filter((statement) => ACTIONS.includes(statement.kind))
      .map((statement) => ({ statement, changes: changeTexts(joined(changes.get(statement) ?? []), state) }));
    return { sequence, step, times: timesOf(step, state.view), actions, stands: standsNow(state) };
  });
}
