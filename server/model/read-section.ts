// Reads one section: places what it declares, and what the sections in it declare. Nothing is known here of the text round it.
import type { InPieces } from '../../grammar/give-way.ts';
import type { Parsed } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/section.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Placed, ReadSection } from './placed.ts';
import { usesOf } from './references.ts';
import type { Read } from './tree-cache.ts';

/** Moves a section and all in it where it stands. */
export function shift(section: Movable, by: number): void {
  section.start += by;
  section.end += by;
  for (const child of section.children) shift(child as Movable, by);
}

export type Movable = { -readonly [key in keyof Section]: Section[key] };

export interface Gathering {
  readonly file: string;
  readonly read: Read;
  readonly trees: Parsed[];
  readonly declarations: Placed[];
  readonly whens: Placed[];
  readonly loose: { readonly section: Section; readonly parsed: Parsed }[];
  readonly perhaps: string[];
  /** What stood in the stretch that is read again, by tree: what is as it was is taken over and moved. */
  readonly old: ReadonlyMap<Parsed, Placed>;
}

/** Nothing that stood there before. */
export const NOTHING: Gathering['old'] = new Map();

const NAME_AHEAD = /^[ \t]*([\p{L}][\p{L}\p{M}\p{N}_-]*)/u;

/** Declarations, each followed by its steps. */
export function withSteps(declarations: readonly Placed[]): readonly Placed[] {
  return declarations.every((placed) => placed.steps.length === 0)
    ? declarations
    : declarations.flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)]);
}

/** Names that stand straight behind what could not be read. */
export function namesBehindFaults({ faults }: Parsed, section: Section): readonly string[] {
  if (faults.length === 0) return [];
  return faults.flatMap((fault) => NAME_AHEAD.exec(section.text.slice(fault.end, fault.end + 100))?.[1] ?? []);
}

/**
 * What is read of a section, a tree a piece. `old` is what stood in the stretch that is read again: what is as it was is taken over and
 * moved.
 */
export function* readingSection(file: string, cut: Section, read: Read, old: Gathering['old']): InPieces<ReadSection> {
  const into: Gathering = { file, read, trees: [], declarations: [], whens: [], loose: [], perhaps: [], old };
  const section = yield* place(cut, [], false, into.declarations, into);
  // What each names is told by its tree alone, and kept with it: asked for here, a tree a piece.
  for (const placed of withSteps(into.declarations)) {
    usesOf(placed);
    yield;
  }
  return sectionOf(section, into);
}

type Found = Omit<ReadSection, 'section' | 'every' | 'hasFaults' | 'hasAllows'>;

/** A section with what was found in it. */
export function sectionOf(section: Section, { trees, declarations, whens, loose, perhaps }: Found): ReadSection {
  const every = withSteps(declarations);
  return {
    section,
    trees,
    declarations,
    every,
    whens,
    loose,
    perhaps,
    hasFaults: trees.some((tree) => tree.faults.length > 0),
    hasAllows:
      trees.some((tree) => tree.outside.some((each) => each.kind === 'allow')) ||
      [...every, ...whens].some((placed) => usesOf(placed).allows.length > 0),
  };
}

/** A declaration that is read again and is as it was, at its new place; undefined for one that holds others. */
function takenOver(section: Section, parsed: Parsed, when: Placed['when'], old: Gathering['old']): Placed | undefined {
  const known = old.get(parsed);
  if (known === undefined || section.children.length > 0 || known.section.children.length > 0) return undefined;
  if (known.when.map(String).join(';') !== when.map(String).join(';')) return undefined;
  shift(known.section as Movable, section.start - known.section.start);
  return known;
}

/** Places what a section declares; gives the section that stands for it now. */
function* place(
  section: Section,
  when: readonly (readonly string[])[],
  inSequence: boolean,
  out: Placed[],
  into: Gathering,
): InPieces<Section> {
  const { file } = into;
  const parsed = into.read(section, inSequence);
  yield;
  into.trees.push(parsed);
  into.perhaps.push(...namesBehindFaults(parsed, section));
  const declaration = parsed.declaration;
  if (declaration === undefined) {
    into.loose.push({ section, parsed });
    yield* placeChildren(section, (child) => place(child, when, inSequence, out, into));
    return section;
  }
  if (declaration.word === 'when') {
    into.whens.push({ file, section, parsed, declaration, when, steps: [] });
    const inside = [...when, (declaration.variants ?? []).map((name) => name.text)];
    yield* placeChildren(section, (child) => place(child, inside, inSequence, out, into));
    return section;
  }
  const known = takenOver(section, parsed, when, into.old);
  if (known !== undefined) {
    out.push(known);
    return known.section;
  }
  const steps: Placed[] = [];
  const inner =
    section.children.length === 0
      ? new Map<number, readonly (readonly string[])[]>()
      : holesInWhen(declaration.body?.statements ?? []);
  yield* placeChildren(section, function* (child, hole) {
    const own: Placed[] = [];
    const stands = yield* place(
      child,
      [...when, ...(inner.get(hole) ?? [])],
      declaration.word === 'sequence',
      own,
      into,
    );
    const step = own[0];
    if (step !== undefined) steps[hole] = step;
    return stands;
  });
  out.push({ file, section, parsed, declaration, when, steps });
  return section;
}

function* placeChildren(section: Section, put: (child: Section, hole: number) => InPieces<Section>): InPieces<void> {
  const children = section.children as Section[];
  for (const [hole, child] of children.entries()) {
    const stands = yield* put(child, hole);
    if (stands !== child) children[hole] = stands;
  }
}

/** The `when` round each step of a sequence, by the number of its hole. */
function holesInWhen(
  statements: readonly Statement[],
  round: readonly (readonly string[])[] = [],
  into = new Map<number, readonly (readonly string[])[]>(),
): ReadonlyMap<number, readonly (readonly string[])[]> {
  for (const each of statements) {
    if (each.kind === 'hole') into.set(each.hole, round);
    if (each.kind === 'when')
      holesInWhen(each.body.statements, [...round, each.variants.map((name) => name.text)], into);
  }
  return into;
}
