// `like NAME`: what a fastener takes from another one where it does not say its own. Its text stays its own.
import type { NamesInOrder } from './names-in-order.ts';
import type { Fastener, Thing } from './view.ts';

/** More than any chain of fasteners that are like each other. */
const DEEPEST = 8;

/** The fastener with thread, class, finish and the rest that it takes over. One that is like itself, or like none, stays as it is. */
function likened(fastener: Fastener, things: ReadonlyMap<string, Thing>): Fastener {
  let now = fastener;
  let like = fastener.like;
  const seen = new Set([fastener.name]);
  for (let depth = 0; like !== undefined && depth < DEEPEST && !seen.has(like); depth += 1) {
    seen.add(like);
    const other = things.get(like);
    if (other?.kind !== 'fastener') break;
    now = {
      ...now,
      thread: now.thread ?? other.thread,
      strengthClass: now.strengthClass ?? other.strengthClass,
      surface: now.surface ?? other.surface,
      fitted: now.fitted ?? other.fitted,
      into: now.into ?? other.into,
    };
    like = other.like;
  }
  return now;
}

/** The fasteners of a view with what they take from others; the same list where none takes anything. */
export function allLikened(fasteners: readonly Fastener[], things: NamesInOrder): readonly Fastener[] {
  if (!fasteners.some((fastener) => fastener.like !== undefined)) return fasteners;
  const own = new Map(things);
  return fasteners.map((fastener) => {
    if (fastener.like === undefined) return fastener;
    const now = likened(fastener, own);
    if (things.get(fastener.name) === fastener) things.enter(now);
    return now;
  });
}
