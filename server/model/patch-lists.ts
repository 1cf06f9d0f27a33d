// The lists of a view after an edit: in each, the things that went give way to those that came, where they stand. Lists that the edit
// leaves as they are stay the same object.
import type { BuiltView } from './build-view.ts';
import type { ReadFile } from './placed.ts';
import { sharedEnds } from './sifted.ts';
import { LIST_OF, type Thing } from './view.ts';

/** A stretch of a file: the things that it declared, and those that it declares. */
export interface Stretch {
  readonly goes: readonly Thing[];
  readonly comes: readonly Thing[];
}

type ListName = (typeof LIST_OF)[Exclude<Thing['kind'], 'grades'>];

type Lists = Partial<Pick<BuiltView, ListName>>;

/** Where a thing of a file goes in a list, which up to its `end` is in the order of the files and of the places in them. */
export type PlaceIn = (thing: Thing, list: readonly Thing[], end: number) => number;

/** Tells where things go in lists that are in the order of these files. */
export function placingIn(files: readonly ReadFile[]): PlaceIn {
  const numbers = new Map(files.map(({ file }, number) => [file, number]));
  const fileOf = (thing: Thing): number => numbers.get(thing.placed.file) ?? 0;
  return (thing, list, end) => placeIn(thing, list, end, fileOf);
}

function placeIn(thing: Thing, list: readonly Thing[], end: number, fileOf: (thing: Thing) => number): number {
  const { start } = thing.placed.section;
  const file = fileOf(thing);
  let [low, high] = [0, end];
  while (low < high) {
    const middle = (low + high) >> 1;
    const other = list[middle];
    const there = other === undefined ? 0 : fileOf(other);
    if (there < file || (there === file && (other?.placed.section.start ?? 0) < start)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A list with some things in the place of others; undefined where those are not in it, one behind the other. */
function patched(
  list: readonly Thing[],
  goes: readonly Thing[],
  comes: readonly Thing[],
  placeOf: PlaceIn,
): readonly Thing[] | undefined {
  const [first] = goes;
  const [put] = comes;
  if (goes.length === comes.length) {
    const now = list.slice();
    for (const [i, thing] of goes.entries()) {
      const at = list.indexOf(thing);
      const there = comes[i];
      if (at < 0 || there === undefined) return undefined;
      now[at] = there;
    }
    return now;
  }
  const at = first !== undefined ? list.indexOf(first) : put !== undefined ? placeOf(put, list, list.length) : 0;
  if (at < 0 || goes.some((thing, i) => list[at + i] !== thing)) return undefined;
  return list.slice(0, at).concat(comes, list.slice(at + goes.length));
}

/** The lists that the stretches change; undefined where the view has to be built anew. */
export function patchedLists(before: BuiltView, stretches: readonly Stretch[], placeOf: PlaceIn): Lists | undefined {
  const lists: Record<string, readonly Thing[]> = {};
  for (const { goes, comes } of stretches) {
    for (const kind of new Set([...goes, ...comes].map((thing) => thing.kind))) {
      if (kind === 'grades') return undefined;
      const isOfKind = (thing: Thing): boolean => thing.kind === kind;
      const [old, now] = [goes.filter(isOfKind), comes.filter(isOfKind)];
      const { front, back } = sharedEnds(old, now);
      const [left, right] = [old.slice(front, old.length - back), now.slice(front, now.length - back)];
      if (left.length === 0 && right.length === 0) continue;
      const made = patched(lists[LIST_OF[kind]] ?? before[LIST_OF[kind]], left, right, placeOf);
      if (made === undefined) return undefined;
      lists[LIST_OF[kind]] = made;
    }
  }
  return lists as Lists;
}
