// The canonical layout: one fact a line, laid out by structure, no wider than 72 columns where that can be. Blanks and line
// ends are all that changes, and words take their usual form. No comment is ever lost, and the meaning never changes: the
// result is read again and compared, and where anything differs the text is given back as it was.
import { parseSection } from './parse.ts';
import { type Item, itemsOf } from './print-items.ts';
import { cutSections, type Section } from './sections.ts';
import * as t from './tokens.ts';

export const WIDTH = 72;

export type Formatted =
  | { readonly kind: 'formatted'; readonly text: string }
  | { readonly kind: 'unchanged'; readonly why: string };

type TokenItem = Extract<Item, { kind: 'token' }>;

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
  'closes',
  'against',
  'after',
  'because',
  'either-side-of',
  'together',
  'undersize',
  'oversize',
]);

interface Atom {
  readonly text: string;
  readonly blankBefore: boolean;
  readonly mayBreak: boolean;
}

/** Lays lines out; knows braces and indents, not what words mean. */
class Layout {
  readonly lines: string[] = [];
  private atoms: Atom[] = [];
  private indent = 0;
  depth = 0;

  begin(indent: number): void {
    this.flush();
    this.indent = indent;
  }

  add(text: string, blankBefore: boolean, mayBreak: boolean): void {
    this.atoms.push({ text, blankBefore, mayBreak });
  }

  get isEmpty(): boolean {
    return this.atoms.length === 0;
  }

  get width(): number {
    return (
      this.indent + this.atoms.reduce((sum, atom, i) => sum + atom.text.length + (atom.blankBefore && i > 0 ? 1 : 0), 0)
    );
  }

  blankLine(): void {
    this.flush();
    if (this.lines.length > 0 && this.lines[this.lines.length - 1] !== '') this.lines.push('');
  }

  raw(line: string): void {
    this.flush();
    this.lines.push(line);
  }

  /** Puts a comment at the end of the line written last. */
  trail(comment: string): void {
    const rest = this.indent;
    const open = this.atoms.length > 0;
    this.flush();
    const last = this.lines.length - 1;
    if (last < 0 || this.lines[last] === '') this.lines.push(comment);
    else this.lines[last] = `${this.lines[last]}  ${comment}`;
    if (open) this.indent = Math.max(rest, this.depth * 2 + 2);
  }

  flush(): void {
    const atoms = this.atoms;
    this.atoms = [];
    let from = 0;
    let indent = this.indent;
    while (from < atoms.length) {
      let width = indent;
      let end = from;
      let lastBreak = -1;
      while (end < atoms.length) {
        const atom = atoms[end];
        if (atom === undefined) break;
        if (end > from && atom.mayBreak) {
          if (width > WIDTH && lastBreak < 0) lastBreak = end;
          if (width <= WIDTH) lastBreak = end;
          if (width > WIDTH) break;
        }
        width += atom.text.length + (atom.blankBefore && end > from ? 1 : 0);
        end += 1;
      }
      const stop =
        end >= atoms.length && (width <= WIDTH || lastBreak < 0)
          ? atoms.length
          : lastBreak > from
            ? lastBreak
            : Math.max(end, from + 1);
      const line = atoms
        .slice(from, stop)
        .map((atom, i) => (atom.blankBefore && i > 0 ? ` ${atom.text}` : atom.text))
        .join('');
      this.lines.push(' '.repeat(indent) + line);
      from = stop;
      indent = this.indent + 2;
    }
  }
}

const OPERANDS = new Set([t.NumberToken, t.UnitToken, t.CloseBracket, t.CountToken]);

function isOperand(item: TokenItem | undefined): boolean {
  return item !== undefined && (OPERANDS.has(item.token.tokenType) || item.token.tokenType === t.Word);
}

function isSign(item: TokenItem | undefined): boolean {
  return item?.token.tokenType === t.Plus || item?.token.tokenType === t.Minus;
}

const isNumber = (item: TokenItem | undefined): boolean => item?.token.tokenType === t.NumberToken;

