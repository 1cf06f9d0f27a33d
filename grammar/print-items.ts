// What is printed, in the order of the file: tokens with the text they are printed as, comments, and declarations that are left as written.
import { HIDDEN } from './characters.ts';
import { type Parsed, parseSection } from './parse.ts';
import { cutSections, type Section } from './sections.ts';
import type { Token } from './tokens.ts';
import * as t from './tokens.ts';

export type Item =
  | {
      readonly kind: 'token';
      readonly token: Token;
      readonly text: string;
      readonly begins: 'declaration' | 'statement' | 'clause' | undefined;
      readonly blankBefore: boolean;
      readonly word: string | undefined;
    }
  | { readonly kind: 'comment'; readonly text: string; readonly own: boolean; readonly blankBefore: boolean }
  /** A declaration with a fault: its text as it stands, with the comments in it. */
  | {
      readonly kind: 'verbatim';
      readonly text: string;
      readonly begins: 'declaration';
      readonly word: string | undefined;
    };

interface Spelled {
  readonly names: ReadonlySet<number>;
  readonly choices: ReadonlyMap<number, string>;
}

/** Where the tree has names (kept as written) and fixed choices (written in their usual form). */
function spelled(tree: unknown): Spelled {
  const names = new Set<number>();
  const choices = new Map<number, string>();
  const walk = (value: unknown): void => {
    if (Array.isArray(value)) for (const each of value) walk(each);
    else if (typeof value === 'object' && value !== null) {
      const each = value as {
        readonly start?: unknown;
        readonly text?: unknown;
        readonly word?: unknown;
        readonly known?: unknown;
        readonly kind?: unknown;
      };
      if (typeof each.start === 'number') {
        if (typeof each.text === 'string') names.add(each.start);
        if (typeof each.word === 'string' && each.known === true) choices.set(each.start, each.word);
        if (each.kind === 'slacken' || each.kind === 'hand-tight' || each.kind === 'contact')
          choices.set(each.start, each.kind);
      }
      for (const inner of Object.values(value)) walk(inner);
    }
  };
  walk(tree);
  return { names, choices };
}

function escaped(value: string): string {
  return `"${value.replace(/\\/g, '\\\\').replace(/"/g, '\\"')}"`;
}

function printed(token: Token, at: Spelled): string {
  const type = token.tokenType;
  if (type === t.TextToken) return escaped(token.payload);
  if (type === t.CountToken) return `x${Number(token.payload)}`;
  if (
    type === t.NumberToken ||
    type === t.OrderToken ||
    type === t.DateToken ||
    type === t.ThreadToken ||
    type === t.CodeToken ||
    type === t.UnitToken
  )
    return token.payload;
  if (type === t.OClock) return "o'clock";
  if (type === t.Minutes) return "'";
  const choice = at.choices.get(token.startOffset);
  if (choice !== undefined) return choice;
  if (type === t.Word) return token.payload;
  if (t.KEYWORD_KINDS.get(token.payload) === type)
    return at.names.has(token.startOffset) ? token.image.replace(HIDDEN, '').normalize('NFC') : token.payload;
  return type.LABEL ?? type.name;
}

/** Whether an empty line stands before an offset. */
function emptyLineBefore(text: string, offset: number): boolean {
  return /(?:\r\n|[\r\n])[^\S\r\n]*(?:\r\n|[\r\n])[^\S\r\n]*$/.test(text.slice(Math.max(0, offset - 200), offset));
}

/** Whether nothing stands before an offset on its line. */
function firstOnLine(text: string, offset: number): boolean {
  return /(?:^|[\r\n])[^\S\r\n]*$/.test(text.slice(Math.max(0, offset - 200), offset));
}

function sectionItems(section: Section, file: string, inSequence: boolean): readonly Item[] {
  const parsed: Parsed = parseSection(section, inSequence);
  if (
    parsed.faults.length > 0 ||
    (parsed.declaration === undefined && parsed.outside.length === 0 && parsed.tokens.length > 0)
  ) {
    return [
      {
        kind: 'verbatim',
        text: file.slice(section.start, section.end).trim(),
        begins: 'declaration',
        word: section.word,
      },
    ];
  }
  const at = spelled([parsed.declaration, parsed.outside]);
  const statements = new Set(parsed.statementStarts);
  const clauses = new Set(parsed.clauseStarts);
  const items: Item[] = [];
  let child = 0;
  let comment = 0;
  const flushComments = (before: number): void => {
    for (; comment < parsed.comments.length; comment += 1) {
      const next = parsed.comments[comment];
      if (next === undefined || next.start >= before) return;
      items.push({
        kind: 'comment',
        text: next.text,
        own: firstOnLine(section.text, next.start),
        blankBefore: emptyLineBefore(section.text, next.start),
      });
    }
  };
  for (const [i, token] of parsed.tokens.entries()) {
    flushComments(token.startOffset);
    if (token.tokenType === t.Hole) {
      const inner = section.children[child];
      child += 1;
      if (inner !== undefined) items.push(...sectionItems(inner, file, section.word === 'sequence'));
      continue;
    }
    const begins =
      i === 0 && section.word !== undefined
        ? 'declaration'
        : statements.has(token.startOffset)
          ? 'statement'
          : clauses.has(token.startOffset)
            ? 'clause'
            : undefined;
    items.push({
      kind: 'token',
      token,
      text: printed(token, at),
      begins,
      blankBefore: i === 0 ? emptyLineBefore(file, section.start) : emptyLineBefore(section.text, token.startOffset),
      word: begins === undefined || begins === 'clause' ? undefined : token.payload,
    });
  }
  flushComments(Number.POSITIVE_INFINITY);
  return items;
}

/** The items of a whole text. Comments before the first declaration come first. */
export function itemsOf(text: string): readonly Item[] {
  const sections = cutSections(text);
  const items: Item[] = [];
  const first = sections[0];
  const leading = text.slice(0, first?.start ?? text.length);
  if (first === undefined || first.start > 0) {
    for (const line of leading.split(/\r\n|[\r\n\u2028\u2029]/).entries()) {
      const comment = /^\s*(#.*?)\s*$/u.exec(line[1].replace(/^\ufeff/, ''));
      const before = line[0] > 0 && leading.split(/\r\n|[\r\n\u2028\u2029]/)[line[0] - 1]?.trim() === '';
      if (comment?.[1] !== undefined) items.push({ kind: 'comment', text: comment[1], own: true, blankBefore: before });
    }
  }
  for (const section of sections) items.push(...sectionItems(section, text, false));
  return items;
}
