// Memoised questions: a pure function of what it reads. What is read while a question is answered is tracked; when a cell that was read is
// invalidated, what depends on it is stale, and is asked again when somebody wants to know. An answer that comes out as it was stops the change
// there. Nothing of engines is known here; the graph of who read what is that of alien-signals.
import { createReactiveSystem, type ReactiveNode } from 'alien-signals/system';
import type { InPieces } from '../../grammar/give-way.ts';
import { deepEqual } from './deep-equal.ts';

/** A source that stands still until who has it says that it has changed (`invalidate`). */
export interface Cell extends ReactiveNode {
  /** Nobody reads it any more. */
  readonly onUnwatched: ((cell: Cell) => void) | undefined;
  /** What it stands for, and whose it is, for who has it. */
  readonly of: unknown;
  readonly by: unknown;
}

/** A question, whatever its answer is. */
export interface Asked extends ReactiveNode {
  answer: unknown;
  readonly work: () => unknown;
  /** Whether an answer is as it was; its dependents are then not asked again. */
  readonly isSame: (before: unknown, now: unknown) => boolean;
  /** Told once when the answer may be another, until it is asked again. */
  readonly onStale: (() => void) | undefined;
  /** Whose own text it is about: that is not tracked, since it is asked again with every change of it. */
  readonly own: object | undefined;
  /** Nobody reads its answer any more. */
  readonly onUnwatched: (() => void) | undefined;
  /** Told apart from its earlier answering, so that what is read twice is tracked once. */
  run: number;
  /** What its answer was compared with last, for who compares answers; see view-questions.ts. */
  comparison: unknown;
}

export interface Question<answer> extends Asked {
  readonly work: () => answer;
}

/**
 * A piece of the work on a question, done one after the other: one of which nothing that it read is another may be left as it was done,
 * where what came before it has left all as it did then (which is the affair of who does the work).
 */
export interface Piece extends ReactiveNode {
  readonly isPiece: true;
  readonly of: Pieces;
  readonly own: undefined;
  /** Told once when something that it read may be another, until it is looked at again. */
  readonly onStale: (() => void) | undefined;
  run: number;
}

/** All pieces of a work: the question that hangs on it is asked again when one of them has to be done. */
export interface Pieces extends ReactiveNode {
  readonly arePieces: true;
}

/** For whom what is read is tracked. */
type Reader = Asked | Piece;

// The flags of a node, as the library has them (it says RecursedCheck for EVALUATING).
const MUTABLE = 1;
const WATCHING = 2;
const EVALUATING = 4;
const DIRTY = 16;
const PENDING = 32;
// One of ours: an answer for which something was read that differs from variant to variant.
const DIFFERS = 1024;

let asking: Reader | undefined;
let runs = 0;
/** Nothing will change any more: answers are cached, what was read for them is not tracked. */
let isNowOnce = false;
/** Whether something was read since that differs from variant to variant; see shared-views.ts and recorded-together.ts. */
let hasDiffered = false;

/** How many questions were answered and how many pieces were done so far, in all: what an edit costs is told by it, without a clock. */
export const worked = { questions: 0, pieces: 0 };

const isQuestion = (node: ReactiveNode): node is Asked => 'work' in node;
const isPiece = (node: ReactiveNode): node is Piece => 'isPiece' in node;
const arePieces = (node: ReactiveNode): node is Pieces => 'arePieces' in node;

const { link, unlink, propagate, checkDirty, shallowPropagate } = createReactiveSystem({
  update(node) {
    if (isQuestion(node)) return work(node);
    // A piece is done again by who does the whole.
    node.flags = isPiece(node) ? mustBeDone(node) : MUTABLE;
    return true;
  },
  notify(node) {
    if (isQuestion(node) || isPiece(node)) node.onStale?.();
  },
  unwatched(node) {
    if (isPiece(node)) dropPiece(node);
    else if (arePieces(node)) dropAll(node);
    else if (!isQuestion(node)) (node as Cell).onUnwatched?.(node as Cell);
    else if (node.onStale === undefined) {
      dispose(node);
      node.onUnwatched?.();
    }
  },
});

// There are many nodes, so each is made in one piece: what is put into an object behind that stands in a second one. The fields that all have
// come first, in one order, so that all are alike to the engine.

