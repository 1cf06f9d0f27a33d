// How the screws of one kind stand in the course of a job.
import { placesOfEach, screwsPerPlace } from '../model/action-places.ts';
import type { Fastener, View } from '../model/view.ts';
import type { Act } from './act.ts';
import type { FieldsOf } from './ledger.ts';
import { filled, withAt } from './part-state.ts';
import type { Running } from './running.ts';

export const OUT = -1;
export const LOOSE = 0;
export const SNUG = 1;
/** Stage n is n + SNUG; the last is FINAL. */
export const FINAL = 10_000;

export interface FastenerState {
  readonly fastener: Fastener;
  /** One for each screw: those of the first of its `each`, then of the second. */
  stages: readonly number[];
  /** How many screws each of its `each` has; all of them without one. */
  readonly perPlace: number;
  last: Act | undefined;
  loosenedBy: Act | undefined;
  mentioned: boolean;
  /** By screw: it has been tight in this job, or came with the engine, was loosened, and was not renewed since. */
  used: readonly boolean[];
  /** By screw. */
  secured: readonly boolean[];
  /** A finding says that it still held what came off. */
  saidHolding: boolean;
  /** A finding says that it is tightened only after the engine was run. */
  saidLeft: boolean;
  /** How often the engine was run in this job before it was tightened, and for how many seconds. */
  runsBefore: number;
  ranBefore: number;
  /** Screws (from 0) that were tightened since the last run, where others were not yet; and how often the engine was run before. */
  again: ReadonlySet<number>;
  againAfter: number;
}

/** What is compared of how a fastener stands. */
export const FASTENER_FIELDS: FieldsOf<FastenerState> = {
  fastener: (of) => of.fastener,
  stages: (of) => of.stages,
  perPlace: (of) => of.perPlace,
  last: (of) => of.last,
  loosenedBy: (of) => of.loosenedBy,
  mentioned: (of) => of.mentioned,
  used: (of) => of.used,
  secured: (of) => of.secured,
  saidHolding: (of) => of.saidHolding,
  saidLeft: (of) => of.saidLeft,
  runsBefore: (of) => of.runsBefore,
  ranBefore: (of) => of.ranBefore,
  again: (of) => of.again,
  againAfter: (of) => of.againAfter,
};

/** A fastener as a job begins: in and tight, or out. */
export function newFastener(fastener: Fastener, view: View, isIn: boolean): FastenerState {
  const perPlace = screwsPerPlace(fastener, view);
  const screws = perPlace * placesOfEach(fastener, view);
  return {
    fastener,
    stages: filled(screws, isIn ? FINAL : OUT),
    perPlace,
    last: undefined,
    loosenedBy: undefined,
    mentioned: false,
    used: filled(screws, false),
    secured: filled(screws, isIn),
    saidHolding: false,
    saidLeft: false,
    runsBefore: 0,
    ranBefore: 0,
    again: NONE_AGAIN,
    againAfter: 0,
  };
}

/** Whether the engine was run since all of it was tightened. */
export function wasRunSince({ runsBefore }: FastenerState, { runs }: Running): boolean {
  return runs > runsBefore;
}

/** The screws (from 0) that were tightened since the last run, where others were not yet. */
export function tightenedAgain({ again, againAfter }: FastenerState, { runs }: Running): ReadonlySet<number> {
  return againAfter === runs ? again : NONE_AGAIN;
}

const NONE_AGAIN: ReadonlySet<number> = new Set();

/** Screws (from 0) come loose or out: one that was tight is a used one from here on. */
export function comeLoose(fastener: FastenerState, screws: readonly number[], to: typeof LOOSE | typeof OUT): void {
  const tight = screws.filter((i) => fastener.stages[i] === FINAL);
  if (tight.length > 0) fastener.used = withAt(fastener.used, tight, true);
  fastener.stages = withAt(fastener.stages, screws, to);
  fastener.secured = withAt(fastener.secured, screws, false);
}

/** Screws (from 0) are tightened. */
export function tightenAgain(fastener: FastenerState, screws: readonly number[], { runs, ran }: Running): void {
  const again = fastener.againAfter === runs ? fastener.again : NONE_AGAIN;
  fastener.againAfter = runs;
  fastener.again = new Set([...again, ...screws]);
  if (fastener.again.size < fastener.stages.length && fastener.runsBefore < runs) return;
  fastener.runsBefore = runs;
  fastener.ranBefore = ran;
}
