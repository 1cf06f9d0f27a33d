// The names of a view with their things, in the order in which they are declared. An edit puts a name in and takes one out where it
// stands; the order is made anew when somebody goes through all of them, which few do.
import type { Placed, ReadFile } from './placed.ts';
import type { Thing } from './view.ts';

export interface NamesInOrder extends ReadonlyMap<string, Thing> {
  /** Puts a thing under its name, in the place of the one that had it. A new name stands last until it is put in order. */
  put(thing: Thing): void;
  drop(name: string): void;
  /** The name that differs from this one in capitals at most, where there is one. */
  alike(name: string): string | undefined;
  /** Says in which files the things stand now, and whether their order is another than before. */
  follow(files: readonly ReadFile[], isOther: boolean): void;
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

/** Things by name in the order of their places; tables of grades that stand for things of their own come last. */
function inOrderOf(files: readonly ReadFile[], things: ReadonlyMap<string, Thing>): Map<string, Thing> {
  const now = new Map<string, Thing>();
  const tables: Thing[] = [];
  const enter = (placed: Placed): void => {
    const thing = things.get(placed.declaration.name?.text ?? '');
    if (thing?.placed !== placed) return;
    if (thing.kind === 'grades') tables.push(thing);
    else now.set(thing.name, thing);
  };
  for (const file of files) for (const section of file.sections) for (const placed of section.every) enter(placed);
  for (const table of tables) now.set(table.name, table);
  return now;
}

/** No names yet. */
export function namesInOrder(): NamesInOrder {
  let things = new Map<string, Thing>();
  const byFolded = new Map<string, string>();
  /** The files to put the names in order by; none where they are in order. */
  let disordered: readonly ReadFile[] | undefined;
  const ordered = (): Map<string, Thing> => {
    if (disordered !== undefined) things = inOrderOf(disordered, things);
    disordered = undefined;
    return things;
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
    follow(files, isOther) {
      if (isOther || disordered !== undefined) disordered = files;
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
