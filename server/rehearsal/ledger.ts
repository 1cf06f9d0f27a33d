// Keeps book of how the engine stands, entry by entry (a part, a fastener, a fact): of each it is known which pieces of the job asked for it,
// how each found it and left it. So how the engine stands before any piece can be told; a piece that would find all as before need not be done
// again, and one that leaves something otherwise has only those look again that ask for it next (pieces.ts). Who does the work knows nothing
// of it: entries are asked for and changed as plain data.

import { deepEqual } from '../model/deep-equal.ts';
import { doPiece, isCurrent, newPiece, type Piece, type Pieces } from '../model/questions.ts';

/** A piece of a job, as far as entries know it. */
export interface Visitor {
  /** Its place in the order of the work. */
  at: number;
  /** The entries that it asked for. */
  visits: readonly Visit[];
  /** Something that it asked for may stand otherwise than it found it. */
  isTouched: boolean;
}

/** A piece asked for an entry. */
interface Visit {
  readonly entry: Entry;
  readonly by: Visitor;
  found: unknown;
  left: unknown;
}

/**
 * Each field of a thing, looked up. Two that stand otherwise are held against each other very often: a field that is written out here is found
 * at once, and one that is forgotten is told by the compiler.
 */
export type FieldsOf<thing> = { readonly [field in keyof thing]-?: (of: thing) => unknown };

/** Things of one kind, whose objects have the same fields. */
export interface Kind {
  /** They are asked of those things alone. */
  readonly fields: readonly ((of: never) => unknown)[];
}

export const kindOf = <thing extends object>(fields: FieldsOf<thing>): Kind => ({
  fields: Object.values<(of: thing) => unknown>(fields),
});

/** One thing that a job changes. What stands is never changed itself: the work is done on a copy. */
export interface Entry {
  /** Among which entries it is, and its name there: the same in the ledger of the job for another variant. */
  readonly among: number;
  readonly name: string;
  /** How it stands as the job begins; undefined where there is no such thing. */
  readonly begin: () => unknown;
  /** Of an object that the work changes, what it is one of; anything else is replaced. */
  readonly kind: Kind | undefined;
  /** It was asked for once, so that how it began is known. */
  isKnown: boolean;
  /** How it stood as the job began. */
  began: unknown;
  /** Notes what is looked at to tell how it begins. */
  beginning: Piece | undefined;
  /** In the order of the work. */
  visits: Visit[];
  /** Tells apart whether the piece in hand has asked for it. */
  hand: number;
  /** How the piece in hand found it. */
  found: unknown;
  /** The copy that is worked on, where there is one, and what it is one of. */
  copy: unknown;
  copyOf: unknown;
  isCopied: boolean;
  /** The visit of the piece in hand, the time before. */
  before: Visit | undefined;
  /** The place in the work for which it was told last whether it stands otherwise than it began, and what was told. */
  toldAt: number;
  isOtherwise: boolean;
}

/** Entries of one sort, by name; each is made when it is first asked for. */
export interface Entries {
  of(name: string): Entry;
  readonly all: ReadonlyMap<string, Entry>;
}

export interface Ledger {
  /** More entries; `beginOf` is told the name of one. They are asked for in the same order for each ledger. */
  entries(beginOf: (name: string) => () => unknown, kind?: Kind): Entries;
  /** What stands in an entry, to be read and changed. */
  take(entry: Entry): unknown;
  put(entry: Entry, value: unknown): void;
  /** What stands in an entry, to be read alone: no copy is made of it. */
  read(entry: Entry): unknown;
  /** What is asked from here on is asked before a piece that was done. */
  standBefore(visitor: Visitor): void;
  /** Those of some entries that that piece asked for when it was done, in no order. */
  askedHere(among: Entries): readonly Entry[];
  /** Whether it stands otherwise than as the job began. */
  isChanged(entry: Entry): boolean;
  /** The job is carried out in pieces, and begins anew; who asked for what begins otherwise now is touched. */
  begin(pieces: Pieces): void;
  /** What is asked from here on is asked before the piece that has that place. */
  standAt(at: number): void;
  /** What was done since the ledger was put there is what a piece does. */
  close(visitor: Visitor): void;
  /** What was done since then is as if it had not been. */
  leave(): void;
  /** Whether a piece would find all as it did. */
  findsAll(visitor: Visitor): boolean;
  /** Does what a piece of the same job did for another variant; false where it found something else there. */
  redo(model: Visitor): boolean;
  /** A piece is taken out of its place. */
  detach(visitor: Visitor): void;
  /** It comes to stand at another place, where it finds all as it did. */
  reattach(visitor: Visitor): void;
}