/** A cell. `onUnwatched` is told when nobody reads it any more; `of` and `by` are for who has it. */
export function newCell(onUnwatched?: (cell: Cell) => void, of?: unknown, by?: unknown): Cell {
  const cell: { [field in keyof Cell]: Cell[field] | undefined } = {
    deps: undefined,
    depsTail: undefined,
    subs: undefined,
    subsTail: undefined,
    flags: MUTABLE,
    onUnwatched,
    of,
    by,
  };
  return cell as Cell;
}

/** A question; with `onStale` it is one that somebody waits for. */
export function newQuestion<answer>(
  work: () => answer,
  isSame: (before: answer, now: answer) => boolean = deepEqual,
  {
    onStale,
    own,
    onUnwatched,
  }: { readonly onStale?: () => void; readonly own?: object; readonly onUnwatched?: () => void } = {},
): Question<answer> {
  const question: { [field in keyof Question<answer>]: Question<answer>[field] | undefined } = {
    deps: undefined,
    depsTail: undefined,
    subs: undefined,
    subsTail: undefined,
    flags: MUTABLE | DIRTY | (onStale === undefined ? 0 : WATCHING),
    answer: undefined,
    work,
    isSame: isSame as Asked['isSame'],
    onStale,
    own,
    onUnwatched,
    run: 0,
    comparison: undefined,
  };
  return question as Question<answer>;
}

const watchedOf = ({ onStale }: Asked | Piece): number => (onStale === undefined ? 0 : WATCHING);
const mustBeDone = (piece: Piece): number => MUTABLE | DIRTY | watchedOf(piece);

export function newPieces(): Pieces {
  const pieces: { [field in keyof Pieces]: Pieces[field] | undefined } = {
    deps: undefined,
    depsTail: undefined,
    subs: undefined,
    subsTail: undefined,
    flags: MUTABLE,
    arePieces: true,
  };
  return pieces as Pieces;
}

/** One more piece of a work, of which nothing is tracked: it has to be done. */
export function newPiece(pieces: Pieces, onStale?: () => void): Piece {
  const made: { [field in keyof Piece]: Piece[field] | undefined } = {
    deps: undefined,
    depsTail: undefined,
    subs: undefined,
    subsTail: undefined,
    flags: MUTABLE | DIRTY | (onStale === undefined ? 0 : WATCHING),
    isPiece: true,
    of: pieces,
    own: undefined,
    onStale,
    run: 0,
  };
  const piece = made as Piece;
  link(piece, pieces, 0);
  return piece;
}

/** A piece is no more. */
export function disposePiece(piece: Piece): void {
  if (piece.subs !== undefined) unlink(piece.subs);
}

/**
 * The question in hand hangs on all pieces of a work, and goes through them now: whatever was told of them is heard. Where they all stayed
 * marked as stale, nobody would be told of the next change.
 */
export function trackPieces(pieces: Pieces): void {
  pieces.flags = MUTABLE;
  if (asking !== undefined) link(pieces, asking, asking.run);
}

/** Whether all that was read for a piece is as it was. */
export function isCurrent(piece: Piece): boolean {
  const { flags } = piece;
  if ((flags & DIRTY) !== 0) return false;
  if ((flags & PENDING) !== 0) {
    if (piece.deps !== undefined && checkDirty(piece.deps, piece)) {
      piece.flags = mustBeDone(piece);
      return false;
    }
    piece.flags = flags & ~PENDING;
  }
  return true;
}

/** Whether something was read for a piece that differs from variant to variant. */
export const pieceDiffers = ({ flags }: Piece): boolean => (flags & DIFFERS) !== 0;

/** Does a piece of the work on the question in hand; what is read meanwhile is tracked for the piece. */
export function doPiece<result>(piece: Piece, work: () => result): result {
  if (isNowOnce) return work();
  const [outer, hadDiffered] = [asking, hasDiffered];
  const watched = watchedOf(piece);
  // Where nobody hung on the pieces for a while.
  if (piece.subs === undefined) link(piece, piece.of, 0);
  Reflect.set(piece, 'depsTail', undefined);
  piece.flags = MUTABLE | EVALUATING | watched;
  runs += 1;
  worked.pieces += 1;
  piece.run = runs;
  asking = piece;
  hasDiffered = false;
  let isDone = false;
  try {
    const result = work();
    isDone = true;
    return result;
  } finally {
    piece.flags = MUTABLE | watched | (isDone ? 0 : DIRTY) | (hasDiffered ? DIFFERS : 0);
    asking = outer;
    hasDiffered = hadDiffered;
    unlinkSources(piece);
  }
}

