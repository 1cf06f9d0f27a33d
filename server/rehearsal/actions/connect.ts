// Leads, hoses and linkages are disconnected, and connected again.

import { told } from '../../../grammar/told.ts';
import { type ActionRule, onEach, type UndoneRule } from '../action-rule.ts';
import { sayLeft } from '../left.ts';
import { ASSUMED, filled } from '../part-state.ts';
import { anyOn, type State } from '../state.ts';
import { isKnown, sayNothingToUndo } from '../undo.ts';

export const disconnect: UndoneRule = onEach(
  (state, { opening, act }) => {
    state.disconnected.set(opening, act);
  },
  {
    atEnd(state) {
      for (const [name, act] of state.disconnected)
        sayLeft(
          state,
          'sequence/left-open',
          act.step.placed,
          act.span,
          told`${told.named(name)} is disconnected here and never connected again.`,
        );
    },
    standing: (state) => [...state.disconnected.keys()],
    facts: (state) =>
      [...state.disconnected.keys()].map(
        (name) => [`${name}, disconnected`, told`disconnected`, told`connected`] as const,
      ),
  },
);

export const connect: ActionRule = onEach((state, { opening, part, fastener, act }) => {
  // What is only connected goes on so.
  if (part !== undefined && state.ahead.connected.has(part.part.name) && !anyOn(part))
    part.on = filled(part.on.length, ASSUMED);
  // What goes on in a job is connected the first time; what was on the engine before has to be off first.
  const isOff = state.disconnected.has(opening) || state.plan.begins !== 'whole' || wasMoved(state, opening);
  if (!isOff && fastener === undefined && isKnown(state))
    sayNothingToUndo(state, { word: 'connect', stands: told`was not disconnected`, does: 'disconnect' }, opening, act);
  state.disconnected.delete(opening);
});

function wasMoved(state: State, name: string): boolean {
  const part = state.parts.get(name.split('.')[0] ?? '');
  return part?.removedBy !== undefined || (part?.fittedBy.some((by) => by !== undefined) ?? false);
}
