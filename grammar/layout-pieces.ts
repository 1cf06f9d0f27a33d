// The canonical layout of a text declaration by declaration: each piece is cached by its own text, so that after an edit only the piece
// that changed is read and laid out again. The pieces one after the other are the layout of the whole.
import { commentItem, commentsBefore, endWithoutComments } from './comments.ts';
import { AT_START, type Between, layOutFrom } from './layout.ts';
import { lex } from './lexer.ts';
import type { Parsed } from './parse.ts';
import {
  emptyLineBefore,
  type Item,
  type LeftItems,
  leftItem,
  type OwnItems,
  ownItems,
  type VerbatimItem,
  withEmptyLine,
} from './print-items.ts';
import type { Section } from './section.ts';
import { type TextCache, textCache } from './text-cache.ts';
import { type Doubt, doubtsOf, unclosedTexts } from './texts.ts';

/** Some lines of a layout; the same object as long as they were made of the same. */
export interface LayoutPiece {
  readonly text: string;
  /** What they were made of: those of a declaration, or the comments before the first. */
  readonly items: readonly Item[];
}

type Run = readonly Item[];

/** A text as it was cut, and what was read of its sections, where that is known. */
export interface ReadText {
  readonly text: string;
  readonly sections: readonly Section[];
  readonly treeOf?: (section: Section) => Parsed | undefined;
}

/** A layout in its pieces, and where in the text each begins that it was made of. */
export interface Layout {
  readonly pieces: readonly LayoutPiece[];
  readonly starts: readonly number[];
  /** Where it is in doubt what of the text is in quotes. */
  readonly doubts: readonly Doubt[];
}

/** Items from where a declaration begins to where the next does, in runs that are the same objects as long as their text is the same. */
interface Chunk {
  /** Where it begins in the text. */
  readonly start: number;
  readonly runs: Run[];
  readonly hasEmptyLine: boolean;
}

interface Laid {
  readonly runs: readonly Run[];
  readonly hasEmptyLine: boolean;
  readonly from: Between;
  readonly next: Item | undefined;
  readonly nextHasEmptyLine: boolean;
  readonly piece: LayoutPiece;
  readonly to: Between;
}

interface Own {
  readonly holes: readonly number[];
  readonly items: OwnItems | LeftItems;
  /** The last run of a section that is left as it is written. */
  left?: { readonly item: VerbatimItem; readonly run: Run };
}

/** Characters of text whose items are cached, beside as many as the text at hand has: what does not change is laid out once, however long. */
const MOST_CACHED = 100_000;

/** What is cached from one layout to the next. */
export interface LayoutCache {
  readonly own: TextCache<Own>;
  /** How a run was last laid out, by the first of a chunk's. */
  readonly laidOut: WeakMap<Run, Laid>;
  heading: { readonly text: string; readonly run: Run } | undefined;
}

/** A cache of layouts, empty as yet. */
export function layoutCache(): LayoutCache {
  return { own: textCache(MOST_CACHED), laidOut: new WeakMap(), heading: undefined };
}

const shared = layoutCache();

/** Whether a doubt begins in a section and reaches over where it, or one in it, begins or ends. */
function reachesOut(section: Section, { start, end }: Doubt): boolean {
  const child = section.children.find((each) => each.start < end && start < each.end);
  if (child === undefined) return end > section.end;
  return child.start > start || child.end < end || reachesOut(child, { start, end });
}

/**
 * Sections that are left as they are written, with what stands between them, since it is in doubt what of them is a text: from where
 * to where, by the number of the first. A doubt that stays inside one declaration is none here: that one is left for its fault.
 */
function leftTogether(sections: readonly Section[], doubts: readonly Doubt[]): ReadonlyMap<number, number> {
  const left = new Map<number, number>();
  let at = 0;
  let from = -1;
  let to = -1;
  for (const doubt of doubts) {
    while ((sections[at + 1]?.start ?? Number.POSITIVE_INFINITY) <= doubt.start) at += 1;
    const section = sections[at];
    if (section === undefined || !reachesOut(section, doubt)) continue;
    if (at > to) from = at;
    to = Math.max(at, to);
    while ((sections[to + 1]?.start ?? Number.POSITIVE_INFINITY) < doubt.end) to += 1;
    left.set(from, to);
  }
  return left;
}

