// Reads a text again after an edit: what the edit left alone is moved, one step of a sequence is read alone where that will do, else
// the sections round the edit are cut and read anew.
import type { InPieces } from '../../grammar/give-way.ts';
import type { Parsed } from '../../grammar/parse.ts';
import { type CutText, cuttingAgain, moved, sectionAt } from '../../grammar/recut.ts';
import { cutStepAgain } from '../../grammar/recut-step.ts';
import type { Section } from '../../grammar/section.ts';
import type { Changed, Written } from '../../grammar/written.ts';
import type { Placed, ReadSection } from './placed.ts';
import {
  type Gathering,
  type Movable,
  namesBehindFaults,
  readingSection,
  sectionOf,
  shift,
  withSteps,
} from './read-section.ts';
import { usesOf } from './references.ts';
import { type Read, reader } from './tree-cache.ts';

/** An edit of a file: its earlier reading, its text now, and what of the earlier text gave way. */
export interface Edit {
  readonly old: readonly ReadSection[];
  readonly cut: CutText;
  readonly now: Written;
  readonly changed: Changed;
}

function isAllowing(placed: Placed): boolean {
  return placed.parsed.outside.some((each) => each.kind === 'allow') || usesOf(placed).allows.length > 0;
}

/** A sequence read anew with one step in the place of another. Where it has no faults and no `allow`, no other step is looked at. */
function withStep(
  sequence: ReadSection,
  around: Section,
  child: number,
  was: Placed,
  step: Placed,
): ReadSection | undefined {
  const placed = sequence.declarations[0];
  if (placed === undefined) return undefined;
  const { file, parsed, declaration, when } = placed;
  const steps = placed.steps.slice();
  steps[child] = step;
  const now: Placed = { file, section: around, parsed, declaration, when, steps };
  const trees = sequence.trees.slice() as Parsed[];
  trees[1 + child] = step.parsed;
  const isFaultless = !sequence.hasFaults && step.parsed.faults.length === 0;
  const perhaps = isFaultless
    ? sequence.perhaps
    : trees.flatMap((tree, i) => namesBehindFaults(tree, i === 0 ? around : (around.children[i - 1] ?? around)));
  const declarations = [now];
  if (!isFaultless || sequence.hasAllows || sequence.every[1 + child] !== was)
    return sectionOf(around, { trees, declarations, whens: [], loose: [], perhaps });
  const every = sequence.every.slice();
  every[0] = now;
  every[1 + child] = step;
  return {
    section: around,
    trees,
    declarations,
    every,
    whens: sequence.whens,
    loose: sequence.loose,
    perhaps,
    hasFaults: false,
    hasAllows: isAllowing(step),
  };
}

/**
 * The sections of a text of which one step is another than before; the sequence round it is moved where it stands. Undefined for any
 * other edit.
 */
function readStepAgain(edit: Edit, taken: Set<Parsed>, read: Read): readonly ReadSection[] | undefined {
  const { old } = edit;
  const cut = cutStepAgain(edit.cut, edit.now, edit.changed);
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
  const { declaration } = parsed;
  if (declaration === undefined) {
    taken.delete(parsed);
    taken.add(was.parsed);
    return undefined;
  }
  const children = section.children.slice();
  children[cut.child] = cut.step;
  if (cut.by !== 0) {
    for (let i = cut.child + 1; i < children.length; i += 1) shift(children[i] as Movable, cut.by);
    shiftFrom(old, cut.section + 1, cut.by);
  }
  const around = sectionAt(section, section.start, section.end + cut.by, children);
  const step: Placed = { file: was.file, section: cut.step, parsed, declaration, when: was.when, steps: was.steps };
  const now = withStep(sequence, around, cut.child, was, step);
  if (now === undefined) return undefined;
  const sections = old.slice();
  sections[cut.section] = now;
  return sections;
}

function shiftFrom(sections: readonly ReadSection[], from: number, by: number): void {
  for (let i = from; i < sections.length; i += 1) {
    const each = sections[i];
    if (each !== undefined) shift(each.section as Movable, by);
  }
}

/** The sections of a text, read; those that an edit left alone are the ones of before. */
function* readingSections(
  { old, cut, now, changed }: Edit,
  inPlace: boolean,
  read: (section: Section, there: Gathering['old']) => InPieces<ReadSection>,
  gone: (section: ReadSection) => void,
): InPieces<readonly ReadSection[]> {
  const { middle, front, back, by } = yield* cuttingAgain(cut, now, changed);
  const stood = new Map<Parsed, Placed>();
  for (const section of old.slice(front, old.length - back)) {
    gone(section);
    if (inPlace) for (const placed of section.every) stood.set(placed.parsed, placed);
  }
  if (inPlace && by !== 0) shiftFrom(old, old.length - back, by);
  const made: ReadSection[] = [];
  for (const section of middle) made.push(yield* read(section, stood));
  if (inPlace && made.length === old.length - back - front) {
    const sections = old.slice();
    for (const [i, section] of made.entries()) sections[front + i] = section;
    return sections;
  }
  const kept = old.slice(old.length - back);
  const there = inPlace ? kept : kept.map((each) => moveTo(moved(each.section, by), each));
  return old.slice(0, front).concat(made, there);
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

/**
 * The sections of a text after an edit, in pieces. `taken` are the trees that stand in the file, and is brought up to date. With `inPlace` it
 * has to be gone on with to its end before anybody else reads the file: what was read before is good no more from the first piece on.
 */
export function* readingAgain(
  file: string,
  edit: Edit,
  taken: Set<Parsed>,
  inPlace: boolean,
): InPieces<readonly ReadSection[]> {
  const reading = reader(file, taken);
  const inStep = inPlace ? readStepAgain(edit, taken, reading) : undefined;
  if (inStep !== undefined) return inStep;
  const read = (section: Section, there: Gathering['old']): InPieces<ReadSection> =>
    readingSection(file, section, reading, there);
  return yield* readingSections(edit, inPlace, read, (gone) => {
    for (const tree of gone.trees) taken.delete(tree);
  });
}
