// The kinds of token that the parser sees, one for each keyword of the vocabulary. No text is read here.
import { createToken, type IToken, Lexer, type TokenType } from 'chevrotain';
import { KEYWORDS, RESERVED } from './vocabulary.ts';

/** A token with what the lexer learned about it. */
export interface Token extends IToken {
  /** Usual form of a word, value of a text, plain form of a number, usual form of a unit, thread or code. */
  readonly payload: string;
  /** A whole number pair glued with a comma (`1,4`): the digits as written. */
  readonly glued?: readonly string[];
  /** True when nothing stands between this token and the one before. */
  readonly touches: boolean;
}

const kind = (name: string, label: string, categories: TokenType[] = []): TokenType =>
  createToken({ name, label, pattern: Lexer.NA, categories });

export const AnyWord = kind('AnyWord', 'a word');
/** A word that may be a name. */
export const Word = kind('Word', 'a name', [AnyWord]);
export const NumberToken = kind('Number', 'a number');
export const UnitToken = kind('Unit', 'a unit');
export const TextToken = kind('Text', 'a text in quotes');
export const CountToken = kind('Count', 'a count, as in x4');
export const OrderToken = kind('Order', 'an order, as in 1-3-4-2');
export const DateToken = kind('Date', 'a date');
export const ThreadToken = kind('Thread', 'a thread');
export const CodeToken = kind('Code', "a check's code");
export const OClock = kind('OClock', "o'clock");
export const Minutes = kind('Minutes', 'minutes of arc');
export const Open = kind('Open', '{');
export const Close = kind('Close', '}');
export const OpenBracket = kind('OpenBracket', '(');
export const CloseBracket = kind('CloseBracket', ')');
export const Comma = kind('Comma', ',');
export const Colon = kind('Colon', ':');
export const Equals = kind('Equals', '=');
export const Plus = kind('Plus', '+');
export const Minus = kind('Minus', '-');
export const Times = kind('Times', '*');
export const Slash = kind('Slash', '/');
export const Dots = kind('Dots', '..');
export const Dot = kind('Dot', '.');
export const PlusMinus = kind('PlusMinus', '±');
export const Hole = kind('Hole', 'a step');

/**
 * A token kind for each keyword; reserved words are no names. What they are kinds of is put in when they are made: told with it, the library
 * would gather all kinds of word anew for each. The parser has them gathered, once.
 */
export const KEYWORD_KINDS: ReadonlyMap<string, TokenType> = new Map(
  [...KEYWORDS].map((word) => {
    const made = kind(`word:${word}`, word);
    made.CATEGORIES = RESERVED.has(word) ? [AnyWord] : [Word];
    return [word, made];
  }),
);

/** The token kind of a keyword. Throws for a word that the vocabulary lacks: a fault of the program, met when it starts. */
export function keyword(word: string): TokenType {
  const found = KEYWORD_KINDS.get(word);
  if (found === undefined) throw new Error(`no keyword ${word}`);
  return found;
}

export const ALL_TOKENS: TokenType[] = [
  AnyWord,
  Word,
  NumberToken,
  UnitToken,
  TextToken,
  CountToken,
  OrderToken,
  DateToken,
  ThreadToken,
  CodeToken,
  OClock,
  Minutes,
  Open,
  Close,
  OpenBracket,
  CloseBracket,
  Comma,
  Colon,
  Equals,
  Plus,
  Minus,
  Times,
  Slash,
  Dots,
  Dot,
  PlusMinus,
  Hole,
  ...KEYWORD_KINDS.values(),
];
