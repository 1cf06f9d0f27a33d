// "Did you mean": the nearest of some words.
import { sharedEnds } from './shared-ends.ts';

/** Longer words are not compared. */
const LONGEST = 60;

/** Three rows of the table of distances, used again for each pair: this runs over every name of a spec at once. */
const ROWS: readonly number[][] = [0, 1, 2].map(() => new Array<number>(LONGEST + 4).fill(0));

/** Number of single-letter changes and swaps between two words, cut off at `most`. */
function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  // What they share at both ends costs nothing.
  let from = 0;
  const shorter = Math.min(a.length, b.length);
  while (from < shorter && a.charCodeAt(from) === b.charCodeAt(from)) from += 1;
  let [aEnd, bEnd] = [a.length, b.length];
  while (aEnd > from && bEnd > from && a.charCodeAt(aEnd - 1) === b.charCodeAt(bEnd - 1)) {
    aEnd -= 1;
    bEnd -= 1;
  }
  const [height, width] = [aEnd - from, bEnd - from];
  let [before = [], last = [], row = []] = ROWS;
  for (let j = 0; j <= width; j += 1) last[j] = j;
  for (let i = 1; i <= height; i += 1) {
    row[0] = i;
    let least = i;
    const letter = a.charCodeAt(from + i - 1);
    // Only what lies within the cut-off of the diagonal can come out below it.
    const [lowest, highest] = [Math.max(1, i - most), Math.min(width, i + most)];
    if (lowest > 1) row[lowest - 1] = most + 1;
    for (let j = lowest; j <= highest; j += 1) {
      const same = letter === b.charCodeAt(from + j - 1);
      let cost = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      const isSwap =
        i > 1 &&
        j > 1 &&
        letter === b.charCodeAt(from + j - 2) &&
        a.charCodeAt(from + i - 2) === b.charCodeAt(from + j - 1);
      if (isSwap) cost = Math.min(cost, (before[j - 2] ?? 0) + 1);
      row[j] = cost;
      least = Math.min(least, cost);
    }
    if (highest < width) row[highest + 1] = most + 1;
    if (least > most) return most + 1;
    [before, last, row] = [last, row, before];
  }
  return last[width] ?? most + 1;
}

/** Of so many words each is compared. */
const FEW = 150;

/** Of more, those that stand so near to a word in the order of the alphabet, read from the front and from the back. */
const BESIDE = 25;

/** For so many words each is held against all names; for more the names are put in order, which takes as long. Own choice, no source. */
const FEW_LOOKED_UP = 8;

/** Words of which the nearest to many others are looked for. */
export interface Among {
  readonly words: readonly string[];
  /** The places of those that stand so near to a word by alphabet, read from the front and from the back; undefined where each is compared. */
  readonly beside: ((word: string) => ReadonlySet<number>) | undefined;
  /** What was made of the words so far to find those; undefined where each is compared. */
  readonly made: Made | undefined;
  /** What was made last of words before them, where nothing is made of these yet. */
  readonly last: Made | undefined;
  /** The places of the words that have a piece between their hyphens. */
  readonly byPiece: () => ReadonlyMap<string, readonly number[]>;
}

/** What words go by, read from the front and from the back, and their places by alphabet; each as soon as somebody needs it. */
interface Made {
  readonly words: readonly string[];
  keys: readonly (readonly string[])[] | undefined;
  orders: readonly Order[] | undefined;
}

/** Places of words by alphabet. */
type Order = readonly number[];

const SURROGATE = /[\ud800-\udfff]/;

function turned(word: string): string {
  return (SURROGATE.test(word) ? [...word] : word.split('')).reverse().join('');
}

/** Read from the front and from the back. */
const READ: readonly ((word: string) => string)[] = [
  (word) => word.toLowerCase(),
  (word) => turned(word.toLowerCase()),
];

/** Whether a word comes before another by what they go by; of two that are alike, the first. */
const isBefore = (keys: readonly string[], one: number, other: number): boolean => {
  const [own = '', others = ''] = [keys[one], keys[other]];
  return own < others || (own === others && one < other);
};

