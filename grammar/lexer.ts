// Turns a section's own text into tokens and comments. Tokens depend on their place: a unit is read only straight after a
// number, a thread only after `thread`, a check's code only after `allow`. What people paste is read as meant; what could
// be misread gives a fault with a way out.
import type { TokenType } from 'chevrotain';
import {
  apart,
  HIDDEN,
  isBlank,
  isDigit,
  isLineEnd,
  isOpeningQuote,
  MISLEADING,
  OVERRIDES,
  wordEnd,
} from './characters.ts';
import type { Fault } from './fault.ts';
import {
  decimalComma,
  hiddenCharacters,
  inchMark,
  mailMark,
  miswrittenUnit,
  numberAfterHash,
  otherComment,
  strayCharacters,
  threadComma,
  threeDots,
  unclosedText,
} from './lexer-messages.ts';
import { readNumber, readThread, readUnitAt } from './number-lexer.ts';
import { HOLE } from './sections.ts';
import { stretchAt } from './texts.ts';
import type { Token } from './tokens.ts';
import * as t from './tokens.ts';
import { usualForm } from './vocabulary.ts';

export interface Comment {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export interface Lexed {
  readonly tokens: readonly Token[];
  readonly comments: readonly Comment[];
  readonly faults: readonly Fault[];
}

/** What the lexer needs to know of the section besides its text. */
export interface LexContext {
  readonly unclosedTexts: readonly number[];
  readonly holes: readonly number[];
}

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
const LONG_DASH = /[\u2012-\u2015]/u;
const O_CLOCK = /o(?:['’‘′´`]|\s)?clock(?![\p{L}\d])/iuy;
const CODE =
  /[a-z]+(?:[\u200b\u2060]*-[\u200b\u2060]*[a-z]+)*\s*\/\s*[a-z]+(?:[\u200b\u2060]*-[\u200b\u2060]*[a-z]+)*/iuy;
const COUNT = /^[x×](\d+)$/i;
const RANGE_DOTS = /\.{2,}|…\.?/uy;
const PLUS_MINUS = /\+\s?\/\s?[-−–]|\+[-−](?=\s*[\d.])/uy;

/** More than the longest specs have. */
const MOST_WORDS = 20_000;

/** What a word is wherever it stands. */
interface WordForm {
  readonly written: string;
  /** Without characters of no width; one string for each word, so that names compare and look up fast. */
  readonly word: string;
  readonly usual: string;
  readonly keyword: TokenType | undefined;
  /** The figures of a count, `x4`. */
  readonly count: string | undefined;
  readonly isMisleading: boolean;
}

const forms = new Map<string, WordForm>();

/** A word as it is written, looked at once for each way of writing it. */
function formOf(written: string): WordForm {
  const known = forms.get(written);
  if (known !== undefined) return known;
  if (forms.size > MOST_WORDS) forms.clear();
  const copy = apart(written);
  const plain = copy.replace(HIDDEN, '').normalize('NFC');
  const word = plain === copy ? copy : formOf(plain).word;
  const usual = usualForm(word);
  const keyword = t.KEYWORD_KINDS.get(usual);
  const isMisleading = MISLEADING.test(copy);
  MISLEADING.lastIndex = 0;
  const form = { written: copy, word, usual, keyword, count: COUNT.exec(word)?.[1], isMisleading };
  forms.set(copy, form);
  return form;
}

/** The usual form of a word (`usualForm`), worked out once for each. */
export const usualOf = (word: string): string => formOf(word).usual;

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

/** Lexes one section. Never throws; every character is in a token, a comment, a blank or a fault. */
export function lex(text: string, context: LexContext): Lexed {
  const tokens: Token[] = [];
  const comments: Comment[] = [];
  const faults: Fault[] = [];
  const unclosed = new Set(context.unclosedTexts);
  const holes = new Set(context.holes);
  let at = 0;
  let lastEnd = -1;
  /** The last token, where it is a keyword. */
  let lastKeyword: string | undefined;

  const push = (
    tokenType: TokenType,
    end: number,
    payload: string,
    image = text.slice(at, end),
    glued: readonly string[] | undefined = undefined,
  ): void => {
    const token: Token = {
      image,
      startOffset: at,
      endOffset: end - 1,
      tokenType,
      tokenTypeIdx: tokenType.tokenTypeIdx ?? 0,
      payload,
      touches: at === lastEnd,
    };
    tokens.push(glued === undefined ? token : { ...token, glued });
    at = end;
    lastEnd = end;
    lastKeyword = undefined;
  };
  const last = (): Token | undefined => tokens[tokens.length - 1];
  /** `log 2026-03-09 14:10 V 13.8 V`: behind the time stands the name of what was read. */
  const isNameOfReading = (): boolean =>
    tokens[tokens.length - 2]?.tokenType === t.Colon && tokens[tokens.length - 4]?.tokenType === t.DateToken;
  /** In a sum a slash divides: `= 3 /K` is 3 by K. A sum goes back to its sign, and no further than to a text or to two words in a row. */
  const isDivided = (slash: number): boolean => {
    if (text[slash] !== '/') return false;
    let wasWord = false;
    for (let i = tokens.length - 1; i >= 0; i -= 1) {
      const token = tokens[i];
      if (token === undefined || token.tokenType === t.TextToken) return false;
      if (token.tokenType === t.Equals || token.payload === 'at-least' || token.payload === 'at-most') return true;
      const isWord = token.tokenType !== t.UnitToken && /^\p{L}/u.test(token.image);
      if (isWord && wasWord) return false;
      wasWord = isWord;
    }
    return false;
  };
  /** A unit straight after the number that was just pushed. */
  const unitAfterNumber = (): void => {
    let next = at;
    while (next < text.length && isBlank(text.charCodeAt(next))) next += 1;
    const unit = readUnitAt(text, next, at);
    if (unit === undefined || isNameOfReading() || (unit.usual === '/K' && isDivided(next))) return;
    const blank = at === next;
    at = next;
    if (unit.miswritten) faults.push(miswrittenUnit(text, at, unit.end, unit.usual));
    push(t.UnitToken, unit.end, unit.usual);
    if (blank && tokens.length > 1) lastEnd = at;
    if (unit.minutesFollow) {
      const minutes = /\s*(\d+(?:\.\d+)?)\s*(['’′])/uy;
      minutes.lastIndex = at;
      const match = minutes.exec(text);
      if (match?.[1] !== undefined) {
        at += match[0].indexOf(match[1]);
        push(t.NumberToken, at + match[1].length, match[1]);
        const end = minutes.lastIndex;
        at = end - 1;
        push(t.Minutes, end, "'");
      }
    }
  };

  while (at < text.length) {
    const code = text.charCodeAt(at);
    if (isBlank(code)) {
      at += 1;
      continue;
    }
    const stretch = stretchAt(text, at, unclosed);
    if (stretch?.kind === 'comment') {
      const { end } = stretch;
      const comment = { start: at, end, text: text.slice(at, end).trimEnd() };
      comments.push(comment);
      if (code === 47) faults.push(otherComment(at));
      if (isDigit(text.charCodeAt(at + 1))) faults.push(numberAfterHash(text, at, end));
      if (OVERRIDES.test(comment.text)) faults.push(hiddenCharacters(text, at, end, OVERRIDES));
      OVERRIDES.lastIndex = 0;
      at = end;
      continue;
    }
    if (stretch?.kind === 'text') {
      const { end } = stretch;
      const closed = !unclosed.has(at) && end - at >= 2;
      const raw = text.slice(at + 1, closed ? end - 1 : end);
      if (!closed) faults.push(unclosedText(text, at, end));
      if (OVERRIDES.test(raw)) faults.push(hiddenCharacters(text, at, end, OVERRIDES));
      OVERRIDES.lastIndex = 0;
      push(t.TextToken, Math.max(end, at + 1), textValue(raw));
      continue;
    }
    if (isOpeningQuote(code)) {
      faults.push(inchMark(at));
      push(t.UnitToken, at + 1, 'in');
      continue;
    }
    if (text[at] === HOLE && holes.has(at)) {
      push(t.Hole, at + 1, HOLE);
      continue;
    }
    const previous = lastKeyword;
    if (previous === 'thread') {
      const thread = readThread(text, at);
      if (thread !== undefined) {
        if (thread.hasComma) faults.push(threadComma(text, at, thread.end, thread.usual));
        push(t.ThreadToken, thread.end, thread.usual);
        continue;
      }
    }
    if (previous === 'allow') {
      CODE.lastIndex = at;
      const match = CODE.exec(text);
      if (match !== null) {
        push(t.CodeToken, at + match[0].length, match[0].replace(/[\s\u200b\u2060]+/g, '').toLowerCase());
        continue;
      }
    }
    const number = readNumber(text, at, previous);
    if (number !== undefined) {
      if (number.glued !== undefined) faults.push(decimalComma(text, at, number.end, number.glued));
      if (number.kind === 'order') push(t.OrderToken, number.end, number.text);
      else if (number.kind === 'date') push(t.DateToken, number.end, number.text);
      else {
        push(t.NumberToken, number.end, number.text, text.slice(at, number.end), number.glued);
        unitAfterNumber();
      }
      continue;
    }
    const before = last();
    if (before?.tokenType === t.NumberToken) {
      O_CLOCK.lastIndex = at;
      if (O_CLOCK.exec(text) !== null) {
        push(t.OClock, O_CLOCK.lastIndex, "o'clock");
        continue;
      }
      if (LONG_DASH.test(text[at] ?? '') && /^\s*[-+−]?\s*[\d.½¼¾]/u.test(text.slice(at + 1, at + 12))) {
        push(t.Dots, at + 1, '..');
        continue;
      }
    }
    RANGE_DOTS.lastIndex = at;
    const dots = code === 46 || code === 0x2026 ? RANGE_DOTS.exec(text) : null;
    if (dots !== null) {
      // `0.001...002` is `..` and `.002`; `0.267...0.330` is `..` and `0.330`.
      const rest = /^\d+(?!\.?\d)/.exec(text.slice(at + dots[0].length, at + dots[0].length + 24));
      const leaveOne = dots[0] === '...' && rest !== null && rest[0].length > 1 && rest[0].startsWith('0');
      if (dots[0] === '...' && rest !== null && !leaveOne && before?.payload.includes('.') === true)
        faults.push(threeDots(at, rest[0]));
      push(t.Dots, at + (leaveOne ? 2 : dots[0].length), '..');
      continue;
    }
    PLUS_MINUS.lastIndex = at;
    const plusMinus = code === 43 ? PLUS_MINUS.exec(text) : null;
    if (plusMinus !== null) {
      push(t.PlusMinus, at + plusMinus[0].length, '±');
      continue;
    }
    if (code === 0xd7 && isDigit(text.charCodeAt(at + 1))) {
      let end = at + 1;
      while (isDigit(text.charCodeAt(end))) end += 1;
      push(t.CountToken, end, text.slice(at + 1, end));
      continue;
    }
    const end = wordEnd(text, at);
    if (end > at) {
      const form = formOf(text.slice(at, end));
      if (form.isMisleading) faults.push(hiddenCharacters(text, at, end, MISLEADING));
      if (form.count !== undefined) {
        push(t.CountToken, end, form.count, form.written);
        continue;
      }
      const feature = before?.tokenType === t.Dot && lastEnd === at;
      if (feature || form.keyword === undefined) push(t.Word, end, form.word, form.written);
      else {
        push(form.keyword, end, form.usual, form.written);
        lastKeyword = form.usual;
      }
      continue;
    }
    const sign = SIGNS.get(text[at] ?? '');
    if (sign !== undefined) {
      push(sign, at + 1, sign.LABEL ?? sign.name);
      continue;
    }
    // Anything else has no place here. A run of it is one fault.
    let stray = at;
    const isMail = text[at] === '>' && /(?:^|[\r\n])[ \t>]*$/.test(text.slice(Math.max(0, at - 40), at));
    while (
      stray < text.length &&
      !isBlank(text.charCodeAt(stray)) &&
      SIGNS.get(text[stray] ?? '') === undefined &&
      !isLineEnd(text.charCodeAt(stray)) &&
      !isOpeningQuote(text.charCodeAt(stray)) &&
      text[stray] !== '#' &&
      !isDigit(text.charCodeAt(stray)) &&
      wordEnd(text, stray) === stray
    )
      stray += 1;
    stray = Math.max(stray, at + 1);
    faults.push(isMail ? mailMark(text, at, stray) : strayCharacters(text, at, stray));
    at = stray;
  }
  return { tokens, comments, faults };
}
