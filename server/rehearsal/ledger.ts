// Keeps book of how the engine stands, entry by entry (a part, a fastener, a fact), so that of each piece of a job it is known what it found
// and what it left: a piece that would find all as before need not be done again, what it left is put in its place (pieces.ts). Who does the
// work knows nothing of it: entries are asked for and changed as plain data.
import { sameValue } from '../model/same-value.ts';

/** One thing that a job changes. What stands is never changed itself: the work is done on a copy. */
export interface Entry {
  /** How it stands as the job begins; undefined where there is no such thing. */
  readonly begin: () => unknown;
  /** It is an object that the work changes; any other is replaced. */
  readonly isObject: boolean;
  /** It was asked for once, so that how it began is known. */
  isKnown: boolean;
  /** The piece that asked for it last. */
  piece: number;
  /** How it stood as the job began. */
  began: unknown;
  /** How it stands after the last piece of work that is finished. */
  stands: unknown;
  /** The copy that is worked on, where there is one. */
  copy: unknown;
  isCopied: boolean;
}

/** What a piece found and left. */
export interface Done {
  /** Entries, with how each stood. */
  readonly found: ReadonlyMap<Entry, unknown>;
  readonly left: ReadonlyMap<Entry, unknown>;
}

export interface Ledger {
  /**
   * The job begins anew, and the same pieces are done in the same order as the time before, as far as is known. `areBegun` tells whether all
   * begins as it did; `noted` does what is looked at for that.
   */
  begin(areBegun: boolean, noted: <result>(look: () => result) => result): void;
  /** From here on other pieces are done than the time before. */
  goesOtherwise(): void;
  entry(begin: () => unknown, isObject?: boolean): Entry;
  /** What stands in an entry, to be read and changed. */
  take(entry: Entry): unknown;
  put(entry: Entry, value: unknown): void;
  /** Whether it stands otherwise than as the job began. */
  isChanged(entry: Entry): boolean;
  /** A piece of work begins; what was done before it is finished. */
  open(): void;
  /** The piece is finished. `before` is what it found and left the time before. */
  close(before?: Done): Done;
  /** Whether a piece would find all as it did; then all is put as it left it. */
  repeat(done: Done): boolean;
  /** What was done since a piece began is as if it had not been. */
  leave(): void;
  /** Puts all as a piece left it, where all stands as it found it. */
  again(done: Done): void;
  /** Puts all as a piece found it, where all stands as it left it. */
  back(done: Done): void;
}

/** A copy of what stands: an object with its lists, sets and maps; what those hold is replaced by the work and never changed. */
function copyOf({ isObject }: Entry, value: unknown): unknown {
  if (!isObject || typeof value !== 'object' || value === null) return value;
  const copy = { ...value };
  for (const name of Object.keys(copy)) {
    const field: unknown = Reflect.get(copy, name);
    if (Array.isArray(field)) Reflect.set(copy, name, [...(field as readonly unknown[])]);
    else if (field instanceof Set) Reflect.set(copy, name, new Set(field));
    else if (field instanceof Map) Reflect.set(copy, name, new Map(field));
  }
  return copy;
}

function sameField(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (Array.isArray(one) && Array.isArray(other)) {
    if (one.length !== other.length) return false;
    for (let i = 0; i < one.length; i += 1) if (one[i] !== other[i] && !sameValue(one[i], other[i])) return false;
    return true;
  }
  return sameValue(one, other);
}

