// Openings are plugged, and the plugs come out again.
import { type ActionRule, onEach } from '../action-rule.ts';
import { sayLeft } from '../left.ts';
import { isKnown, sayNothingToUndo } from '../undo.ts';

export const plug: ActionRule = onEach(
  (state, { opening, act }) => {
    state.plugged.set(opening, act);
  },
  {
    atEnd(state) {
      for (const [name, act] of state.plugged)
        sayLeft(state, 'sequence/left-open', act.step.placed, act.span, `${name} is plugged here and never unplugged.`);
    },
    facts: (state) => [...state.plugged.keys()].map((name) => [`${name}, plugged`, 'plugged'] as const),
  },
);

export const unplug: ActionRule = onEach((state, { opening, act }) => {
  // A whole engine has plugs in it.
  if (!state.plugged.has(opening) && isKnown(state) && state.plan.begins === 'bare')
    sayNothingToUndo(state, { word: 'unplug', stands: 'is not plugged', does: 'plug' }, opening, act);
  state.plugged.delete(opening);
});
