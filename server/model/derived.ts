// Specs that are built on others: the files of an analysis as a spec with `extends` has them, where what its base declares is its own,
// with its changes made. Files without `extends` are left as they are. How one declaration is changed is in derived-declaration.ts;
// what can't be changed as written is said in derived-faults.ts.
import type { Drop, NamesStatement } from '../../grammar/tree.ts';
import { differsByVariant, type Into, merged, specOf, stepOf, taken } from './derived-declaration.ts';
import { type DerivedFault, extendsItself, faultsOfChanges } from './derived-faults.ts';
import { holdsFor, type Placed, type ReadFile, type ReadSection } from './placed.ts';
import { blockOf } from './statements.ts';

export interface Derivation {
  /** The files as the views see them: the first is still that of the analysis. */
  readonly files: readonly ReadFile[];
  /** What is wrong with the changes of each file. */
  readonly faults: ReadonlyMap<string, readonly DerivedFault[]>;
  /** The file of the base of each derived file. */
  readonly bases: ReadonlyMap<string, ReadFile>;
  /** Base files and all that they are built on. */
  readonly allBases: ReadonlySet<string>;
}

/** The spec of a file that extends another, where it does. */
export function derivedSpec(file: ReadFile): Placed | undefined {
  const spec = specOfFile(file);
  return spec?.declaration.extends === undefined ? undefined : spec;
}

function specOfFile(file: ReadFile): Placed | undefined {
  return file.sections.find(({ section }) => section.word === 'spec')?.declarations[0];
}

/** What is never taken over from a base. */
const KEPT_BACK = new Set(['spec', 'use', 'record']);
const keptPruned = new WeakMap<ReadFile, ReadFile>();

function fileOf(file: ReadFile, sections: readonly ReadSection[]): ReadFile {
  return {
    file: file.file,
    text: file.text,
    sections,
    declarations: sections.flatMap((section) => section.declarations),
    whens: sections.flatMap((section) => section.whens),
    loose: sections.flatMap((section) => section.loose),
  };
}

/** A file of which everything is taken over: its spec is left, so that it can be named. */
function pruned(file: ReadFile): ReadFile {
  let left = keptPruned.get(file);
  if (left === undefined) {
    left = fileOf(
      file,
      file.sections.filter(({ section }) => KEPT_BACK.has(section.word ?? '')),
    );
    keptPruned.set(file, left);
  }
  return left;
}

function sectionWith(of: ReadSection, declarations: readonly Placed[]): ReadSection {
  const every = declarations.flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)]);
  return {
    section: of.section,
    trees: every.map((placed) => placed.parsed),
    declarations,
    every,
    hasFaults: of.hasFaults,
    hasAllows: false,
    perhaps: of.perhaps,
    whens: [],
    loose: [],
  };
}

export function variantsOfSpec(spec: Placed | undefined): readonly string[] {
  const line = spec?.declaration.body?.statements.find(
    (each): each is NamesStatement => each.kind === 'names' && each.word === 'variants',
  );
  return line === undefined ? [] : [...new Set(line.names.map((name) => name.text))];
}

interface Deriving {
  readonly into: Into;
  readonly variants: readonly string[];
  readonly changes: readonly Placed[];
  readonly idle: (change: Placed, drops: readonly Drop[]) => void;
}

/** The changes that are about a declaration or its steps. */
function changesOf(base: Placed, changes: readonly Placed[]): readonly Placed[] {
  const names = new Set(base.steps.filter((step) => step !== undefined).map((step) => step.declaration.name?.text));
  return changes.filter((change) => isOf(change, base) || (base.steps.length > 0 && isOfStep(change, names)));
}

function isOf({ declaration }: Placed, base: Placed): boolean {
  const { word, name } = base.declaration;
  return declaration.word !== 'insert' && blockOf(declaration) === word && declaration.name?.text === name?.text;
}

function isOfStep({ declaration }: Placed, names: ReadonlySet<string | undefined>): boolean {
  if (blockOf(declaration) !== 'step') return false;
  return names.has(declaration.word === 'insert' ? declaration.beside?.step.text : declaration.name?.text);
}

