// A text as it is written, held in pieces: an edit makes a piece or two anew and shares all others with the text of before, so that it
// costs no more in a long text than in a short one. The whole string is made when somebody asks for it. Lines end with \n, \r\n or \r;
// the piece that holds a line end holds all of it.
import { sharedEnds } from './shared-ends.ts';

/** A stretch of a text, with its own offsets behind each line end. */
interface Piece {
  readonly text: string;
  readonly breaks: readonly number[];
}

export interface Written {
  readonly length: number;
  readonly pieces: readonly Piece[];
  /** The offset of each piece. */
  readonly starts: readonly number[];
  /** How many line ends stand before each piece. */
  readonly breaksBefore: readonly number[];
  /** How many lines there are: one more than line ends. */
  readonly lines: number;
}

/** Characters of a piece. Beyond twice as many it is cut; below a quarter it is joined to the next one. */
const SIZE = 4096;
const MOST = 2 * SIZE;
const LEAST = SIZE / 4;

const CR = 13;
const LF = 10;

const wholes = new WeakMap<Written, string>();

function pieceOf(text: string): Piece {
  const breaks: number[] = [];
  if (!text.includes('\r')) {
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) breaks.push(at + 1);
    return { text, breaks };
  }
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === LF) breaks.push(at + 1);
    else if (code === CR) {
      if (text.charCodeAt(at + 1) === LF) at += 1;
      breaks.push(at + 1);
    }
  }
  return { text, breaks };
}

/** Cuts a text into pieces, behind line ends where that can be. */
function piecesOf(text: string): Piece[] {
  const pieces: Piece[] = [];
  let from = 0;
  while (text.length - from > MOST) {
    let to = from + SIZE;
    const lineEnd = text.indexOf('\n', to - 1) + 1;
    if (lineEnd > 0 && lineEnd - from <= MOST) to = lineEnd;
    else if (text.charCodeAt(to - 1) === CR && text.charCodeAt(to) === LF) to += 1;
    pieces.push(pieceOf(text.slice(from, to)));
    from = to;
  }
  pieces.push(pieceOf(text.slice(from)));
  return pieces;
}

function ofPieces(pieces: readonly Piece[]): Written {
  const starts: number[] = [];
  const breaksBefore: number[] = [];
  let length = 0;
  let breaks = 0;
  for (const piece of pieces) {
    starts.push(length);
    breaksBefore.push(breaks);
    length += piece.text.length;
    breaks += piece.breaks.length;
  }
  return { length, pieces, starts, breaksBefore, lines: breaks + 1 };
}

/** A text in pieces. */
export function writtenAs(text: string): Written {
  const made = ofPieces(piecesOf(text));
  wholes.set(made, text);
  return made;
}

/** The number of the last entry that is not above a number, of entries that rise from 0. */
function lastUpTo(rising: readonly number[], number: number): number {
  let low = 0;
  let high = rising.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((rising[middle] ?? 0) <= number) low = middle;
    else high = middle - 1;
  }
  return low;
}

const within = (offset: number, { length }: Written): number => Math.max(0, Math.min(offset, length));

/** The text with another in place of a stretch. */
export function withStretch(text: Written, start: number, end: number, put: string): Written {
  const [from, to] = [within(start, text), within(Math.max(start, end), text)];
  let first = lastUpTo(text.starts, from);
  let last = lastUpTo(text.starts, to);
  const head = text.pieces[first]?.text.slice(0, from - (text.starts[first] ?? 0)) ?? '';
  const tail = text.pieces[last]?.text.slice(to - (text.starts[last] ?? 0)) ?? '';
  let middle = head + put + tail;
  for (;;) {
    const before = text.pieces[first - 1];
    const after = text.pieces[last + 1];
    const isSmall = middle.length < LEAST;
    if (after !== undefined && (isSmall || (middle.endsWith('\r') && after.text.startsWith('\n')))) {
      middle += after.text;
      last += 1;
    } else if (before !== undefined && (isSmall || (middle.startsWith('\n') && before.text.endsWith('\r')))) {
      middle = before.text + middle;
      first -= 1;
    } else break;
  }
  const pieces = text.pieces.slice(0, first);
  for (const piece of piecesOf(middle)) pieces.push(piece);
  for (let i = last + 1; i < text.pieces.length; i += 1) pieces.push(text.pieces[i] as Piece);
  return ofPieces(pieces);
}

function joined(pieces: readonly Piece[], from: number, to: number): string {
  let whole = '';
  for (let i = from; i < to; i += 1) whole += pieces[i]?.text ?? '';
  return whole;
}

