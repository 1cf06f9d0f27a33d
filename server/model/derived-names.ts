// By which names the changes of a spec and the declarations of its base meet: kept for each section and each file, so that an edit of a
// change looks at what it names alone. What the changes come to is in derived-changes.ts.
import type { Placed, ReadFile, ReadSection } from './placed.ts';
import { blockOf } from './statements.ts';

/** The numbers of the sections of a file in which a name stands. */
type Sections = ReadonlyMap<string, readonly number[]>;

interface SectionNames {
  /** By the names of declarations and steps; what has none stands under its word. */
  readonly exact: Sections;
  /** By those of declarations alone, without capitals. */
  readonly folded: Sections;
}

const cachedNames = new WeakMap<ReadFile, SectionNames>();

function byName(file: ReadFile, of: (section: ReadSection) => readonly Placed[], fold: boolean): Sections {
  const found = new Map<string, number[]>();
  for (const [i, section] of file.sections.entries())
    for (const { declaration } of of(section)) {
      const written = declaration.name?.text ?? declaration.word;
      const name = fold ? written.toLowerCase() : written;
      const there = found.get(name);
      if (there === undefined) found.set(name, [i]);
      else there.push(i);
    }
  return found;
}

function namesIn(file: ReadFile): SectionNames {
  let names = cachedNames.get(file);
  if (names === undefined) {
    names = {
      exact: byName(file, (section) => section.every, false),
      folded: byName(file, (section) => section.declarations, true),
    };
    cachedNames.set(file, names);
  }
  return names;
}

/** The changes of a spec by what they are about; each list in the order written. */
export interface ChangesByName {
  /** Those of a thing itself. */
  ofThing(word: string, name: string | undefined): readonly Placed[];
  /** Those of a step, and those that insert one beside it. */
  ofStep(name: string | undefined): readonly Placed[];
  inOrder(changes: readonly Placed[]): readonly Placed[];
}

const add = <key>(to: Map<key, Placed[]>, key: key, change: Placed): void => {
  const there = to.get(key);
  if (there === undefined) to.set(key, [change]);
  else there.push(change);
};

export function changesByName(changes: readonly Placed[]): ChangesByName {
  const things = new Map<string, Placed[]>();
  const steps = new Map<string | undefined, Placed[]>();
  const numbers = new Map<Placed, number>();
  for (const [i, change] of changes.entries()) {
    const { declaration } = change;
    numbers.set(change, i);
    if (declaration.word !== 'insert') add(things, `${blockOf(declaration)} ${declaration.name?.text ?? ''}`, change);
    if (blockOf(declaration) === 'step')
      add(steps, declaration.word === 'insert' ? declaration.beside?.step.text : declaration.name?.text, change);
  }
  return {
    ofThing: (word, name) => things.get(`${word} ${name ?? ''}`) ?? [],
    ofStep: (name) => steps.get(name) ?? [],
    inOrder: (some) => [...new Set(some)].sort((one, other) => (numbers.get(one) ?? 0) - (numbers.get(other) ?? 0)),
  };
}

/**
 * The numbers of the sections of a base that may be other than as they are written, in order: something that is changed, or declared
 * again, is in them. `own` are the names that the spec's own file declares, without capitals.
 */
export function touched(
  base: ReadFile,
  changes: readonly Placed[],
  own: ReadonlyMap<string, Placed>,
): ReadonlySet<number> {
  const { exact, folded } = namesIn(base);
  const names = changes.map(({ declaration }) => {
    const name = declaration.word === 'insert' ? declaration.beside?.step.text : declaration.name?.text;
    return name ?? blockOf(declaration);
  });
  const found = new Set([...new Set(names)].flatMap((name) => exact.get(name) ?? []));
  for (const name of own.keys()) for (const i of folded.get(name) ?? []) found.add(i);
  return new Set([...found].sort((one, other) => one - other));
}

/** What a file declares, steps too. */
export interface DeclaredNames {
  readonly byName: ReadonlyMap<string, readonly Placed[]>;
  /** In the order of the file. */
  readonly all: readonly Placed[];
}

const cachedDeclared = new WeakMap<ReadFile, DeclaredNames>();

/** What a file declares, by name; kept as long as the file is the same. */
export function declaredIn(file: ReadFile): DeclaredNames {
  let declared = cachedDeclared.get(file);
  if (declared === undefined) {
    const all = file.sections.flatMap((section) => section.every);
    const byName = new Map<string, Placed[]>();
    for (const placed of all) {
      const name = placed.declaration.name?.text;
      if (name === undefined) continue;
      const there = byName.get(name);
      if (there === undefined) byName.set(name, [placed]);
      else there.push(placed);
    }
    declared = { byName, all };
    cachedDeclared.set(file, declared);
  }
  return declared;
}
