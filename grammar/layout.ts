// Lays items out in lines: one declaration after another with an empty line between, one statement a line, clauses on lines
// of their own. Where blanks stand inside a line is said in spacing.ts, how lines are broken in lines.ts.
import type { CommentItem } from './comments.ts';
import { type LineWriter, lineWriter, WIDTH } from './lines.ts';
import type { Item, TokenItem } from './print-items.ts';
import { blankBefore, isNumber, mayBreakBefore, textAt } from './spacing.ts';
import * as t from './tokens.ts';
import { CHANGE_WORDS } from './vocabulary.ts';

const INDENT = 2;

/** What stands before the next item at its level: nothing, a declaration, a statement for the whole file, or lines in braces. */
type Before = 'nothing' | 'use' | 'declaration' | 'for-file' | 'lines';

/** Where the layout stands. */
interface State {
  readonly lines: LineWriter;
  depth: number;
  /** The keyword of the declaration or statement at hand. */
  word: string | undefined;
  /** True in the sum of a limit. */
  inSum: boolean;
  /** True when a clause of the declaration or statement at hand stands on a line of its own. */
  hasClauses: boolean;
  before: Before;
  afterComment: boolean;
}

const isType = (item: Item | undefined, type: TokenItem['token']['tokenType']): boolean =>
  item?.kind === 'token' && item.token.tokenType === type;

/** Puts a text in quotes on the line at hand. It may run over a line end at any of its blanks. */
function putText(lines: LineWriter, text: string, blank: boolean, mayBreak: boolean): void {
  let isFirst = true;
  for (const piece of text.split(' ')) {
    lines.add(piece, !isFirst || blank, !isFirst || mayBreak);
    isFirst = false;
  }
}

/** Puts a run of tokens of one statement on the line at hand. */
function put(
  lines: LineWriter,
  tokens: readonly TokenItem[],
  from: number,
  to: number,
  word: string | undefined,
  inSum: boolean,
): void {
  for (let at = from; at < to; at += 1) {
    const item = tokens[at];
    if (item === undefined) continue;
    const blank = blankBefore(tokens, at, word);
    const mayBreak = blank && mayBreakBefore(tokens, at, inSum);
    if (item.token.tokenType !== t.TextToken) lines.add(textAt(tokens, at), blank, mayBreak);
    else putText(lines, item.text, blank, mayBreak);
  }
}

/** Where the rows of a tightening order begin: its first number that belongs to no clause. */
function firstOfRows(run: readonly TokenItem[]): number {
  let inList = false;
  for (const [i, item] of run.entries()) {
    if (!isNumber(item)) continue;
    const before = run[i - 1];
    const isOfStage = before?.text === 'stage';
    inList = before?.text === 'at' || (inList && isType(before, t.Comma));
    if (!isOfStage && !inList) return i;
  }
  return -1;
}

/** A tightening order is drawn as the bolts lie: one row a line. */
function putRows({ lines, depth }: State, run: readonly TokenItem[]): void {
  const firstNumber = firstOfRows(run);
  put(lines, run, 0, firstNumber < 0 ? run.length : firstNumber, 'tightening-order', false);
  if (firstNumber < 0) return;
  const rows: string[][] = [[]];
  for (const item of run.slice(firstNumber)) {
    const pieces = item.token.tokenType === t.Slash ? ['', ''] : item.text.split('/');
    for (const [i, piece] of pieces.entries()) {
      if (i > 0) rows.push([]);
      if (piece.trim() !== '') rows[rows.length - 1]?.push(piece.trim());
    }
  }
  for (const [i, row] of rows.entries()) {
    lines.begin((depth + 1) * INDENT);
    for (const piece of row) lines.add(piece, true, true);
    if (i < rows.length - 1) lines.add('/', true, false);
  }
}

/** The closing brace of an inner block of one statement without clauses and comments, where the brace at `at` opens one. */
function endOfSingle(items: readonly Item[], at: number): number | undefined {
  let statements = 0;
  for (let i = at + 1; i < items.length; i += 1) {
    const item = items[i];
    if (item?.kind !== 'token') return undefined;
    if (isType(item, t.Close)) return statements === 1 ? i : undefined;
    if (isType(item, t.Open) || item.begins === 'declaration' || item.begins === 'clause') return undefined;
    if (item.begins !== 'statement') continue;
    statements += 1;
    if (item.word === 'tightening-order') return undefined;
  }
  return undefined;
}

