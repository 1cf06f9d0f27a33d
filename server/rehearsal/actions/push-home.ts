// Parts that go in part of the way first, and are pushed home later.
import { told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import type { Act } from '../act.ts';
import { type ActionRule, onEach } from '../action-rule.ts';
import { sayLeft } from '../left.ts';
import type { State } from '../state.ts';

export const pushHome: ActionRule = onEach(
  (state, { name }) => {
    state.partWay.delete(name);
  },
  {
    atEnd(state) {
      for (const [name, act] of state.partWay)
        sayLeft(
          state,
          'sequence/not-home',
          act.step.placed,
          act.span,
          told`${told.named(name, 'part')} goes in part-way here and is never pushed home. Say push-home ${told.named(name, 'part')} where it goes the rest of the way.`,
        );
    },
    facts: (state) => [...state.partWay.keys()].map((name) => [`${name}, part-way`, 'part-way'] as const),
  },
);

/** Keeps that a part is not home yet; one that is fitted again without a word about it is. */
export function fittedPartWay(state: State, name: string, { partWay }: Action, act: Act): void {
  if (partWay === undefined) state.partWay.delete(name);
  else state.partWay.set(name, act);
}
