// `like NAME`: what a fastener takes from another one where it does not say its own. Its text stays its own.
import type { NamesInOrder } from './names-in-order.ts';
import type { Fastener, Thing } from './view.ts';

/** More than any chain of fasteners that are like each other. */
const DEEPEST = 8;

/** The fastener as its own text has it, of one that has taken from others. */
const ownText = new WeakMap<Thing, Fastener>();

interface Made {
  readonly from: readonly Fastener[];
  readonly made: Fastener;
}

/** What was made last of a fastener, and from which others: it is the same object as long as those are the same. */
const lastMade = new WeakMap<Fastener, Made>();

/** The fasteners that one is like, the nearest first, as their own texts have them; one that is like itself ends the chain. */
function likesOf(own: Fastener, things: ReadonlyMap<string, Thing>): readonly Fastener[] {
  const likes: Fastener[] = [];
  let { like } = own;
  const seen = new Set([own.name]);
  for (let depth = 0; like !== undefined && depth < DEEPEST && !seen.has(like); depth += 1) {
    seen.add(like);
    const other = things.get(like);
    if (other?.kind !== 'fastener') break;
    const text = ownText.get(other) ?? other;
    likes.push(text);
    like = text.like;
  }
  return likes;
}

/** The fastener with thread, class, finish and the rest that it takes over; one that is like none stays as it is. */
function likened(own: Fastener, things: ReadonlyMap<string, Thing>): Fastener {
  const from = likesOf(own, things);
  if (from.length === 0) return own;
  const last = lastMade.get(own);
  if (last !== undefined && last.from.length === from.length && last.from.every((each, i) => each === from[i]))
    return last.made;
  let made = own;
  for (const other of from)
    made = {
      ...made,
      thread: made.thread ?? other.thread,
      strengthClass: made.strengthClass ?? other.strengthClass,
      surface: made.surface ?? other.surface,
      fitted: made.fitted ?? other.fitted,
      into: made.into ?? other.into,
      intoPart: made.intoPart ?? other.intoPart,
    };
  ownText.set(made, own);
  lastMade.set(own, { from, made });
  return made;
}

/**
 * The fasteners of a view with what they take from others; the same list where that is what they have. Their names lead to them
 * afterwards. What one takes is from the text of the others, so that it does not matter which is done first.
 */
export function allLikened(fasteners: readonly Fastener[], things: NamesInOrder): readonly Fastener[] {
  let now: Fastener[] | undefined;
  for (let i = 0; i < fasteners.length; i += 1) {
    const fastener = fasteners[i];
    if (fastener?.like === undefined) continue;
    const made = likened(ownText.get(fastener) ?? fastener, things);
    if (made === fastener) continue;
    now ??= fasteners.slice();
    now[i] = made;
    if (things.get(fastener.name) === fastener) things.enter(made);
  }
  return now ?? fasteners;
}
