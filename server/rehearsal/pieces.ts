// A job in pieces: a step, the beginning of a sequence, its end. A piece that found all of the engine as it would find it now, and all of the
// spec that it read, is not done again: what it said is said, what it left is put in its place.
import { doPiece, goOn, isAsDone, newPiece, type Piece } from '../model/questions.ts';
import type { Done } from './ledger.ts';
import type { RehearsalFinding } from './rehearsal-finding.ts';
import type { State } from './state.ts';

/** Pieces that are done anew in one go where a job is carried out in goes: some ten milliseconds. Own choice, no source. */
const A_GO = 200;

/** How many pieces may still be done anew in this go. */
let allowed = Number.POSITIVE_INFINITY;

/** Thrown between two pieces: the go is at its end. What was done is kept. */
const LEFT_OFF = Symbol('left off');

/**
 * Carries jobs out in goes of so many pieces, so that others are heard in between: each go does again what the ones before have done, which is
 * short, and a piece of the rest.
 */
export function* inGoes(carryOut: () => void): Generator<void, void> {
  for (;;) {
    allowed = A_GO;
    try {
      carryOut();
      return;
    } catch (reason) {
      if (reason !== LEFT_OFF) throw reason;
    } finally {
      allowed = Number.POSITIVE_INFINITY;
    }
    yield;
  }
}

/** Does a piece of a job, or what comes of it. `of` is what is done: a step, a sequence, the end of a part. */
export type InPieces = (of: object | string, work: () => void) => void;

interface Known extends Done {
  readonly piece: Piece;
  readonly muted: boolean;
  readonly said: readonly RehearsalFinding[];
}

export interface Pieces {
  /** What was done, in turn, the last time that the job was carried out. */
  readonly trail: readonly (readonly [of: object | string, done: Done])[];
  /** Carries the job out while a question is answered. */
  of<result>(state: State, carryOut: (inPieces: InPieces) => result): result;
}

/** The pieces of one job. */
export function newPieces(): Pieces {
  /** In the order in which they were done. A step may be done more than once. */
  let known: readonly (readonly [of: object | string, done: Known])[] = [];
  /** The time before it was done to the end. */
  let isWhole = false;
  /** What is looked at to tell how all stands as the job begins. */
  const beginning = newPiece();
  return {
    get trail() {
      return isWhole ? known : [];
    },
    of(state, carryOut) {
      const { ledger, findings } = state;
      const now: (readonly [object | string, Known])[] = [];
      const noted = <result>(look: () => result): result => goOn(beginning, look);
      if (isAsDone(beginning)) ledger.begin(true, noted);
      else doPiece(beginning, () => ledger.begin(false, noted));
      if (!isWhole) ledger.goesOtherwise();
      isWhole = false;
      /** Those of the time before by what they are of, once the order is another. */
      let left: Map<object | string, Known[]> | undefined;
      const before = (of: object | string): Known | undefined => {
        const here = known[now.length];
        if (left === undefined && here?.[0] === of) return here[1];
        if (left === undefined) {
          ledger.goesOtherwise();
          left = new Map();
          for (const [each, done] of known.slice(now.length)) left.set(each, [...(left.get(each) ?? []), done]);
        }
        return left.get(of)?.shift();
      };
      const inPieces: InPieces = (of, work) => {
        const last = before(of);
        if (last !== undefined && last.muted === state.muted && isAsDone(last.piece) && ledger.repeat(last)) {
          for (const each of last.said) findings.push(each);
          now.push([of, last]);
          return;
        }
        if (allowed <= 0) throw LEFT_OFF;
        allowed -= 1;
        const piece = last?.piece ?? newPiece();
        const from = findings.length;
        ledger.open();
        doPiece(piece, work);
        now.push([of, { ...ledger.close(last), piece, muted: state.muted, said: findings.slice(from) }]);
      };
      try {
        const result = carryOut(inPieces);
        known = now;
        isWhole = true;
        return result;
      } catch (reason) {
        // What was done until then is as it is now; of the rest all is as it was.
        const rest =
          left === undefined
            ? known.slice(now.length)
            : [...left].flatMap(([of, dones]) => dones.map((done) => [of, done] as const));
        known = [...now, ...rest];
        throw reason;
      }
    },
  };
}