/** The whole as one string; the same one each time. */
export function wholeText(text: Written): string {
  let whole = wholes.get(text);
  if (whole === undefined) {
    whole = joined(text.pieces, 0, text.pieces.length);
    wholes.set(text, whole);
  }
  return whole;
}

/** A stretch as a string. */
export function stretchOf(text: Written, start: number, end: number): string {
  const [from, to] = [within(start, text), within(end, text)];
  if (to <= from) return '';
  const first = lastUpTo(text.starts, from);
  const last = lastUpTo(text.starts, to - 1);
  const at = text.starts[first] ?? 0;
  return joined(text.pieces, first, last + 1).slice(from - at, to - at);
}

/** The line that an offset stands in, counted from 0. */
export function lineAt(text: Written, offset: number): number {
  const i = lastUpTo(text.starts, within(offset, text));
  const own = offset - (text.starts[i] ?? 0);
  const breaks = text.pieces[i]?.breaks ?? [];
  let low = 0;
  let high = breaks.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((breaks[middle] ?? 0) <= own) low = middle + 1;
    else high = middle;
  }
  return (text.breaksBefore[i] ?? 0) + low;
}

/** The offset at which a line begins; that of the end for one that is not there. */
export function lineStart(text: Written, line: number): number {
  if (line <= 0) return 0;
  if (line >= text.lines) return text.length;
  const i = lastUpTo(text.breaksBefore, line - 1);
  return (text.starts[i] ?? 0) + (text.pieces[i]?.breaks[line - 1 - (text.breaksBefore[i] ?? 0)] ?? 0);
}

/** What an edit left alone of a text that is held in pieces, told by the earlier text. */
export interface LeftAlone {
  /** All before this offset is as it was. */
  readonly before: number;
  /** All from this offset on is as it was, and stands so many letters and lines further on. */
  readonly from: number;
  readonly by: number;
  readonly lines: number;
}

/** What of an earlier text stands in another as it was, as far as whole pieces tell. */
export function leftAloneIn(was: Written, now: Written): LeftAlone {
  const [front, back] = sharedEnds(was.pieces, now.pieces);
  return {
    before: front === was.pieces.length ? was.length : (was.starts[front] ?? 0),
    from: back === 0 ? was.length + 1 : (was.starts[was.pieces.length - back] ?? 0),
    by: now.length - was.length,
    lines: now.lines - was.lines,
  };
}

/** A stretch of an earlier text that gave way to another, which is longer by `by`. */
export interface Changed {
  readonly start: number;
  readonly end: number;
  readonly by: number;
}

function commonStart(one: string, other: string): number {
  const most = Math.min(one.length, other.length);
  let at = 0;
  while (at + SIZE <= most && one.slice(at, at + SIZE) === other.slice(at, at + SIZE)) at += SIZE;
  while (at < most && one.charCodeAt(at) === other.charCodeAt(at)) at += 1;
  return at;
}

function commonEnd(one: string, other: string, most: number): number {
  const [a, b] = [one.length, other.length];
  let length = 0;
  while (
    length + SIZE <= most &&
    one.slice(a - length - SIZE, a - length) === other.slice(b - length - SIZE, b - length)
  )
    length += SIZE;
  while (length < most && one.charCodeAt(a - length - 1) === other.charCodeAt(b - length - 1)) length += 1;
  return length;
}

/** What differs between two strings: outside of it they are the same. */
export function changedString(before: string, now: string): Changed {
  const start = commonStart(before, now);
  const end = before.length - commonEnd(before, now, Math.min(before.length, now.length) - start);
  return { start, end, by: now.length - before.length };
}

/** What differs between two texts: outside of it they are the same. Pieces that they share are not looked into. */
export function changedStretch(before: Written, now: Written): Changed {
  const [old, pieces] = [before.pieces, now.pieces];
  const most = Math.min(old.length, pieces.length);
  let front = 0;
  while (front < most && old[front] === pieces[front]) front += 1;
  let back = 0;
  while (back < most - front && old[old.length - 1 - back] === pieces[pieces.length - 1 - back]) back += 1;
  const { start, end, by } = changedString(
    joined(old, front, old.length - back),
    joined(pieces, front, pieces.length - back),
  );
  const at = before.starts[front] ?? before.length;
  return { start: at + start, end: at + end, by };
}

/** A string in pieces, with those of an earlier text where it is the same. */
export function writtenAfter(before: Written, text: string): Written {
  const { start, end, by } = changedString(wholeText(before), text);
  const now = start === end && by === 0 ? before : withStretch(before, start, end, text.slice(start, end + by));
  wholes.set(now, text);
  return now;
}
