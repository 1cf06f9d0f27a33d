// How the screws of one kind stand in the course of a job.
import type { Fastener, View } from '../model/view.ts';
import type { Act } from './act.ts';
import { filled } from './part-state.ts';

export const OUT = -1;
export const LOOSE = 0;
export const SNUG = 1;
/** Stage n is n + SNUG; the last is FINAL. */
export const FINAL = 10_000;

export interface FastenerState {
  readonly fastener: Fastener;
  /** One for each of its `each`, else one. */
  readonly stages: number[];
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
