// What the things of a list say together, by what it is about: which steps fit a part, which fasteners clamp it. Who asks for one key hangs
// on what is said of that key; an edit of one thing goes through what that thing says, and not through what all of them do.
import { type Cell, changed, isNoted, newCell, noteRead } from './questions.ts';
import { sameValue } from './same-value.ts';
import type { View } from './view.ts';
import { type Kept, question } from './view-questions.ts';

/** What a thing says of a key. */
export type Entry<value> = readonly [key: string, value: value];

/** What is said of one key. */
interface Said<value> {
  /** By thing: what it says, in its order. */
  readonly by: Map<unknown, value[]>;
  all: readonly value[];
  cell: Cell | undefined;
}

interface Index<value> {
  items: readonly unknown[];
  places: ReadonlyMap<unknown, number>;
  readonly entries: Map<unknown, readonly Entry<value>[]>;
  readonly said: Map<string, Said<value>>;
}

const NONE: readonly never[] = [];

/** A thing says something else now; `touched` takes the keys that it is about. */
function say<value>(
  { entries, said }: Index<value>,
  item: unknown,
  now: readonly Entry<value>[],
  touched: Set<string>,
): void {
  for (const [key] of entries.get(item) ?? NONE) {
    said.get(key)?.by.delete(item);
    touched.add(key);
  }
  for (const [key, value] of now) {
    let of = said.get(key);
    if (of === undefined) {
      of = { by: new Map(), all: NONE, cell: undefined };
      said.set(key, of);
    }
    const own = of.by.get(item);
    if (own === undefined) of.by.set(item, [value]);
    else own.push(value);
    touched.add(key);
  }
  if (now.length === 0) entries.delete(item);
  else entries.set(item, now);
}

/** Takes the list as it is now, and tells who asked for a key of which something else is said. */
function update<item, value>(
  index: Index<value>,
  items: readonly item[],
  entriesOf: (item: item) => readonly Entry<value>[],
): void {
  const touched = new Set<string>();
  const { said, entries } = index;
  if (items !== index.items) {
    const places = new Map<unknown, number>(items.map((item, i) => [item, i]));
    for (const item of [...entries.keys()]) if (!places.has(item)) say(index, item, NONE, touched);
    // Those that stay may stand in another order.
    for (const [key, { by }] of said) if (by.size > 1) touched.add(key);
    index.items = items;
    index.places = places;
  }
  for (const item of items) {
    const now = entriesOf(item);
    if (now !== (entries.get(item) ?? NONE)) say(index, item, now, touched);
  }
  const placeOf = (item: unknown): number => index.places.get(item) ?? 0;
  for (const key of touched) {
    const of = said.get(key);
    if (of === undefined) continue;
    const all =
      of.by.size > 1
        ? [...of.by].sort(([one], [other]) => placeOf(one) - placeOf(other)).flatMap(([, values]) => values)
        : [...of.by.values()].flat();
    if (!sameValue(of.all, all)) {
      of.all = all;
      if (of.cell !== undefined) changed(of.cell);
    }
    if (of.by.size === 0 && of.cell === undefined) said.delete(key);
  }
}

/**
 * Makes an index over a list of a view. `entriesOf` tells what a thing says, and of what; it is a question. The answer for a key is what
 * all of them say of it, in the order of the list.
 */
export function keyed<item, value>(
  itemsOf: (view: View) => readonly item[],
  entriesOf: (view: View, item: item) => readonly Entry<value>[],
): (view: View, key: string) => readonly value[] {
  const entries = question((view, item: item): readonly Entry<value>[] => {
    const found = entriesOf(view, item);
    return found.length === 0 ? NONE : found;
  });
  const ofFixed = new WeakMap<View, Index<value>>();
  const newIndex = (): Index<value> => ({ items: NONE, places: new Map(), entries: new Map(), said: new Map() });
  // It stays the same object: those who read it are told by key.
  const indexOf = question((view, _all: 'index', kept: Kept<Index<value>> | undefined): Index<value> => {
    const index = kept?.of ?? ofFixed.get(view) ?? newIndex();
    if (kept !== undefined) kept.of = index;
    else if (ofFixed.has(view)) return index;
    else ofFixed.set(view, index);
    update(index, itemsOf(view), (item) => entries(view, item));
    return index;
  });
  return (view, key) => {
    const { said } = indexOf(view, 'index');
    let of = said.get(key);
    if (!isNoted(undefined) || ofFixed.has(view)) return of?.all ?? NONE;
    if (of === undefined) {
      of = { by: new Map(), all: NONE, cell: undefined };
      said.set(key, of);
    }
    if (of.cell === undefined) {
      const { by } = of;
      of.cell = newCell(() => {
        const now = said.get(key);
        if (now?.by !== by) return;
        now.cell = undefined;
        if (by.size === 0) said.delete(key);
      });
    }
    noteRead(of.cell);
    return of.all;
  };
}
