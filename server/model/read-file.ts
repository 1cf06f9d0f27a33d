// Reads a whole text into placed declarations. What was read is kept, so that an edit reads one declaration again: the last reading
// of each file whole, and trees by the text of their section, so that an undo reads nothing.
import { type Parsed, parseSection } from '../../grammar/parse.ts';
import { cutAgain, moved } from '../../grammar/recut.ts';
import { cutStepAgain } from '../../grammar/recut-step.ts';
import { cutSections, type Section } from '../../grammar/sections.ts';
import type { Statement } from '../../grammar/tree.ts';
import { keptByFile } from './kept-by-file.ts';
import type { Placed, ReadFile, ReadSection } from './placed.ts';
import { usesOf } from './references.ts';

/** Characters of text whose trees are kept for when they stand there again. A spec of 10,000 lines has about 250,000. */
const MOST_KEPT = 300_000;
/** Trees by text: the newer half, and the older one, which goes as a whole when the newer is full. */
let keptTrees = new Map<string, Parsed>();
let olderTrees = new Map<string, Parsed>();
let keptLength = 0;

function keptTree(key: string): Parsed | undefined {
  const known = keptTrees.get(key);
  if (known !== undefined) return known;
  const older = olderTrees.get(key);
  if (older !== undefined) keepTree(key, older);
  return older;
}

function keepTree(key: string, tree: Parsed): void {
  keptLength += key.length;
  if (keptLength > MOST_KEPT) {
    olderTrees = keptTrees;
    keptTrees = new Map();
    keptLength = key.length;
  }
  keptTrees.set(key, tree);
}

/** The last reading of a file, and the trees that stand in it. */
interface Kept {
  readonly read: ReadFile;
  readonly taken: Set<Parsed>;
}
const keptFiles = keptByFile<Kept>();

/** Gives the tree of a section, read now or before. Two sections of one file never share a tree, so that each tree has one place. */
type Read = (section: Section, inSequence: boolean) => Parsed;

function reader(file: string, taken: Set<Parsed>): Read {
  return (section, inSequence) => {
    const written = `${section.word ?? ''}${inSequence ? '+' : ''}${section.unclosedBraces.join()}|${section.unclosedTexts.join()}|${section.text}`;
    for (let times = 0; ; times += 1) {
      const key = `${file}|${times}|${written}`;
      const known = keptTree(key);
      if (known !== undefined && taken.has(known)) continue;
      const tree = known ?? readNow(section, inSequence);
      if (known === undefined) keepTree(key, tree);
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
  /** What stood in the stretch that is read again, by tree: what is as it was is taken over and moved. */
  readonly old: ReadonlyMap<Parsed, Placed>;
}

const NOTHING: Gathering['old'] = new Map();

const NAME_AHEAD = /^[ \t]*([\p{L}][\p{L}\p{M}\p{N}_-]*)/u;

function withSteps(declarations: readonly Placed[]): readonly Placed[] {
  return declarations.every((placed) => placed.steps.length === 0)
    ? declarations
    : declarations.flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)]);
}

/** Names that stand straight behind what could not be read. */
function namesBehindFaults({ faults }: Parsed, section: Section): readonly string[] {
  if (faults.length === 0) return [];
  return faults.flatMap((fault) => NAME_AHEAD.exec(section.text.slice(fault.end, fault.end + 100))?.[1] ?? []);
}

function readSection(file: string, cut: Section, read: Read, old: Gathering['old']): ReadSection {
  const into: Gathering = { file, read, trees: [], declarations: [], whens: [], loose: [], perhaps: [], old };
  const section = place(cut, [], false, into.declarations, into);
  return sectionOf(section, into);
}

type Found = Omit<ReadSection, 'section' | 'every' | 'hasFaults' | 'hasAllows'>;

