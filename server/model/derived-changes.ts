// What the changes of a spec make of the declarations of its base, section by section: which are changed, dropped, and where steps are
// inserted. How one declaration is changed is in derived-declaration.ts, which files are taken in derived.ts.
import type { Drop } from '../../grammar/tree.ts';
import { differsByVariant, type Into, merged, stepOf, taken } from './derived-declaration.ts';
import type { ChangesByName } from './derived-names.ts';
import { MOST_CHANGES_OF_ONE } from './most.ts';
import { holdsFor, type Placed, type ReadSection } from './placed.ts';
import { blockOf } from './statements.ts';

/** What is never taken over from a base. */
export const KEPT_BACK = new Set(['spec', 'use', 'record']);

/** A section of a base or a spec with other declarations in it. */
export function sectionWith(of: ReadSection, declarations: readonly Placed[]): ReadSection {
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

/** What a base is taken into, and how. */
export interface Deriving {
  readonly into: Into;
  readonly variants: readonly string[];
  readonly changes: ChangesByName;
  /** Is told what a change drops and the base does not say. */
  readonly idle: (change: Placed, drops: readonly Drop[]) => void;
}

/** The changes that are about a declaration or its steps. */
export function changesOf(base: Placed, changes: ChangesByName): readonly Placed[] {
  const { word, name } = base.declaration;
  const own = changes.ofThing(word, name?.text);
  if (base.steps.length === 0) return own;
  const names = new Set(base.steps.filter((step) => step !== undefined).map((step) => step.declaration.name?.text));
  const ofSteps = [...names].flatMap((each) => changes.ofStep(each));
  return ofSteps.length === 0 ? own : changes.inOrder([...own, ...ofSteps]);
}

function isOf({ declaration }: Placed, base: Placed): boolean {
  const { word, name } = base.declaration;
  return declaration.word !== 'insert' && blockOf(declaration) === word && declaration.name?.text === name?.text;
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
  const stepChanges = ofSteps(own);
  let now = base;
  // The changes of the sequence itself, one after the other; its steps go in with the last.
  const heads = own.filter((change) => blockOf(change.declaration) !== 'step').slice(0, MOST_CHANGES_OF_ONE);
  const changedStep = (step: Placed): Placed | undefined => {
    const name = step.declaration.name?.text;
    if (stepChanges.get('drop', name).length > 0) return undefined;
    let there: Placed | undefined;
    for (const change of stepChanges.get('change', name).slice(0, MOST_CHANGES_OF_ONE))
      there =
        stepOf(there ?? step, change, { ...merge, key: `${of.key} step ${name ?? ''}`, when: step.when }) ?? there;
    return there ?? takenOnce(step, into);
  };
  const done = new Set<Placed>();
  /** Puts the steps beside one of a name, and those beside them: in a row that may be long, so no call within a call. */
  const beside = (name: string | undefined, side: 'after' | 'before', put: (step: Placed) => void): void => {
    const left: (Placed | { readonly put: Placed })[] = [];
    const see = (changes: readonly Placed[]): void => {
      for (let i = changes.length - 1; i >= 0; i -= 1) left.push(...changes.slice(i, i + 1));
    };
    see(stepChanges.get(side, name));
    for (let next = left.pop(); next !== undefined; next = left.pop()) {
      if ('put' in next) {
        const step = stepOf(undefined, next.put, { ...merge, key: `${of.key} insert`, when: next.put.when });
        if (step !== undefined) put(step);
        continue;
      }
      if (done.has(next)) continue;
      done.add(next);
      const own = next.declaration.name?.text;
      see(stepChanges.get('after', own));
      left.push({ put: next });
      see(stepChanges.get('before', own));
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

/** What is said of steps, by what it does (`drop`, `change`, or the side on which a step is inserted) and the name of the step. */
function ofSteps(changes: readonly Placed[]): { get(does: string, name: string | undefined): readonly Placed[] } {
  const found = new Map<string, Placed[]>();
  for (const change of changes) {
    const { declaration } = change;
    if (blockOf(declaration) !== 'step') continue;
    const isInsert = declaration.word === 'insert';
    const name = isInsert ? declaration.beside?.step.text : declaration.name?.text;
    const key = `${isInsert ? declaration.beside?.word : declaration.word} ${name}`;
    const there = found.get(key);
    if (there === undefined) found.set(key, [change]);
    else there.push(change);
  }
  return { get: (does, name) => (name === undefined ? [] : (found.get(`${does} ${name}`) ?? [])) };
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
  const numbers = new Map(changes.map((change, i) => [change, i]));
  for (const variant of variants.filter((each) => holdsFor(base, each))) {
    const own = holding(changes, variant);
    const differs = own.some((change) => isOf(change, base) && differsByVariant(base, change));
    const id = `${own.map((change) => numbers.get(change)).join()} ${differs ? variant : ''}`;
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
    for (const change of mine.slice(0, MOST_CHANGES_OF_ONE)) {
      const result = merged({ ...group, base: now ?? base, change, into: deriving.into }, () => undefined, []);
      deriving.idle(change, result.idle);
      now = result.placed ?? now;
    }
    return [now ?? taken(base, deriving.into, group.when)];
  });
}

const cachedTaken = new WeakMap<Placed, Map<string, Placed>>();

/** The same object for the same declaration as long as it stands where it stood. */
function takenOnce(base: Placed, into: Into): Placed {
  let known = cachedTaken.get(base);
  if (known === undefined) {
    known = new Map();
    cachedTaken.set(base, known);
  }
  const key = `${into.file} ${into.spec}`;
  let there = known.get(key);
  if (there === undefined) {
    there = taken(base, into);
    known.set(key, there);
  }
  return there;
}

interface CachedSection {
  readonly declarations: readonly Placed[];
  readonly changes: readonly Placed[];
  readonly key: string;
  readonly section: ReadSection;
  readonly idle: readonly (readonly [Placed, readonly Drop[]])[];
}

const cachedSections = new WeakMap<ReadSection, Map<string, CachedSection>>();

const cachedWhole = new WeakMap<ReadSection, Map<string, { readonly spec: string; readonly section: ReadSection }>>();

/** A section of a base in which nothing is changed; the same object for the same one. */
export function takenSection(of: ReadSection, into: Into): ReadSection {
  let cached = cachedWhole.get(of);
  if (cached === undefined) {
    cached = new Map();
    cachedWhole.set(of, cached);
  }
  const known = cached.get(into.file);
  if (known?.spec === into.spec) return known.section;
  const declarations = of.declarations.filter((placed) => !KEPT_BACK.has(placed.declaration.word));
  const section = sectionWith(
    of,
    declarations.map((placed) => takenOnce(placed, into)),
  );
  cached.set(into.file, { spec: into.spec, section });
  return section;
}

const sameList = (one: readonly Placed[], other: readonly Placed[]): boolean =>
  one.length === other.length && one.every((each, i) => each === other[i]);

/** A section of a base with its changes made; the same object as long as it and its changes are the same. */
export function changedSection(of: ReadSection, deriving: Deriving, skip: (placed: Placed) => boolean): ReadSection {
  const { into, variants } = deriving;
  const declarations = of.declarations.filter((placed) => !KEPT_BACK.has(placed.declaration.word) && !skip(placed));
  const changes = [...new Set(declarations.flatMap((placed) => changesOf(placed, deriving.changes)))];
  const key = `${into.spec}|${variants.join()}`;
  let cached = cachedSections.get(of);
  if (cached === undefined) {
    cached = new Map();
    cachedSections.set(of, cached);
  }
  const known = cached.get(into.file);
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
  cached.set(into.file, { declarations, changes, key, section, idle });
  return section;
}