/** Whether two say the same of a thing. */
function standAlike({ isObject }: Entry, one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (!isObject || typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return sameValue(one, other);
  const names = Object.keys(one);
  for (const name of names) if (!sameField(Reflect.get(one, name), Reflect.get(other, name))) return false;
  return names.length === Object.keys(other).length;
}

const NOTHING_LEFT: ReadonlyMap<Entry, unknown> = new Map();

export function newLedger(): Ledger {
  let piece = 1;
  let asked: Entry[] = [];
  const known: Entry[] = [];
  /** Entries that stand otherwise than they stood here the time before, with how they stood then; undefined where that is not known. */
  let differs: Map<Entry, unknown> | undefined;
  let noted = <result>(look: () => result): result => look();

  const stand = (entry: Entry, value: unknown): void => {
    entry.stands = value;
    entry.isCopied = false;
    entry.copy = undefined;
  };
  /** Looks up how an entry stands as the job begins. */
  const beginAnew = (entry: Entry): void => {
    const began = noted(entry.begin);
    if (standAlike(entry, began, entry.began)) return;
    if (entry.isKnown) differs?.set(entry, entry.began);
    entry.began = began;
  };
  const ask = (entry: Entry): void => {
    if (!entry.isKnown) {
      beginAnew(entry);
      entry.isKnown = true;
      known.push(entry);
      stand(entry, entry.began);
    }
    if (entry.piece === piece) return;
    entry.piece = piece;
    asked.push(entry);
  };
  /** An entry is as it was left: whether that is as it stood here the time before. */
  const compare = (entry: Entry, was: unknown): void => {
    if (entry.stands === was || standAlike(entry, entry.stands, was)) {
      // The same object, so that those behind find what they found.
      entry.stands = was;
      differs?.delete(entry);
    } else differs?.set(entry, was);
  };
  return {
    begin(areBegun, look) {
      piece += 1;
      asked = [];
      noted = look;
      differs = new Map();
      if (!areBegun) for (const entry of known) beginAnew(entry);
      for (const entry of known) stand(entry, entry.began);
    },
    goesOtherwise() {
      differs = undefined;
    },
    entry: (begin, isObject = false) => ({
      begin,
      isObject,
      isKnown: false,
      piece: 0,
      began: undefined,
      stands: undefined,
      copy: undefined,
      isCopied: false,
    }),
    take(entry) {
      ask(entry);
      if (!entry.isCopied) {
        entry.copy = copyOf(entry, entry.stands);
        entry.isCopied = true;
      }
      return entry.copy;
    },
    put(entry, value) {
      ask(entry);
      entry.copy = value;
      entry.isCopied = true;
    },
    isChanged: (entry) =>
      entry.isKnown &&
      (entry.stands !== entry.began || (entry.isCopied && !standAlike(entry, entry.copy, entry.began))),
    open() {
      piece += 1;
      asked = [];
    },
    close(before) {
      const found = new Map<Entry, unknown>();
      const left = new Map<Entry, unknown>();
      const leftBefore = before?.left ?? NOTHING_LEFT;
      for (const entry of asked) {
        const { stands, copy } = entry;
        found.set(entry, stands);
        if (!entry.isCopied || standAlike(entry, copy, stands)) continue;
        entry.stands = copyOf(entry, copy);
        if (leftBefore.has(entry)) compare(entry, leftBefore.get(entry));
        else if (differs?.has(entry) === true) compare(entry, differs.get(entry));
        else differs?.set(entry, stands);
        left.set(entry, entry.stands);
      }
      for (const [entry, was] of leftBefore) if (!left.has(entry)) compare(entry, was);
      piece += 1;
      asked = [];
      return { found, left };
    },
    leave() {
      for (const entry of asked) stand(entry, entry.stands);
      piece += 1;
      asked = [];
    },
    again({ left }) {
      for (const [entry, value] of left) stand(entry, value);
    },
    back({ found }) {
      for (const [entry, value] of found) stand(entry, value);
    },
    repeat({ found, left }) {
      if (differs === undefined) {
        for (const [entry, was] of found)
          if (entry.stands !== was && !standAlike(entry, entry.stands, was)) return false;
      } else
        for (const entry of differs.keys())
          if (found.has(entry) && !standAlike(entry, entry.stands, found.get(entry))) return false;
      for (const [entry, value] of left) {
        stand(entry, value);
        differs?.delete(entry);
      }
      return true;
    },
  };
}

/** What is kept by name, and asked for name by name. */
export interface ByName<value> {
  get(name: string): value | undefined;
  has(name: string): boolean;
  set(name: string, value: value): void;
  delete(name: string): boolean;
}

/** The same with the names in the order in which they came. */
export interface Listed<value> extends ByName<value> {
  readonly size: number;
  keys(): readonly string[];
  entries(): readonly (readonly [string, value])[];
  clear(): void;
  [Symbol.iterator](): Iterator<readonly [string, value]>;
}

/** Names, each asked for by itself. */
export interface Names {
  has(name: string): boolean;
  add(name: string): void;
  delete(name: string): boolean;
}

/** The same in the order in which they came. */
export interface NameList extends Names {
  [Symbol.iterator](): Iterator<string>;
}

const nothing = (): undefined => undefined;

export function byName<value>(ledger: Ledger): ByName<value> {
  const entries = new Map<string, Entry>();
  const entryOf = (name: string): Entry => {
    let entry = entries.get(name);
    if (entry === undefined) {
      entry = ledger.entry(nothing);
      entries.set(name, entry);
    }
    return entry;
  };
  const get = (name: string): value | undefined => ledger.take(entryOf(name)) as value | undefined;
  return {
    get,
    has: (name) => get(name) !== undefined,
    set: (name, value) => ledger.put(entryOf(name), value),
    delete(name) {
      const was = get(name) !== undefined;
      if (was) ledger.put(entryOf(name), undefined);
      return was;
    },
  };
}

const NO_NAMES: readonly string[] = [];

export function listed<value>(ledger: Ledger): Listed<value> {
  const values = byName<value>(ledger);
  const order = ledger.entry(() => NO_NAMES);
  const keys = (): readonly string[] => ledger.take(order) as readonly string[];
  const entries = (): readonly (readonly [string, value])[] =>
    keys().map((name) => [name, values.get(name) as value] as const);
  return {
    ...values,
    get size() {
      return keys().length;
    },
    set(name, value) {
      if (!values.has(name)) ledger.put(order, [...keys(), name]);
      values.set(name, value);
    },
    delete(name) {
      const was = values.delete(name);
      if (was)
        ledger.put(
          order,
          keys().filter((each) => each !== name),
        );
      return was;
    },
    keys,
    entries,
    clear() {
      for (const name of keys()) values.delete(name);
      ledger.put(order, NO_NAMES);
    },
    [Symbol.iterator]: () => entries()[Symbol.iterator](),
  };
}

export function names(ledger: Ledger): Names {
  const all = byName<true>(ledger);
  return { has: all.has, add: (name) => all.set(name, true), delete: all.delete };
}

export function nameList(ledger: Ledger): NameList {
  const all = listed<true>(ledger);
  return {
    has: all.has,
    add: (name) => all.set(name, true),
    delete: all.delete,
    [Symbol.iterator]: () => all.keys()[Symbol.iterator](),
  };
}

/** An object whose fields are each asked for by themselves. */
export function fieldByField<fields extends object>(
  ledger: Ledger,
  begin: { readonly [name in keyof fields]: () => fields[name] },
): fields {
  return Object.defineProperties(
    {},
    Object.fromEntries(
      (Object.keys(begin) as (keyof fields & string)[]).map((name) => {
        const entry = ledger.entry(begin[name]);
        return [
          name,
          {
            enumerable: true,
            get: () => ledger.take(entry),
            set: (value: unknown) => ledger.put(entry, value),
          },
        ];
      }),
    ),
  ) as fields;
}
