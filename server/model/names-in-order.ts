// The names of a view with their things, in the order in which they are declared. An edit puts a name in and takes one out where it
// stands; the order is made anew when somebody goes through all of them, which few do.
import type { Thing } from './view.ts';

export interface NamesInOrder extends ReadonlyMap<string, Thing> {
  /** Puts a thing under its name, in the place of the one that had it. A new name stands last until it is put in order. */
  put(thing: Thing): void;
  drop(name: string): void;
  /** The name that differs from this one in capitals at most, where there is one. */
  alike(name: string): string | undefined;
  /** Says who gives all things in order from now on, and whether that is another order than before. */
  follow(inOrder: () => Iterable<Thing>, isOther: boolean): void;
}

const foldedNames = new Map<string, string>();

/** A name without capitals. Kept, since every name is asked for again and again. */
export function foldedName(name: string): string {
  let folded = foldedNames.get(name);
  if (folded === undefined) {
    folded = name.toLowerCase();
    if (foldedNames.size > 100_000) foldedNames.clear();
    foldedNames.set(name, folded);
  }
  return folded;
}

/** No names yet. */
export function namesInOrder(): NamesInOrder {
  let things = new Map<string, Thing>();
  const byFolded = new Map<string, string>();
  let inOrder: (() => Iterable<Thing>) | undefined;
  const ordered = (): Map<string, Thing> => {
    if (inOrder === undefined) return things;
    const now = new Map<string, Thing>();
    for (const { name } of inOrder()) {
      const thing = things.get(name);
      if (thing !== undefined) now.set(name, thing);
    }
    inOrder = undefined;
    things = now;
    return now;
  };
  const names: NamesInOrder = {
    get: (name) => things.get(name),
    has: (name) => things.has(name),
    get size() {
      return things.size;
    },
    put(thing) {
      things.set(thing.name, thing);
      byFolded.set(foldedName(thing.name), thing.name);
    },
    drop(name) {
      things.delete(name);
      byFolded.delete(foldedName(name));
    },
    alike: (name) => byFolded.get(foldedName(name)),
    follow(all, isOther) {
      if (isOther || inOrder !== undefined) inOrder = all;
    },
    forEach(tell) {
      for (const [name, thing] of ordered()) tell(thing, name, names);
    },
    entries: () => ordered().entries(),
    keys: () => ordered().keys(),
    values: () => ordered().values(),
    [Symbol.iterator]: () => ordered().entries(),
  };
  return names;
}
