// The one way from a section to its tree: lexes, guards against absurd nesting, reads. The parser is built once, on first use.

import { DeclarationParser } from './declaration-parser.ts';
import type { Fault } from './fault.ts';
import { lex } from './lexer.ts';
import type { Comment, Lexed } from './lexing.ts';
import type { Section } from './section.ts';
import * as say from './syntax-messages.ts';
import { Close, CloseBracket, Minus, Open, OpenBracket, type Token } from './tokens.ts';
import { told } from './told.ts';
import type { Declaration, Statement } from './tree.ts';

/** Deeper nesting than any engine needs; deeper still would only be a hang or a crash. */
const DEEPEST = 60;

/**
 * Characters of one declaration, without its steps and its comment lines, that are read in one go: some two thousand lines. No declaration of
 * an engine is a tenth as long: common practice, no source.
 */
const LONGEST = 100_000;

export interface Parsed {
  /** Undefined for text before the first declaration. */
  readonly declaration?: Declaration;
  /** `note` and `allow` that stand outside every declaration: they are for the whole file. */
  readonly outside: readonly Statement[];
  /** All offsets are in the section's own text. */
  readonly faults: readonly Fault[];
  readonly tokens: readonly Token[];
  readonly comments: readonly Comment[];
  /** Offsets at which the canonical layout begins a line for a statement. */
  readonly statementStarts: readonly number[];
  /** Offsets at which it begins an indented line for a clause. */
  readonly clauseStarts: readonly number[];
}

let parser: DeclarationParser | undefined;

/** Builds the parser if it is not there yet (some tens of milliseconds), for a moment when nobody waits. */
export function warmUp(): void {
  parser ??= new DeclarationParser(true);
}

function tooDeepAt(tokens: readonly Token[]): Token | undefined {
  let depth = 0;
  let minuses = 0;
  for (const token of tokens) {
    if (token.tokenType === Open || token.tokenType === OpenBracket) depth += 1;
    else if (token.tokenType === Close || token.tokenType === CloseBracket) depth -= 1;
    minuses = token.tokenType === Minus ? minuses + 1 : 0;
    if (depth > DEEPEST || minuses > DEEPEST) return token;
  }
  return undefined;
}

const COMMENT_LINE = /^[ \t]*(?:#|\/\/)/;

/** Whether a section is too long to be read, comment lines apart. */
function isTooLong({ text }: Section): boolean {
  if (text.length <= LONGEST) return false;
  let length = 0;
  for (let at = 0; at < text.length && length <= LONGEST; ) {
    const next = text.indexOf('\n', at) + 1 || text.length;
    if (!COMMENT_LINE.test(text.slice(at, Math.min(next, at + 100)))) length += next - at;
    at = next;
  }
  return length > LONGEST;
}

/** What is read of a section that is too long: that it is. */
function unread(section: Section): Parsed {
  const start = section.text.length - section.text.trimStart().length;
  const fault: Fault = {
    code: 'syntax/unexpected',
    start,
    end: start + (section.word?.length ?? 1),
    message: section.word === undefined ? say.tooLongOutside(LONGEST) : say.tooLong(LONGEST),
    fixes: [],
  };
  return { outside: [], faults: [fault], tokens: [], comments: [], statementStarts: [], clauseStarts: [] };
}

const NO_WORDS: Lexed = { tokens: [], comments: [], faults: [] };

/** The words of a section that was read before: its tokens and comments, as its reading had them. */
export function wordsOf(section: Section): Lexed {
  return isTooLong(section) ? NO_WORDS : lex(section.text, section);
}

/** Reads one section. Never throws: any text gives a tree and faults. */
export function parseSection(section: Section, inSequence: boolean): Parsed {
  if (isTooLong(section)) return unread(section);
  warmUp();
  const { tokens, comments, faults: lexFaults } = lex(section.text, section);
  const faults: Fault[] = [...lexFaults];
  for (const brace of section.unclosedBraces) {
    const end = section.text.trimEnd().length;
    faults.push({
      code: 'syntax/unclosed',
      start: brace,
      end: brace + 1,
      message: say.unclosedBrace(),
      fixes: [{ title: told`Close it at the end of the declaration`, edits: [{ start: end, end, text: '\n}' }] }],
    });
  }
  const deep = tooDeepAt(tokens);
  if (deep !== undefined || parser === undefined) {
    if (deep !== undefined)
      faults.push({
        code: 'syntax/unexpected',
        start: deep.startOffset,
        end: deep.startOffset + 1,
        message: say.tooDeep(DEEPEST),
        fixes: [],
      });
    return { outside: [], faults, tokens, comments, statementStarts: [], clauseStarts: [] };
  }
  const afterComment = (offset: number): boolean => isAfterComment(section.text, comments, offset);
  const read = parser.readSection(tokens, section.word, inSequence, afterComment);
  faults.push(...read.faults);
  faults.sort((a, b) => a.start - b.start || a.end - b.end);
  return {
    ...(read.declaration === undefined ? {} : { declaration: read.declaration }),
    outside: read.outside,
    faults,
    tokens,
    comments,
    statementStarts: read.statementStarts,
    clauseStarts: read.clauseStarts,
  };
}

/** Whether the line before this offset is a comment, and the offset is the first thing on its line. */
function isAfterComment(text: string, comments: readonly Comment[], offset: number): boolean {
  const comment = comments.findLast((candidate) => candidate.end <= offset);
  return comment !== undefined && /^(?:\r\n|[\r\n])[ \t]*$/.test(text.slice(comment.end, offset));
}
