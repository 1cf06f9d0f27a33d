// Specs that are built on others: the files of an analysis as a spec with `extends` has them, where what its base declares is its own,
// with its changes made. Files without `extends` are left as they are. What the changes come to is in derived-changes.ts;
// what can't be changed as written is said in derived-faults.ts.
import type { Drop, NamesStatement } from '../../grammar/tree.ts';
import { changedSection, changesOf, type Deriving, KEPT_BACK, sectionWith, takenSection } from './derived-changes.ts';
import { type Into, specOf } from './derived-declaration.ts';
import { type DerivedFault, extendsItself, faultsOfChanges, overlap, tooDeep } from './derived-faults.ts';
import { changesByName, touched } from './derived-names.ts';
import { MOST_LEVELS } from './most.ts';
import { isNotable, type Placed, type ReadFile, type ReadSection } from './placed.ts';

export interface Derivation {
  /** The files as the views see them: the first is still that of the analysis. */
  readonly files: readonly ReadFile[];
  /** What is wrong with the changes of each file. */
  readonly faults: ReadonlyMap<string, readonly DerivedFault[]>;
  /** The file of the base of each derived file. */
  readonly bases: ReadonlyMap<string, ReadFile>;
  /** A spec is built on more others than are followed: what it takes over is not there. */
  readonly isCut: boolean;
}

/** The spec of a file that extends another, where it does. */
export function derivedSpec(file: ReadFile): Placed | undefined {
  const spec = specOfFile(file);
  return spec?.declaration.extends === undefined ? undefined : spec;
}

function specOfFile(file: ReadFile): Placed | undefined {
  return file.sections.find(({ section }) => section.word === 'spec')?.declarations[0];
}

const cachedPruned = new WeakMap<ReadFile, ReadFile>();

/** What its sections hold is gathered when it is first asked for: after most edits nobody asks. */
function fileOf(file: ReadFile, sections: readonly ReadSection[], putTogether = file.putTogether === true): ReadFile {
  let declarations: readonly Placed[] | undefined;
  let whens: readonly Placed[] | undefined;
  let loose: ReadFile['loose'] | undefined;
  let notable: ReadFile['notable'] | undefined;
  return {
    file: file.file,
    get text() {
      return file.text;
    },
    sections,
    putTogether,
    get declarations() {
      declarations ??= sections.flatMap((section) => section.declarations);
      return declarations;
    },
    get whens() {
      whens ??= sections.flatMap((section) => section.whens);
      return whens;
    },
    get loose() {
      loose ??= sections.flatMap((section) => section.loose);
      return loose;
    },
    get notable() {
      notable ??= sections.filter(isNotable);
      return notable;
    },
  };
}

/** A file of which everything is taken over: its spec is left, so that it can be named. */
function pruned(file: ReadFile): ReadFile {
  let left = cachedPruned.get(file);
  if (left === undefined) {
    left = fileOf(
      file,
      file.sections.filter(({ section }) => KEPT_BACK.has(section.word ?? '')),
    );
    cachedPruned.set(file, left);
  }
  return left;
}

function variantsOfSpec(spec: Placed | undefined): readonly string[] {
  const line = spec?.declaration.body?.statements.find(
    (each): each is NamesStatement => each.kind === 'names' && each.word === 'variants',
  );
  return line === undefined ? [] : [...new Set(line.names.map((name) => name.text))];
}

/** Something that both a spec and its base declare: the spec's own holds, and that is said. */
function ownNames(file: ReadFile): ReadonlyMap<string, Placed> {
  const names = new Map<string, Placed>();
  for (const placed of file.declarations) {
    const { word, name } = placed.declaration;
    if (word === 'engine') names.set('engine', placed);
    if (word === 'spec' || word === 'record' || word === 'use' || name === undefined) continue;
    for (const each of [placed, ...placed.steps.filter((step) => step !== undefined)])
      if (each.declaration.name !== undefined) names.set(each.declaration.name.text.toLowerCase(), each);
  }
  return names;
}

interface Derived {
  readonly file: ReadFile;
  readonly faults: readonly DerivedFault[];
  readonly base: ReadFile;
  /** The files whose declarations it has taken, and which of each: all of them, or those that it changes. */
  readonly from: ReadonlyMap<string, ReadonlySet<Placed> | 'all'>;
}

interface CachedSpec {
  readonly own: Placed;
  readonly of: Placed | undefined;
  readonly merged: Placed;
  readonly section: ReadSection;
}

const cachedSpecs = new WeakMap<ReadSection, CachedSpec>();

