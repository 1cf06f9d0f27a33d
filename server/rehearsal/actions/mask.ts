// Faces and holes are masked for blasting, honing or paint, and the masking comes off again before anything goes on there.
import { type Told, told } from '../../../grammar/told.ts';
import { type Act, pointAt } from '../act.ts';
import { type ActionRule, onEach, type UndoneRule } from '../action-rule.ts';
import { sayLeft } from '../left.ts';
import { type State, say } from '../state.ts';
import { isKnown, sayNothingToUndo } from '../undo.ts';

export const mask: UndoneRule = onEach(
  (state, { opening, act }) => {
    state.masked.set(opening, act);
  },
  {
    atEnd(state) {
      for (const [name, act] of state.masked)
        sayLeft(
          state,
          'sequence/still-masked',
          act.step.placed,
          act.span,
          told`${told.named(name)} is masked here and never unmasked.`,
        );
    },
    standing: (state) => [...state.masked.keys()],
    facts: (state) =>
      [...state.masked.keys()].map((name) => [`${name}, masked`, told`masked`, told`bare again`] as const),
  },
);

export const unmask: ActionRule = onEach((state, { opening, name, reference, act }) => {
  // The whole part: all that is masked of it.
  const under = [...state.masked.keys()].filter(
    (each) => each === opening || (reference.feature === undefined && each.startsWith(`${name}.`)),
  );
  if (under.length === 0 && isKnown(state) && state.plan.begins === 'bare')
    sayNothingToUndo(state, { word: 'unmask', stands: told`is not masked`, does: 'mask' }, opening, act);
  for (const each of under) state.masked.delete(each);
});

/** Says that something goes on, or the engine runs, while faces of these parts are masked; without parts, of any. */
export function sayIfMasked(
  state: State,
  parts: readonly (string | undefined)[] | undefined,
  act: Act,
  doing: Told,
): void {
  const under = [...state.masked].find(
    ([opening]) => parts === undefined || parts.some((part) => opening === part || opening.startsWith(`${part}.`)),
  );
  if (under === undefined || state.unsure) return;
  const [opening, by] = under;
  say(
    state,
    'sequence/still-masked',
    act,
    told`${doing} while ${told.named(opening)} is masked since step ${told.thing(by.step)}. Say unmask ${told.named(opening)} before that, and clean it: tape and glue seal nothing and end up in the oil.`,
    { related: pointAt(by, told`masked here`) },
  );
  state.masked.delete(opening);
}
