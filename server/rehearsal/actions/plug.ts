// Openings are plugged, and the plugs come out again.
import { told } from '../../../grammar/told.ts';
import { type Entry, keyed } from '../../model/keyed.ts';
import type { View } from '../../model/view.ts';
import { type Act, pointAt } from '../act.ts';
import { type ActionRule, onEach, type UndoneRule } from '../action-rule.ts';
import { coveredWhere } from '../covers.ts';
import { sayLeft } from '../left.ts';
import { ON, type PartState } from '../part-state.ts';
import { coverOf, type State, say } from '../state.ts';
import { namesIn } from '../things.ts';
import { isKnown, sayNothingToUndo } from '../undo.ts';

export const plug: UndoneRule = onEach(
  (state, { opening, act }) => {
    state.plugged.set(opening, act);
  },
  {
    atEnd(state) {
      for (const [name, act] of state.plugged)
        sayLeft(
          state,
          'sequence/left-open',
          act.step.placed,
          act.span,
          told`${told.named(name)} is plugged here and never unplugged.`,
        );
    },
    standing: (state) => [...state.plugged.keys()],
    facts: (state) =>
      [...state.plugged.keys()].map((name) => [`${name}, plugged`, told`plugged`, told`open again`] as const),
  },
);

/** Says at a run what is plugged still. */
export function sayIfPlugged(state: State, act: Act): void {
  const plugged = [...state.plugged.entries()];
  if (plugged.length === 0 || state.unsure) return;
  for (const [name, by] of plugged) {
    state.plugged.delete(name);
    say(
      state,
      'sequence/left-open',
      act,
      told`The engine is run here, and ${told.named(name)} is plugged since step ${told.thing(by.step)}. Say unplug ${told.named(name)} before it runs.`,
      { related: pointAt(by, told`plugged here`) },
    );
  }
}

export const unplug: ActionRule = onEach((state, { opening, act, name, reference }) => {
  sayIfOpeningCovered(state, name, reference.feature?.text, act);
  // A whole engine has plugs in it.
  if (!state.plugged.has(opening) && isKnown(state) && state.plan.begins === 'bare')
    sayNothingToUndo(state, { word: 'unplug', stands: told`is not plugged`, does: 'plug' }, opening, act);
  state.plugged.delete(opening);
});

/** What an opening is named after, less the word for a hole: what goes over `filter-port` has a filter in its name. */
const HOLES = new Set([
  'port',
  'ports',
  'hole',
  'opening',
  'bore',
  'drilling',
  'gallery',
  'passage',
  'face',
  'inlet',
  'outlet',
  'oil',
  'water',
]);
const PORTS = /^(inlet|intake|exhaust)?-?ports?$/i;

const wordsOf = (name: string): readonly string[] => [...new Set(name.toLowerCase().split(/[-_]/))];

/** By a word of their names: the parts, in the order written. */
const partsWithWord = keyed(
  (view) => namesIn(view, 'parts'),
  (_view, name) => wordsOf(name).map((word): Entry<string> => [word, name]),
);

/** What goes over an opening by what it is called: a filter over its port, a manifold over the ports. Common practice, no source. */
function namedAfter(view: View, feature: string): readonly string[] {
  const words = PORTS.test(feature) ? ['manifold'] : wordsOf(feature).filter((word) => !HOLES.has(word));
  const [first, ...others] = words.map((word) => partsWithWord(view, word));
  return (first ?? []).filter((name) => others.every((names) => names.includes(name)));
}

/** The part that is on over an opening. */
function overOpening(state: State, name: string, feature: string): PartState | undefined {
  return state.parts
    .among(namedAfter(state.view, feature))
    .find((each) => each.mate === name && !each.lifted && each.on.every((at) => at === ON));
}

/** Says that a plug can't come out any more: something is on over the opening. */
function sayIfOpeningCovered(state: State, name: string, feature: string | undefined, act: Act): void {
  if (feature === undefined) return;
  const cover = coverOf(state, name, feature) ?? overOpening(state, name, feature);
  const by = cover?.fittedBy.find((each) => each !== undefined);
  if (cover === undefined || by === undefined || state.unsure) return;
  cover.lifted = true;
  say(
    state,
    'sequence/covered',
    act,
    told`${told.named(name)}.${feature} can no longer be reached to take the plug out: ${coveredWhere(cover)} and is over it. Say unplug ${told.named(name)}.${feature} before ${told.thing(cover.part)} goes on.`,
    { related: pointAt(by, told`${told.thing(cover.part)} goes on here`) },
  );
}