/** Makes words ready to be looked through often; `before` is what was made of other words, which most often are nearly the same. */
export function among(words: Iterable<string>, before?: Among): Among {
  const all = [...words];
  const byPiece = once(() => placesByPiece(all));
  if (all.length <= FEW) return { words: all, beside: undefined, made: undefined, last: undefined, byPiece };
  const made: Made = { words: all, keys: undefined, orders: undefined };
  const last = before?.made?.keys === undefined ? before?.last : before.made;
  const change = last === undefined ? undefined : changeOf(last.words, all);
  const keysOf = (keyOf: (word: string) => string, i: number): readonly string[] => {
    const keys = last?.keys?.[i];
    if (keys === undefined || change === undefined) return all.map(keyOf);
    return [
      ...keys.slice(0, change.from),
      ...all.slice(change.from, change.now).map(keyOf),
      ...keys.slice(change.before),
    ];
  };
  const orderOf = (keys: readonly string[], i: number): Order => {
    const order = last?.orders?.[i];
    return order === undefined || change === undefined
      ? all.map((_, at) => at).sort((one, other) => (isBefore(keys, one, other) ? -1 : 1))
      : changedOrder(order, change, keys);
  };
  let lookedUp = 0;
  const beside = (word: string): ReadonlySet<number> => {
    lookedUp += 1;
    const keys = made.keys ?? READ.map(keysOf);
    made.keys = keys;
    if (made.orders === undefined && lookedUp > FEW_LOOKED_UP) made.orders = keys.map(orderOf);
    return new Set(
      READ.flatMap((keyOf, i) => {
        const order = made.orders?.[i];
        const own = keys[i] ?? [];
        return order === undefined ? lookedThrough(own, keyOf(word)) : lookedUpIn(order, own, keyOf(word));
      }),
    );
  };
  return { words: all, beside, made, last, byPiece };
}

/** The places of the words that stand beside one in their order. */
function lookedUpIn(order: Order, keys: readonly string[], key: string): readonly number[] {
  let [low, high] = [0, order.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((keys[order[middle] ?? 0] ?? '') < key) low = middle + 1;
    else high = middle;
  }
  return order.slice(Math.max(0, low - BESIDE), low + BESIDE);
}

/** The same of words that are not in order. */
function lookedThrough(keys: readonly string[], key: string): readonly number[] {
  const before: number[] = [];
  const behind: number[] = [];
  const isFirst = (one: number, other: number): boolean => isBefore(keys, one, other);
  const isLast = (one: number, other: number): boolean => isBefore(keys, other, one);
  for (let at = 0; at < keys.length; at += 1)
    if ((keys[at] ?? '') < key) keepNearest(before, at, isLast);
    else keepNearest(behind, at, isFirst);
  return [...before, ...behind];
}

/** Puts a word among the nearest so far, the nearest first, where it is one of them. */
function keepNearest(nearest: number[], own: number, isNearer: (one: number, other: number) => boolean): void {
  const last = nearest[BESIDE - 1];
  if (last !== undefined && isNearer(last, own)) return;
  let place = nearest.length;
  while (place > 0 && isNearer(own, nearest[place - 1] as number)) place -= 1;
  nearest.splice(place, 0, own);
  if (nearest.length > BESIDE) nearest.pop();
}

function once<result>(work: () => result): () => result {
  let done: { readonly result: result } | undefined;
  return () => {
    done ??= { result: work() };
    return done.result;
  };
}

/** The one stretch in which two lists differ: from where, and up to where in each. */
interface Change {
  readonly from: number;
  readonly before: number;
  readonly now: number;
}

/** Words that come and go at once; of more all are put in order anew. */
const MOST_CHANGED = 50;

function changeOf(before: readonly string[], now: readonly string[]): Change | undefined {
  const [from, same] = sharedEnds(before, now);
  const change = { from, before: before.length - same, now: now.length - same };
  return change.before - from + change.now - from > MOST_CHANGED ? undefined : change;
}

