// What is said of something that can't stand where it is, and the ways out. Looks at the tokens round it; reads nothing.

import { EOF } from 'chevrotain';
import type { Fix } from './fault.ts';
import { belongsIn, bracesOf, declarationFor, directionFor, isAnd, isWorkedOut, statementFor } from './hints.ts';
import { lookUp } from './look-up.ts';
import { nearest } from './nearest.ts';
import * as say from './syntax-messages.ts';
import type { Token } from './tokens.ts';
import * as t from './tokens.ts';
import { type Told, told } from './told.ts';
import { type Block, CHANGE_WORDS, CLAUSES, RESERVED, type StatementRow, statementRow } from './vocabulary.ts';

/** The tokens round the one that can't stand there. */
export interface Around {
  readonly token: Token;
  /** The tokens after it, 1 the next; before it for negative numbers. */
  at(ahead: number): Token;
  /** Whether such a token may be a name. */
  isName(ahead: number): boolean;
  readonly afterComment: boolean;
}

export interface LeftOver {
  readonly message: Told;
  readonly fixes: readonly Fix[];
  /** The word that is meant, where one is near. */
  readonly near?: string;
  /** Where it is said, if not at the token alone. */
  readonly span?: { readonly start: number; readonly end: number };
}

const CLAUSE_WORDS: ReadonlySet<string> = new Set(CLAUSES.map((row) => row.word));
const LIMIT_CLAUSES = new Set(['kind', 'measured', 'within', 'wear-limit', 'each', 'of', '=', 'for-each', 'otherwise']);
const spanOf = (token: Token): { start: number; end: number } => ({
  start: token.startOffset,
  end: (token.endOffset ?? token.startOffset) + 1,
});

function change(token: Token, to: string): Fix {
  return { title: told`Change ${token.image} to ${to}`, edits: [{ ...spanOf(token), text: to }] };
}

function takeOut(token: Token): Fix {
  return { title: told`Take out the ${token.image}`, edits: [{ ...spanOf(token), text: '' }] };
}

/** A comment that mail has wrapped. */
function intoComment(token: Token): Fix {
  return {
    title: told`Make it part of the comment above`,
    edits: [{ start: token.startOffset, end: token.startOffset, text: '# ' }],
  };
}

function said(around: Around, message: Told, near: string | undefined): LeftOver {
  const { token, afterComment } = around;
  return {
    message: afterComment ? told.row([message, say.commentRest()]) : message,
    fixes: [...(near === undefined ? [] : [change(token, near)]), ...(afterComment ? [intoComment(token)] : [])],
    ...(near === undefined ? {} : { near }),
  };
}

/** `and`, `then`, `+` between the members of a list. */
function isListWord(around: Around, block: Block): boolean {
  const goesOn = around.isName(1) || around.at(1).tokenType === t.NumberToken;
  const isSign = block === 'fastener' && around.token.tokenType === t.Plus;
  return goesOn && (isSign || (around.isName(0) && isAnd(around.token.payload)));
}

/** The clause word that is meant between two names, as in `fit lid ontoo block`, or before a figure or a text: `untill "warm"`. */
function clauseMeant(around: Around): string | undefined {
  const { payload } = around.token;
  if (!around.isName(-1) && around.at(-1).payload !== 'engine') return undefined;
  const near = nearest(payload, CLAUSE_WORDS);
  if (around.isName(1)) return near;
  const isFollowed = around.at(1).tokenType === t.TextToken || around.at(1).tokenType === t.NumberToken;
  return isFollowed && Math.abs(payload.length - (near ?? '').length) <= 1 ? near : undefined;
}

/** `rod length 151.60 mm`, `compression ratio 9.3`: a word of the language that is written as two. */
function wordInTwo(around: Around, block: Block): LeftOver | undefined {
  const [token, next] = [around.token, around.at(1)];
  const isApart = next.startOffset === spanOf(token).end + 1;
  if (!isApart || !/^\p{L}/u.test(token.image) || !/^\p{L}/u.test(next.image)) return undefined;
  const [word, written] = [`${token.payload}-${next.payload}`, `${token.image} ${next.image}`];
  const span = { start: token.startOffset, end: spanOf(next).end };
  if (block === 'engine' && isWorkedOut(word)) return { ...said(around, say.workedOut(word), undefined), span };
  if (statementRow(block, word) === undefined) return undefined;
  return {
    message: say.leftOver(written, bracesOf(block), { near: word }),
    fixes: [{ title: told`Change ${written} to ${word}`, edits: [{ ...span, text: word }] }],
    near: word,
    span,
  };
}

const THREAD = /^M\d+(?:\.\d+)?(?:x\d+(?:\.\d+)?)?$/i;

/** `M6` where `thread M6` is meant. */
function threadAlone(token: Token): LeftOver {
  const line = `thread ${token.image}`;
  return {
    message: say.leftOver(say.shown(token), bracesOf('fastener'), { near: line }),
    fixes: [{ title: told`Write ${line}`, edits: [{ ...spanOf(token), text: line }] }],
  };
}

