// Figures and what belongs to them by its place: a number with its unit and its minutes, an order, a date, an hour of the clock, the dots or the
// dash of a range, a tolerance. How a number, a thread and a unit are written is in number-lexer.ts.
import { isBlank, isDigit } from './characters.ts';
import { decimalComma, miswrittenUnit, threadComma, threeDots } from './lexer-messages.ts';
import { type Lexing, lastOf, matchHere, push } from './lexing.ts';
import { readNumber, readThread, readUnitAt } from './number-lexer.ts';
import * as t from './tokens.ts';

const LONG_DASH = /[\u2012-\u2015]/u;
const O_CLOCK = /o(?:['’‘′´`]|\s)?clock(?![\p{L}\d])/iuy;
const RANGE_DOTS = /\.{2,}|…\.?/uy;
const PLUS_MINUS = /\+\s?\/\s?[-−–]|\+[-−](?=\s*[\d.])/uy;
const MINUTES = /\s*(\d+(?:\.\d+)?)\s*(['’′])/uy;

/** `log 2026-03-09 14:10 V 13.8 V`: behind the time stands the name of what was read. */
const isNameOfReading = ({ tokens }: Lexing): boolean =>
  tokens[tokens.length - 2]?.tokenType === t.Colon && tokens[tokens.length - 4]?.tokenType === t.DateToken;

/** In a sum a slash divides: `= 3 /K` is 3 by K. A sum goes back to its sign, and no further than to a text or to two words in a row. */
function isDivided({ text, tokens }: Lexing, slash: number): boolean {
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
}

/** The minutes of an angle behind its degrees: `30'`. */
function minutesAfterUnit(on: Lexing): void {
  const match = matchHere(on, MINUTES);
  if (match?.[1] === undefined) return;
  on.at += match[0].indexOf(match[1]);
  push(on, t.NumberToken, on.at + match[1].length, match[1]);
  const end = MINUTES.lastIndex;
  on.at = end - 1;
  push(on, t.Minutes, end, "'");
}

/** A unit straight after the number that was just put down. */
function unitAfterNumber(on: Lexing): void {
  const { text } = on;
  let next = on.at;
  while (next < text.length && isBlank(text.charCodeAt(next))) next += 1;
  const unit = readUnitAt(text, next, on.at);
  if (unit === undefined || isNameOfReading(on) || (unit.usual === '/K' && isDivided(on, next))) return;
  const isGlued = on.at === next;
  on.at = next;
  if (unit.miswritten) on.faults.push(miswrittenUnit(text, next, unit.end, unit.usual));
  push(on, t.UnitToken, unit.end, unit.usual);
  if (isGlued && on.tokens.length > 1) on.lastEnd = on.at;
  if (unit.minutesFollow) minutesAfterUnit(on);
}

/** A thread, straight after `thread`. */
export function lexThread(on: Lexing, after: string | undefined): boolean {
  const thread = after === 'thread' ? readThread(on.text, on.at) : undefined;
  if (thread === undefined) return false;
  if (thread.hasComma) on.faults.push(threadComma(on.text, on.at, thread.end, thread.usual));
  push(on, t.ThreadToken, thread.end, thread.usual);
  return true;
}

/** A number with its unit, an order of cylinders, a date; `after` is the keyword before it. */
export function lexNumber(on: Lexing, after: string | undefined): boolean {
  const { text, at } = on;
  const number = readNumber(text, at, after);
  if (number === undefined) return false;
  if (number.glued !== undefined) on.faults.push(decimalComma(text, at, number.end, number.glued));
  if (number.kind === 'order') push(on, t.OrderToken, number.end, number.text);
  else if (number.kind === 'date') push(on, t.DateToken, number.end, number.text);
  else {
    push(on, t.NumberToken, number.end, number.text, text.slice(at, number.end), number.glued);
    unitAfterNumber(on);
  }
  return true;
}

/** What is read only behind a number: `o'clock`, and the long dash of a range. */
export function lexBehindNumber(on: Lexing): boolean {
  if (lastOf(on)?.tokenType !== t.NumberToken) return false;
  const { text, at } = on;
  if (matchHere(on, O_CLOCK) !== null) {
    push(on, t.OClock, O_CLOCK.lastIndex, "o'clock");
    return true;
  }
  if (!LONG_DASH.test(text[at] ?? '') || !/^\s*[-+−]?\s*[\d.½¼¾]/u.test(text.slice(at + 1, at + 12))) return false;
  push(on, t.Dots, at + 1, '..');
  return true;
}

/** The dots of a range, of which people write two or three. */
export function lexDots(on: Lexing, code: number): boolean {
  const [dots] = (code === 46 || code === 0x2026 ? matchHere(on, RANGE_DOTS) : null) ?? [];
  if (dots === undefined) return false;
  const { text, at } = on;
  // `0.001...002` is `..` and `.002`; `0.267...0.330` is `..` and `0.330`.
  const [rest] = /^\d+(?!\.?\d)/.exec(text.slice(at + dots.length, at + dots.length + 24)) ?? [];
  const leaveOne = dots === '...' && rest !== undefined && rest.length > 1 && rest.startsWith('0');
  if (dots === '...' && rest !== undefined && !leaveOne && lastOf(on)?.payload.includes('.') === true)
    on.faults.push(threeDots(at, rest));
  push(on, t.Dots, at + (leaveOne ? 2 : dots.length), '..');
  return true;
}

export function lexPlusMinus(on: Lexing, code: number): boolean {
  const match = code === 43 ? matchHere(on, PLUS_MINUS) : null;
  if (match === null) return false;
  push(on, t.PlusMinus, on.at + match[0].length, '±');
  return true;
}

/** A count with the sign of times: `×4`. */
export function lexTimesCount(on: Lexing, code: number): boolean {
  const { text, at } = on;
  if (code !== 0xd7 || !isDigit(text.charCodeAt(at + 1))) return false;
  let end = at + 1;
  while (isDigit(text.charCodeAt(end))) end += 1;
  push(on, t.CountToken, end, text.slice(at + 1, end));
  return true;
}