/** The section of the spec that extends another, with what it takes over; the same as long as both specs are. */
function specSection(section: ReadSection, own: Placed, of: Placed | undefined, into: Into): CachedSpec {
  const known = cachedSpecs.get(section);
  if (known !== undefined && known.own === own && known.of === of) return known;
  const merged = of === undefined ? own : specOf(own, of, into);
  const cached = { own, of, merged, section: { ...sectionWith(section, [merged]), whens: section.whens } };
  cachedSpecs.set(section, cached);
  return cached;
}

interface TakenSections {
  readonly spec: string;
  /** The sections of the base as they are taken, at their number there; nothing where it is kept back. */
  readonly all: readonly (ReadSection | undefined)[];
  /** Those that are not as they are written. */
  readonly differing: ReadonlySet<number>;
}

const cachedTaken = new WeakMap<ReadFile, Map<string, TakenSections>>();

/** The sections of a base as a spec takes them over. Of one base only those are looked at that differ now, or did before. */
function takenSections(
  base: ReadFile,
  into: Into,
  differing: ReadonlySet<number>,
  changedAt: (section: ReadSection) => ReadSection,
): readonly ReadSection[] {
  const isLeft = ({ section }: ReadSection): boolean => KEPT_BACK.has(section.word ?? '');
  let cached = cachedTaken.get(base);
  if (cached === undefined) {
    cached = new Map();
    cachedTaken.set(base, cached);
  }
  const before = cached.get(into.file);
  const known = before?.spec === into.spec ? before : undefined;
  const all = known?.all.slice() ?? base.sections.map((each) => (isLeft(each) ? undefined : takenSection(each, into)));
  for (const i of known?.differing ?? []) {
    const section = base.sections[i];
    if (section !== undefined && !isLeft(section) && !differing.has(i)) all[i] = takenSection(section, into);
  }
  for (const i of differing) {
    const section = base.sections[i];
    if (section !== undefined && !isLeft(section)) all[i] = changedAt(section);
  }
  cached.set(into.file, { spec: into.spec, all, differing });
  return all.filter((section) => section !== undefined);
}

interface CachedDerived {
  readonly base: ReadFile;
  readonly others: readonly ReadFile[];
  readonly derived: Derived;
}

const cachedDerived = new WeakMap<ReadFile, CachedDerived>();

/** A file that is built on another; the same as long as both, and all that may be changed in it, are. */
function derivedOnce(file: ReadFile, own: Placed, base: ReadFile, others: readonly ReadFile[]): Derived {
  const known = cachedDerived.get(file);
  const isSame =
    known?.base === base &&
    known.others.length === others.length &&
    known.others.every((other, i) => other === others[i]);
  if (known !== undefined && isSame) return known.derived;
  const derived = derivedFile(file, own, base, others);
  cachedDerived.set(file, { base, others, derived });
  return derived;
}

function derivedFile(file: ReadFile, own: Placed, base: ReadFile, others: readonly ReadFile[]): Derived {
  const spec = specOfFile(base);
  const into = { file: file.file, spec: spec?.declaration.name?.text ?? '' };
  const sectionOfSpec = file.sections.find((section) => section.declarations[0] === own);
  const merged = sectionOfSpec === undefined ? undefined : specSection(sectionOfSpec, own, spec, into);
  const changes = own.steps.filter((change) => change?.declaration.changed !== undefined);
  const byName = changesByName(changes);
  const idle = new Map<Placed, readonly Drop[]>();
  const names = ownNames(file);
  const deriving: Deriving = {
    into,
    variants: variantsOfSpec(merged?.merged ?? own),
    changes: byName,
    idle: (change, drops) => {
      // What is not there for one variant may be there for another.
      const before = idle.get(change);
      const both = new Set(before);
      idle.set(change, before === undefined ? drops : drops.filter((drop) => both.has(drop)));
    },
  };
  const twice: { readonly own: Placed; readonly base: Placed }[] = [];
  const isOwn = (placed: Placed): boolean => {
    const { word, name } = placed.declaration;
    const there = names.get(word === 'engine' ? 'engine' : (name?.text.toLowerCase() ?? ''));
    if (there === undefined || !overlap(there, placed)) return false;
    twice.push({ own: there, base: placed });
    return true;
  };
  const sections: ReadSection[] = file.sections.map((section) =>
    merged !== undefined && section === sectionOfSpec ? merged.section : section,
  );
  const differing = touched(base, changes, names);
  sections.push(...takenSections(base, into, differing, (section) => changedSection(section, deriving, isOwn)));
  const from = new Map<string, ReadonlySet<Placed> | 'all'>([[base.file, 'all']]);
  // What the base itself uses from elsewhere is taken over where it is changed.
  for (const other of others) {
    const near = [...touched(other, changes, names)].flatMap((i) => other.sections[i] ?? []);
    const hit = new Set(
      near.flatMap((section) => section.declarations.filter((placed) => changesOf(placed, byName).length > 0)),
    );
    if (hit.size === 0) continue;
    from.set(other.file, hit);
    for (const section of near)
      if (section.declarations.some((placed) => hit.has(placed)))
        sections.push(changedSection(section, deriving, (placed) => !hit.has(placed) || isOwn(placed)));
  }
  const faults = faultsOfChanges({
    spec: into.spec,
    changes,
    bases: [base, ...others],
    own: file.declarations.filter((placed) => placed !== own),
    twice,
    idle,
  });
  return { file: fileOf(file, sections, true), faults, base, from };
}

