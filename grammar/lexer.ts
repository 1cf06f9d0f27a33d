// Turns a section's own text into tokens and comments. Tokens depend on their place: a unit is read only straight after a
// number, a thread only after `thread`, a check's code only after `allow`. What people paste is read as meant; what could
// be misread gives a fault with a way out. Figures are in figure-lexer.ts.
import type { TokenType } from 'chevrotain';
import {
  isBlank,
  isDigit,
  isLineEnd,
  isOpeningQuote,
  isPlainLetter,
  MISLEADING,
  OVERRIDES,
  wordEnd,
} from './characters.ts';
import { lexBehindNumber, lexDots, lexNumber, lexPlusMinus, lexThread, lexTimesCount } from './figure-lexer.ts';
import {
  hiddenCharacters,
  inchMark,
  mailMark,
  numberAfterHash,
  otherComment,
  strayCharacters,
  unclosedText,
} from './lexer-messages.ts';
import { type LexContext, type Lexed, type Lexing, lastOf, lexing, matchHere, push } from './lexing.ts';
import { HOLE } from './section.ts';
import { stretchAt } from './texts.ts';
import * as t from './tokens.ts';
import { formOf } from './word-forms.ts';

const SIGNS: ReadonlyMap<string, TokenType> = new Map(
  Object.entries({
    '{': t.Open,
    '}': t.Close,
    '(': t.OpenBracket,
    ')': t.CloseBracket,
    ',': t.Comma,
    ':': t.Colon,
    '=': t.Equals,
    '+': t.Plus,
    '-': t.Minus,
    '\u2212': t.Minus,
    '\u2010': t.Minus,
    '\u2011': t.Minus,
    '*': t.Times,
    '×': t.Times,
    '/': t.Slash,
    '.': t.Dot,
    '±': t.PlusMinus,
    '\u2013': t.Minus,
    '\u2014': t.Minus,
    '\u2012': t.Minus,
    '\u2015': t.Minus,
  }),
);
const CODE =
  /[a-z]+(?:[\u200b\u2060]*-[\u200b\u2060]*[a-z]+)*\s*\/\s*[a-z]+(?:[\u200b\u2060]*-[\u200b\u2060]*[a-z]+)*/iuy;
const SLASH = 47;

/** What most texts are made of: letters that stand for themselves, one blank between words. */
const PLAIN_TEXT = /^[!-[\]-~]+(?: [!-[\]-~]+)*$/;

