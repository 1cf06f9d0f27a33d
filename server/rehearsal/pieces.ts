// A job in pieces: a step, the beginning of a sequence, its end. A piece that found all of the engine as it would find it now, and all of the
// spec that it read, is not done again: what it said is said, what it left is put in its place.
import {
  disposePiece,
  doPiece,
  isCurrent,
  isOnce,
  newPiece,
  newPieces,
  type Piece,
  pieceDiffers,
  trackPieces,
} from '../model/questions.ts';
import type { Visitor } from './ledger.ts';
import type { RehearsalFinding } from './rehearsal-finding.ts';
import type { State } from './state.ts';

/** Pieces that are done anew in one go where a job is carried out in goes: some ten milliseconds. Own choice, no source. */
const A_GO = 200;

/** How many pieces may still be done anew in this go. */
let allowed = Number.POSITIVE_INFINITY;

/** Thrown between two pieces: the go is at its end. What was done is cached. */
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

/** What a piece is: a step, the beginning of a sequence, the end of a part. */
export type PieceOf = object | string;

/**
 * Goes through pieces of a job one after the other; `work` does one. What they say is heard where `isHeard`, which is told of all of them at once, so
 * that none of them is done again for it.
 */
export type GoThrough = (pieces: readonly PieceOf[], work: (of: PieceOf) => void, isHeard?: () => boolean) => void;

interface Known extends Visitor {
  readonly of: PieceOf;
  readonly piece: Piece;
  muted: boolean;
  said: readonly RehearsalFinding[];
  /** It stands in no order: what it found is not entered. */
  isDetached: boolean;
  /** What was done for another variant and taken from there, and which time it was done. */
  model: { readonly known: Known; readonly run: number } | undefined;
}

/** A piece as it was done, with its place in the work. */
export interface DonePiece extends Visitor {
  readonly of: PieceOf;
}

export interface JobPieces {
  /** What was done, in turn, the last time that the job was carried out. */
  readonly trail: readonly DonePiece[];
  /** What is gone through in one go, in turn, where the job was done to the end. */
  readonly stretches: readonly (readonly Known[])[];
  /**
   * Carries the job out while a question is answered: all that is said in it. `model` is the same job as it was carried out for another variant:
   * a piece of that which read nothing that differs, and found what is found here, is taken from there.
   */
  of(state: State, carryOut: (goThrough: GoThrough) => void, model?: JobPieces): readonly RehearsalFinding[];
}

/** The pieces that were gone through in one go for another variant, each given once. Most often they are the same, in turn. */
function modelsIn(stretch: readonly Known[]): (of: PieceOf) => Known | undefined {
  let next = 0;
  let left: Map<PieceOf, Known[]> | undefined;
  return (of) => {
    const known = left === undefined ? stretch[next] : undefined;
    if (known?.of === of) {
      next += 1;
      return known;
    }
    left ??= byWhatTheyAre(stretch.slice(next));
    return left.get(of)?.shift();
  };
}

function byWhatTheyAre(all: readonly Known[]): Map<PieceOf, Known[]> {
  const found = new Map<PieceOf, Known[]>();
  for (const known of all) {
    const same = found.get(known.of);
    if (same === undefined) found.set(known.of, [known]);
    else same.push(known);
  }
  return found;
}

/** Pieces that are gone through in one go are numbered from here: no go has so many. */
const A_STRETCH = 2 ** 25;

/** The pieces that are to be gone through, of those of the time before where they are the same; what is in between is detached. */
function inTurn(
  before: readonly Known[],
  now: readonly PieceOf[],
  detach: (known: Known) => void,
  make: (of: PieceOf) => Known,
): readonly Known[] {
  const most = Math.min(before.length, now.length);
  let first = 0;
  while (first < most && before[first]?.of === now[first]) first += 1;
  if (first === before.length && first === now.length) return before;
  let last = 0;
  while (last < most - first && before[before.length - 1 - last]?.of === now[now.length - 1 - last]) last += 1;
  const between = before.slice(first, before.length - last);
  for (const known of between) detach(known);
  const free = byWhatTheyAre(between);
  const come = now.slice(first, now.length - last).map((of) => free.get(of)?.shift() ?? make(of));
  for (const left of free.values()) for (const { piece } of left) disposePiece(piece);
  return [...before.slice(0, first), ...come, ...before.slice(before.length - last)];
}

