// The work of a job that comes after an action.
import type { Action, Statement } from '../../grammar/tree.ts';
import type { Sequence, Step } from '../model/view.ts';
import type { Act } from './act.ts';
import type { State } from './state.ts';

/**
 * The steps that come after an action, in order. What is done in an install sequence after a run before it was run on a stand is no
 * matter: mounts and exhaust go on in the vehicle.
 */
function stepsAfter({ plan: { sequences } }: State, act: Act): readonly Step[] {
  const at = sequences.findIndex((sequence) => sequence.steps.includes(act.step));
  const own = sequences[at];
  if (own === undefined) return [];
  const isOnStand = (sequence: Sequence): boolean => sequence.phase === 'install';
  const later = sequences.slice(at + 1);
  const stand = later.some(isOnStand) && !sequences.slice(0, at + 1).some(isOnStand);
  return [
    ...own.steps.slice(own.steps.indexOf(act.step) + 1),
    ...later.filter((sequence) => !stand || !isOnStand(sequence)).flatMap((sequence) => sequence.steps),
  ];
}

/** The actions of the step in hand that stand behind this one, and those of the steps after it. */
export function actionsAfter(state: State, act: Act): readonly { readonly step: Step; readonly action: Action }[] {
  const rest = act.step.statements.slice(act.step.statements.indexOf(act.statement) + 1);
  const actions = (step: Step, statements: readonly Statement[]): readonly { step: Step; action: Action }[] =>
    statements.flatMap((action) => (action.kind === 'action' ? [{ step, action }] : []));
  return [...actions(act.step, rest), ...stepsAfter(state, act).flatMap((step) => actions(step, step.statements))];
}

/** Whether an action is done to something of a name. */
export const isOf = ({ targets }: Action, name: string): boolean => targets.some(({ owner }) => owner.text === name);

/** Whether some action that comes after tightens a fastener. */
export function isTightenedAfter(state: State, act: Act, fastener: string): boolean {
  return actionsAfter(state, act).some(({ action }) => action.word === 'tighten' && isOf(action, fastener));
}

/** Whether some action that comes after fits a part. */
export function isFittedAfter(state: State, act: Act, part: string): boolean {
  return actionsAfter(state, act).some(({ action }) => action.word === 'fit' && isOf(action, part));
}

/** The actions that come after one and before the engine is next run. */
export function actionsBeforeRun(state: State, act: Act): readonly Action[] {
  const rest = act.step.statements.slice(act.step.statements.indexOf(act.statement) + 1);
  const all = [...rest, ...stepsAfter(state, act).flatMap((step) => step.statements)];
  const run = all.findIndex((each) => each.kind === 'run');
  return all.slice(0, run < 0 ? undefined : run).filter((each): each is Action => each.kind === 'action');
}

/** Whether the engine is run after an action. */
export function runsAfter(state: State, act: Act): boolean {
  const rest = act.step.statements.slice(act.step.statements.indexOf(act.statement) + 1);
  return [...rest, ...stepsAfter(state, act).flatMap((step) => step.statements)].some((each) => each.kind === 'run');
}

/** Whether one action of a job stands before another. */
export function isBefore({ plan }: State, one: Act, other: Act): boolean {
  if (one.step === other.step) return one.at < other.at;
  const steps = [...plan.before, ...plan.sequences].flatMap((sequence) => sequence.steps);
  return steps.indexOf(one.step) < steps.indexOf(other.step);
}