/** Finds the file of the spec that the spec of a file is built on. */
function findingBases(files: readonly ReadFile[]): (file: ReadFile) => ReadFile | undefined {
  const bySpec = new Map<string, ReadFile[]>();
  for (const file of files) {
    const name = specOfFile(file)?.declaration.name?.text;
    if (name === undefined) continue;
    const there = bySpec.get(name);
    if (there === undefined) bySpec.set(name, [file]);
    else if (there.length < 2) there.push(file);
  }
  return (file) => {
    const name = derivedSpec(file)?.declaration.extends?.text;
    return name === undefined ? undefined : bySpec.get(name)?.find((each) => each !== file);
  };
}

/** Counts the specs that the spec of a file is built on, each on the next; of those in a circle none counts. */
function countingLevels(baseOf: (file: ReadFile) => ReadFile | undefined): (file: ReadFile) => number {
  const counted = new Map<ReadFile, number>();
  return (file) => {
    const row: ReadFile[] = [];
    const met = new Set<ReadFile>();
    let at: ReadFile | undefined = file;
    while (at !== undefined && !counted.has(at) && !met.has(at)) {
      row.push(at);
      met.add(at);
      at = baseOf(at);
    }
    let levels = at === undefined || !counted.has(at) ? -1 : (counted.get(at) ?? -1);
    for (const each of row.reverse()) {
      levels = at !== undefined && met.has(at) ? 0 : levels + 1;
      counted.set(each, levels);
    }
    return counted.get(file) ?? 0;
  };
}

/** The files of an analysis with what is built on others put together; undefined where none is built on another. */
export function derive(files: readonly ReadFile[]): Derivation | undefined {
  if (!files.some((file) => derivedSpec(file) !== undefined)) return undefined;
  const done = new Map<string, Derived | undefined>();
  const baseOf = findingBases(files);
  const levelsUnder = countingLevels(baseOf);
  let isCut = false;
  /** A file, derived where it is built on another; `trail` holds those that are being derived. */
  const derivedOf = (file: ReadFile, trail: readonly ReadFile[]): Derived | undefined => {
    if (done.has(file.file)) return done.get(file.file);
    const own = derivedSpec(file);
    const base = baseOf(file);
    if (own === undefined || base === undefined || trail.includes(base)) return undefined;
    if (levelsUnder(file) > MOST_LEVELS) {
      isCut = true;
      return undefined;
    }
    const under = derivedOf(base, [...trail, file]);
    const taken = new Set([file.file, base.file, ...(under === undefined ? [] : under.from.keys())]);
    const others = files.filter(
      (each) => !taken.has(each.file) && !trail.includes(each) && derivedSpec(each) === undefined,
    );
    const result = derivedOnce(file, own, under?.file ?? base, others);
    done.set(file.file, result);
    return result;
  };
  const all = files.map((file) => derivedOf(file, []));
  const gone = new Map<string, ReadonlySet<Placed> | 'all'>();
  for (const derived of all)
    for (const [file, which] of derived?.from ?? []) gone.set(file, gone.get(file) === 'all' ? 'all' : which);
  const faults = new Map<string, readonly DerivedFault[]>();
  for (const file of files) {
    const own = derivedSpec(file);
    if (own !== undefined && own.declaration.extends?.text === own.declaration.name?.text)
      faults.set(file.file, [extendsItself(own)]);
    else if (own !== undefined && levelsUnder(file) > MOST_LEVELS) faults.set(file.file, [tooDeep(own)]);
  }
  const bases = new Map<string, ReadFile>();
  const seen = files.map((file, i) => {
    const derived = all[i];
    const there = derived?.file ?? file;
    if (derived !== undefined) {
      faults.set(file.file, derived.faults);
      bases.set(file.file, files.find((each) => each.file === derived.base.file) ?? derived.base);
    }
    const which = gone.get(file.file);
    if (which === undefined || i === 0) return there;
    if (which === 'all') return pruned(there);
    return fileOf(
      there,
      there.sections.filter((section) => !section.declarations.some((placed) => which.has(placed))),
    );
  });
  return { files: seen, faults, bases, isCut };
}
