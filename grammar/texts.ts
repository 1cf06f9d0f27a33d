// Where quoted texts end. A text may run over a line end, not over an empty line: if it would, the first text of that
// paragraph that runs over a line end is the unclosed one, and it ends with its line.
import {
  closesText,
  isEmptyLineAfter,
  isInchMark,
  isLineEnd,
  isOpeningQuote,
  lineEndFrom,
  opensComment,
} from './characters.ts';
import { atOnce, type InPieces, PIECE } from './give-way.ts';

/** How often one paragraph is read again before each text in it that runs over a line end is cut short. Bounds the work. */
const REREADS = 64;

const QUOTE = /["\u201c-\u201f]/;
const QUOTE_OR_COMMENT = /["#\u201c-\u201f]|\/\//g;
const EMPTY_LINE = /(?:\r\n|\r(?!\n)|[\n\u2028\u2029])[^\S\r\n\u2028\u2029]*[\r\n\u2028\u2029]/;
const NEXT_EMPTY_LINE = new RegExp(EMPTY_LINE, 'g');

/** Offset after the closing quote of the text that opens at `at`, or -1 when an empty line or the end comes first. */
function closingEnd(text: string, at: number): { readonly end: number; readonly overLine: boolean } {
  const opening = text.charCodeAt(at);
  let overLine = false;
  for (let next = at + 1; next < text.length; next += 1) {
    const code = text.charCodeAt(next);
    if (code === 92 && next + 1 < text.length && !isLineEnd(text.charCodeAt(next + 1))) next += 1;
    else if (closesText(opening, code)) return { end: next + 1, overLine };
    else if (isLineEnd(code)) {
      if (isEmptyLineAfter(text, next)) return { end: -1, overLine: true };
      if (code === 13 && text.charCodeAt(next + 1) === 10) next += 1;
      overLine = true;
    }
  }
  return { end: -1, overLine };
}

/** The offsets of the quotes whose text is not closed. */
export function unclosedTexts(text: string): ReadonlySet<number> {
  return atOnce(findingUnclosed(text));
}

/** The same in pieces. */
export function* findingUnclosed(text: string): InPieces<ReadonlySet<number>> {
  const unclosed = new Set<number>();
  let first = -1;
  let lastEnd = 0;
  let rereads = 0;
  let pause = PIECE;
  QUOTE_OR_COMMENT.lastIndex = 0;
  for (let match = QUOTE_OR_COMMENT.exec(text); match !== null; match = QUOTE_OR_COMMENT.exec(text)) {
    const at = match.index;
    if ((first >= 0 || rereads > 0) && EMPTY_LINE.test(text.slice(lastEnd, at))) {
      first = -1;
      rereads = 0;
    }
    if (opensComment(text, at)) {
      lastEnd = lineEndFrom(text, at);
    } else if (isInchMark(text, at)) {
      lastEnd = at + 1;
    } else {
      const { end, overLine } = closingEnd(text, at);
      if (end >= 0 && !(overLine && rereads >= REREADS)) {
        if (overLine && first < 0) first = at;
        lastEnd = end;
      } else {
        const culprit = first >= 0 ? first : at;
        unclosed.add(culprit);
        first = -1;
        rereads += 1;
        lastEnd = lineEndFrom(text, culprit);
        // What is behind it is gone over again.
        pause = Math.min(pause, lastEnd + PIECE);
      }
    }
    if (lastEnd >= pause) {
      pause = lastEnd + PIECE;
      yield;
    }
    QUOTE_OR_COMMENT.lastIndex = lastEnd;
  }
  return unclosed;
}

/** Offset after the text that opens at `at`, where the unclosed ones are known: those end with their line. */
function textEnd(text: string, at: number, unclosed: { has(at: number): boolean }): number {
  if (unclosed.has(at)) return lineEndFrom(text, at);
  const { end } = closingEnd(text, at);
  return end >= 0 ? end : lineEndFrom(text, at);
}

/** A text in quotes or a comment, as it stands. */
export interface Stretch {
  readonly kind: 'text' | 'comment';
  readonly start: number;
  readonly end: number;
}

/** The text or comment that begins at an offset, where one does. The one rule that cutting and reading both go by. */
export function stretchAt(text: string, at: number, unclosed: { has(at: number): boolean }): Stretch | undefined {
  const code = text.charCodeAt(at);
  if (opensComment(text, at)) return { kind: 'comment', start: at, end: lineEndFrom(text, at) };
  if (!isOpeningQuote(code) || isInchMark(text, at)) return undefined;
  return { kind: 'text', start: at, end: textEnd(text, at, unclosed) };
}

/** Tells every text and comment, in their order, and every inch mark as well. */
function eachStretch(
  text: string,
  unclosed: { has(at: number): boolean },
  tell: (stretch: Stretch | undefined, at: number) => void,
): void {
  QUOTE_OR_COMMENT.lastIndex = 0;
  for (let match = QUOTE_OR_COMMENT.exec(text); match !== null; match = QUOTE_OR_COMMENT.exec(text)) {
    const stretch = stretchAt(text, match.index, unclosed);
    const next = stretch?.end ?? match.index + 1;
    tell(stretch, match.index);
    QUOTE_OR_COMMENT.lastIndex = next;
  }
}

/** All texts and comments, in their order. */
export function stretchesOf(text: string): readonly Stretch[] {
  const stretches: Stretch[] = [];
  eachStretch(text, unclosedTexts(text), (stretch) => {
    if (stretch !== undefined) stretches.push(stretch);
  });
  return stretches;
}

/** A quote that may have been meant otherwise than it is read, and all that may then be part of a text: up to the next empty line. */
export interface Doubt {
  readonly start: number;
  readonly end: number;
}

/**
 * Where it is in doubt what is a text: from a quote whose text is not closed, and from an inch mark with another quote behind it.
 * One for each paragraph at most.
 */
export function doubtsOf(text: string): readonly Doubt[] {
  const doubts: Doubt[] = [];
  const unclosed = unclosedTexts(text);
  let looked = 0;
  eachStretch(text, unclosed, (stretch, at) => {
    if (at < looked || !(stretch === undefined || unclosed.has(at))) return;
    NEXT_EMPTY_LINE.lastIndex = at;
    const end = NEXT_EMPTY_LINE.exec(text)?.index ?? text.length;
    if (stretch !== undefined || QUOTE.test(text.slice(at + 1, end))) doubts.push({ start: at, end });
    looked = end;
  });
  return doubts;
}
