// Two kinds of bolts that are drawn in one tightening order: the kind whose turns all come first is tight before the other.
import { told } from '../../grammar/told.ts';
import type { TighteningOrder } from '../../grammar/tree.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import type { Fastener } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { type Act, pointAt } from './act.ts';
import { type FastenerState, FINAL } from './fastener-state.ts';
import { type State, say } from './state.ts';
import { isTightenedAfter } from './to-come.ts';

interface Kind {
  readonly name: string;
  readonly turns: readonly number[];
}

/** The kinds of one drawing with their turns. */
function kindsIn(own: string, order: TighteningOrder): readonly Kind[] {
  const others = (order.with ?? []).map(({ fastener, turns }) => ({
    name: fastener.text,
    turns: turns.map(({ value }) => value),
  }));
  const taken = new Set(others.flatMap(({ turns }) => turns));
  const turns = order.rows.flatMap((row) => row.map(({ value }) => value)).filter((value) => !taken.has(value));
  return [{ name: own, turns }, ...others];
}

/** The kinds of the drawing that a fastener has for all its stages; none where it is drawn alone. */
const drawnIn = question((_view, fastener: Fastener): readonly Kind[] => {
  const order = fastener.statements.find(
    (each): each is TighteningOrder => each.kind === 'tightening-order' && each.stage === undefined,
  );
  return order?.with === undefined || order.with.length === 0 ? [] : kindsIn(fastener.name, order);
});

/** The fasteners in whose drawings one is. */
const drawnWith = keyed(
  (view) => view.fasteners,
  (view, fastener): readonly Entry<Fastener>[] =>
    [...new Set(drawnIn(view, fastener).map(({ name }) => name))].map((name) => [name, fastener]),
);

/** The kinds that come wholly before one in a drawing that both are in. */
const before = question((view, name: string): readonly string[] =>
  drawnWith(view, name).flatMap((fastener) => {
    const kinds = drawnIn(view, fastener);
    const own = kinds.find((kind) => kind.name === name);
    if (own === undefined || own.turns.length === 0) return [];
    const first = Math.min(...own.turns);
    return kinds.flatMap((kind) =>
      kind !== own && kind.turns.length > 0 && Math.max(...kind.turns) < first ? [kind.name] : [],
    );
  }),
);

/** Says that a bolt comes to its last stage while those whose turn is before it are not there yet. */
export function sayIfOutOfTurn(state: State, { fastener }: FastenerState, act: Act): void {
  for (const each of state.fasteners.among(before(state.view, fastener.name))) {
    if (each.fastener.broken || each.stages.every((stage) => stage === FINAL)) continue;
    if (!isTightenedAfter(state, act, each.fastener.name) || state.unsure) continue;
    say(
      state,
      'sequence/out-of-turn',
      act,
      told`${told.thing(fastener)} comes to its last stage here, and ${told.thing(each.fastener)} only after it: in the tightening order all of ${told.thing(each.fastener)} have their turn before. Tighten ${told.thing(each.fastener)} first.`,
      { related: pointAt(each.last, told`tightened so far here`) },
    );
    return;
  }
}
