// Where the lexer stands in a section's text, and what it has put down so far.
import type { TokenType } from 'chevrotain';
import type { Fault } from './fault.ts';
import type { Token } from './tokens.ts';

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

/** A text that is being lexed. */
export interface Lexing {
  readonly text: string;
  readonly unclosed: ReadonlySet<number>;
  readonly holes: ReadonlySet<number>;
  readonly tokens: Token[];
  readonly comments: Comment[];
  readonly faults: Fault[];
  /** How far the text is read. */
  at: number;
  /** Where the last token ends, as far as the next one is told whether it touches it. */
  lastEnd: number;
  /** The last token, where it is a keyword. */
  lastKeyword: string | undefined;
}

export function lexing(text: string, { unclosedTexts, holes }: LexContext): Lexing {
  return {
    text,
    unclosed: new Set(unclosedTexts),
    holes: new Set(holes),
    tokens: [],
    comments: [],
    faults: [],
    at: 0,
    lastEnd: -1,
    lastKeyword: undefined,
  };
}

/** Puts down a token from where the lexer stands to `end`, and goes on there. */
export function push(
  on: Lexing,
  tokenType: TokenType,
  end: number,
  payload: string,
  image = on.text.slice(on.at, end),
  glued: readonly string[] | undefined = undefined,
): void {
  const token: Token = {
    image,
    startOffset: on.at,
    endOffset: end - 1,
    tokenType,
    tokenTypeIdx: tokenType.tokenTypeIdx ?? 0,
    payload,
    touches: on.at === on.lastEnd,
  };
  on.tokens.push(glued === undefined ? token : { ...token, glued });
  on.at = end;
  on.lastEnd = end;
  on.lastKeyword = undefined;
}

export const lastOf = ({ tokens }: Lexing): Token | undefined => tokens[tokens.length - 1];

/** The match of an expression with the flag `y` where the lexer stands. */
export function matchHere(on: Lexing, pattern: RegExp): RegExpExecArray | null {
  pattern.lastIndex = on.at;
  return pattern.exec(on.text);
}
