// How the screws of one kind stand in the course of a job, and how that is kept.
import type { Fastener, View } from '../model/view.ts';
import { type Act, sameAct } from './act.ts';
import type { Kind } from './journal.ts';
import { filled, sameNumbers } from './part-state.ts';

export const OUT = -1;
export const LOOSE = 0;
export const SNUG = 1;
/** Stage n is n + SNUG; the last is FINAL. */
export const FINAL = 10_000;

export interface FastenerState extends FastenerImage {
  fastener: Fastener;
  /** One for each of its `each`, else one. */
  stages: number[];
}

/** What a job changes of it. */
interface FastenerImage {
  stages: readonly number[];
  last: Act | undefined;
  loosenedBy: Act | undefined;
  mentioned: boolean;
  used: boolean;
  secured: boolean;
  /** A finding says that it still held what came off. */
  saidHolding: boolean;
  /** How often the engine was run since it was tightened, and for how many minutes. */
  runs: number;
  ran: number;
}

export const FASTENER: Kind<FastenerState, FastenerImage> = {
  copy: (fastener) => ({
    stages: [...fastener.stages],
    last: fastener.last,
    loosenedBy: fastener.loosenedBy,
    mentioned: fastener.mentioned,
    used: fastener.used,
    secured: fastener.secured,
    saidHolding: fastener.saidHolding,
    runs: fastener.runs,
    ran: fastener.ran,
  }),
  put(fastener, image) {
    fastener.stages = [...image.stages];
    fastener.last = image.last;
    fastener.loosenedBy = image.loosenedBy;
    fastener.mentioned = image.mentioned;
    fastener.used = image.used;
    fastener.secured = image.secured;
    fastener.saidHolding = image.saidHolding;
    fastener.runs = image.runs;
    fastener.ran = image.ran;
  },
  isLike: (fastener, image) =>
    fastener.mentioned === image.mentioned &&
    fastener.used === image.used &&
    fastener.secured === image.secured &&
    fastener.saidHolding === image.saidHolding &&
    fastener.runs === image.runs &&
    fastener.ran === image.ran &&
    sameNumbers(fastener.stages, image.stages) &&
    sameAct(fastener.last, image.last) &&
    sameAct(fastener.loosenedBy, image.loosenedBy),
};

/** How many of its `each` a fastener has, and 1 without one. */
function groupsOf(fastener: Fastener, view: View): number {
  const each = fastener.each === undefined ? undefined : view.things.get(fastener.each);
  return each?.kind === 'part' ? Math.max(1, each.count) : 1;
}

/** A fastener as a job begins: in and tight, or out. */
export function newFastener(fastener: Fastener, view: View, isIn: boolean): FastenerState {
  return {
    fastener,
    stages: filled(groupsOf(fastener, view), isIn ? FINAL : OUT),
    last: undefined,
    loosenedBy: undefined,
    mentioned: false,
    used: false,
    secured: isIn,
    saidHolding: false,
    runs: 0,
    ran: 0,
  };
}
