// A job in pieces: a step, the beginning of a sequence, its end. A piece that found all of the engine as it would find it now, and all of the
// spec that it read, is not done again: what it said is said, what it left is put in its place.
import { doPiece, isAsDone, newPiece, type Piece, readerNow } from '../model/questions.ts';
import type { Done } from './ledger.ts';
import type { RehearsalFinding } from './rehearsal-finding.ts';
import type { State } from './state.ts';

/** Does a piece of a job, or what comes of it. `of` is what is done: a step, a sequence. */
export type InPieces = (of: object, work: () => void) => void;

/** Does all as it comes. */
export const atOnce: InPieces = (_of, work) => work();

interface Known extends Done {
  readonly piece: Piece;
  readonly muted: boolean;
  readonly said: readonly RehearsalFinding[];
}

export interface Pieces {
  /** Carries the job out while a question is answered. */
  of<result>(state: State, carryOut: (inPieces: InPieces) => result): result;
}

/** The pieces of one job. */
export function newPieces(): Pieces {
  /** A step may be done more than once. */
  let known = new Map<object, readonly Known[]>();
  return {
    of(state, carryOut) {
      const { ledger, findings } = state;
      const now = new Map<object, Known[]>();
      ledger.begin(readerNow());
      const inPieces: InPieces = (of, work) => {
        let done = now.get(of);
        if (done === undefined) {
          done = [];
          now.set(of, done);
        }
        const before = known.get(of)?.[done.length];
        if (before !== undefined && before.muted === state.muted && isAsDone(before.piece) && ledger.repeat(before)) {
          findings.push(...before.said);
          done.push(before);
          return;
        }
        const piece = before?.piece ?? newPiece();
        const from = findings.length;
        ledger.open();
        doPiece(piece, work);
        done.push({ ...ledger.close(before), piece, muted: state.muted, said: findings.slice(from) });
      };
      const result = carryOut(inPieces);
      known = now;
      return result;
    },
  };
}
