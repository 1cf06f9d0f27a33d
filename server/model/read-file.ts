// Reads a whole text into placed declarations. What was read is kept, so that an edit reads one declaration again: the last reading
// of each file whole, and trees by the text of their section, so that an undo reads nothing.
import { type Parsed, parseSection } from '../../grammar/parse.ts';
import { recut } from '../../grammar/recut.ts';
import { cutSections, type Section } from '../../grammar/sections.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Placed, ReadFile, ReadSection } from './placed.ts';
import { usesOf } from './references.ts';

/** How many trees are kept. A spec of 10,000 lines has about 1,500 declarations. */
const MOST_KEPT = 40_000;
const MOST_FILES = 500;
const keptTrees = new Map<string, Parsed>();

/** The last reading of a file, and the trees that stand in it. */
interface Kept {
  readonly read: ReadFile;
  readonly taken: Set<Parsed>;
}
const keptFiles = new Map<string, Kept>();

/** Gives the tree of a section, read now or before. Two sections of one file never share a tree, so that each tree has one place. */
type Read = (section: Section, inSequence: boolean) => Parsed;

function reader(file: string, taken: Set<Parsed>): Read {
  return (section, inSequence) => {
    const written = `${section.word ?? ''}${inSequence ? '+' : ''}${section.unclosedBraces.join()}|${section.unclosedTexts.join()}|${section.text}`;
    for (let times = 0; ; times += 1) {
      const key = `${file}|${times}|${written}`;
      const known = keptTrees.get(key);
      if (known !== undefined && taken.has(known)) continue;
      const tree = known ?? readNow(section, inSequence);
      if (known === undefined) {
        if (keptTrees.size >= MOST_KEPT) keptTrees.clear();
        keptTrees.set(key, tree);
      }
      taken.add(tree);
      return tree;
    }
  };
}

/** Tokens and comments are needed for printing alone, which reads for itself. */
function readNow(section: Section, inSequence: boolean): Parsed {
  return { ...parseSection(section, inSequence), tokens: [], comments: [], statementStarts: [], clauseStarts: [] };
}

interface Gathering {
  readonly file: string;
  readonly read: Read;
  readonly trees: Parsed[];
  readonly declarations: Placed[];
  readonly whens: Placed[];
  readonly loose: { readonly section: Section; readonly parsed: Parsed }[];
  readonly perhaps: string[];
}

const NAME_AHEAD = /^[ \t]*([\p{L}][\p{L}\p{M}\p{N}_-]*)/u;

function withSteps(declarations: readonly Placed[]): readonly Placed[] {
  return declarations.every((placed) => placed.steps.length === 0)
    ? declarations
    : declarations.flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)]);
}

function readSection(file: string, section: Section, read: Read): ReadSection {
  const into: Gathering = { file, read, trees: [], declarations: [], whens: [], loose: [], perhaps: [] };
  place(section, [], false, into.declarations, into);
  const { trees, declarations, whens, loose, perhaps } = into;
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
      every.some((placed) => usesOf(placed).allows.length > 0),
  };
}

function place(
  section: Section,
  when: readonly (readonly string[])[],
  inSequence: boolean,
  out: Placed[],
  into: Gathering,
): void {
  const { file } = into;
  const parsed = into.read(section, inSequence);
  into.trees.push(parsed);
  for (const fault of parsed.faults) {
    const name = NAME_AHEAD.exec(section.text.slice(fault.end, fault.end + 100))?.[1];
    if (name !== undefined) into.perhaps.push(name);
  }
  const declaration = parsed.declaration;
  if (declaration === undefined) {
    into.loose.push({ section, parsed });
    for (const child of section.children) place(child, when, inSequence, out, into);
    return;
  }
  if (declaration.word === 'when') {
    into.whens.push({ file, section, parsed, declaration, when, steps: [] });
    const inside = [...when, (declaration.variants ?? []).map((name) => name.text)];
    for (const child of section.children) place(child, inside, inSequence, out, into);
    return;
  }
  const steps: Placed[] = [];
  const inner =
    section.children.length === 0
      ? new Map<number, readonly (readonly string[])[]>()
      : holesInWhen(declaration.body?.statements ?? []);
  section.children.forEach((child, hole) => {
    const own: Placed[] = [];
    place(child, [...when, ...(inner.get(hole) ?? [])], declaration.word === 'sequence', own, into);
    const step = own[0];
    if (step !== undefined) steps[hole] = step;
  });
  out.push({ file, section, parsed, declaration, when, steps });
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

/** What was read of a section, where the section has moved as a whole. */
function moveTo(section: Section, read: ReadSection): ReadSection {
  if (read.section === section) return read;
  const moved = new Map<Section, Section>();
  const pair = (old: Section, now: Section): void => {
    moved.set(old, now);
    old.children.forEach((child, i) => {
      const there = now.children[i];
      if (there !== undefined) pair(child, there);
    });
  };
  if (section.children.length > 0) pair(read.section, section);
  const there = (old: Section): Section => moved.get(old) ?? section;
  const move = (placed: Placed): Placed => ({
    file: placed.file,
    section: there(placed.section),
    parsed: placed.parsed,
    declaration: placed.declaration,
    when: placed.when,
    steps: placed.steps.length === 0 ? placed.steps : placed.steps.map(move),
  });
  const declarations = read.declarations.map(move);
  return {
    section,
    trees: read.trees,
    declarations,
    every: withSteps(declarations),
    hasFaults: read.hasFaults,
    hasAllows: read.hasAllows,
    perhaps: read.perhaps,
    whens: read.whens.map(move),
    loose: read.loose.map((each) => ({ section: there(each.section), parsed: each.parsed })),
  };
}

/** Cuts and reads a text. Never throws. */
export function readFile(file: string, text: string): ReadFile {
  const before = keptFiles.get(file);
  if (before?.read.text === text) return before.read;
  const old = before?.read.sections ?? [];
  const taken = before?.taken ?? new Set();
  const { sections, front, back } =
    before === undefined
      ? { sections: cutSections(text), front: 0, back: 0 }
      : recut({ text: before.read.text, sections: old.map((each) => each.section) }, text);
  for (const gone of old.slice(front, old.length - back)) for (const tree of gone.trees) taken.delete(tree);
  const read = reader(file, taken);
  const result = {
    file,
    text,
    sections: [] as ReadSection[],
    declarations: [] as Placed[],
    whens: [] as Placed[],
    loose: [] as ReadFile['loose'][number][],
  };
  for (const [i, section] of sections.entries()) {
    const known = i < front ? old[i] : i >= sections.length - back ? old[i - sections.length + old.length] : undefined;
    const now = known === undefined ? readSection(file, section, read) : moveTo(section, known);
    result.sections.push(now);
    for (const placed of now.declarations) result.declarations.push(placed);
    for (const placed of now.whens) result.whens.push(placed);
    for (const loose of now.loose) result.loose.push(loose);
  }
  if (keptFiles.size >= MOST_FILES) keptFiles.clear();
  keptFiles.set(file, { read: result, taken });
  return result;
}