/** The changes that hold for a variant. */
function holding(changes: readonly Placed[], variant: string | undefined): readonly Placed[] {
  return changes.filter((change) => holdsFor(change, variant));
}

/** A sequence with its steps changed, dropped and inserted. */
function changedSequence(
  base: Placed,
  own: readonly Placed[],
  deriving: Deriving,
  of: Omit<Group, 'changes'>,
): Placed | undefined {
  const { into, idle } = deriving;
  const merge = { ...of, into };
  const steps: Placed[] = [];
  const stepChanges = own.filter((change) => blockOf(change.declaration) === 'step');
  let now = base;
  // The changes of the sequence itself, one after the other; its steps go in with the last.
  const heads = own.filter((change) => blockOf(change.declaration) !== 'step');
  const done = new Set<Placed>();
  const named = (change: Placed, word: string, name: string | undefined): boolean =>
    change.declaration.word === word && name !== undefined && change.declaration.name?.text === name;
  const changedStep = (step: Placed): Placed | undefined => {
    const name = step.declaration.name?.text;
    if (stepChanges.some((change) => named(change, 'drop', name))) return undefined;
    let there: Placed | undefined;
    for (const change of stepChanges)
      if (named(change, 'change', name))
        there =
          stepOf(there ?? step, change, { ...merge, key: `${of.key} step ${name ?? ''}`, when: step.when }) ?? there;
    return there ?? takenOnce(step, into);
  };
  const beside = (name: string | undefined, side: 'after' | 'before', put: (step: Placed) => void): void => {
    if (name === undefined) return;
    for (const change of stepChanges) {
      const { declaration } = change;
      if (declaration.word !== 'insert' || declaration.beside?.word !== side || declaration.beside.step.text !== name)
        continue;
      if (done.has(change)) continue;
      done.add(change);
      const step = stepOf(undefined, change, { ...merge, key: `${of.key} insert`, when: change.when });
      const own = declaration.name?.text;
      beside(own, 'before', put);
      if (step !== undefined) put(step);
      beside(own, 'after', put);
    }
  };
  const last = heads.length - 1;
  for (let i = 0; i <= Math.max(0, last); i += 1) {
    steps.length = 0;
    const change = heads[i];
    const isLast = i >= last;
    const source = now;
    const result = merged(
      { base: source, ...(change === undefined ? {} : { change }), ...merge },
      (hole, written) => {
        const put = (step: Placed): void => {
          steps[written.holes.length] = step;
          written.glue('\n  ');
          written.hole();
        };
        const step = source.steps[hole];
        if (step === undefined || !isLast) {
          if (step !== undefined) steps[written.holes.length] = step;
          written.glue('\n  ');
          written.hole();
          return;
        }
        const name = step.declaration.name?.text;
        beside(name, 'before', put);
        const there = changedStep(step);
        if (there !== undefined) put(there);
        beside(name, 'after', put);
      },
      steps,
    );
    if (change !== undefined) idle(change, result.idle);
    if (result.placed === undefined) return taken(base, into, of.when);
    now = result.placed;
    if (!isLast) now = { ...now, steps: [...steps] };
  }
  return now;
}

interface Group {
  readonly variant: string | undefined;
  readonly changes: readonly Placed[];
  readonly when: Placed['when'];
  readonly key: string;
}

/** The variants for which the same changes make the same of a declaration. */
function groupsOf(base: Placed, changes: readonly Placed[], variants: readonly string[]): readonly Group[] {
  const key = `${base.declaration.word} ${base.declaration.name?.text ?? ''}`;
  if (variants.length === 0) return [{ variant: undefined, changes, when: base.when, key }];
  const groups = new Map<string, { readonly changes: readonly Placed[]; readonly names: string[] }>();
  for (const variant of variants.filter((each) => holdsFor(base, each))) {
    const own = holding(changes, variant);
    const differs = own.some((change) => isOf(change, base) && differsByVariant(base, change));
    const id = `${own.map((change) => changes.indexOf(change)).join()} ${differs ? variant : ''}`;
    const group = groups.get(id) ?? { changes: own, names: [] };
    groups.set(id, group);
    group.names.push(variant);
  }
  const isOne = groups.size === 1;
  return [...groups].map(([id, { changes: own, names }]) => ({
    variant: names[0],
    changes: own,
    when: isOne ? base.when : [...base.when, names],
    key: isOne ? key : `${key} ${id}`,
  }));
}

