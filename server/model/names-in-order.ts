// The names of a view with their things, in the order in which they are declared. An edit puts names in and takes them out where they
// stand; nothing else is touched.
import { apart } from '../../grammar/characters.ts';
import type { Thing } from './view.ts';

export interface NamesInOrder extends ReadonlyMap<string, Thing> {
  /** Puts a thing under its name: in the place of the one that had it, or behind all others. */
  enter(thing: Thing): void;
  /** The name that differs from this one in capitals at most, where there is one. */
  alike(name: string): string | undefined;
  /**
   * Puts things in the place of others, in the order given. `placeOf` tells where one goes among things that are in order.
   * False, and nothing is done, where those that go don't stand one behind the other.
   */
  replace(
    goes: readonly Thing[],
    comes: readonly Thing[],
    placeOf: (thing: Thing, inOrder: readonly Thing[], end: number) => number,
  ): boolean;
}

const foldedNames = new Map<string, string>();

/** A name without capitals. Kept, since every name is asked for again and again. */
export function foldedName(name: string): string {
  let folded = foldedNames.get(name);
  if (folded === undefined) {
    folded = apart(name.toLowerCase());
    if (foldedNames.size > 100_000) foldedNames.clear();
    foldedNames.set(apart(name), folded);
  }
  return folded;
}

/** Tables of grades that stand for things of their own come behind all others, whose places are in order. */
function endOfOrder(all: readonly Thing[]): number {
  let end = all.length;
  while (end > 0 && all[end - 1]?.kind === 'grades') end -= 1;
  return end;
}

/** No names yet. */
export function namesInOrder(): NamesInOrder {
  const things = new Map<string, Thing>();
  const byFolded = new Map<string, string>();
  const all: Thing[] = [];
  const set = (thing: Thing): void => {
    things.set(thing.name, thing);
    byFolded.set(foldedName(thing.name), thing.name);
  };
  function* entries(): Generator<[string, Thing], undefined> {
    for (const thing of all) yield [thing.name, thing];
  }
  function* keys(): Generator<string, undefined> {
    for (const { name } of all) yield name;
  }
  const names: NamesInOrder = {
    get: (name) => things.get(name),
    has: (name) => things.has(name),
    get size() {
      return things.size;
    },
    enter(thing) {
      const before = things.get(thing.name);
      if (before === undefined) all.push(thing);
      else all[all.indexOf(before)] = thing;
      set(thing);
    },
    alike: (name) => byFolded.get(foldedName(name)),
    replace(goes, comes, placeOf) {
      const [first] = goes;
      const [put] = comes;
      const places = goes.map((thing) => all.indexOf(thing));
      if (places.includes(-1)) return false;
      if (goes.length === comes.length) for (const [i, thing] of comes.entries()) all[places[i] ?? 0] = thing;
      else {
        const at = first !== undefined ? (places[0] ?? 0) : put !== undefined ? placeOf(put, all, endOfOrder(all)) : 0;
        if (places.some((place, i) => place !== at + i)) return false;
        all.splice(at, goes.length, ...comes);
      }
      for (const { name } of goes) {
        things.delete(name);
        byFolded.delete(foldedName(name));
      }
      for (const thing of comes) set(thing);
      return true;
    },
    forEach(tell) {
      for (const thing of all) tell(thing, thing.name, names);
    },
    entries,
    keys,
    values: () => all.values(),
    [Symbol.iterator]: entries,
  };
  return names;
}