/** What is meant in a statement that goes on otherwise than it can, where people often write it so. */
export function meantInStatement(around: Around, row: StatementRow): LeftOver | undefined {
  const { token } = around;
  const before = around.at(-1);
  if (row.word === 'orient' && before.payload === 'toward' && token.tokenType === t.NumberToken)
    return {
      message: say.angleBehindAt(),
      fixes: [{ title: told`Change ${before.image} to ${'at'}`, edits: [{ ...spanOf(before), text: 'at' }] }],
    };
  if (row.word === 'orient' && around.isName(0) && around.at(-2).payload === 'orient') {
    const direction = directionFor(token.payload) ?? (lookUp(row.choices ?? {}, token.payload) && token.payload);
    if (direction === undefined) return undefined;
    return {
      message: say.directionBehindToward(before.image, direction),
      fixes: [{ title: told`Write toward ${direction}`, edits: [{ ...spanOf(token), text: `toward ${direction}` }] }],
    };
  }
  if ((row.word === 'tighten' || row.word === 'snug') && token.tokenType === t.NumberToken && before.payload === 'to')
    return { message: say.torqueOfFastener(row.word, around.at(-2).image), fixes: [] };
  return undefined;
}

/** Something in braces that begins no statement there. */
export function leftOverInBraces(around: Around, block: Block): LeftOver {
  const { token } = around;
  const found = say.shown(token);
  if (token.tokenType === t.Comma || token.tokenType === t.Dot)
    return { message: say.endNeedsNothing(found), fixes: [takeOut(token)] };
  if (isListWord(around, block)) {
    const before = spanOf(around.at(-1)).end;
    return {
      message: say.commaMeant(found),
      fixes: [{ title: told`Write a comma`, edits: [{ start: before, end: spanOf(token).end, text: ',' }] }],
    };
  }
  if (block === 'spec' && CHANGE_WORDS.has(token.payload)) return { message: say.changeWhat(token.payload), fixes: [] };
  if (token.payload === 'drop') return { message: say.dropOutsideChange(), fixes: [] };
  if (block === 'engine' && isWorkedOut(token.payload)) return said(around, say.workedOut(found), undefined);
  const two = wordInTwo(around, block);
  if (two !== undefined) return two;
  if (block === 'fastener' && THREAD.test(token.image)) return threadAlone(token);
  if (block === 'limit' && token.tokenType === t.NumberToken) return { message: say.boundsBeforeBraces(), fixes: [] };
  if (around.isName(0) && around.at(-2).payload === 'per') return { message: say.placeInQuotes(), fixes: [] };
  if (block === 'limit' && LIMIT_CLAUSES.has(token.payload)) return { message: say.clauseInBraces(found), fixes: [] };
  const severalWords = RESERVED.has(token.payload) ? nameOfWords(around, 1) : undefined;
  if (severalWords !== undefined) return severalWords;
  if (!around.isName(0) && !RESERVED.has(token.payload))
    return said(around, say.leftOver(found, bracesOf(block), {}), undefined);
  const near = statementFor(block, token.payload);
  const belongs = near === undefined ? belongsIn(token.payload) : undefined;
  const word = near ?? (belongs === undefined ? say.nearStatement(block, token.payload) : undefined);
  const clause = word === undefined && belongs === undefined ? clauseMeant(around) : undefined;
  if (clause !== undefined) {
    const { message, fixes } = said(around, say.leftOver(found, bracesOf(block), { near: clause }), clause);
    return { message, fixes };
  }
  const hint = word === undefined ? (belongs === undefined ? {} : { belongs }) : { near: word };
  return said(around, say.leftOver(found, bracesOf(block), hint), word);
}

/** Something outside every declaration. */
export function leftOverOutside(around: Around): LeftOver {
  const { token } = around;
  const near = around.isName(0) ? declarationFor(token.payload) : undefined;
  const belongs = around.isName(0) && near === undefined ? belongsIn(token.payload) : undefined;
  const word = near ?? (around.isName(0) && belongs === undefined ? say.nearDeclaration(token.payload) : undefined);
  const hint = word === undefined ? (belongs === undefined ? {} : { belongs }) : { near: word };
  return said(around, say.outsideDeclarations(say.shown(token), hint), word);
}

/** Something in the head of a declaration that has no place in it. */
export function leftOverInHead(around: Around, word: string, near: string | undefined): LeftOver {
  return said(
    around,
    say.leftOver(say.shown(around.token), told`the head of ${word}`, near === undefined ? {} : { near }),
    near,
  );
}

export interface NameOfWords extends LeftOver {
  readonly name: string;
  /** How many tokens after the first word of the name belong to it. */
  readonly more: number;
}

/**
 * A name that is written as several words with a blank between, as in `part cylinder head {`. `first` is the first word's place, `clauses` the
 * words of the head that may stand behind the name.
 */
export function nameOfWords(around: Around, first: number, clauses: readonly string[] = []): NameOfWords | undefined {
  const words = [around.at(first)];
  while (
    around.isName(first + words.length) &&
    !CLAUSE_WORDS.has(around.at(first + words.length).payload) &&
    around.at(first + words.length).startOffset === spanOf(around.at(first + words.length - 1)).end + 1
  )
    words.push(around.at(first + words.length));
  const next = around.at(first + words.length);
  const after = next.tokenType;
  const isHeadGoingOn =
    clauses.includes(after === t.Equals ? '=' : next.payload) &&
    words.slice(1).every((word) => nearest(word.payload, clauses) === undefined);
  const [start, end] = [words[0], words[words.length - 1]];
  if (words.length < 2 || start === undefined || end === undefined || !around.isName(first)) return undefined;
  const isHeadDone = after === t.Open || after === t.TextToken || after === t.CountToken || after === EOF;
  if (!isHeadDone && !isHeadGoingOn) return undefined;
  const name = words.map((each) => each.image.normalize('NFC')).join('-');
  const edit = { start: start.startOffset, end: spanOf(end).end, text: name };
  return {
    name,
    more: words.length - 1,
    message: say.nameOfWords(name),
    fixes: [{ title: told`Write ${name}`, edits: [edit] }],
  };
}