/** What the changes make of one declaration of the base: nothing where it is dropped, several where variants differ. */
function changed(base: Placed, deriving: Deriving): readonly Placed[] {
  const own = changesOf(base, deriving.changes);
  if (own.length === 0) return [takenOnce(base, deriving.into)];
  return groupsOf(base, own, deriving.variants).flatMap((group): readonly Placed[] => {
    const mine = group.changes.filter((change) => isOf(change, base));
    if (mine.some((change) => change.declaration.word === 'drop')) return [];
    if (group.changes.length === 0) return [taken(base, deriving.into, group.when)];
    if (base.declaration.word === 'sequence') {
      const sequence = changedSequence(base, group.changes, deriving, group);
      return sequence === undefined ? [] : [sequence];
    }
    let now: Placed | undefined;
    for (const change of mine) {
      const result = merged({ ...group, base: now ?? base, change, into: deriving.into }, () => undefined, []);
      deriving.idle(change, result.idle);
      now = result.placed ?? now;
    }
    return [now ?? taken(base, deriving.into, group.when)];
  });
}

const keptTaken = new WeakMap<Placed, Map<string, Placed>>();

/** The same object for the same declaration as long as it stands where it stood. */
function takenOnce(base: Placed, into: Into): Placed {
  let known = keptTaken.get(base);
  if (known === undefined) {
    known = new Map();
    keptTaken.set(base, known);
  }
  const key = `${into.file} ${into.spec}`;
  let there = known.get(key);
  if (there === undefined) {
    there = taken(base, into);
    known.set(key, there);
  }
  return there;
}

interface KeptSection {
  readonly declarations: readonly Placed[];
  readonly changes: readonly Placed[];
  readonly key: string;
  readonly section: ReadSection;
  readonly idle: readonly (readonly [Placed, readonly Drop[]])[];
}

const keptSections = new WeakMap<ReadSection, Map<string, KeptSection>>();

const sameList = (one: readonly Placed[], other: readonly Placed[]): boolean =>
  one.length === other.length && one.every((each, i) => each === other[i]);