/** What a text is laid out from: the cache of its sections, and what was read of them. */
interface From {
  readonly file: string;
  /** Where the file begins in the whole text. */
  readonly start: number;
  readonly cache: TextCache<Own>;
  readonly treeOf: (section: Section) => Parsed | undefined;
}

/** What is printed of a section's own text, read now or before. Keywords that begin a section are part of its text. */
function ownOf(section: Section, inSequence: boolean, { cache, treeOf }: From): Own {
  const { word, text, holes, unclosedBraces, unclosedTexts } = section;
  const isShut = unclosedBraces.length === 0 && unclosedTexts.length === 0;
  const isUsual = isShut && word !== undefined && inSequence === (word === 'step');
  const known = isUsual ? cache.get(text) : undefined;
  const isKnown = known?.holes.length === holes.length && known.holes.every((hole, i) => hole === holes[i]);
  if (known !== undefined && isKnown) return known;
  const own = { holes, items: ownItems(section, inSequence, treeOf(section)) };
  if (isUsual) cache.set(text, own);
  return own;
}

/** Sections that are left as they are written, up to the comments behind the last one, which are for what comes next. */
function leftChunk(first: Section, last: Section, file: string, from: number): Chunk {
  const text = file.slice(Math.max(first.start, from), last.end);
  const comments = lex(text, { unclosedTexts: [...unclosedTexts(text)], holes: [] }).comments;
  const end = endWithoutComments(text, comments);
  const item: VerbatimItem = {
    kind: 'verbatim',
    text: text.slice(0, end).trimEnd(),
    begins: 'declaration',
    emptyLineBefore: false,
    word: first.word,
  };
  const after = comments.filter((comment) => comment.start >= end);
  const run = [item, ...after.map((comment) => commentItem(text, comment))];
  const start = Math.max(first.start, from);
  return { start, runs: [run], hasEmptyLine: first.word !== undefined && emptyLineBefore(first, file) };
}

/** Whether a section, or one in it, has a fault, for which it is left as it is written. Where it is in doubt what is a text, one is. */
function isLeft(section: Section, inSequence: boolean, from: From): boolean {
  if (section.word === undefined || ownOf(section, inSequence, from).items.kind === 'left') return true;
  return section.children.some((child) => isLeft(child, section.word === 'sequence', from));
}

function addChunks(section: Section, inSequence: boolean, chunks: Chunk[], from: From): void {
  const { file } = from;
  const start = from.start + section.start;
  const own = ownOf(section, inSequence, from);
  const hasEmptyLine = section.word !== undefined && emptyLineBefore(section, file);
  if (own.items.kind === 'left') {
    const item = leftItem(section, file, own.items);
    if (own.left?.item.text !== item.text || own.left.item.word !== item.word)
      own.left = { item, run: [item, ...own.items.comments] };
    chunks.push({ start, runs: [own.left.run], hasEmptyLine });
    return;
  }
  for (const [i, run] of own.items.runs.entries()) {
    const child = i === 0 ? undefined : section.children[i - 1];
    if (child !== undefined) addChunks(child, section.word === 'sequence', chunks, from);
    if (i === 0) chunks.push({ start, runs: [run], hasEmptyLine });
    else if (run.length > 0) chunks[chunks.length - 1]?.runs.push(run);
  }
}

const isSame = (one: Between, other: Between): boolean =>
  one === other ||
  (one.depth === other.depth &&
    one.word === other.word &&
    one.inSum === other.inSum &&
    one.hasClauses === other.hasClauses &&
    one.before === other.before &&
    one.afterComment === other.afterComment &&
    one.follows === other.follows);

const first = ({ runs: [run], hasEmptyLine }: Chunk): Item | undefined =>
  run?.[0] === undefined ? undefined : withEmptyLine(run[0], hasEmptyLine);

