// How the statements with several pieces are written, piece by piece: for the hint that is shown while one is written, and for the
// clause words that may still follow. What a word means is in the vocabulary.
import { lookUp } from '../../grammar/look-up.ts';
import type { Block, StatementRow } from '../../grammar/vocabulary.ts';

/** One piece: `into|onto PART` is begun by either word; `VALUE` by nothing. */
export interface Piece {
  readonly text: string;
  readonly leads: readonly string[];
}

const ACTION_FORMS: Readonly<Partial<Record<string, readonly string[]>>> = {
  fit: ['PART, …', 'into|onto PART', 'together', 'by press|heat|twist', 'at TEMPERATURE', 'part-way DISTANCE'],
  remove: ['PART, …', 'from PART', 'together'],
  tighten: ['FASTENER, …', 'stage N', 'again'],
  'line-up': ['PART.feature', 'with PART.feature'],
  lubricate: ['PART, …', 'with SUPPLY'],
  seal: ['PART, …', 'with SUPPLY'],
  inspect: ['PART, …', 'for "what to look for"'],
  measure: ['LIMIT', 'with "instrument"', 'otherwise "what to do"'],
  adjust: ['LIMIT', 'by "how"', 'otherwise "what to do"'],
  machine: ['PART.feature', 'to SIZE', 'by "how"'],
  clean: ['PART, …', 'with SUPPLY'],
  plug: ['PART.opening, …', 'with "what"'],
  mask: ['PART.face, …', 'with "what"'],
  'hold-back': ['PART', 'with "what"'],
  pin: ['PART', 'with "pin"'],
  fill: ['PART', 'with SUPPLY', 'AMOUNT'],
  support: ['PART', 'with "what"'],
  lift: ['PART', 'with "what"'],
};

const FORMS: Readonly<Record<string, readonly string[]>> = {
  allow: ['CODE', 'because "reason"'],
  source: ['NAME', '"title"'],
  cylinders: ['NUMBER', 'inline|flat|vee|radial', 'ANGLE of a vee'],
  bank: ['left|right', 'CYLINDER, …'],
  crankpin: ['CYLINDER, …', 'at ANGLE'],
  places: ['NAME 1..N', 'into PART, …'],
  dimension: ['NAME', 'xCOUNT', 'SIZE', 'wear-limit SIZE'],
  figure: ['NAME', 'VALUE', 'wear-limit VALUE'],
  size: ['NAME', 'undersize|oversize STEP', '{ sizes }'],
  mark: ['NAME', 'at CLOCK or ANGLE', 'against PART.mark'],
  orient: ['FEATURE', 'toward DIRECTION or PART.feature', 'at CLOCK or ANGLE', 'from FEATURE', 'for PLACES'],
  clamps: ['PART, …', 'to PART'],
  retorque: ['STAGE', 'after "when"'],
  'tightening-order': ['stage N', 'each PART', 'over PART', 'with FASTENER', 'circle', 'NUMBERS / NUMBERS'],
  reuse: ['to LENGTH'],
  'draw-up': ['TORQUE', 'with "which bolt"'],
  timed: ['at tdc CYLINDER or ANGLE', 'on compression|overlap'],
  into: ['PART', 'steel|iron|aluminium'],
  wrap: ['PART', 'over WHEEL, …'],
  mesh: ['GEAR', 'with GEAR'],
  'ratio-of': ['SHAFT', 'to SHAFT', 'N:N'],
  'centre-distance': ['WHEEL', 'to WHEEL', 'DISTANCE', 'at CLOCK'],
  'marks-agree': ['at tdc CYLINDER', 'on compression|overlap'],
  'marked-link': ['LINK, …', 'at PART.mark', 'either-side-of PART.mark'],
  events: ['opens ANGLE EVENT', 'closes ANGLE EVENT'],
  stated: ['WHAT', 'ANGLE'],
  set: ['SHAFT', 'at tdc CYLINDER or ANGLE', 'with MARK at CLOCK', 'on compression|overlap'],
  rotate: ['SHAFT', 'TURNS or ANGLE', 'clockwise|anticlockwise'],
  confirm: ['DRIVE or PART.mark', 'by marks|links|pins|dial-gauge|degree-wheel', 'at CLOCK or ANGLE'],
  run: ['engine', 'at SPEED', 'under LOAD', 'for TIME', 'until TEMPERATURE or "what shows"'],
  crank: ['engine', 'for TIME', 'until "what shows"'],
  'record-fitted': ['PART', 'size REPAIR-SIZE', 'grade GRADE', '"batch"'],
  found: ['PART', 'PLACE', '"what"'],
  measured: ['LIMIT', 'VALUES', 'with "instrument"', 'on DATE'],
  done: ['STEP', 'again "why"', 'on DATE', 'by "who"'],
  photo: ['"file"', 'of PART'],
  signed: ['"who"', 'on DATE'],
  agreed: ['"what"', 'on DATE', 'by "who"'],
  witnessed: ['STEP', 'by "who"', 'on DATE'],
  see: ['SOURCE', '"place"'],
  wall: ['SIZE', 'wear-limit SIZE'],
  'lift-at': ['LIFT', 'at valve|lobe'],
  phaser: ['ANGLE', 'parked retarded|advanced'],
};

function pieceOf(text: string): Piece {
  const first = text.split(/[ ,]/)[0] ?? '';
  return { text, leads: /^[a-z|-]+$/.test(first) ? first.split('|') : [] };
}

const cache = new Map<readonly string[], readonly Piece[]>();

/** The pieces behind the word of a statement; empty for one that takes a single piece. */
export function piecesOf(row: StatementRow, block: Block): readonly Piece[] {
  const form = (block === 'step' ? lookUp(ACTION_FORMS, row.word) : undefined) ?? lookUp(FORMS, row.shape) ?? [];
  let pieces = cache.get(form);
  if (pieces === undefined) {
    pieces = form.map(pieceOf);
    cache.set(form, pieces);
  }
  return pieces;
}
