// `like NAME`: what a fastener takes from another one where it does not say its own. Its text stays its own.
import type { Fastener, Thing } from './view.ts';

/** More than any chain of fasteners that are like each other. */
const DEEPEST = 8;

/** Finds a thing by name, each fastener as its own text has it. */
export type OwnText = (name: string) => Thing | undefined;

/** The fasteners that one is like, the nearest first, as their own texts have them; one that is like itself ends the chain. */
function likesOf(own: Fastener, find: OwnText): readonly Fastener[] {
  const likes: Fastener[] = [];
  let { like } = own;
  const seen = new Set([own.name]);
  for (let depth = 0; like !== undefined && depth < DEEPEST && !seen.has(like); depth += 1) {
    seen.add(like);
    const other = find(like);
    if (other?.kind !== 'fastener') break;
    likes.push(other);
    like = other.like;
  }
  return likes;
}

/** The fastener with thread, class, finish and the rest that it takes over; one that is like none stays as it is. */
export function likened(own: Fastener, find: OwnText): Fastener {
  if (own.like === undefined) return own;
  let made = own;
  for (const other of likesOf(own, find))
    made = {
      ...made,
      thread: made.thread ?? other.thread,
      strengthClass: made.strengthClass ?? other.strengthClass,
      surface: made.surface ?? other.surface,
      fitted: made.fitted ?? other.fitted,
      into: made.into ?? other.into,
      intoPart: made.intoPart ?? other.intoPart,
    };
  return made;
}

/** The names that a fastener is like, and those are like. */
export function likeNames(fastener: Fastener, find: OwnText): readonly string[] {
  const likes = likesOf(fastener, find);
  return [fastener, ...likes].flatMap(({ like }) => like ?? []);
}

/** The fasteners of a view with what they take from others. Their names lead to them afterwards. */
export function allLikened(fasteners: readonly Fastener[], things: Map<string, Thing>): readonly Fastener[] {
  if (fasteners.every(({ like }) => like === undefined)) return fasteners;
  const own = new Map(things);
  return fasteners.map((fastener) => {
    const made = likened(fastener, (name) => own.get(name));
    if (things.get(fastener.name) === fastener) things.set(fastener.name, made);
    return made;
  });
}