/** An order in which one stretch of the words is another. */
function changedOrder(order: Order, { from, before, now }: Change, keys: readonly string[]): Order {
  const shift = now - before;
  const next: number[] = [];
  for (const at of order)
    if (at < from) next.push(at);
    else if (at >= before) next.push(at + shift);
  for (let at = from; at < now; at += 1) {
    const place = next.findIndex((each) => isBefore(keys, at, each));
    next.splice(place < 0 ? next.length : place, 0, at);
  }
  return next;
}

function placesByPiece(words: readonly string[]): ReadonlyMap<string, readonly number[]> {
  const byPiece = new Map<string, number[]>();
  for (const [at, word] of words.entries())
    for (const piece of piecesOf(word)) {
      const known = byPiece.get(piece);
      if (known === undefined) byPiece.set(piece, [at]);
      else known.push(at);
    }
  return byPiece;
}

/** What stands between the hyphens of a name, in small letters, each once. */
function piecesOf(word: string): readonly string[] {
  return word.length > LONGEST ? [] : [...new Set(word.toLowerCase().split(/[-_]/))];
}

/**
 * The name that has the same words in another order (`seal-rear`), or all words of the other and one or two more (`rear-seal` for
 * `crank-rear-seal`, and the other way). Only if there is one such: of two it can't be told which is meant.
 */
function ofSameWords(word: string, names: Iterable<string>): string | undefined {
  const pieces = piecesOf(word);
  if (pieces.length === 0) return undefined;
  const longer: string[] = [];
  for (const name of names) {
    if (name === word) continue;
    const others = piecesOf(name);
    const shared = pieces.filter((piece) => others.includes(piece)).length;
    if (shared === 0 || shared < Math.min(pieces.length, others.length)) continue;
    if (pieces.length === others.length) return name;
    // Of a single word in common little can be told: `bolt` is in many names.
    if (Math.abs(pieces.length - others.length) <= 2) longer.push(name);
    if (longer.length > 1 && pieces.length === 1) return undefined;
  }
  const near = longer.filter((name) => piecesOf(name).length > 1 && pieces.length > 1);
  return near.length === 1 ? near[0] : longer.length === 1 ? longer[0] : undefined;
}

/** The nearest of some names: by its letters, else by the words that it is joined of. */
export function nearestName(word: string, names: Iterable<string>): string | undefined {
  const all = [...names];
  return nearest(word, all) ?? ofSameWords(word, all);
}

/**
 * The nearest among words; of many, only those that begin or end most like the word are compared, as all do that differ in one place, so
 * that many misspelt names among many take no longer than they are many.
 */
export function nearestAmong(word: string, { words, beside, byPiece }: Among): string | undefined {
  if (beside === undefined) return nearestName(word, words);
  if (word.length > LONGEST) return undefined;
  // In the order written: of two that are as near, the first is meant.
  const named = (places: Iterable<number>): readonly string[] =>
    [...places].sort((one, other) => one - other).flatMap((at) => words[at] ?? []);
  const near = nearest(word, named(beside(word)));
  if (near !== undefined) return near;
  // The rarest of its words leads to few names; one that is in too many says nothing.
  const [rarest = []] = piecesOf(word)
    .flatMap((piece) => [byPiece().get(piece) ?? []])
    .filter((places) => places.length > 0)
    .sort((one, other) => one.length - other.length);
  return rarest.length > 2 * BESIDE ? undefined : ofSameWords(word, named(rarest));
}

/** The nearest of `words` to a word, if one is near enough to be meant: a third of its letters at most, three at most. */
export function nearest(word: string, words: Iterable<string>): string | undefined {
  if (word.length > LONGEST) return undefined;
  const small = word.toLowerCase();
  let best: string | undefined;
  let bestDistance = Math.min(3, Math.max(1, Math.ceil(word.length / 3))) + 1;
  for (const candidate of words) {
    const folded = candidate.toLowerCase();
    if (folded === small && candidate !== word) return candidate;
    if (candidate === word) continue;
    const d = distance(small, folded, bestDistance - 1);
    if (d < bestDistance) {
      best = candidate;
      bestDistance = d;
    }
  }
  return best;
}