/** Writes an inner block of one statement on the line at hand, where it fits; gives the place of its closing brace. */
function putSingle({ lines, depth, word }: State, items: readonly Item[], at: number): number | undefined {
  const close = depth > 0 && (word === 'size' || word === 'when') ? endOfSingle(items, at) : undefined;
  if (close === undefined) return undefined;
  const inner = items.slice(at, close + 1).filter((item): item is TokenItem => item.kind === 'token');
  const trial = lineWriter();
  put(trial, inner, 1, inner.length - 1, inner[1]?.word, false);
  if (lines.width() + trial.width() + ' {  }'.length > WIDTH) return undefined;
  lines.add('{', true, false);
  put(lines, inner, 1, inner.length - 1, inner[1]?.word, false);
  lines.add('}', true, false);
  return close;
}

/** What stands inside another declaration, without an empty line before it. */
const INNER = new Set(['step', ...CHANGE_WORDS]);

/** Whether an empty line has to stand before an item: between declarations, but not between uses, steps or changes. */
function isSetApart({ before, depth }: State, next: Item | undefined): boolean {
  if (before === 'nothing' || next === undefined || next.kind === 'comment') return false;
  if (next.begins === 'statement') return depth === 0 && before !== 'for-file';
  if (next.begins !== 'declaration') return false;
  if (next.word === 'use') return before !== 'use';
  return !(depth > 0 && INNER.has(next.word ?? ''));
}

/** Where a comment on a line of its own stands: with what comes after it. */
function indentOf({ lines, depth, word }: State, next: Item | undefined): number {
  if (next?.kind !== 'token' || isType(next, t.Close) || isType(next, t.Open)) return depth * INDENT;
  const isRow = next.begins === undefined && word === 'tightening-order';
  if (next.begins === 'clause' || isRow) return (depth + 1) * INDENT;
  return next.begins === undefined ? lines.further() : depth * INDENT;
}

/** A run of comments: where it ends, and which of its items, or the one behind it, is the last with an empty line before it. */
interface Comments {
  readonly end: number;
  readonly lastApart: number;
}

function commentsFrom(items: readonly Item[], at: number): Comments {
  let end = at;
  let lastApart = -1;
  for (; end < items.length; end += 1) {
    const item = items[end];
    if (item?.emptyLineBefore) lastApart = end;
    if (item?.kind !== 'comment') break;
  }
  return { end, lastApart };
}

/** Writes a comment on a line of its own, the first of a run of them or a later one. `isLast`: no empty line comes between it and `next`. */
function putOwnComment(state: State, comment: CommentItem, next: Item | undefined, isLast: boolean): void {
  const indent = indentOf(state, next);
  // Between two declarations stands an empty line: where the writer has put one, or else before the first comment.
  const apart = !state.afterComment && isLast && isSetApart(state, next);
  const isFirst = state.before === 'nothing' && !state.afterComment;
  if (apart || (comment.emptyLineBefore && !isFirst)) state.lines.emptyLine();
  state.lines.whole(' '.repeat(indent) + comment.text);
  state.afterComment = true;
}

/** The empty line before a declaration, or before a statement for the whole file. */
function setApart(state: State, item: Exclude<Item, CommentItem>): void {
  const apart = isSetApart(state, item);
  const keep = state.afterComment && item.emptyLineBefore && (apart || state.depth === 0);
  if (state.afterComment ? keep : apart) state.lines.emptyLine();
}

/** Begins a line for a declaration, a statement or a clause. */
function begin(state: State, item: TokenItem): void {
  const { lines, depth } = state;
  if (item.begins === 'clause') {
    lines.begin((depth + 1) * INDENT);
    state.inSum = item.token.tokenType === t.Equals;
    state.hasClauses = true;
    return;
  }
  if (item.begins === undefined) return;
  if (item.begins === 'declaration' || depth === 0) setApart(state, item);
  state.before =
    item.begins === 'statement' ? (depth === 0 ? 'for-file' : 'lines') : item.word === 'use' ? 'use' : 'declaration';
  state.word = item.word;
  state.inSum = false;
  state.hasClauses = false;
  lines.begin(depth * INDENT);
}