/** Whether a blank stands between two tokens that follow each other. */
function blankBetween(tokens: readonly TokenItem[], at: number, word: string | undefined, inSum: boolean): boolean {
  const [before, here] = [tokens[at - 1], tokens[at]];
  if (before === undefined || here === undefined) return false;
  const [a, b] = [before.token.tokenType, here.token.tokenType];
  if (b === t.Comma || b === t.CloseBracket || b === t.Dots || b === t.Dot || b === t.Minutes || b === t.Colon)
    return false;
  if (a === t.OpenBracket || a === t.Dots || a === t.Dot || a === t.PlusMinus) return false;
  if (word === 'firing-order' && (a === t.Minus || b === t.Minus)) return false;
  if (a === t.Colon) return !(word === 'ratio' || word === 'log' || tokens[at + 1]?.token.tokenType === t.OClock);
  if (b === t.OpenBracket && before.token.tokenType.CATEGORIES?.includes(t.Word) !== true && a === t.Word)
    return !/^(?:min|max|mean|spread)$/i.test(before.text);
  // Minutes of arc: 32°30'.
  if (b === t.UnitToken && isNumber(tokens[at + 1]) && tokens[at + 2]?.token.tokenType === t.Minutes) return false;
  if (a === t.UnitToken && isNumber(here) && tokens[at + 1]?.token.tokenType === t.Minutes) return false;
  if (isSign(before) && isNumber(here)) {
    const operandBefore = isOperand(tokens[at - 2]);
    if (!operandBefore) return false;
    const inTolerance =
      !inSum &&
      isNumber(tokens[at - 2]) &&
      ((isSign(tokens[at + 1]) && isNumber(tokens[at + 2])) || (isSign(tokens[at - 3]) && isNumber(tokens[at - 4])));
    return !inTolerance;
  }
  if (isSign(before) && !isOperand(tokens[at - 2])) return false;
  return true;
}

function textOf(tokens: readonly TokenItem[], at: number): string {
  const item = tokens[at];
  if (item === undefined) return '';
  if (item.token.tokenType === t.UnitToken && isNumber(tokens[at + 1]) && tokens[at + 2]?.token.tokenType === t.Minutes)
    return '°';
  if (item.token.tokenType === t.UnitToken && item.text === 'turn')
    return /^(?:1|\d+\/\d+)$/.test(tokens[at - 1]?.text ?? '') ? 'turn' : 'turns';
  return item.text;
}

/** Whether the brace at `at` opens an inner block of one statement that fits on its line; gives the offset of its closing brace. */
function inlineBlock(items: readonly Item[], at: number): number | undefined {
  let statements = 0;
  for (let i = at + 1; i < items.length; i += 1) {
    const item = items[i];
    if (item === undefined || item.kind !== 'token') return undefined;
    const type = item.token.tokenType;
    if (type === t.Close) return statements === 1 ? i : undefined;
    if (type === t.Open || item.begins === 'declaration' || item.begins === 'clause') return undefined;
    if (item.begins === 'statement') {
      statements += 1;
      if (item.word === 'tightening-order') return undefined;
    }
  }
  return undefined;
}

/** Puts a run of tokens of one statement into a layout. */
function put(
  layout: Layout,
  tokens: readonly TokenItem[],
  from: number,
  to: number,
  word: string | undefined,
  inSum: boolean,
): void {
  for (let at = from; at < to; at += 1) {
    const item = tokens[at];
    if (item === undefined) continue;
    const blank = blankBetween(tokens, at, word, inSum);
    const afterComma = tokens[at - 1]?.token.tokenType === t.Comma;
    const isClause =
      BREAKS.has(item.text) &&
      t.KEYWORD_KINDS.get(item.token.payload) === item.token.tokenType &&
      tokens[at - 1]?.begins !== 'statement';
    if (item.token.tokenType !== t.TextToken) {
      layout.add(textOf(tokens, at), blank, blank && (afterComma || isClause));
      continue;
    }
    for (const [i, piece] of item.text.split(' ').entries()) layout.add(piece, i === 0 ? blank : true, i > 0);
  }
}

