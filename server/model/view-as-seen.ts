// A view as checks and the rehearsal are given it: who looks a name up, goes through a list or asks for a flag is tracked, and asked again when
// that is another.
import type { BuiltView } from './build-view.ts';
import { allIn } from './changed-declarations.ts';
import { noteDiffering } from './questions.ts';
import type { Standing } from './recorded.ts';
import { type Flag, type ListName, THING_LISTS } from './recorded-together.ts';
import type { Thing } from './view.ts';
import type { ViewState } from './view-state.ts';

/** Who asks something of the view, and of no question in hand, looks at its variant from here on. */
const looked = ({ together, at }: ViewState): void => together.looksAt(at);

function seenList(state: ViewState, list: ListName): readonly unknown[] {
  looked(state);
  state.together.noteList(list);
  const { seenLists } = state;
  let seen = seenLists.get(list);
  if (seen === undefined) {
    const asPlaced = list === 'specs' || list === 'engines';
    seen = state.lists[list].flatMap((each) => (asPlaced ? each.asPlaced : (each.asThing ?? [])));
    seenLists.set(list, seen);
  }
  return seen;
}

/** Goes through all that stand, in order. */
function eachStanding({ files, standings }: ViewState, look: (standing: Standing) => void): void {
  for (const { sections } of files)
    for (const section of sections)
      for (const placed of allIn(section)) {
        const standing = standings.get(placed);
        if (standing !== undefined) look(standing);
      }
}

/** Those that have names, in order. Tables of grades that stand for a thing of their own come last. */
function inOrder(state: ViewState): readonly Standing[] {
  const { names, duplicates } = state;
  // A name that is declared twice stands where it was declared first: such a view was built anew, and its names stand in order.
  if (state.namedInOrder === undefined && duplicates.length > 0) state.namedInOrder = [...names.values()];
  if (state.namedInOrder === undefined) {
    const now: Standing[] = [];
    const tables: Standing[] = [];
    eachStanding(state, (standing) => {
      const { thing } = standing;
      if (thing !== undefined && names.get(thing.name) === standing)
        (thing.kind === 'grades' ? tables : now).push(standing);
    });
    for (const standing of tables) now.push(standing);
    state.namedInOrder = now;
  }
  return state.namedInOrder;
}

/** All that is named, in order, tracked as looked through. */
function allNamed(state: ViewState): readonly Standing[] {
  looked(state);
  state.together.noteAll();
  return inOrder(state);
}

function* entriesOf(state: ViewState): Generator<[string, Thing], undefined> {
  for (const { thing, asThing } of allNamed(state))
    if (thing !== undefined && asThing !== undefined) yield [thing.name, asThing];
}

/** All things by name. */
function thingsOf(state: ViewState): ReadonlyMap<string, Thing> {
  const { together } = state;
  const entries = (): Generator<[string, Thing], undefined> => entriesOf(state);
  const things: ReadonlyMap<string, Thing> = {
    get(name) {
      looked(state);
      together.noteName(name);
      return state.names.get(name)?.asThing;
    },
    has(name) {
      looked(state);
      together.noteName(name);
      return state.names.has(name);
    },
    get size() {
      looked(state);
      together.noteAll();
      return state.names.size;
    },
    forEach(each) {
      for (const [name, thing] of entries()) each(thing, name, things);
    },
    entries,
    keys: () =>
      allNamed(state)
        .flatMap(({ thing }) => thing?.name ?? [])
        .values(),
    values: () =>
      allNamed(state)
        .flatMap(({ asThing }) => asThing ?? [])
        .values(),
    [Symbol.iterator]: entries,
  };
  return things;
}

/** The view, for as long as its state is brought up to date. */
export function viewOf(state: ViewState): BuiltView {
  const { together } = state;
  const flagged = (flag: Flag, read: () => unknown): PropertyDescriptor => ({
    enumerable: true,
    get() {
      looked(state);
      together.noteFlag(flag);
      return read();
    },
  });
  const lists = [...THING_LISTS, 'specs' as const, 'engines' as const].map(
    (list): readonly [string, PropertyDescriptor] => [list, { enumerable: true, get: () => seenList(state, list) }],
  );
  return Object.defineProperties({} as BuiltView, {
    variant: {
      enumerable: true,
      get() {
        looked(state);
        if (!together.isOne) noteDiffering();
        return state.variant;
      },
    },
    things: { enumerable: true, value: thingsOf(state) },
    engine: flagged('engine', () => state.lists.engines[0]?.asEngine),
    duplicates: flagged('duplicates', () =>
      state.duplicates.map(({ first: one, second }) => ({
        first: state.standings.get(one)?.asPlaced ?? one,
        second: state.standings.get(second)?.asPlaced ?? second,
      })),
    ),
    draft: flagged('draft', () => state.draft),
    incomplete: flagged('incomplete', () => state.incomplete),
    perhaps: flagged('perhaps', () => state.perhaps),
    ...Object.fromEntries(lists),
  });
}