/** Lays out braces; gives the place of the last item that it has laid out. */
function putBrace(state: State, items: readonly Item[], at: number): number {
  const { lines } = state;
  if (isType(items[at], t.Close)) {
    state.depth = Math.max(0, state.depth - 1);
    lines.begin(state.depth * INDENT);
    lines.add('}', false, false);
    state.before = state.depth === 0 ? 'declaration' : 'lines';
    state.word = undefined;
    return at;
  }
  const single = putSingle(state, items, at);
  if (single !== undefined) return single;
  if (state.hasClauses) lines.begin(state.depth * INDENT);
  lines.add('{', true, false);
  if (isType(items[at + 1], t.Close)) {
    lines.add('}', false, false);
    return at + 1;
  }
  state.depth += 1;
  lines.begin(state.depth * INDENT);
  state.before = 'nothing';
  state.word = undefined;
  return at;
}

/** The tokens of one line: up to the next beginning, brace or comment. */
function runFrom(items: readonly Item[], at: number): readonly TokenItem[] {
  let end = at;
  for (; end < items.length; end += 1) {
    const item = items[end];
    if (item?.kind !== 'token') break;
    if (end > at && (item.begins !== undefined || isType(item, t.Open) || isType(item, t.Close))) break;
  }
  return items.slice(at, end) as readonly TokenItem[];
}

/** Where the layout stands between two declarations: all that what comes next depends on of what came before. */
export interface Between {
  readonly depth: number;
  readonly word: string | undefined;
  readonly inSum: boolean;
  readonly hasClauses: boolean;
  readonly before: Before;
  readonly afterComment: boolean;
  /** Whether any line is written yet. */
  readonly follows: boolean;
}

export const AT_START: Between = {
  depth: 0,
  word: undefined,
  inSum: false,
  hasClauses: false,
  before: 'nothing',
  afterComment: false,
  follows: false,
};

/** The lines of items that end where a declaration begins, or the text ends; and where the layout stands then. */
export function layOutFrom(
  from: Between,
  items: readonly Item[],
  next: Item | undefined,
): { readonly text: string; readonly to: Between } {
  const lines = lineWriter(from.follows);
  const { depth, word, inSum, hasClauses, before, afterComment } = from;
  const state: State = { lines, depth, word, inSum, hasClauses, before, afterComment };
  putItems(state, next === undefined ? items : [...items, next], items.length);
  const text = lines.text();
  const to: Between = {
    depth: state.depth,
    word: state.word,
    inSum: state.inSum,
    hasClauses: state.hasClauses,
    before: state.before,
    afterComment: state.afterComment,
    follows: from.follows || text !== '',
  };
  return { text, to };
}

/** The canonical layout of items, with a line end after every line. */
export function layOut(items: readonly Item[]): string {
  return layOutFrom(AT_START, items, undefined).text;
}

/** Lays out so many of the items; those behind are looked at alone. */
function putItems(state: State, items: readonly Item[], count: number): void {
  const { lines } = state;
  let run: Comments = { end: 0, lastApart: -1 };
  for (let i = 0; i < count; i += 1) {
    const item = items[i];
    if (item === undefined) continue;
    if (item.kind === 'comment') {
      if (i >= run.end) run = commentsFrom(items, i);
      if (item.own) putOwnComment(state, item, items[run.end], run.lastApart <= i);
      else lines.comment(item.text);
      continue;
    }
    if (item.kind === 'verbatim') {
      setApart(state, item);
      lines.whole(' '.repeat(state.depth * INDENT) + item.text);
      state.before = 'declaration';
    } else if (isType(item, t.Open) || isType(item, t.Close)) {
      i = putBrace(state, items, i);
    } else {
      begin(state, item);
      const tokens = runFrom(items, i);
      if (state.word === 'tightening-order') putRows(state, tokens);
      else put(lines, tokens, 0, tokens.length, state.word, state.inSum);
      i += tokens.length - 1;
    }
    state.afterComment = false;
  }
}