/** Reads the value of a text between its quotes: escapes resolved, runs of blanks and line ends as one blank, nothing without width. */
function textValue(raw: string): string {
  if (PLAIN_TEXT.test(raw)) return raw;
  return raw
    .replace(/[\u200b\u2060\ufeff]/gu, '')
    .replace(/\s+/gu, ' ')
    .trim()
    .replace(/\\(["\\])/g, '$1');
}

/** Says of what people read that it is shown otherwise than it is written. */
function sayIfOverridden(on: Lexing, shown: string, end: number): void {
  if (OVERRIDES.test(shown)) on.faults.push(hiddenCharacters(on.text, on.at, end, OVERRIDES));
  OVERRIDES.lastIndex = 0;
}

function lexComment(on: Lexing, code: number, end: number): void {
  const { text, at, faults } = on;
  const comment = { start: at, end, text: text.slice(at, end).trimEnd() };
  on.comments.push(comment);
  if (code === SLASH) faults.push(otherComment(at));
  if (isDigit(text.charCodeAt(at + 1))) faults.push(numberAfterHash(text, at, end));
  sayIfOverridden(on, comment.text, end);
  on.at = end;
}

function lexText(on: Lexing, end: number): void {
  const { text, at } = on;
  const closed = !on.unclosed.has(at) && end - at >= 2;
  const raw = text.slice(at + 1, closed ? end - 1 : end);
  if (!closed) on.faults.push(unclosedText(text, at, end));
  sayIfOverridden(on, raw, end);
  push(on, t.TextToken, Math.max(end, at + 1), textValue(raw));
}

/** A comment or a text in quotes; a quote that opens none is an inch mark. */
function lexStretch(on: Lexing, code: number): boolean {
  const stretch = stretchAt(on.text, on.at, on.unclosed);
  if (stretch?.kind === 'comment') lexComment(on, code, stretch.end);
  else if (stretch?.kind === 'text') lexText(on, stretch.end);
  else if (isOpeningQuote(code)) {
    on.faults.push(inchMark(on.at));
    push(on, t.UnitToken, on.at + 1, 'in');
  } else return false;
  return true;
}

/** Where another declaration stands in this one. */
function lexHole(on: Lexing): boolean {
  if (on.text[on.at] !== HOLE || !on.holes.has(on.at)) return false;
  push(on, t.Hole, on.at + 1, HOLE);
  return true;
}

/** The code of a check, straight after `allow`. */
function lexCode(on: Lexing, after: string | undefined): boolean {
  const [code] = (after === 'allow' ? matchHere(on, CODE) : null) ?? [];
  if (code === undefined) return false;
  push(on, t.CodeToken, on.at + code.length, code.replace(/[\s\u200b\u2060]+/g, '').toLowerCase());
  return true;
}

function lexWord(on: Lexing): boolean {
  const { text, at } = on;
  const end = wordEnd(text, at);
  if (end === at) return false;
  const form = formOf(text.slice(at, end));
  if (form.isMisleading) on.faults.push(hiddenCharacters(text, at, end, MISLEADING));
  const isFeature = on.lastEnd === at && lastOf(on)?.tokenType === t.Dot;
  if (form.count !== undefined) push(on, t.CountToken, end, form.count, form.written);
  else if (isFeature || form.keyword === undefined) push(on, t.Word, end, form.word, form.written);
  else {
    push(on, form.keyword, end, form.usual, form.written);
    on.lastKeyword = form.usual;
  }
  return true;
}

function lexSign(on: Lexing): boolean {
  const sign = SIGNS.get(on.text[on.at] ?? '');
  if (sign === undefined) return false;
  push(on, sign, on.at + 1, sign.LABEL ?? sign.name);
  return true;
}

/** Whether a character has no place in a section at all. */
function isStray(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return !(
    isBlank(code) ||
    SIGNS.has(text[at] ?? '') ||
    isLineEnd(code) ||
    isOpeningQuote(code) ||
    text[at] === '#' ||
    isDigit(code) ||
    wordEnd(text, at) > at
  );
}

/** Anything else has no place here. A run of it is one fault. */
function lexStray(on: Lexing): void {
  const { text, at } = on;
  const isMail = text[at] === '>' && /(?:^|[\r\n])[ \t>]*$/.test(text.slice(Math.max(0, at - 40), at));
  let end = at;
  while (end < text.length && isStray(text, end)) end += 1;
  end = Math.max(end, at + 1);
  on.faults.push(isMail ? mailMark(text, at, end) : strayCharacters(text, at, end));
  on.at = end;
}

/** What may begin with a letter. */
function lexLetters(on: Lexing, after: string | undefined): boolean {
  const isBehindKeyword = after !== undefined && (lexThread(on, after) || lexCode(on, after));
  return isBehindKeyword || lexBehindNumber(on) || lexWord(on);
}

function lexOther(on: Lexing, code: number, after: string | undefined): boolean {
  return (
    lexStretch(on, code) ||
    lexHole(on) ||
    lexThread(on, after) ||
    lexCode(on, after) ||
    lexNumber(on, after) ||
    lexBehindNumber(on) ||
    lexDots(on, code) ||
    lexPlusMinus(on, code) ||
    lexTimesCount(on, code) ||
    lexWord(on) ||
    lexSign(on)
  );
}

/** Lexes one section. Never throws; every character is in a token, a comment, a blank or a fault. */
export function lex(text: string, context: LexContext): Lexed {
  const on = lexing(text, context);
  while (on.at < text.length) {
    const code = text.charCodeAt(on.at);
    if (isBlank(code)) {
      on.at += 1;
      continue;
    }
    const after = on.lastKeyword;
    // Most of a spec is words.
    const isRead = isPlainLetter(code) ? lexLetters(on, after) : lexOther(on, code, after);
    if (!isRead) lexStray(on);
  }
  const { tokens, comments, faults } = on;
  return { tokens, comments, faults };
}
