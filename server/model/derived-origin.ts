// Where a value of a spec that is built on another comes from, in words: the base's file and line, or a change and what the base says.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import type { Analysis } from './analysis.ts';
import type { FilePlace } from './finding.ts';
import { type Piece, type Placed, pieceAt, placeOf } from './placed.ts';

export interface Whence {
  readonly kind: 'base' | 'changed' | 'added';
  readonly place: FilePlace;
  /** What the base says in its place. */
  readonly was: NonNullable<Piece['was']>;
}

/** Where a stretch of a declaration comes from; undefined for one that is its file's own. */
function whence(placed: Placed, span: Span): Whence | undefined {
  const { origin } = placed;
  if (origin === undefined) return undefined;
  const piece = pieceAt(origin, span.start, false);
  if (piece === undefined) return undefined;
  const was = piece.was ?? [];
  if (origin.changes.includes(piece.placed))
    return { kind: was.length > 0 ? 'changed' : 'added', place: placeOf(placed, span), was };
  const there = { start: span.start - piece.start + piece.at, end: span.end - piece.start + piece.at };
  return whence(piece.placed, there) ?? { kind: 'base', place: placeOf(piece.placed, there), was: [] };
}

/** Tells where a stretch comes from; undefined for what is this file's own. */
export type Tell = (placed: Placed, span: Span) => { readonly kind: Whence['kind']; readonly told: Told } | undefined;

/** The line of an offset, counted from 1. */
function lineOf(text: string, offset: number): number {
  let line = 1;
  for (let at = text.indexOf('\n'); at >= 0 && at < offset; at = text.indexOf('\n', at + 1)) line += 1;
  return line;
}

/** How the values of a file are told where they come from. */
export function tellingOf({ file, used }: Analysis): Tell {
  const files = new Map([file, ...used].map((each) => [each.file, each]));
  /** `brindle-four, line 212`. */
  const called = (place: FilePlace): Argument => {
    const there = files.get(place.file);
    const spec = there?.sections.find(({ section }) => section.word === 'spec')?.declarations[0];
    const name = spec?.declaration.name?.text ?? place.file.split('/').pop() ?? place.file;
    return there === undefined ? name : told`${name}, line ${lineOf(there.text, place.start)}`;
  };
  return (placed, span) => {
    const found = whence(placed, span);
    if (found === undefined) return undefined;
    const { kind, place, was } = found;
    if (kind === 'base') return { kind, told: told`from ${called(place)}` };
    const isHere = place.file === file.file;
    if (kind === 'added') return { kind, told: isHere ? told`added here` : told`added in ${called(place)}` };
    const changed = isHere ? told`changed here` : told`changed in ${called(place)}`;
    const said = was
      .map((each) => each.placed.section.text.slice(each.span.start, each.span.end).replace(/\s+/g, ' ').trim())
      .join(', ');
    const [first] = was;
    const of: Argument = first === undefined ? '' : called(placeOf(first.placed, first.span));
    // Of a step it is the whole that differs.
    if (said.startsWith('{')) return { kind, told: told`${changed}; ${of}, has it otherwise` };
    return { kind, told: told`${changed}; ${of}, says ${said.length > 120 ? `${said.slice(0, 119)}…` : said}` };
  };
}