function sectionOf(section: Section, { trees, declarations, whens, loose, perhaps }: Found): ReadSection {
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
function place(
  section: Section,
  when: readonly (readonly string[])[],
  inSequence: boolean,
  out: Placed[],
  into: Gathering,
): Section {
  const { file } = into;
  const parsed = into.read(section, inSequence);
  into.trees.push(parsed);
  into.perhaps.push(...namesBehindFaults(parsed, section));
  const declaration = parsed.declaration;
  if (declaration === undefined) {
    into.loose.push({ section, parsed });
    placeChildren(section, (child) => place(child, when, inSequence, out, into));
    return section;
  }
  if (declaration.word === 'when') {
    into.whens.push({ file, section, parsed, declaration, when, steps: [] });
    const inside = [...when, (declaration.variants ?? []).map((name) => name.text)];
    placeChildren(section, (child) => place(child, inside, inSequence, out, into));
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
  placeChildren(section, (child, hole) => {
    const own: Placed[] = [];
    const stands = place(child, [...when, ...(inner.get(hole) ?? [])], declaration.word === 'sequence', own, into);
    const step = own[0];
    if (step !== undefined) steps[hole] = step;
    return stands;
  });
  out.push({ file, section, parsed, declaration, when, steps });
  return section;
}

function placeChildren(section: Section, put: (child: Section, hole: number) => Section): void {
  const children = section.children as Section[];
  for (const [hole, child] of children.entries()) {
    const stands = put(child, hole);
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

/** Moves a section and all in it where it stands. */
function shift(section: Movable, by: number): void {
  section.start += by;
  section.end += by;
  for (const child of section.children) shift(child as Movable, by);
}

type Movable = { -readonly [key in keyof Section]: Section[key] };

/**
 * The sections of a text of which one step is another than before; the sequence round it is moved where it stands. Undefined for any
 * other edit.
 */
function readStepAgain(
  text: string,
  before: ReadFile,
  taken: Set<Parsed>,
  read: Read,
): readonly ReadSection[] | undefined {
  const old = before.sections;
  const cut = cutStepAgain(
    old.map((each) => each.section),
    before.text,
    text,
  );
  const sequence = cut === undefined ? undefined : old[cut.section];
  const placed = sequence?.declarations[0];
  if (cut === undefined || sequence === undefined || placed === undefined) return undefined;
  const { section } = sequence;
  const was = placed.steps[cut.child];
  const isPlain =
    sequence.declarations.length === 1 &&
    placed.section === section &&
    sequence.trees.length === 1 + section.children.length &&
    was?.section === section.children[cut.child] &&
    was?.parsed === sequence.trees[1 + cut.child];
  if (!isPlain || was === undefined) return undefined;
  taken.delete(was.parsed);
  const parsed = read(cut.step, true);
  if (parsed.declaration === undefined) {
    taken.delete(parsed);
    taken.add(was.parsed);
    return undefined;
  }
  const children = [...section.children];
  children[cut.child] = cut.step;
  for (const child of children.slice(cut.child + 1)) shift(child as Movable, cut.by);
  for (const later of old.slice(cut.section + 1)) shift(later.section as Movable, cut.by);
  const around: Section = { ...section, children, end: section.end + cut.by };
  const steps = [...placed.steps];
  steps[cut.child] = { ...was, section: cut.step, parsed, declaration: parsed.declaration };
  const trees = [...sequence.trees];
  trees[1 + cut.child] = parsed;
  const perhaps = trees.flatMap((tree, i) => namesBehindFaults(tree, i === 0 ? around : (children[i - 1] ?? around)));
  const declarations = [{ ...placed, section: around, steps }];
  const now = sectionOf(around, { trees, declarations, whens: [], loose: [], perhaps });
  return old.map((each) => (each === sequence ? now : each));
}

/** The sections of a text, read; those that an edit left alone are the ones of before. */
function readSections(
  text: string,
  before: ReadFile,
  inPlace: boolean,
  read: (section: Section, there: Gathering['old']) => ReadSection,
  gone: (section: ReadSection) => void,
): ReadSection[] {
  const old = before.sections;
  const cut = { text: before.text, sections: old.map((each) => each.section) };
  const { middle, front, back, by } = cutAgain(cut, text);
  const stood = new Map<Parsed, Placed>();
  for (const section of old.slice(front, old.length - back)) {
    gone(section);
    if (inPlace) for (const placed of section.every) stood.set(placed.parsed, placed);
  }
  const kept = old.slice(old.length - back);
  if (inPlace && by !== 0) for (const { section } of kept) shift(section as Movable, by);
  const there = inPlace ? kept : kept.map((each) => moveTo(moved(each.section, by), each));
  return [...old.slice(0, front), ...middle.map((section) => read(section, stood)), ...there];
}

/** A file of these sections. What all of them declare is gathered when it is first asked for: after most edits nobody asks. */
function fileOf(file: string, text: string, sections: readonly ReadSection[]): ReadFile {
  const all = <item>(of: (section: ReadSection) => readonly item[]): (() => readonly item[]) => {
    let gathered: item[] | undefined;
    return () => {
      if (gathered !== undefined) return gathered;
      gathered = [];
      for (const section of sections) for (const each of of(section)) gathered.push(each);
      return gathered;
    };
  };
  const [declarations, whens, loose] = [
    all((section) => section.declarations),
    all((section) => section.whens),
    all((section) => section.loose),
  ];
  return {
    file,
    text,
    sections,
    get declarations() {
      return declarations();
    },
    get whens() {
      return whens();
    },
    get loose() {
      return loose();
    },
  };
}

/**
 * Cuts and reads a text. Never throws. With `inPlace` what was read of this file before is good no more: what an edit left alone is
 * moved where it stands, and is the same object in both readings.
 */
export function readFile(file: string, text: string, inPlace = false): ReadFile {
  const before = keptFiles.get(file);
  if (before?.read.text === text) return before.read;
  const taken = before?.taken ?? new Set();
  const reading = reader(file, taken);
  const read = (section: Section, there: Gathering['old']): ReadSection => readSection(file, section, reading, there);
  const sections =
    before === undefined
      ? cutSections(text).map((section) => read(section, NOTHING))
      : ((inPlace ? readStepAgain(text, before.read, taken, reading) : undefined) ??
        readSections(text, before.read, inPlace, read, (gone) => {
          for (const tree of gone.trees) taken.delete(tree);
        }));
  const result = fileOf(file, text, sections);
  keptFiles.set(file, { read: result, taken });
  return result;
}
