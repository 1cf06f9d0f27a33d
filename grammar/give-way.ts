// Work that can be done in pieces, so that others are heard in between: a generator that yields after each. What it comes to is the same
// whether it is done so or at once.

/** Characters of text that are gone over in one piece. */
export const PIECE = 8192;

/** Work in pieces, and what it comes to. */
export type InPieces<result> = Generator<void, result>;

/** Does all of it at once. */
export function atOnce<result>(work: InPieces<result>): result {
  for (;;) {
    const next = work.next();
    if (next.done === true) return next.value;
  }
}
