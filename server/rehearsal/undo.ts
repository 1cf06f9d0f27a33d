// What is undone though it was never done: let go, unpinned, connected, filled while full. And what has to be held back and is not.

import type { Action } from '../../grammar/tree.ts';
import { toNumber } from '../mechanics/exact.ts';
import { measureOf } from '../model/measure.ts';
import { type Act, pointAt } from './act.ts';
import type { PartState } from './part-state.ts';
import { anyOn, type State, say } from './state.ts';

/** Nobody knows how an engine stands that other sequences have begun. */
function isKnown(state: State): boolean {
  return state.plan.begins !== 'unknown' && !state.unsure;
}

/** A part under spring load is let go, and nothing holds it. */
export function sayIfNotHeld(state: State, part: PartState, act: Act): void {
  if (!part.part.heldBack || part.heldBack !== undefined || part.saidNotHeld || !isKnown(state)) return;
  part.saidNotHeld = true;
  if (
    state.ahead.expectedMissing.has(part.part.name) ||
    state.saidMissing.has(part.part.name) ||
    state.saidSteps.has(act.step.name)
  )
    return;
  say(
    state,
    'sequence/not-held-back',
    act,
    `${part.part.name} is let go here, and nothing holds it back: no step before says so. Say hold-back ${part.part.name} before the work that needs it.`,
    { missing: true },
  );
}

/** A chain or belt comes off a whole engine against a tensioner that pushes. A new one may come with its pin in: nothing is said of it. */
export function sayIfTensionerPushes(state: State, name: string, act: Act): void {
  if (state.plan.begins !== 'whole' || !isKnown(state)) return;
  for (const drive of state.drivesOf.get(name)) {
    if (!drive.drive.wraps.some((wrap) => wrap.part === name)) continue;
    for (const tensioner of drive.drive.tensioners) {
      const part = state.parts.get(tensioner);
      if (part === undefined || !part.part.heldBack || part.heldBack !== undefined || part.saidNotHeld) continue;
      if (!anyOn(part) || part.lifted || state.ahead.expectedMissing.has(tensioner)) continue;
      part.saidNotHeld = true;
      say(
        state,
        'sequence/not-held-back',
        act,
        `${name} comes off while ${tensioner} is not held back: it pushes against it. Say hold-back ${tensioner} before this.`,
        { missing: true },
      );
    }
  }
}

/** What undoes what, in words: how it stands where that was never done, and what to say where it is. */
const NEVER: Readonly<Record<string, readonly [stands: string, say: string]>> = {
  unpin: ['is not pinned', 'pin'],
  unplug: ['is not plugged', 'plug'],
  connect: ['was not disconnected', 'disconnect'],
};

/** A pin or plug is taken out that nobody put in, or a lead connected that hangs where it was. */
export function sayIfNothingToUndo(state: State, word: string, name: string, doneBefore: boolean, act: Act): void {
  if (doneBefore || !isKnown(state)) return;
  // What goes on in a job is connected the first time; what was on the engine before has to be off first.
  if (word === 'connect' && (state.plan.begins !== 'whole' || wasMoved(state, name))) return;
  // A whole engine has plugs in it.
  if (word === 'unplug' && state.plan.begins !== 'bare') return;
  const [is, say1] = NEVER[word] ?? ['is as it was', 'so'];
  // Several of one step are one fault.
  const key = `${act.step.name} ${word}`;
  if (state.saidSteps.has(key) || state.saidSteps.has(act.step.name)) return;
  if (!state.muted) state.saidSteps.add(key);
  say(
    state,
    'sequence/nothing-to-undo',
    act,
    `${name} ${is} here, so there is nothing to ${word}. Say ${say1} ${name} where that is done, or take this out.`,
    { missing: true },
  );
}

function wasMoved(state: State, name: string): boolean {
  const part = state.parts.get(name.split('.')[0] ?? '');
  return part?.removedBy !== undefined || (part?.fittedBy.some((by) => by !== undefined) ?? false);
}

function amountOf(action: Action): number | undefined {
  const { amount } = action;
  if (amount === undefined || amount.kind === 'by-place') return undefined;
  const measure = measureOf(amount);
  return measure === undefined ? undefined : toNumber(measure.interval.nominal ?? measure.interval.high);
}

/** What the spec has to say of a place that is filled: the largest charge, and whether any step drains it. */
function toldOf(state: State, name: string): { readonly charge: number; readonly isDrained: boolean } {
  let [charge, isDrained] = [0, false];
  for (const sequence of state.view.sequences)
    for (const step of sequence.steps)
      for (const statement of step.statements) {
        if (statement.kind !== 'action' || (statement.word !== 'fill' && statement.word !== 'drain')) continue;
        if (!statement.targets.some(({ owner }) => owner.text === name)) continue;
        if (statement.word === 'drain') isDrained = true;
        else charge = Math.max(charge, amountOf(statement) ?? 0);
      }
  return { charge, isDrained };
}

/** A whole charge goes in where one is already. Topping up is less than half of it. */
export function fill(state: State, action: Action, name: string, act: Act): void {
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  const key = `${name} ${supply?.kind === 'supply' ? (supply.sort ?? supply.name) : ''}`;
  const before = state.filled.get(key);
  const isFull =
    before === undefined ? state.plan.begins === 'whole' && !state.emptied.has(name) : state.running.hasRun;
  state.filled.set(key, act);
  const amount = amountOf(action);
  if (!isFull || !isKnown(state) || amount === undefined) return;
  const { charge, isDrained } = toldOf(state, name);
  // On a whole engine it may be drained somewhere else than it is filled.
  if ((before === undefined && !isDrained) || amount * 2 < charge) return;
  state.saidFilled.add(name);
  say(
    state,
    'sequence/filled-twice',
    act,
    before === undefined
      ? `${name} is filled here and was never drained in this job: what was in it is in it still. Drain it first.`
      : `${name} is filled here, and was filled in step ${before.step.name} and not drained since. Drain it first, or leave one of the two out.`,
    { related: pointAt(before, 'filled here') },
  );
}

/** Nothing is in it any more. What is drained where nothing was filled in may be anything. */
export function emptied(state: State, name: string, isDrained: boolean): void {
  const own = [...state.filled.keys()].flatMap((key) => (key.startsWith(`${name} `) ? [key] : []));
  for (const key of own) state.filled.delete(key);
  if (isDrained && own.length === 0) state.filled.clear();
  state.emptied.add(name);
}