function layOut(items: readonly Item[]): string {
  const layout = new Layout();
  let word: string | undefined;
  let inSum = false;
  let lastWasOwnComment = false;
  let lastDeclaration: string | undefined;
  let fresh = true;
  const blankBeforeDeclaration = (kind: string | undefined, blankBefore: boolean): void => {
    if (lastWasOwnComment) {
      if (blankBefore) layout.blankLine();
      return;
    }
    if (kind === 'step' && layout.depth > 0) return;
    if (!fresh && !(kind === 'use' && lastDeclaration === 'use')) layout.blankLine();
  };
  for (let i = 0; i < items.length; i += 1) {
    const item = items[i];
    if (item === undefined) continue;
    if (item.kind === 'comment') {
      if (!item.own) {
        layout.trail(item.text);
        continue;
      }
      layout.flush();
      const afterDeclaration = layout.depth === 0 && !lastWasOwnComment && layout.lines.length > 0;
      if (afterDeclaration || (item.blankBefore && layout.lines.length > 0 && !fresh)) layout.blankLine();
      layout.raw(' '.repeat(layout.depth * 2) + item.text);
      layout.begin(layout.depth * 2 + (word === undefined ? 0 : 2));
      lastWasOwnComment = true;
      fresh = false;
      continue;
    }
    if (item.kind === 'verbatim') {
      layout.flush();
      blankBeforeDeclaration(item.word, true);
      layout.raw(' '.repeat(layout.depth * 2) + item.text);
      lastWasOwnComment = false;
      lastDeclaration = item.word;
      fresh = false;
      continue;
    }
    const type = item.token.tokenType;
    if (item.begins === 'declaration') {
      layout.flush();
      blankBeforeDeclaration(item.word, item.blankBefore);
      lastDeclaration = item.word;
      word = item.word;
      inSum = false;
      layout.begin(layout.depth * 2);
    } else if (item.begins === 'statement') {
      layout.flush();
      if (layout.depth === 0) blankBeforeDeclaration(undefined, item.blankBefore);
      word = item.word;
      inSum = false;
      layout.begin(layout.depth * 2);
    } else if (item.begins === 'clause') {
      layout.begin(layout.depth * 2 + 2);
      inSum = type === t.Equals;
    }
    lastWasOwnComment = false;
    fresh = false;
    if (type === t.Close) {
      layout.flush();
      layout.depth = Math.max(0, layout.depth - 1);
      layout.begin(layout.depth * 2);
      layout.add('}', false, false);
      layout.flush();
      word = undefined;
      continue;
    }
    if (type === t.Open) {
      const close = layout.depth > 0 && (word === 'size' || word === 'when') ? inlineBlock(items, i) : undefined;
      if (close !== undefined) {
        const inner = items.slice(i, close + 1).filter((each): each is TokenItem => each.kind === 'token');
        const trial = new Layout();
        put(trial, inner, 1, inner.length - 1, inner[1]?.word, false);
        if (layout.width + 5 + trial.width <= WIDTH) {
          layout.add('{', true, false);
          put(layout, inner, 1, inner.length - 1, inner[1]?.word, false);
          layout.add('}', true, false);
          layout.flush();
          i = close;
          word = undefined;
          continue;
        }
      }
      const clauses = layout.isEmpty;
      if (clauses) layout.begin(layout.depth * 2);
      layout.add('{', true, false);
      layout.flush();
      layout.depth += 1;
      layout.begin(layout.depth * 2);
      word = undefined;
      fresh = true;
      continue;
    }
    // The tokens of one line: up to the next beginning, brace or comment.
    let end = i + 1;
    while (end < items.length) {
      const next = items[end];
      if (
        next?.kind !== 'token' ||
        next.begins !== undefined ||
        next.token.tokenType === t.Open ||
        next.token.tokenType === t.Close
      )
        break;
      end += 1;
    }
    const run = items.slice(i, end) as readonly TokenItem[];
    if (word === 'tightening-order') putRows(layout, run);
    else put(layout, run, 0, run.length, word, inSum);
    i = end - 1;
  }
  layout.flush();
  while (layout.lines[layout.lines.length - 1] === '') layout.lines.pop();
  return layout.lines.length === 0 ? '' : `${layout.lines.join('\n')}\n`;
}

/** A tightening order is drawn as the bolts lie: one row a line. */
function putRows(layout: Layout, run: readonly TokenItem[]): void {
  const firstNumber = run.findIndex((item) => isNumber(item));
  put(layout, run, 0, firstNumber < 0 ? run.length : firstNumber, 'tightening-order', false);
  if (firstNumber < 0) return;
  const rows: string[][] = [[]];
  for (const item of run.slice(firstNumber)) {
    if (item.token.tokenType === t.Slash) rows.push([]);
    else
      for (const [i, piece] of item.text.split('/').entries()) {
        if (i > 0) rows.push([]);
        rows[rows.length - 1]?.push(piece.trim());
      }
  }
  for (const [i, row] of rows.entries()) {
    layout.begin(layout.depth * 2 + 2);
    for (const piece of row) layout.add(piece, true, true);
    if (i < rows.length - 1) layout.add('/', true, false);
  }
  layout.flush();
}

/** The trees of a text without positions, and its comments: what formatting must keep. */
function meaningOf(text: string): string {
  const out: unknown[] = [];
  const walk = (sections: readonly Section[], inSequence: boolean): void => {
    for (const section of sections) {
      const parsed = parseSection(section, inSequence);
      // Of what can't be read, the text itself must stay.
      if (parsed.faults.length > 0) out.push(section.text.replace(/\s+/g, ' ').trim());
      else
        out.push(
          [parsed.declaration, parsed.outside],
          parsed.comments.map((comment) => comment.text),
        );
      walk(section.children, section.word === 'sequence');
    }
  };
  walk(cutSections(text), false);
  return JSON.stringify(out, (key, value: unknown) =>
    key === 'start' || key === 'end' || key === 'wordSpan' || key === 'designationSpan' || key === 'measured'
      ? undefined
      : value,
  );
}

/** A text in the canonical layout, with the line ends that most of its lines have. */
export function formatText(text: string): Formatted {
  const plain = layOut(itemsOf(text));
  if (meaningOf(plain) !== meaningOf(text.replace(/^\ufeff/, ''))) {
    return { kind: 'unchanged', why: 'Laid out anew, this text would not read the same, so it was left as it is.' };
  }
  const crlf = (text.match(/\r\n/g) ?? []).length > (text.match(/\n/g) ?? []).length / 2;
  return { kind: 'formatted', text: crlf ? plain.replace(/\n/g, '\r\n') : plain };
}
