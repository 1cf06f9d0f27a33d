// What the things of a list say together, by what it is about: which steps fit a part, which fasteners clamp it. Who asks for one key hangs
// on what is said of that key, and on nothing else; an edit of one thing goes through what that thing says, and not through what all of them
// do. The index of a view with a cache is brought up to date with the view, before anything is asked of it.
import { sharedEnds } from '../../grammar/shared-ends.ts';
import { deepEqual } from './deep-equal.ts';
import {
  ask,
  type Cell,
  differsIn,
  dispose,
  invalidate,
  isForAll,
  isTracking,
  newCell,
  newQuestion,
  noteDiffering,
  type Question,
  track,
  untracked,
} from './questions.ts';
import type { View } from './view.ts';
import { type Attached, attachedTo, lookIn } from './view-questions.ts';

/** What a thing says of a key. */
export type Entry<value> = readonly [key: string, value: value];

/** What is said of one key. */
interface Said<value> {
  /** By thing: what it says, in its order. */
  readonly by: Map<unknown, value[]>;
  all: readonly value[];
}

/** Who asked for a key; of the indexes of all variants together. */
type Cells = Map<string, Cell>;

/** The things that came to a list, and those that went. */
interface Moved<item> {
  readonly came: readonly item[];
  readonly went: readonly item[];
}

/** The least way between the numbers of two things of a list. */
const LEAST_STEP = 2 ** -20;

const NONE: readonly never[] = [];

/** All that is said, by key. */
class Index<item, value> {
  private items: readonly item[] = NONE;
  /** Numbers that rise with the places of the things in the list. */
  private places = new Map<item, number>();
  private readonly entries = new Map<item, readonly Entry<value>[]>();
  private readonly said = new Map<string, Said<value>>();
  private readonly touched = new Set<string>();
  private readonly cells: Cells;

  constructor(cells: Cells) {
    this.cells = cells;
  }

  /** Takes the list as it is now: which came and which went. */
  list(items: readonly item[]): Moved<item> {
    const moved = this.takeStretch(items) ?? this.takeWhole(items);
    for (const item of moved.went) this.say(item, NONE);
    this.items = items;
    return moved;
  }

  /** Takes a list of which one stretch is another than before; undefined for any other. Nothing is done for the things round it. */
  private takeStretch(items: readonly item[]): Moved<item> | undefined {
    const { items: before, places } = this;
    // Where something stands there twice.
    if (places.size !== before.length) return undefined;
    const [from, same] = sharedEnds(before, items);
    if (from + same === 0) return undefined;
    const went = before.slice(from, before.length - same);
    const came = items.slice(from, items.length - same);
    if (new Set(came).size < came.length || came.some((item) => places.has(item))) return undefined;
    const room = came.length + 1;
    const ahead = from === 0 ? undefined : places.get(before[from - 1] as item);
    const behind = same === 0 ? undefined : places.get(before[before.length - same] as item);
    const low = ahead ?? (behind ?? 0) - room;
    const step = ((behind ?? low + room) - low) / room;
    // What is put in between again and again finds no number there in the end.
    if (step < LEAST_STEP) return undefined;
    for (const item of went) places.delete(item);
    for (const [i, item] of came.entries()) places.set(item, low + step * (i + 1));
    return { came, went };
  }

  private takeWhole(items: readonly item[]): Moved<item> {
    const before = this.places;
    const places = new Map<item, number>();
    const came: item[] = [];
    let last = Number.NEGATIVE_INFINITY;
    let isInOrder = true;
    for (const item of items) {
      places.set(item, places.size);
      const place = before.get(item);
      if (place === undefined) came.push(item);
      else {
        isInOrder &&= place > last;
        last = place;
      }
    }
    const went = this.items.filter((item) => !places.has(item));
    if (!isInOrder) for (const [key, { by }] of this.said) if (by.size > 1) this.touched.add(key);
    this.places = places;
    return { came, went };
  }

  /** A thing says something else now. */
  say(item: item, now: readonly Entry<value>[]): void {
    const { entries, touched } = this;
    const before = entries.get(item) ?? NONE;
    if (before === now) return;
    for (const [key] of before) {
      this.said.get(key)?.by.delete(item);
      touched.add(key);
    }
    for (const [key, value] of now) {
      const { by } = this.of(key);
      const own = by.get(item);
      if (own === undefined) by.set(item, [value]);
      else own.push(value);
      touched.add(key);
    }
    if (now.length === 0) entries.delete(item);
    else entries.set(item, now);
  }

  /** Tells who asked for a key of which something else is said. */
  tell(): void {
    const placeOf = (item: unknown): number => this.places.get(item as item) ?? 0;
    for (const key of this.touched) {
      const of = this.said.get(key);
      if (of === undefined) continue;
      const all =
        of.by.size > 1
          ? [...of.by].sort(([one], [other]) => placeOf(one) - placeOf(other)).flatMap(([, values]) => values)
          : [...of.by.values()].flat();
      if (!deepEqual(of.all, all)) {
        of.all = all;
        const cell = this.cells.get(key);
        if (cell !== undefined) invalidate(cell);
      }
      if (of.by.size === 0) this.said.delete(key);
    }
    this.touched.clear();
  }

