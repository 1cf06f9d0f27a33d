// What is printed, in the order of the file: tokens in their usual form, comments, and declarations that are left as written.
import { HIDDEN } from './characters.ts';
import { type CommentItem, commentItem, endWithoutComments, lineEndsBefore } from './comments.ts';
import { type Parsed, parseSection, wordsOf } from './parse.ts';
import { type Section, toFile } from './section.ts';
import type { Token } from './tokens.ts';
import * as t from './tokens.ts';
import { isStageWord } from './vocabulary.ts';
import { usualOf } from './word-forms.ts';

export interface TokenItem {
  readonly kind: 'token';
  readonly token: Token;
  readonly text: string;
  readonly begins: 'declaration' | 'statement' | 'clause' | undefined;
  readonly emptyLineBefore: boolean;
  /** The keyword of the declaration or statement that begins here. */
  readonly word: string | undefined;
  /** True for a plus or minus that belongs to what follows, as in -0.02 mm, and for the stroke in +0.02/-0.01 mm. */
  readonly isPrefix: boolean;
}

/** A declaration with a fault: its text as it stands, with the comments in it. */
export interface VerbatimItem {
  readonly kind: 'verbatim';
  readonly text: string;
  readonly begins: 'declaration';
  readonly emptyLineBefore: boolean;
  readonly word: string | undefined;
}

export type Item = TokenItem | CommentItem | VerbatimItem;

interface Spelled {
  readonly names: ReadonlySet<number>;
  readonly choices: ReadonlyMap<number, string>;
  readonly starts: ReadonlySet<number>;
}

/** Where the tree has names (kept as written) and fixed choices (written in their usual form), and where things start. */
function spelled(tree: readonly unknown[]): Spelled {
  const names = new Set<number>();
  const starts = new Set<number>();
  const choices = new Map<number, string>();
  // Not by a call for each level: a sum is as deep as it is long.
  const left = [...tree];
  while (left.length > 0) {
    const value = left.pop();
    if (typeof value !== 'object' || value === null) continue;
    const each = value as {
      readonly start?: unknown;
      readonly text?: unknown;
      readonly word?: unknown;
      readonly known?: unknown;
      readonly kind?: unknown;
    };
    if (typeof each.start === 'number') {
      starts.add(each.start);
      if (typeof each.text === 'string') names.add(each.start);
      if (typeof each.word === 'string' && each.known === true) choices.set(each.start, each.word);
      if (typeof each.kind === 'string' && isStageWord(each.kind)) choices.set(each.start, each.kind);
    }
    for (const inner of Object.values(value)) if (typeof inner === 'object') left.push(inner);
  }
  return { names, choices, starts };
}

function inQuotes(value: string): string {
  return `"${value.replace(/\\/g, '\\\\').replace(/"/g, '\\"')}"`;
}

const PREFIXES = new Set([t.Plus, t.Minus, t.Slash]);
const AS_READ = new Set([t.NumberToken, t.OrderToken, t.DateToken, t.ThreadToken, t.CodeToken, t.UnitToken]);

const isKeyword = ({ payload, tokenType }: Token): boolean => t.KEYWORD_KINDS.get(payload) === tokenType;

/** The usual form of a token. Whether a word is a name or a choice is asked only where it is written otherwise than usual. */
function printed(token: Token, spelledAt: () => Spelled): string {
  const { tokenType: type, payload } = token;
  if (AS_READ.has(type)) return payload;
  if (type === t.Word)
    return usualOf(payload) === payload ? payload : (spelledAt().choices.get(token.startOffset) ?? payload);
  if (isKeyword(token)) {
    if (token.image === payload) return payload;
    const { choices, names } = spelledAt();
    const choice = choices.get(token.startOffset);
    if (choice !== undefined) return choice;
    return names.has(token.startOffset) ? token.image.replace(HIDDEN, '').normalize('NFC') : payload;
  }
  if (type === t.TextToken) return inQuotes(payload);
  if (type === t.CountToken) return `x${Number(payload)}`;
  if (type === t.OClock) return "o'clock";
  if (type === t.Minutes) return "'";
  return type.LABEL ?? type.name;
}

/** What is printed of a section's own text: up to each of its holes, and after the last. The first item has no empty line before it. */
export interface OwnItems {
  readonly kind: 'laid-out';
  readonly runs: readonly (readonly Item[])[];
}

/** A section that is left as it is written up to an own offset, and the comments after that. */
export interface LeftItems {
  readonly kind: 'left';
  readonly end: number;
  readonly comments: readonly Item[];
}

/** A section as it stands in the file. */
export function leftItem(section: Section, file: string, { end }: LeftItems): VerbatimItem {
  return {
    kind: 'verbatim',
    text: file.slice(section.start, toFile(section, end)).trimEnd(),
    begins: 'declaration',
    emptyLineBefore: emptyLineBefore(section, file),
    word: section.word,
  };
}

/** Whether an empty line stands before a section in its file. */
export function emptyLineBefore(section: Section, file: string): boolean {
  return lineEndsBefore(file, section.start) > 1;
}

/** What is printed of a section without what it holds. It depends on the section's own text alone. `read` is its tree, where it is known. */
export function ownItems(section: Section, inSequence: boolean, read?: Parsed): OwnItems | LeftItems {
  const parsed = read ?? parseSection(section, inSequence);
  const { tokens, comments } = read === undefined ? parsed : wordsOf(section);
  const isRead = parsed.declaration !== undefined || parsed.outside.length > 0 || tokens.length === 0;
  if (parsed.faults.length > 0 || !isRead) {
    const end = endWithoutComments(section.text, comments);
    const after = comments.filter((comment) => comment.start >= end);
    return { kind: 'left', end, comments: after.map((comment) => commentItem(section.text, comment)) };
  }
  let gathered: Spelled | undefined;
  const spelledAt = (): Spelled => {
    gathered ??= spelled([parsed.declaration, parsed.outside]);
    return gathered;
  };
  const statements = new Set(parsed.statementStarts);
  const clauses = new Set(parsed.clauseStarts);
  let items: Item[] = [];
  const runs = [items];
  let comment = 0;
  const addComments = (before: number): void => {
    for (; comment < comments.length; comment += 1) {
      const next = comments[comment];
      if (next === undefined || next.start >= before) return;
      items.push(commentItem(section.text, next));
    }
  };
  for (let i = 0; i < tokens.length; i += 1) {
    const token = tokens[i];
    if (token === undefined) continue;
    addComments(token.startOffset);
    if (token.tokenType === t.Hole) {
      items = [];
      runs.push(items);
      continue;
    }
    const isHead = i === 0 && section.word !== undefined;
    const isStatement = statements.has(token.startOffset);
    const begins = isHead
      ? 'declaration'
      : isStatement
        ? 'statement'
        : clauses.has(token.startOffset)
          ? 'clause'
          : undefined;
    items.push({
      kind: 'token',
      token,
      text: printed(token, spelledAt),
      begins,
      emptyLineBefore: i > 0 && lineEndsBefore(section.text, token.startOffset) > 1,
      word: isHead || isStatement ? token.payload : undefined,
      isPrefix: PREFIXES.has(token.tokenType) && spelledAt().starts.has(token.startOffset),
    });
  }
  addComments(Number.POSITIVE_INFINITY);
  return { kind: 'laid-out', runs };
}

/** An item with an empty line before it, or without one. */
export function withEmptyLine(item: Item, isThere: boolean): Item {
  return item.kind === 'comment' || item.emptyLineBefore === isThere ? item : { ...item, emptyLineBefore: isThere };
}
