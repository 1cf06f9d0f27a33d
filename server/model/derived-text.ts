// Writes the text of a declaration that is put together out of a base's and its changes, and notes where each piece comes from. What
// is put together is decided elsewhere (derived-declaration.ts).

import { type Parsed, parseSection } from '../../grammar/parse.ts';
import { HOLE, type Section } from '../../grammar/section.ts';
import { textCache } from '../../grammar/text-cache.ts';
import type { Span } from '../../grammar/tree.ts';
import type { Origin, Piece, Placed } from './placed.ts';

export interface TextWriter {
  /** Text that stands in no file: keywords, braces, blanks. */
  glue(text: string): void;
  /** A stretch of a declaration, and what the base says in its place. */
  take(placed: Placed, span: Span, was?: Piece['was']): void;
  /** Where a step stands. */
  hole(): void;
  readonly text: () => string;
  readonly pieces: readonly Piece[];
  readonly holes: readonly number[];
}

export function textWriter(): TextWriter {
  let text = '';
  const pieces: Piece[] = [];
  const holes: number[] = [];
  return {
    glue(more) {
      text += more;
    },
    take(placed, span, was) {
      const taken = placed.section.text.slice(span.start, span.end);
      const piece = { start: text.length, end: text.length + taken.length, placed, at: span.start };
      pieces.push(was === undefined || was.length === 0 ? piece : { ...piece, was });
      text += taken;
    },
    hole() {
      holes.push(text.length);
      text += HOLE;
    },
    text: () => text,
    pieces,
    holes,
  };
}

/** Characters of text whose trees are kept. */
const MOST_CACHED = 100_000;
const trees = textCache<Parsed>(MOST_CACHED);

/** What such a text is read as; the same tree as long as it is the same text in the same place. `place` tells places apart. */
function treeOf(section: Section, inSequence: boolean, isBroken: boolean, place: string): Parsed {
  const key = `${place}|${inSequence}|${isBroken}|${section.text}`;
  const known = trees.get(key);
  if (known !== undefined) return known;
  const read = parseSection({ ...section, unclosedBraces: [] }, inSequence);
  const { declaration } = read;
  // What can't be read is said where it is written.
  const parsed: Parsed = {
    outside: [],
    faults: [],
    tokens: [],
    comments: [],
    statementStarts: [],
    clauseStarts: [],
    ...(declaration === undefined ? {} : { declaration: isBroken ? { ...declaration, broken: true } : declaration }),
  };
  trees.set(key, parsed);
  return parsed;
}

export interface Assembled {
  readonly file: string;
  readonly word: string;
  readonly written: TextWriter;
  readonly when: Placed['when'];
  readonly steps: readonly Placed[];
  readonly spec: string;
  readonly changes: readonly Placed[];
  /** Something in what it is put together of could not be read. */
  readonly isBroken: boolean;
  /** Tells it apart from others of the same text. */
  readonly key: string;
}

/** The declaration of such a text; undefined where it can't be read at all. */
export function assemble(of: Assembled): Placed | undefined {
  const text = of.written.text();
  const section: Section = {
    word: of.word,
    start: 0,
    end: text.length,
    text,
    children: [],
    holes: of.written.holes,
    unclosedBraces: of.isBroken ? [0] : [],
    unclosedTexts: [],
    runsOver: false,
  };
  const parsed = treeOf(section, of.word === 'step', of.isBroken, `${of.file}|${of.key}`);
  if (parsed.declaration === undefined) return undefined;
  const origin: Origin = { spec: of.spec, changes: of.changes, pieces: of.written.pieces };
  return { file: of.file, section, parsed, declaration: parsed.declaration, when: of.when, steps: of.steps, origin };
}

const cachedCopies = new WeakMap<Parsed, Map<string, Parsed>>();

/** The tree of a base's declaration as another file has it: another object, so that what is found there is kept apart. */
export function copyOf(parsed: Parsed, file: string): Parsed {
  let copies = cachedCopies.get(parsed);
  if (copies === undefined) {
    copies = new Map();
    cachedCopies.set(parsed, copies);
  }
  let copy = copies.get(file);
  if (copy === undefined) {
    copy = { ...parsed, faults: [], outside: [] };
    copies.set(file, copy);
  }
  return copy;
}