function layOutChunk(chunk: Chunk, from: Between, after: Chunk | undefined, laidOut: LayoutCache['laidOut']): Laid {
  const { runs, hasEmptyLine } = chunk;
  const [head = []] = runs;
  const next = after?.runs[0]?.[0];
  const nextHasEmptyLine = after?.hasEmptyLine === true;
  const known = laidOut.get(head);
  if (
    known !== undefined &&
    known.hasEmptyLine === hasEmptyLine &&
    known.nextHasEmptyLine === nextHasEmptyLine &&
    (known.next === next || isEquivalent(known.next, next)) &&
    known.runs.length === runs.length &&
    known.runs.every((run, i) => run === runs[i]) &&
    isSame(known.from, from)
  )
    return known;
  const items = runs.flat();
  const own = first(chunk);
  if (own !== undefined) items[0] = own;
  const { text, to } = layOutFrom(from, items, after === undefined ? undefined : first(after));
  const laid: Laid = { runs, hasEmptyLine, from, next, nextHasEmptyLine, piece: { text, items }, to };
  laidOut.set(head, laid);
  return laid;
}

/** Whether two declarations are alike to what is laid out before them: they begin with the same word. */
function isEquivalent(one: Item | undefined, other: Item | undefined): boolean {
  if (one === undefined || other === undefined || one.kind === 'comment' || other.kind === 'comment') return false;
  return one.kind === other.kind && one.word === other.word && one.begins === other.begins;
}

/** A section before the first declaration, without the stretch at its start that is not looked at. */
function without(section: Section, length: number): Section {
  const moved = (offsets: readonly number[]): readonly number[] => offsets.map((offset) => offset - length);
  return {
    ...section,
    start: 0,
    text: section.text.slice(length),
    unclosedBraces: moved(section.unclosedBraces),
    unclosedTexts: moved(section.unclosedTexts),
  };
}

/** The canonical layout of a text from an offset on, before which there are comments alone. `sections` are those of the whole text. */
export function layoutPieces(
  text: string,
  sections: readonly Section[],
  from: number,
  cache: LayoutCache = shared,
): readonly LayoutPiece[] {
  return layOutText({ text, sections }, from, cache).pieces;
}

/** The same, and where it comes from. */
export function layOutText(known: ReadText, from = 0, cache: LayoutCache = shared): Layout {
  const { text, sections, treeOf = () => undefined } = known;
  const chunks: Chunk[] = [];
  const [top] = sections;
  const before = text.slice(from, top === undefined ? text.length : top.word === undefined ? from : top.start);
  if (cache.heading?.text !== before) cache.heading = { text: before, run: commentsBefore(before, before.length) };
  if (cache.heading.run.length > 0) chunks.push({ start: from, runs: [cache.heading.run], hasEmptyLine: false });
  cache.own.resize(MOST_CACHED + text.length);
  const whole: From = { file: text, start: 0, cache: cache.own, treeOf };
  const doubts = sections.some((section) => isLeft(section, false, whole)) ? doubtsOf(text) : [];
  const left = leftTogether(sections, doubts);
  for (let i = 0; i < sections.length; i += 1) {
    const section = sections[i];
    const last = sections[left.get(i) ?? -1];
    if (section === undefined) continue;
    if (last !== undefined) {
      chunks.push(leftChunk(section, last, text, from));
      i = left.get(i) ?? i;
    } else if (section.word !== undefined) addChunks(section, false, chunks, whole);
    else addChunks(without(section, from), false, chunks, { ...whole, file: text.slice(from), start: from });
  }
  let stands = AT_START;
  const pieces = chunks.map((chunk, i) => {
    const { piece, to } = layOutChunk(chunk, stands, chunks[i + 1], cache.laidOut);
    stands = to;
    return piece;
  });
  return { pieces, starts: chunks.map(({ start }) => start), doubts };
}

/** Two places at which a line begins: in what was written, and in its layout. */
export type LineSeam = readonly [written: number, laidOut: number];

/** Where a declaration begins a line of a text as well as a line of its layout, in that order. */
export function lineSeams(text: string, { pieces, starts }: Layout): readonly LineSeam[] {
  const seams: LineSeam[] = [];
  let laidOut = 0;
  for (const [i, piece] of pieces.entries()) {
    const at = starts[i] ?? 0;
    // The empty line before a declaration is part of its piece.
    if (at > 0 && text[at - 1] === '\n') seams.push([at, laidOut + (piece.text.startsWith('\n') ? 1 : 0)]);
    laidOut += piece.text.length;
  }
  return seams;
}