function dropPiece(piece: Piece): void {
  Reflect.set(piece, 'depsTail', undefined);
  unlinkSources(piece);
  piece.flags = mustBeDone(piece);
  piece.onStale?.();
}

function dropAll(pieces: Pieces): void {
  Reflect.set(pieces, 'depsTail', undefined);
  unlinkSources(pieces);
}

/** Unlinks the sources that were not read again. */
function unlinkSources(question: Reader | Pieces): void {
  const last = question.depsTail;
  let source = last === undefined ? question.deps : last.nextDep;
  while (source !== undefined) source = unlink(source, question);
}

/** Lets go of an answer and of what was read for it; asked again it is answered anew. */
export function dispose(question: Asked): void {
  Reflect.set(question, 'depsTail', undefined);
  unlinkSources(question);
  question.answer = undefined;
  question.flags = MUTABLE | DIRTY | watchedOf(question);
  // Who has its answer asks somebody else: this one must not be worked on for them.
  while (question.subs !== undefined) {
    const { sub } = question.subs;
    unlink(question.subs, sub);
    const wasStale = (sub.flags & (DIRTY | PENDING)) !== 0;
    sub.flags |= DIRTY;
    if (wasStale) continue;
    if (isQuestion(sub) || isPiece(sub)) sub.onStale?.();
    if (sub.subs !== undefined) propagate(sub.subs, false);
  }
}

/** Answers a question anew; true where the answer is another. */
function work(question: Asked): boolean {
  const [outer, hadDiffered] = [asking, hasDiffered];
  const before = question.answer;
  const isFirst = question.run === 0;
  const { flags } = question;
  const watched = flags & WATCHING;
  Reflect.set(question, 'depsTail', undefined);
  question.flags = MUTABLE | EVALUATING | watched;
  runs += 1;
  worked.questions += 1;
  question.run = runs;
  asking = question;
  hasDiffered = false;
  let isDone = false;
  try {
    const now = question.work();
    isDone = true;
    // An answer that was one for all variants, and is so no more, is another for who has it for another variant.
    const isAsShared = hasDiffered === ((flags & DIFFERS) !== 0);
    if (!isFirst && before !== undefined && now !== undefined && question.isSame(before, now)) return !isAsShared;
    question.answer = now;
    return isFirst || before !== now || !isAsShared;
  } finally {
    question.flags = MUTABLE | watched | (isDone ? 0 : DIRTY) | (hasDiffered ? DIFFERS : 0);
    asking = outer;
    hasDiffered = hadDiffered;
    unlinkSources(question);
  }
}

/** Answers a question that will not be asked again after a change. */
function workOnce(question: Asked): void {
  const { flags } = question;
  const outer = hasDiffered;
  question.flags = MUTABLE | EVALUATING;
  hasDiffered = false;
  let isDone = false;
  try {
    question.answer = question.work();
    isDone = true;
  } finally {
    const now = isDone ? flags & ~DIRTY & ~PENDING : flags;
    question.flags = hasDiffered ? now | DIFFERS : now;
    hasDiffered = outer;
  }
}

/** To be told when something is read that differs from variant to variant. */
export function noteDiffering(): void {
  if (isNowOnce || asking !== undefined) hasDiffered = true;
}

/** Does something; tells whether it read what differs from variant to variant. */
export function differsIn(work: () => void): boolean {
  const outer = hasDiffered;
  hasDiffered = false;
  try {
    work();
    return hasDiffered;
  } finally {
    hasDiffered = outer;
  }
}

/** Whether the answer that a question was given is that for any variant. */
export const isForAll = ({ flags }: Asked): boolean => (flags & (DIRTY | EVALUATING | DIFFERS)) === 0;

/** Whether a question is being answered. */
export const isInHand = ({ flags }: Asked): boolean => (flags & EVALUATING) !== 0;

function askOnce<answer>(question: Question<answer>): answer | undefined {
  if ((question.flags & EVALUATING) !== 0) return undefined;
  if ((question.flags & DIRTY) !== 0) workOnce(question);
  return question.answer as answer;
}