  /** Tells all who asked, whatever is said. */
  tellAll(): void {
    for (const cell of this.cells.values()) invalidate(cell);
  }

  get(key: string): readonly value[] {
    return this.said.get(key)?.all ?? NONE;
  }

  /** The same, tracked for the question in hand. */
  read(key: string): readonly value[] {
    const { cells } = this;
    let cell = cells.get(key);
    if (cell === undefined) {
      cell = newCell(() => {
        if (cells.get(key) === cell) cells.delete(key);
      });
      cells.set(key, cell);
    }
    track(cell);
    return this.get(key);
  }

  private of(key: string): Said<value> {
    let of = this.said.get(key);
    if (of === undefined) {
      of = { by: new Map(), all: NONE };
      this.said.set(key, of);
    }
    return of;
  }
}

/** An index that is attached to a view over all its edits. */
class AttachedIndex<item, value> implements Attached {
  readonly index: Index<item, value>;
  differs = false;
  private readonly cells: Cells;
  private readonly list: Question<readonly item[]>;
  private readonly asked = new Map<item, Question<readonly Entry<value>[]>>();
  /** Things that may say something else. */
  private readonly due = new Set<item>();
  private isListDue = true;
  private readonly entriesOf: (item: item) => readonly Entry<value>[];
  private readonly onStale: () => void;
  /** The index of the first variant, where this is another's. */
  private readonly first: AttachedIndex<item, value> | undefined;

  constructor(
    itemsOf: () => readonly item[],
    entriesOf: (item: item) => readonly Entry<value>[],
    onStale: (attached: AttachedIndex<item, value>) => void,
    first: AttachedIndex<item, value> | undefined,
  ) {
    this.first = first;
    this.cells = first?.cells ?? new Map();
    this.index = new Index(this.cells);
    this.entriesOf = entriesOf;
    this.onStale = () => onStale(this);
    const listIsStale = (): void => {
      this.isListDue = true;
      this.onStale();
    };
    this.list = newQuestion(itemsOf, (before, now) => before === now, { onStale: listIsStale });
  }

  refresh(): void {
    try {
      this.differs = differsIn(() => untracked(() => this.takeAll()));
    } catch (reason) {
      // Who asks is told why, and asks again with the next edit.
      this.onStale();
      this.index.tellAll();
      throw reason;
    }
  }

  private takeAll(): void {
    const { index, asked, due } = this;
    if (this.isListDue) {
      const { came, went } = index.list(ask(this.list) ?? NONE);
      this.isListDue = false;
      for (const item of went) {
        const question = asked.get(item);
        if (question !== undefined) dispose(question);
        asked.delete(item);
        due.delete(item);
      }
      for (const item of came) due.add(item);
    }
    for (const item of due) {
      index.say(item, ask(this.questionOf(item)) ?? NONE);
      due.delete(item);
    }
    index.tell();
  }

  /** What a thing says; what it says for the first variant, where that is the same for all. */
  private entriesFor(item: item): readonly Entry<value>[] {
    const known = this.first?.asked.get(item);
    if (known === undefined) return this.entriesOf(item);
    const entries = ask(known) ?? NONE;
    return isForAll(known) ? entries : this.entriesOf(item);
  }

  private questionOf(item: item): Question<readonly Entry<value>[]> {
    let question = this.asked.get(item);
    if (question === undefined) {
      const itemIsStale = (): void => {
        this.due.add(item);
        this.onStale();
      };
      question = newQuestion(() => this.entriesFor(item), deepEqual, { onStale: itemIsStale });
      this.asked.set(item, question);
    }
    return question;
  }
}

/**
 * Makes an index over a list of a view. `entriesOf` tells what a thing says, and of what; it may read and ask as a question does. The answer
 * for a key is what all of them say of it, in the order of the list.
 */
export function keyed<item, value>(
  itemsOf: (view: View) => readonly item[],
  entriesOf: (view: View, item: item) => readonly Entry<value>[],
): (view: View, key: string) => readonly value[] {
  const ofFixed = new WeakMap<View, Index<item, value>>();
  const fixedIndex = (view: View): Index<item, value> => {
    let index = ofFixed.get(view);
    if (index === undefined) {
      index = new Index<item, value>(new Map());
      for (const item of index.list(itemsOf(view)).came) index.say(item, entriesOf(view, item));
      index.tell();
      ofFixed.set(view, index);
    }
    return index;
  };
  const attached = attachedTo<AttachedIndex<item, value>>(
    (view, onStale, first) =>
      new AttachedIndex(
        () => lookIn(view, () => itemsOf(view)),
        (item: item) => lookIn(view, () => entriesOf(view, item)),
        onStale,
        first,
      ),
  );
  return (view, key) => {
    const of = attached(view);
    if (of === undefined) return fixedIndex(view).get(key);
    const { own, all } = of;
    if (!isTracking(undefined)) {
      if (own.differs) noteDiffering();
      return own.index.get(key);
    }
    const said = own.index.read(key);
    if (all.length > 1 && all.some(({ index }) => !deepEqual(index.get(key), said))) noteDiffering();
    return said;
  };
}