/** A section of a base with its changes made; the same object as long as it and its changes are the same. */
function changedSection(of: ReadSection, deriving: Deriving, skip: (placed: Placed) => boolean): ReadSection {
  const { into, variants } = deriving;
  const declarations = of.declarations.filter((placed) => !KEPT_BACK.has(placed.declaration.word) && !skip(placed));
  const changes = [...new Set(declarations.flatMap((placed) => changesOf(placed, deriving.changes)))];
  const key = `${into.spec}|${variants.join()}`;
  let kept = keptSections.get(of);
  if (kept === undefined) {
    kept = new Map();
    keptSections.set(of, kept);
  }
  const known = kept.get(into.file);
  const isSame = known?.key === key && sameList(known.changes, changes) && sameList(known.declarations, declarations);
  if (known !== undefined && isSame) {
    for (const [change, drops] of known.idle) deriving.idle(change, drops);
    return known.section;
  }
  const idle: (readonly [Placed, readonly Drop[]])[] = [];
  const noting: Deriving = {
    ...deriving,
    idle: (change, drops) => {
      if (drops.length > 0) idle.push([change, drops]);
      deriving.idle(change, drops);
    },
  };
  const section = sectionWith(
    of,
    declarations.flatMap((placed) => changed(placed, noting)),
  );
  kept.set(into.file, { declarations, changes, key, section, idle });
  return section;
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

function derivedFile(file: ReadFile, own: Placed, base: ReadFile, others: readonly ReadFile[]): Derived {
  const spec = specOfFile(base);
  const into = { file: file.file, spec: spec?.declaration.name?.text ?? '' };
  const mergedSpec = spec === undefined ? own : specOf(own, spec, into);
  const changes = own.steps.filter((change) => change?.declaration.changed !== undefined);
  const idle = new Map<Placed, readonly Drop[]>();
  const deriving: Deriving = {
    into,
    variants: variantsOfSpec(mergedSpec),
    changes,
    idle: (change, drops) => {
      // What is not there for one variant may be there for another.
      const before = idle.get(change);
      idle.set(change, before === undefined ? drops : drops.filter((drop) => before.includes(drop)));
    },
  };
  const names = ownNames(file);
  const twice: { readonly own: Placed; readonly base: Placed }[] = [];
  const isOwn = (placed: Placed): boolean => {
    const { word, name } = placed.declaration;
    const there = names.get(word === 'engine' ? 'engine' : (name?.text.toLowerCase() ?? ''));
    if (there === undefined || !overlap(there, placed)) return false;
    twice.push({ own: there, base: placed });
    return true;
  };
  const sections: ReadSection[] = file.sections.map((section) =>
    section.declarations[0] === own ? { ...sectionWith(section, [mergedSpec]), whens: section.whens } : section,
  );
  for (const section of base.sections)
    if (!KEPT_BACK.has(section.section.word ?? '')) sections.push(changedSection(section, deriving, isOwn));
  const from = new Map<string, ReadonlySet<Placed> | 'all'>([[base.file, 'all']]);
  // What the base itself uses from elsewhere is taken over where it is changed.
  for (const other of others) {
    const hit = new Set(other.declarations.filter((placed) => changesOf(placed, changes).length > 0));
    if (hit.size === 0) continue;
    from.set(other.file, hit);
    for (const section of other.sections)
      if (section.declarations.some((placed) => hit.has(placed)))
        sections.push(changedSection(section, deriving, (placed) => !hit.has(placed) || isOwn(placed)));
  }
  const faults = faultsOfChanges({
    spec: into.spec,
    changes,
    bases: [...base.declarations, ...others.flatMap((other) => other.declarations)],
    own: file.declarations.filter((placed) => placed !== own),
    twice,
    idle,
  });
  return { file: fileOf(file, sections), faults, base, from };
}

/** Whether two declarations can hold for the same variant. */
function overlap(one: Placed, other: Placed): boolean {
  return (
    one.when.length === 0 ||
    other.when.length === 0 ||
    one.when.some((names) => other.when.some((more) => names.some((name) => more.includes(name))))
  );
}

/** The files of an analysis with what is built on others put together; undefined where none is built on another. */
export function derive(files: readonly ReadFile[]): Derivation | undefined {
  if (!files.some((file) => derivedSpec(file) !== undefined)) return undefined;
  const done = new Map<string, Derived | undefined>();
  const byFile = (name: string, but: ReadFile): ReadFile | undefined =>
    files.find((file) => file !== but && specOfFile(file)?.declaration.name?.text === name);
  /** A file, derived where it is built on another; `trail` holds those that are being derived. */
  const derivedOf = (file: ReadFile, trail: readonly ReadFile[]): Derived | undefined => {
    if (done.has(file.file)) return done.get(file.file);
    const own = derivedSpec(file);
    const base = own === undefined ? undefined : byFile(own.declaration.extends?.text ?? '', file);
    if (own === undefined || base === undefined || trail.includes(base)) return undefined;
    const under = derivedOf(base, [...trail, file]);
    const taken = new Set([file.file, base.file, ...(under === undefined ? [] : under.from.keys())]);
    const others = files.filter(
      (each) => !taken.has(each.file) && !trail.includes(each) && derivedSpec(each) === undefined,
    );
    const result = derivedFile(file, own, under?.file ?? base, others);
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
  return { files: seen, faults, bases, allBases: new Set(gone.keys()) };
}