/** The answer to a question, as things stand. Undefined for one that is asked while it is being answered: it goes in a circle. */
export function ask<answer>(question: Question<answer>): answer | undefined {
  const answer = askUnmarked(question);
  // What comes of a circle hangs on where it was entered.
  if ((question.flags & (DIFFERS | EVALUATING)) !== 0) noteDiffering();
  return answer;
}

/** The same, where whether it differs from variant to variant is looked at by who asks. */
export function askUnmarked<answer>(question: Question<answer>): answer | undefined {
  if (isNowOnce) return askOnce(question);
  const { flags } = question;
  if ((flags & EVALUATING) !== 0) return undefined;
  if (
    (flags & DIRTY) !== 0 ||
    ((flags & PENDING) !== 0 && question.deps !== undefined && checkDirty(question.deps, question))
  ) {
    if (work(question) && question.subs !== undefined) shallowPropagate(question.subs);
  } else if ((flags & PENDING) !== 0) question.flags = flags & ~PENDING;
  if (asking !== undefined) link(question, asking, asking.run);
  return question.answer as answer;
}

/** To be told when a cell is read. Who reads it sees it as it is now; whoever else has read it before is asked again. */
export function track(cell: Cell): void {
  if (asking === undefined) return;
  if ((cell.flags & DIRTY) !== 0) {
    cell.flags = MUTABLE;
    if (cell.subs !== undefined) shallowPropagate(cell.subs);
  }
  link(cell, asking, asking.run);
}

/** Whether what is read of this one is tracked at the moment. */
export function isTracking(own: object | undefined): boolean {
  return asking !== undefined && (own === undefined || asking.own !== own);
}

/** To be told when a cell has changed. */
export function invalidate(cell: Cell): void {
  cell.flags = MUTABLE | DIRTY;
  if (cell.subs !== undefined) propagate(cell.subs, false);
}

/** Says that a question has to be answered anew, whatever it read. */
export function markStale(question: Asked): void {
  const wasStale = (question.flags & (DIRTY | PENDING)) !== 0;
  question.flags |= DIRTY;
  if (!wasStale) question.onStale?.();
}

/** Does something of which nothing is tracked. */
export function untracked<result>(look: () => result): result {
  const outer = asking;
  asking = undefined;
  try {
    return look();
  } finally {
    asking = outer;
  }
}

/** Does something of which nothing is tracked for the question in hand; `isOnceThere` says whether nothing will change behind it. */
function isolated<result>(isOnceThere: boolean, work: () => result): result {
  const [outer, wasOnce] = [asking, isNowOnce];
  asking = undefined;
  isNowOnce = isOnceThere;
  try {
    return work();
  } finally {
    asking = outer;
    isNowOnce = wasOnce;
  }
}

/**
 * Does something to the end of which nothing is tracked for a change: what is made meanwhile must not be asked for behind it. It takes less time and
 * room than noting all that is read.
 */
export function once<result>(work: () => result): result {
  return isolated(true, work);
}

function* isolatedInPieces<result>(isOnceThere: boolean, work: InPieces<result>): InPieces<result> {
  for (;;) {
    const next = isolated(isOnceThere, () => work.next());
    if (next.done === true) return next.value;
    yield;
  }
}

/** The same for work in pieces, between which all is tracked as ever. */
export const onceInPieces = <result>(work: InPieces<result>): InPieces<result> => isolatedInPieces(true, work);

/** Whether that is so at the moment. */
export const isOnce = (): boolean => isNowOnce;

/** Does something with tracking, also where the rest is done once. */
export function tracking<result>(work: () => result): result {
  return isolated(false, work);
}

/** The same for work in pieces. */
export const trackingInPieces = <result>(work: InPieces<result>): InPieces<result> => isolatedInPieces(false, work);

/** All that a question and the questions behind it read, in the order in which it was read first. */
export function sourcesRead(question: Asked): readonly Cell[] {
  const cells = new Set<Cell>();
  const met = new Set<ReactiveNode>();
  const gather = (node: ReactiveNode): void => {
    if (met.has(node)) return;
    met.add(node);
    for (let read = node.deps; read !== undefined; read = read.nextDep)
      if (isQuestion(read.dep) || isPiece(read.dep) || arePieces(read.dep)) gather(read.dep);
      else cells.add(read.dep as Cell);
  };
  gather(question);
  return [...cells];
}
