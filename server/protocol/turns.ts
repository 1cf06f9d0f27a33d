// When work is done: after the messages that have come already, so that a burst of keys is checked once and a single one at once.

const soon: (work: () => void) => void =
  typeof setImmediate === 'function' ? (work) => void setImmediate(work) : (work) => void setTimeout(work, 0);

/** Milliseconds after which waiting for the end of a burst is given up. */
const LONGEST = 40;

/** Work to be called for once or many times; it is done when no more calls came for a whole turn of the event loop. */
export function afterBurst(work: () => void): () => void {
  let calls = 0;
  let waiting = false;
  const look = (seen: number, began: number): void => {
    if (calls !== seen && performance.now() - began < LONGEST) {
      const now = calls;
      soon(() => look(now, began));
      return;
    }
    waiting = false;
    work();
  };
  return () => {
    calls += 1;
    if (waiting) return;
    waiting = true;
    const began = performance.now();
    soon(() => look(-1, began));
  };
}

/** Lets messages that wait be read. */
export function nextTurn(): Promise<void> {
  return new Promise((done) => soon(done));
}

/** Milliseconds of work after which messages that wait are heard. */
const LONGEST_PIECE = 12;

/** Does work piece by piece for so many milliseconds at most; undefined where it is not done by then. */
export function within<result>(
  milliseconds: number,
  work: Generator<void, result>,
): { readonly done: result } | undefined {
  const until = performance.now() + milliseconds;
  for (;;) {
    const next = work.next();
    if (next.done === true) return { done: next.value };
    if (performance.now() >= until) return undefined;
  }
}

/**
 * Does work piece by piece, a turn of the event loop for so much of it; false where it was left off, which is asked after each turn.
 * `now` is the clock.
 */
export async function inPieces(
  work: Generator<void, unknown>,
  isLeftOff: () => boolean,
  now: () => number = () => performance.now(),
): Promise<boolean> {
  let began = now();
  for (const _ of work) {
    if (now() - began < LONGEST_PIECE) continue;
    await nextTurn();
    if (isLeftOff()) return false;
    began = now();
  }
  return true;
}
