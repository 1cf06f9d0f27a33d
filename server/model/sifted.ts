// Those of a long list that meet a condition, where the list is much the same from one asking to the next: only what changed since is
// looked at. What an item is must not change while it is in the list; where it stands may.

interface Sifted<item> {
  readonly list: readonly item[];
  readonly found: readonly item[];
  /** The numbers of those found in the list. */
  readonly at: readonly number[];
}

/** Lists of so many files and variants are remembered. */
const MOST = 500;

/** The numbers of what two lists share: at the front, and at the back. */
export function sharedEnds<item>(
  old: readonly item[],
  now: readonly item[],
): { readonly front: number; readonly back: number } {
  const most = Math.min(old.length, now.length);
  let front = 0;
  while (front < most && old[front] === now[front]) front += 1;
  let back = 0;
  while (back < most - front && old[old.length - 1 - back] === now[now.length - 1 - back]) back += 1;
  return { front, back };
}

function siftAgain<item>(
  before: Sifted<item> | undefined,
  list: readonly item[],
  isWanted: (each: item) => boolean,
): Sifted<item> {
  const found: item[] = [];
  const at: number[] = [];
  const { front, back } = before === undefined ? { front: 0, back: 0 } : sharedEnds(before.list, list);
  const take = (each: item, number: number): void => {
    found.push(each);
    at.push(number);
  };
  let next = 0;
  if (before !== undefined)
    for (; (before.at[next] ?? front) < front; next += 1) take(before.found[next] as item, before.at[next] ?? 0);
  for (let number = front; number < list.length - back; number += 1) {
    const each = list[number] as item;
    if (isWanted(each)) take(each, number);
  }
  if (before === undefined) return { list, found, at };
  const behind = before.list.length - back;
  const by = list.length - before.list.length;
  for (; next < before.at.length; next += 1) {
    const number = before.at[next] ?? 0;
    if (number >= behind) take(before.found[next] as item, number + by);
  }
  return { list, found, at };
}

/** Gives those of a list that are wanted, in its order. `key` tells lists apart that follow each other: one for each file and variant. */
export function sifting<item>(
  isWanted: (each: item) => boolean,
): (list: readonly item[], key: string) => readonly item[] {
  const kept = new Map<string, Sifted<item>>();
  return (list, key) => {
    const before = kept.get(key);
    if (before?.list === list) return before.found;
    const now = siftAgain(before, list, isWanted);
    if (before === undefined && kept.size >= MOST) kept.clear();
    kept.set(key, now);
    return now.found;
  };
}
