// Whether a word begins a declaration, by itself and what follows it: the rule for reserved words. Where one ends is told by what is cut
// (section-drafts.ts).
import { HIDDEN, isBlank, isOpeningQuote, lineEndFrom, opensComment, wordEnd } from './characters.ts';
import { CHANGE_WORDS, CHANGEABLE, RESERVED } from './vocabulary.ts';

const HEAD_WORDS = new Set(['of', 'on', 'by', 'each', 'measured', 'within', 'at-least', 'at-most']);
const initialsOf = (words: ReadonlySet<string>): ReadonlySet<number> =>
  new Set([...words].flatMap((word) => [word.charCodeAt(0), word.toUpperCase().charCodeAt(0)]));
const INITIALS = initialsOf(RESERVED);
/** The letters that a word for a change begins with. */
export const CHANGE_INITIALS = initialsOf(CHANGE_WORDS);

function skipBlanksAndComments(text: string, from: number): number {
  let at = from;
  for (;;) {
    while (at < text.length && isBlank(text.charCodeAt(at))) at += 1;
    if (!opensComment(text, at)) return at;
    at = lineEndFrom(text, at);
  }
}

/** A word in small letters, without the characters of no width that may hide in it. */
export function plainWord(text: string, start: number, end: number): string {
  return text.slice(start, end).replace(HIDDEN, '').toLowerCase();
}

const SMALL_LETTERS = /^[a-z0-9_-]+$/;

/** Whether a word is one of some, which are in small letters, as it is written most often. */
function isOneOf(words: ReadonlySet<string>, text: string, start: number, end: number): boolean {
  const written = text.slice(start, end);
  return words.has(written) || (!SMALL_LETTERS.test(written) && words.has(plainWord(written, 0, written.length)));
}

export function isReserved(text: string, start: number, end: number): boolean {
  return end - start <= 24 && INITIALS.has(text.charCodeAt(start)) && isOneOf(RESERVED, text, start, end);
}

/** Whether what follows a reserved word inside an open brace is the head of a declaration. */
export function headFollows(text: string, word: string, after: number): boolean {
  let at = skipBlanksAndComments(text, after);
  const first = text.charCodeAt(at);
  if (first === 123) return true;
  if (word === 'engine') return false;
  if (isOpeningQuote(first)) return true;
  const nameEnd = wordEnd(text, at);
  if (nameEnd === at || isReserved(text, at, nameEnd)) return false;
  at = skipBlanksAndComments(text, nameEnd);
  if (at >= text.length) return true;
  const next = text.charCodeAt(at);
  if (next === 123 || next === 61 || isOpeningQuote(next)) return true;
  if (next === 0xd7) return true;
  const end = wordEnd(text, at);
  if (end === at) return false;
  const following = plainWord(text, at, end);
  return /^x\d+$/.test(following) || HEAD_WORDS.has(following) || RESERVED.has(following);
}

/** Where the reserved word ends that follows `change`, `drop` or `insert`; undefined for any other word, and before any other. */
export function changedEnd(text: string, start: number, end: number): number | undefined {
  if (end - start > 12 || text.charCodeAt(start - 1) === 46) return undefined;
  if (!isOneOf(CHANGE_WORDS, text, start, end)) return undefined;
  const from = skipBlanksAndComments(text, end);
  const to = wordEnd(text, from);
  return isReserved(text, from, to) && CHANGEABLE.has(plainWord(text, from, to)) ? to : undefined;
}

/** Where the name ends of what is dropped; the engine has none. */
export function droppedEnd(text: string, after: number): number {
  if (/engine$/i.test(text.slice(after - 6, after))) return after;
  const from = skipBlanksAndComments(text, after);
  const to = wordEnd(text, from);
  return to === from || isReserved(text, from, to) ? after : to;
}

/** `engine.squish` and `run engine at …` name the engine; they don't declare it. */
export function engineAsPart(text: string, end: number, afterRun: boolean): boolean {
  if (text.charCodeAt(end) === 46) return true;
  const next = skipBlanksAndComments(text, end);
  const following = text.slice(next, wordEnd(text, next)).toLowerCase();
  return following === 'at' || following === 'for' || afterRun;
}