const isThing = (value: unknown): value is object => typeof value === 'object' && value !== null;

/** A copy of what stands, whose fields the work changes: what they hold is replaced and never changed. */
function copied({ kind }: Entry, value: unknown): unknown {
  return kind !== undefined && isThing(value) ? { ...value } : value;
}

/** Whether two say the same of a thing. */
function standAlike({ kind }: Entry, one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (kind === undefined || !isThing(one) || !isThing(other)) return deepEqual(one, other);
  for (const fieldOf of kind.fields) if (!deepEqual(fieldOf(one as never), fieldOf(other as never))) return false;
  return true;
}

/** What no entry is. */
const NOTHING = Symbol('nothing');

/** The place among the visits of an entry of the first that is no longer before a place in the work. */
function behind(visits: readonly Visit[], at: number): number {
  let [from, to] = [0, visits.length];
  // Work goes on where it was.
  if (to > 0 && (visits[to - 1] as Visit).by.at < at) return to;
  while (from < to) {
    const middle = (from + to) >> 1;
    if ((visits[middle] as Visit).by.at < at) from = middle + 1;
    else to = middle;
  }
  return from;
}

/** How an entry stands before a place in the work. */
function standsAt({ visits, began }: Entry, at: number): unknown {
  const place = behind(visits, at);
  return place === 0 ? began : (visits[place - 1] as Visit).left;
}

/** Who asks for an entry next behind a place in the work looks at it again. */
function touchBehind({ visits }: Entry, at: number): void {
  const next = visits[behind(visits, at + 1)];
  if (next !== undefined) next.by.isTouched = true;
}

/** So many visits have a list that is as long as they are: one that grows takes room for twenty, and most entries have two or three. */
const FEW = 8;

/** No place in the work. */
const NOWHERE = -1;

function enter(visit: Visit): void {
  const { entry } = visit;
  const { visits } = entry;
  const place = behind(visits, visit.by.at);
  if (visits.length < FEW) entry.visits = visits.slice(0, place).concat(visit, visits.slice(place));
  else visits.splice(place, 0, visit);
  entry.toldAt = NOWHERE;
}

/** Takes a visit out; who asks next looks again, where it stands otherwise without it. */
function takeOut({ entry, by, left }: Visit): void {
  const { visits } = entry;
  const place = behind(visits, by.at);
  visits.splice(place, 1);
  entry.toldAt = NOWHERE;
  const stands = place === 0 ? entry.began : (visits[place - 1] as Visit).left;
  const next = visits[place];
  if (next !== undefined && stands !== left) next.by.isTouched = true;
}

/** How what is not there at first begins. */
export const nothing = (): undefined => undefined;

