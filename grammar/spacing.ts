// Where blanks stand between the words of one statement, and where a long line may be broken. Lines and indents are laid
// out elsewhere (layout.ts).
import type { TokenItem } from './print-items.ts';
import * as t from './tokens.ts';

/** Clause words before which a long line may be broken. */
const BREAKS = new Set([
  'at',
  'to',
  'into',
  'onto',
  'from',
  'with',
  'by',
  'over',
  'on',
  'of',
  'opens',
  'closes',
  'against',
  'after',
  'before',
  'extends',
  'because',
  'either-side-of',
  'together',
  'undersize',
  'oversize',
  'until',
  'otherwise',
  'for-each',
  'parked',
  'under',
  'part-way',
]);
const FUNCTIONS = /^(?:min|max|mean|spread)$/i;

type Tokens = readonly TokenItem[];

export const isNumber = (item: TokenItem | undefined): boolean => item?.token.tokenType === t.NumberToken;

/** Whether minutes of arc follow the unit at `at`: 32°30'. */
function minutesFollow(tokens: Tokens, at: number): boolean {
  return (
    tokens[at]?.token.tokenType === t.UnitToken &&
    isNumber(tokens[at + 1]) &&
    tokens[at + 2]?.token.tokenType === t.Minutes
  );
}

/** Whether a blank stands between a token and the one before it. `word` is the keyword of the statement. */
export function blankBefore(tokens: Tokens, at: number, word: string | undefined): boolean {
  const before = tokens[at - 1];
  const here = tokens[at];
  if (before === undefined || here === undefined) return false;
  const a = before.token.tokenType;
  const b = here.token.tokenType;
  if (b === t.Comma || b === t.CloseBracket || b === t.Dots || b === t.Dot || b === t.Minutes || b === t.Colon)
    return false;
  if (a === t.OpenBracket || a === t.Dots || a === t.Dot || a === t.PlusMinus) return false;
  if (word === 'firing-order' && (a === t.Minus || b === t.Minus)) return false;
  if (b === t.Slash && here.isPrefix) return false;
  if (a === t.Colon)
    return !(
      word === 'ratio' ||
      word === 'rocker-ratio' ||
      word === 'log' ||
      tokens[at + 1]?.token.tokenType === t.OClock
    );
  if (b === t.OpenBracket && a === t.Word) return !FUNCTIONS.test(before.text);
  if (minutesFollow(tokens, at) || minutesFollow(tokens, at - 1)) return false;
  return !before.isPrefix;
}

/** Whether a long line may be broken before a token that a blank stands before. `inSum` is true after the `=` of a limit. */
export function mayBreakBefore(tokens: Tokens, at: number, inSum: boolean): boolean {
  const item = tokens[at];
  const before = tokens[at - 1];
  if (item === undefined || before === undefined) return false;
  if (before.token.tokenType === t.Comma) return true;
  const isOperator = item.token.tokenType === t.Plus || item.token.tokenType === t.Minus;
  if (inSum && isOperator && !item.isPrefix) return true;
  const isKeyword = t.KEYWORD_KINDS.get(item.token.payload) === item.token.tokenType;
  return isKeyword && BREAKS.has(item.text) && before.begins !== 'statement';
}

/** The text of a token in its place: a degree sign before minutes, one turn and two turns. */
export function textAt(tokens: Tokens, at: number): string {
  const item = tokens[at];
  if (item === undefined) return '';
  if (minutesFollow(tokens, at)) return '°';
  if (item.token.tokenType === t.UnitToken && item.text === 'turn')
    return /^(?:1|\d+\/\d+)$/.test(tokens[at - 1]?.text ?? '') ? 'turn' : 'turns';
  return item.text;
}
