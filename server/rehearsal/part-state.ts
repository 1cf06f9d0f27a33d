// How a part stands in the course of a job, and how that is kept.
import type { Part } from '../model/view.ts';
import { type Act, sameAct } from './act.ts';
import type { Kind } from './journal.ts';

export const OFF = 0;
export const ON = 1;
/** Taken to be on, because nothing says how the engine stands. */
export const ASSUMED = 2;

export interface PartState extends PartImage {
  part: Part;
  /** One for each place. */
  on: number[];
  fittedBy: (Act | undefined)[];
}

/** What a job changes of it. */
interface PartImage {
  on: readonly number[];
  fittedBy: readonly (Act | undefined)[];
  /** The part that it was mated to, when it was fitted in this job. */
  mate: string | undefined;
  removedBy: Act | undefined;
  /** It has been off in this job and was not renewed since. */
  used: boolean;
  secured: boolean;
  heldBack: Act | undefined;
  pinned: Act | undefined;
  onTrial: Act | undefined;
  /** A finding says that it is in the way, so the rehearsal goes on as if it were not. */
  lifted: boolean;
  /** A finding says that nothing holds it back, or that its pin is in. */
  saidNotHeld: boolean;
  /** The first work by hand on it: oiled, sealed, looked at. */
  handledBy: Act | undefined;
}

export function sameNumbers(some: readonly number[], others: readonly number[]): boolean {
  if (some.length !== others.length) return false;
  for (let i = 0; i < some.length; i += 1) if (some[i] !== others[i]) return false;
  return true;
}

function sameActs(some: PartImage['fittedBy'], others: PartImage['fittedBy']): boolean {
  if (some.length !== others.length) return false;
  for (let i = 0; i < some.length; i += 1) if (!sameAct(some[i], others[i])) return false;
  return true;
}

export const PART: Kind<PartState, PartImage> = {
  copy: (part) => ({
    on: [...part.on],
    fittedBy: [...part.fittedBy],
    mate: part.mate,
    removedBy: part.removedBy,
    used: part.used,
    secured: part.secured,
    heldBack: part.heldBack,
    pinned: part.pinned,
    onTrial: part.onTrial,
    lifted: part.lifted,
    saidNotHeld: part.saidNotHeld,
    handledBy: part.handledBy,
  }),
  put(part, image) {
    part.on = [...image.on];
    part.fittedBy = [...image.fittedBy];
    part.mate = image.mate;
    part.removedBy = image.removedBy;
    part.used = image.used;
    part.secured = image.secured;
    part.heldBack = image.heldBack;
    part.pinned = image.pinned;
    part.onTrial = image.onTrial;
    part.lifted = image.lifted;
    part.saidNotHeld = image.saidNotHeld;
    part.handledBy = image.handledBy;
  },
  isLike: (part, image) =>
    part.mate === image.mate &&
    part.used === image.used &&
    part.secured === image.secured &&
    part.lifted === image.lifted &&
    part.saidNotHeld === image.saidNotHeld &&
    sameNumbers(part.on, image.on) &&
    sameActs(part.fittedBy, image.fittedBy) &&
    sameAct(part.removedBy, image.removedBy) &&
    sameAct(part.heldBack, image.heldBack) &&
    sameAct(part.pinned, image.pinned) &&
    sameAct(part.onTrial, image.onTrial) &&
    sameAct(part.handledBy, image.handledBy),
};

/** Most things are there once: a short list is made far sooner than an array of numbers of one size. */
export function filled(count: number, value: number): number[] {
  return count === 1 ? [value] : new Array<number>(count).fill(value);
}

/** A part as a job begins. */
export function newPart(part: Part, at: number): PartState {
  return {
    part,
    on: filled(part.count, at),
    fittedBy: [],
    mate: undefined,
    removedBy: undefined,
    used: false,
    secured: at !== OFF,
    heldBack: undefined,
    pinned: undefined,
    onTrial: undefined,
    lifted: false,
    saidNotHeld: false,
    handledBy: undefined,
  };
}
