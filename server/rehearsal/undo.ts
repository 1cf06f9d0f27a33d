// What is undone though it was never done: unpinned, connected, unplugged.
import { type Told, told } from '../../grammar/told.ts';
import type { Act } from './act.ts';
import { type State, say } from './state.ts';

/** Nobody knows how an engine stands that other sequences have begun. */
export function isKnown(state: State): boolean {
  return state.plan.begins !== 'unknown' && !state.unsure;
}

/** How something stands that was never done, and what to say where it is done. */
export interface Undone {
  readonly word: string;
  /** `is not pinned`. */
  readonly stands: Told;
  /** `pin`. */
  readonly does: string;
}

/** Says that there is nothing to undo; several of one step are one fault. */
export function sayNothingToUndo(state: State, { word, stands, does }: Undone, name: string, act: Act): void {
  const key = `${act.step.name} ${word}`;
  if (state.saidSteps.has(key) || state.saidSteps.has(act.step.name)) return;
  if (!state.muted) state.saidSteps.add(key);
  say(
    state,
    'sequence/nothing-to-undo',
    act,
    told`${told.named(name)} ${stands} here, so there is nothing to ${word}. Say ${does} ${told.named(name)} where that is done, or take this out.`,
    { missing: true },
  );
}