export function newLedger(): Ledger {
  let hand = 1;
  let place = Number.POSITIVE_INFINITY;
  let asked: Entry[] = [];
  /** What the piece asked for that somebody stands before. */
  let askedHere: readonly Entry[] = [];
  /** The pieces of the job; undefined where it is carried out once, and not in pieces. */
  let pieces: Pieces | undefined;
  /** Entries that may begin otherwise. */
  const due = new Set<Entry>();
  const all: Entries[] = [];

  /** Looks up how an entry stands as the job begins. */
  const lookUpBeginning = (entry: Entry): unknown => {
    if (pieces === undefined || entry.begin === nothing) return entry.begin();
    entry.beginning ??= newPiece(pieces, () => due.add(entry));
    return doPiece(entry.beginning, entry.begin);
  };
  const standAt = (at: number): void => {
    place = at;
    hand += 1;
    asked = [];
  };
  const ask = (entry: Entry): void => {
    if (entry.hand === hand) return;
    if (!entry.isKnown) {
      entry.began = lookUpBeginning(entry);
      entry.isKnown = true;
    }
    entry.hand = hand;
    entry.found = standsAt(entry, place);
    if (entry.copyOf !== entry.found) entry.isCopied = false;
    asked.push(entry);
  };
  /** How the piece in hand leaves an entry: the same object, where it changes nothing. */
  const leftOf = (entry: Entry): unknown => {
    const { found, copy } = entry;
    if (!entry.isCopied || standAlike(entry, copy, found)) return found;
    entry.isCopied = false;
    return copy;
  };
  const newEntry = (begin: () => unknown, kind: Kind | undefined, among: number, name: string): Entry => ({
    among,
    name,
    begin,
    kind,
    isKnown: false,
    began: undefined,
    beginning: undefined,
    visits: [],
    hand: 0,
    found: undefined,
    copy: undefined,
    copyOf: undefined,
    isCopied: false,
    before: undefined,
    toldAt: NOWHERE,
    isOtherwise: false,
  });
  const put = (entry: Entry, value: unknown): void => {
    ask(entry);
    entry.copy = value;
    entry.copyOf = NOTHING;
    entry.isCopied = true;
  };
  return {
    entries(beginOf, kind) {
      const made = new Map<string, Entry>();
      const number = all.length;
      const entries: Entries = {
        of(name) {
          let entry = made.get(name);
          if (entry === undefined) {
            entry = newEntry(beginOf(name), kind, number, name);
            made.set(name, entry);
          }
          return entry;
        },
        all: made,
      };
      all.push(entries);
      return entries;
    },
    take(entry) {
      ask(entry);
      if (!entry.isCopied) {
        entry.copy = copied(entry, entry.found);
        entry.copyOf = entry.found;
        entry.isCopied = true;
      }
      return entry.copy;
    },
    put,
    read(entry) {
      ask(entry);
      return entry.isCopied ? entry.copy : entry.found;
    },
    standBefore(visitor) {
      standAt(visitor.at);
      askedHere = visitor.visits.map(({ entry }) => entry);
    },
    askedHere: (among) => askedHere.filter(({ among: number }) => all[number] === among),
    isChanged(entry) {
      if (!entry.isKnown) return false;
      // In the middle of a piece, and where a job is carried out once and not in pieces.
      if (entry.hand === hand && entry.isCopied) return !standAlike(entry, entry.copy, entry.began);
      if (entry.toldAt !== place) {
        const stands = standsAt(entry, place);
        entry.isOtherwise = stands !== entry.began && !standAlike(entry, stands, entry.began);
        entry.toldAt = place;
      }
      return entry.isOtherwise;
    },
    begin(ofJob) {
      pieces = ofJob;
      const perhaps = [...due];
      due.clear();
      for (const entry of perhaps) {
        if (entry.beginning === undefined || isCurrent(entry.beginning)) continue;
        const began = lookUpBeginning(entry);
        if (standAlike(entry, began, entry.began)) continue;
        entry.began = began;
        entry.toldAt = NOWHERE;
        const [first] = entry.visits;
        if (first !== undefined) first.by.isTouched = true;
      }
    },
    standAt,
    close(visitor) {
      const { at, visits: before } = visitor;
      const visits: Visit[] = [];
      for (const visit of before) visit.entry.before = visit;
      for (const entry of asked) {
        const { found, before: visit } = entry;
        const left = leftOf(entry);
        if (visit === undefined) {
          const first: Visit = { entry, by: visitor, found, left };
          enter(first);
          visits.push(first);
          if (left !== found) touchBehind(entry, at);
          continue;
        }
        entry.before = undefined;
        visits.push(visit);
        visit.found = found;
        if (left === visit.left) continue;
        // The same object stays, so that those behind find what they found.
        if (standAlike(entry, left, visit.left)) continue;
        visit.left = left;
        entry.toldAt = NOWHERE;
        touchBehind(entry, at);
      }
      for (const visit of before) {
        if (visit.entry.before === undefined) continue;
        visit.entry.before = undefined;
        takeOut(visit);
      }
      visitor.visits = visits.slice();
      visitor.isTouched = false;
    },
    leave() {
      for (const entry of asked) entry.isCopied = false;
      standAt(place);
    },
    findsAll(visitor) {
      for (const { entry, found } of visitor.visits) {
        const stands = standsAt(entry, visitor.at);
        if (stands !== found && !standAlike(entry, stands, found)) return false;
      }
      visitor.isTouched = false;
      return true;
    },
    redo(model) {
      const here = model.visits.map(({ entry }) => all[entry.among]?.of(entry.name));
      for (const [i, { found }] of model.visits.entries()) {
        const entry = here[i];
        if (entry === undefined) return false;
        ask(entry);
        if (entry.found !== found && !standAlike(entry, entry.found, found)) return false;
      }
      for (const [i, { found, left }] of model.visits.entries()) {
        const entry = here[i];
        if (entry !== undefined && left !== found) put(entry, left);
      }
      return true;
    },
    detach(visitor) {
      for (const visit of visitor.visits) takeOut(visit);
    },
    reattach(visitor) {
      for (const visit of visitor.visits) {
        enter(visit);
        if (visit.left !== standsAt(visit.entry, visitor.at)) touchBehind(visit.entry, visitor.at);
      }
    },
  };
}
