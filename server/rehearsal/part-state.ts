// How a part stands in the course of a job.
import type { Part, Step } from '../model/view.ts';
import type { Act } from './act.ts';
import type { FieldsOf } from './ledger.ts';

export const OFF = 0;
export const ON = 1;
/** Taken to be on, because nothing says how the engine stands. */
export const ASSUMED = 2;

/** What a part is joined to at one of its places. */
export interface Joined {
  readonly part: string;
  /** The place of that part (from 0), where both have as many. */
  readonly place: number | undefined;
  /** That part was not on itself then. */
  readonly onBench: boolean;
}

export interface PartState {
  readonly part: Part;
  /** It stands for a table of grades of which one is taken: nobody says how many of it go in. */
  readonly isGraded: boolean;
  /** One for each place. */
  on: readonly number[];
  /** Where it went on, by place. */
  fittedBy: readonly (Act | undefined)[];
  /** The part that it was mated to, when it was fitted in this job. */
  mate: string | undefined;
  /** What it was mated to, by place. */
  joined: readonly (Joined | undefined)[];
  removedBy: Act | undefined;
  /** By place: it has been off in this job and was not renewed since. */
  used: readonly boolean[];
  /** By place. */
  secured: readonly boolean[];
  heldBack: Act | undefined;
  /** It was held back or let go in this job. */
  wasHeld: boolean;
  pinned: Act | undefined;
  /** It was pinned in this job. */
  wasPinned: boolean;
  onTrial: Act | undefined;
  /** The trial in which it was on, when it came off last. */
  triedIn: Step | undefined;
  /** A finding says that it is in the way, so the rehearsal goes on as if it were not. */
  lifted: boolean;
  /** A finding says that nothing holds it back, or that its pin is in. */
  saidNotHeld: boolean;
  /** The first work by hand on it: oiled, sealed, looked at. */
  handledBy: Act | undefined;
  /** What it seals came off, and it stayed. */
  pressedBy: Act | undefined;
  /** It went in part of the way, and was not pushed home since. */
  partWay: Act | undefined;
  /** It holds a fluid and has air in it. */
  hasAir: boolean;
  /** What is on it: oil, sealant. */
  wet: ReadonlySet<'oiled' | 'sealant'>;
  /** It was ground in, lapped or honed, and not cleaned since. */
  gritFrom: Act | undefined;
}

/** What is compared of how a part stands. */
export const PART_FIELDS: FieldsOf<PartState> = {
  part: (of) => of.part,
  isGraded: (of) => of.isGraded,
  on: (of) => of.on,
  fittedBy: (of) => of.fittedBy,
  mate: (of) => of.mate,
  joined: (of) => of.joined,
  removedBy: (of) => of.removedBy,
  used: (of) => of.used,
  secured: (of) => of.secured,
  heldBack: (of) => of.heldBack,
  wasHeld: (of) => of.wasHeld,
  pinned: (of) => of.pinned,
  wasPinned: (of) => of.wasPinned,
  onTrial: (of) => of.onTrial,
  triedIn: (of) => of.triedIn,
  lifted: (of) => of.lifted,
  saidNotHeld: (of) => of.saidNotHeld,
  handledBy: (of) => of.handledBy,
  pressedBy: (of) => of.pressedBy,
  partWay: (of) => of.partWay,
  hasAir: (of) => of.hasAir,
  wet: (of) => of.wet,
  gritFrom: (of) => of.gritFrom,
};

/** Nothing is on it. */
export const DRY: PartState['wet'] = new Set();

/** Most things are there once: a short list is made far sooner than an array of numbers of one size. */
export function filled<value>(count: number, value: value): value[] {
  return count === 1 ? [value] : new Array<value>(count).fill(value);
}

/** A list with the same at some places (from 0) of it. The lists of how things stand are never changed themselves. */
export function withAt<value>(list: readonly value[], places: Iterable<number>, value: value): readonly value[] {
  const now = list.slice();
  for (const i of places) now[i] = value;
  return now;
}

/** The same with a value of its own at each of those places; `valueAt` is told what stands there, and which of the places it is. */
export function withEach<value>(
  list: readonly value[],
  places: readonly number[],
  valueAt: (was: value | undefined, which: number) => value,
): readonly value[] {
  const now = list.slice();
  for (const [which, i] of places.entries()) now[i] = valueAt(now[i], which);
  return now;
}

/** A part as a job begins. */
export function newPart(part: Part, at: number, isGraded = false): PartState {
  return {
    part,
    isGraded,
    on: filled(part.count, at),
    fittedBy: [],
    mate: undefined,
    joined: [],
    removedBy: undefined,
    used: filled(part.count, false),
    secured: filled(part.count, at !== OFF),
    heldBack: undefined,
    wasHeld: false,
    pinned: undefined,
    wasPinned: false,
    onTrial: undefined,
    triedIn: undefined,
    lifted: false,
    saidNotHeld: false,
    handledBy: undefined,
    pressedBy: undefined,
    partWay: undefined,
    hasAir: part.bled && at === OFF,
    wet: DRY,
    gritFrom: undefined,
  };
}
