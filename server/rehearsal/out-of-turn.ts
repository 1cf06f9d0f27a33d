// Two kinds of bolts that are drawn in one tightening order: the kind whose turns all come first is tight before the other.
import { type Told, told } from '../../grammar/told.ts';
import type { TighteningOrder } from '../../grammar/tree.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import type { Fastener } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { type Act, pointAt } from './act.ts';
import { type FastenerState, FINAL } from './fastener-state.ts';
import { clampsOn, type State, say } from './state.ts';
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

const ORDERED =
  /\b(before|after) (?:all )?(?:the|those that are) (\p{L}+)(?: ones| nuts| bolts| screws| studs)?(?=[\s,.;:]|$)/giu;

/** What the title and the notes of a fastener say it comes before, or after. */
const saidOrder = question((_view, fastener: Fastener): readonly (readonly [string, string])[] => {
  const notes = fastener.statements.flatMap((each) =>
    each.kind === 'text' && each.word === 'note' ? [each.text?.value ?? ''] : [],
  );
  return [fastener.title ?? '', ...notes].flatMap((text) =>
    [...text.matchAll(ORDERED)].map(
      ([, way, word]) => [(way ?? '').toLowerCase(), (word ?? '').toLowerCase()] as const,
    ),
  );
});

const hasWord = (name: string, word: string): boolean => name.toLowerCase().split(/[-_]/).includes(word);

/** The fasteners of the same joint that come before one, as their titles and notes tell. */
const toldBefore = question((view, fastener: Fastener): readonly string[] => {
  const [clamp] = fastener.clamps;
  if (clamp === undefined) return [];
  return clampsOn(view, clamp.part).filter((name) => {
    const other = view.things.get(name);
    if (other?.kind !== 'fastener' || other === fastener) return false;
    const isNamed = (own: Fastener, by: Fastener, way: string): boolean =>
      saidOrder(view, by).some(([said, word]) => said === way && hasWord(own.name, word) && !hasWord(by.name, word));
    return isNamed(fastener, other, 'before') || isNamed(other, fastener, 'after');
  });
});

/** Says that a bolt comes to its last stage while one of those that come before it is not there yet, and comes to it only later. */
function sayIfBefore(state: State, act: Act, names: readonly string[], message: (first: Fastener) => Told): void {
  for (const each of state.fasteners.among(names)) {
    if (each.fastener.broken || each.stages.every((stage) => stage === FINAL)) continue;
    if (!isTightenedAfter(state, act, each.fastener.name) || state.unsure) continue;
    say(state, 'sequence/out-of-turn', act, message(each.fastener), {
      related: pointAt(each.last, TIGHTENED_SO_FAR),
    });
    return;
  }
}

const TIGHTENED_SO_FAR = told`tightened so far here`;

/** Says that a bolt comes to its last stage while those whose turn is before it are not there yet, by the tightening order or by their titles and notes. */
export function sayIfOutOfTurn(state: State, { fastener }: FastenerState, act: Act): void {
  sayIfBefore(
    state,
    act,
    before(state.view, fastener.name),
    (first) =>
      told`${told.thing(fastener)} comes to its last stage here, and ${told.thing(first)} only after it: in the tightening order all of ${told.thing(first)} have their turn before. Tighten ${told.thing(first)} first.`,
  );
  sayIfBefore(
    state,
    act,
    toldBefore(state.view, fastener),
    (first) =>
      told`${told.thing(fastener)} comes to its last stage here, and ${told.thing(first)} only after it: as it is written of them, ${told.thing(first)} comes first. Tighten ${told.thing(first)} before this.`,
  );
}
