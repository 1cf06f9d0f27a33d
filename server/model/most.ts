// The most of a thing that is counted. More is a slip of the keyboard, or meant to keep a machine busy; it is said as such
// (unit/too-many, name/too-many-variants, name/too-many-files, name/too-deep, sequence/too-many-jobs, limit/no-value; orientation/gaps-in-line of ring gaps), and nothing is worked out from it. Set far
// above what engines have: common practice, no source.

/** Pieces of a part or a fastener, places, teeth, links, lines of one dimension. The needles of a whole engine are a few hundred. */
export const MOST_COUNTED = 10_000;

/** Cylinders. */
export const MOST_CYLINDERS = 100;

/** Variants of one spec that are looked at: each is a spec of its own to read and to rehearse. */
export const MOST_VARIANTS = 24;

/** Files that a spec uses, directly or not. */
export const MOST_FILES = 200;

/** Specs in a row, each built on the one before: what one takes over is read and checked anew for each. */
export const MOST_LEVELS = 12;

/** Changes of one thing that are made: more than one is a fault, which is said at each (name/duplicate). */
export const MOST_CHANGES_OF_ONE = 4;

/** Jobs of one file that are rehearsed: each is carried out on the whole engine. */
export const MOST_JOBS = 60;

/** Jobs in a row, each beginning after the one before, that are carried out before the one that is looked at. */
export const MOST_JOBS_BEFORE = 9;

/** Places at which a limit is worked out: those of the largest engines. */
export const MOST_LIMIT_PLACES = 64;

/** Figures and names in one sum: those of a stack of a whole engine are some dozens. */
export const MOST_IN_A_SUM = 10_000;

/** Of these, multiplied or divided: the digits of an exact product grow with each. */
export const MOST_FACTORS = 2_500;

/** Ring gaps that are held against each other: those of a dozen cylinders with five rings each are sixty. */
export const MOST_RING_GAPS = 200;

/** A count as written, where it is one to work with. */
export function plausible(count: number | undefined): number | undefined {
  return count !== undefined && count <= MOST_COUNTED ? count : undefined;
}