/** Carries a job out that is looked at once: how its pieces find and leave the engine is not recorded. All that is said in it. */
function saidOnce(state: State, carryOut: (goThrough: GoThrough) => void): readonly RehearsalFinding[] {
  const { ledger, findings } = state;
  const said: RehearsalFinding[] = [];
  try {
    carryOut((pieces, work, isHeard) => {
      const own: RehearsalFinding[] = [];
      for (const of of pieces) {
        findings.length = 0;
        work(of);
        if (!state.muted) own.push(...findings);
      }
      if (own.length > 0 && isHeard?.() !== false) for (const each of own) said.push(each);
    });
  } catch (reason) {
    ledger.leave();
    state.turn = undefined;
    throw reason;
  }
  return said;
}

/** The pieces of one job. */
export function newJobPieces(): JobPieces {
  /** What is gone through in one go, each in the order of the work. */
  const stretches: (readonly Known[])[] = [];
  const pieces = newPieces();
  /** It was done to the end. */
  let isWhole = false;
  const make = (of: PieceOf): Known => ({
    of,
    at: 0,
    piece: newPiece(pieces),
    visits: [],
    isTouched: false,
    muted: false,
    said: [],
    isDetached: false,
    model: undefined,
  });
  return {
    get trail() {
      return isWhole ? stretches.flat() : [];
    },
    get stretches() {
      return isWhole ? stretches : [];
    },
    of(state, carryOut, model) {
      if (isOnce()) return saidOnce(state, carryOut);
      const { ledger, findings } = state;
      const detach = (known: Known): void => {
        if (!known.isDetached) ledger.detach(known);
        known.isDetached = true;
      };
      /** Whether a piece need not be done again. */
      const isAsBefore = (known: Known, other: Known | undefined): boolean => {
        if (known.muted !== state.muted || !isCurrent(known.piece)) return false;
        if (known.model !== undefined && (known.model.known !== other || known.model.run !== other.piece.run))
          return false;
        if (!known.isTouched && !known.isDetached) return true;
        if (!ledger.findsAll(known)) return false;
        if (known.isDetached) ledger.reattach(known);
        known.isDetached = false;
        return true;
      };
      /** Does a piece of the work; it is as if nothing had been done where that fails. */
      const doing = <result>(known: Known, work: () => result): result => {
        findings.length = 0;
        ledger.standAt(known.at);
        try {
          return doPiece(known.piece, work);
        } catch (reason) {
          ledger.leave();
          state.turn = undefined;
          throw reason;
        }
      };
      const done = (known: Known, said: readonly RehearsalFinding[], model: Known['model']): void => {
        if (known.isDetached) known.visits = [];
        known.isDetached = false;
        ledger.close(known);
        known.model = model;
        known.muted = state.muted;
        known.said = said;
      };
      const doAgain = (known: Known, work: (of: PieceOf) => void): void => {
        doing(known, () => work(known.of));
        done(known, [...findings], undefined);
      };
      /** Takes a piece over from another variant; false where it is not the same here. */
      const takeOver = (known: Known, other: Known | undefined): boolean => {
        if (other === undefined || other.isDetached || other.isTouched || other.muted !== state.muted) return false;
        if (pieceDiffers(other.piece) || !isCurrent(other.piece)) return false;
        if (!doing(known, () => ledger.redo(other))) return false;
        done(known, other.said, { known: other, run: other.piece.run });
        return true;
      };
      let count = 0;
      const said: RehearsalFinding[] = [];
      const goThrough: GoThrough = (all, work, isHeard) => {
        const list = inTurn(stretches[count] ?? [], all, detach, make);
        const from = count * A_STRETCH;
        const modelOf = model === undefined ? undefined : modelsIn(model.stretches[count] ?? []);
        stretches[count] = list;
        count += 1;
        for (let i = 0; i < list.length; i += 1) (list[i] as Known).at = from + i;
        for (const known of list) {
          const other = modelOf?.(known.of);
          if (isAsBefore(known, other)) continue;
          if (allowed <= 0) throw LEFT_OFF;
          if (takeOver(known, other)) continue;
          allowed -= 1;
          doAgain(known, work);
        }
        ledger.standAt(from + A_STRETCH);
        const speaking = list.filter((known) => !known.muted && known.said.length > 0);
        if (speaking.length > 0 && isHeard?.() !== false)
          for (const known of speaking) for (const each of known.said) said.push(each);
      };
      trackPieces(pieces);
      isWhole = false;
      ledger.begin(pieces);
      carryOut(goThrough);
      for (const left of stretches.splice(count))
        for (const known of left) {
          detach(known);
          disposePiece(known.piece);
        }
      isWhole = true;
      return said;
    },
  };
}
