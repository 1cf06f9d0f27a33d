// A declaration where it stands: its tree, its file, the variants it holds for. Nothing is worked out here.
import type { Parsed } from '../../grammar/parse.ts';
import { type Section, toFile } from '../../grammar/section.ts';
import type { Declaration, Span, Statement } from '../../grammar/tree.ts';
import type { FilePlace } from './finding.ts';

/** What was read of one section at the top of a file, and the sections in it. */
export interface ReadSection {
  readonly section: Section;
  /** The same list as long as its text is the same, wherever it has moved. */
  readonly trees: readonly Parsed[];
  readonly declarations: readonly Placed[];
  /** The declarations, each followed by its steps. */
  readonly every: readonly Placed[];
  /** Whether something in it could not be read, or is silenced: else there is nothing to look for. */
  readonly hasFaults: boolean;
  readonly hasAllows: boolean;
  /** Names that stand straight behind what could not be read: `prat piston` may well mean a part called piston. */
  readonly perhaps: readonly string[];
  readonly whens: readonly Placed[];
  readonly loose: readonly { readonly section: Section; readonly parsed: Parsed }[];
}

const FAR_REACHING: ReadonlySet<string> = new Set(['spec', 'use', 'when']);

/** Whether more is asked of a section than what it declares: it reaches further, could not be read, or is silenced. */
export function isNotable({ hasFaults, hasAllows, section }: ReadSection): boolean {
  return hasFaults || hasAllows || FAR_REACHING.has(section.word ?? '');
}

/** One file cut and read. `file` is its address (a URI). */
export interface ReadFile {
  readonly file: string;
  readonly text: string;
  readonly sections: readonly ReadSection[];
  /** In the order of the file; steps stand in their sequence's `steps`, not here. */
  readonly declarations: readonly Placed[];
  /** The `when` round declarations. */
  readonly whens: readonly Placed[];
  /** Sections without a declaration (text outside), for their faults. */
  readonly loose: readonly { readonly section: Section; readonly parsed: Parsed }[];
  /** The sections with a `spec`, a `use` or a `when`, those with faults, and those with an `allow`. */
  readonly notable: readonly ReadSection[];
  /** It is built on another: what it takes from there stands behind its own, whatever its place there. */
  readonly putTogether?: boolean;
}

export interface Placed {
  readonly file: string;
  readonly section: Section;
  readonly parsed: Parsed;
  readonly declaration: Declaration;
  /** The `when` round it, outermost first: it holds for a variant that each of them names. */
  readonly when: readonly (readonly string[])[];
  /** The steps of a sequence by the number of their hole (one that can't be read at all is missing); empty for others. */
  readonly steps: readonly Placed[];
  /** Where its text comes from, where a spec takes it from the one that it is built on. */
  readonly origin?: Origin;
}

/** The pieces that the text of a declaration is put together of: those of the base, and those that a change puts in. */
export interface Origin {
  /** The name of the spec that it is taken from. */
  readonly spec: string;
  /** What changes it, of the file that it is taken into; none for what is as in the base. */
  readonly changes: readonly Placed[];
  /** By place; what is between them stands in no file. */
  readonly pieces: readonly Piece[];
}

/** A stretch of such a text, and where it was taken from: `at` is its offset there. */
export interface Piece extends Span {
  readonly placed: Placed;
  readonly at: number;
  /** What the base says in its place. */
  readonly was?: readonly { readonly placed: Placed; readonly span: Span }[];
}

/** The piece that an offset stands in or behind, or else the first. */
export function pieceAt({ pieces }: Origin, offset: number, isEnd: boolean): Piece | undefined {
  let [low, high] = [0, pieces.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    const start = pieces[middle]?.start ?? 0;
    if (isEnd ? start >= offset : start > offset) high = middle;
    else low = middle + 1;
  }
  return pieces[Math.max(0, low - 1)];
}

function placeOfPieces(placed: Standing, origin: Origin, span: Span): FilePlace {
  const isEmpty = span.end <= span.start;
  const first = pieceAt(origin, span.start, isEmpty);
  const last = isEmpty ? first : pieceAt(origin, span.end, true);
  if (first === undefined || last === undefined) return { file: placed.file, start: 0, end: 0 };
  const within = (piece: Piece, offset: number): number =>
    piece.at + Math.min(Math.max(offset, piece.start), piece.end) - piece.start;
  const start = within(first, span.start);
  if (first === last) return placeOf(first.placed, { start, end: within(first, span.end) });
  const there = placeOf(first.placed, { start, end: within(first, first.end) });
  const end = placeOf(last.placed, { start: last.at, end: within(last, span.end) });
  return end.file === there.file && end.end >= there.end && first.placed === last.placed
    ? { ...there, end: end.end }
    : there;
}

/** What tells where something stands. */
type Standing = Pick<Placed, 'file' | 'section' | 'origin'>;

/** Where a stretch of a declaration's own text stands in its file, or in that of the base that it was taken from. */
export function placeOf(placed: Standing, span: Span): FilePlace {
  if (placed.origin !== undefined) return placeOfPieces(placed, placed.origin, span);
  return { file: placed.file, start: toFile(placed.section, span.start), end: toFile(placed.section, span.end) };
}

/** Whether a declaration holds for a variant; `undefined` is a spec without variants, for which all hold. */
export function holdsFor(placed: Placed, variant: string | undefined): boolean {
  return variant === undefined || placed.when.every((names) => names.includes(variant));
}

/** Whether a declaration is looked at for a variant; a `when` is for each. */
export function isSeen(placed: Placed, variant: string | undefined): boolean {
  return placed.declaration.word === 'when' || holdsFor(placed, variant);
}

/** The statements of a body that hold for a variant, those inside `when` included. */
export function statementsFor(
  statements: readonly Statement[] | undefined,
  variant: string | undefined,
): readonly Statement[] {
  if (statements === undefined) return [];
  if (!statements.some((statement) => statement.kind === 'when')) return statements;
  return statements.flatMap((statement) => {
    if (statement.kind !== 'when') return [statement];
    const holds = variant === undefined || statement.variants.some((name) => name.text === variant);
    return holds ? statementsFor(statement.body.statements, variant) : [];
  });
}

/** The statements of a declaration that a view sees. One without a `when` is the same for every variant, which is then not asked for. */
export function statementsSeen(
  { declaration }: Pick<Placed, 'declaration'>,
  view: { readonly variant: string | undefined },
): readonly Statement[] {
  const statements = declaration.body?.statements ?? [];
  return statements.some(({ kind }) => kind === 'when') ? statementsFor(statements, view.variant) : statements;
}
