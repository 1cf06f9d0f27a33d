// By which names the changes of a spec and the declarations of its base meet: kept for each section and each file, so that an edit of a
// change looks at what it names alone. What the changes come to is in derived-changes.ts.
import type { Placed, ReadFile, ReadSection } from './placed.ts';
import { blockOf } from './statements.ts';

/** The names in a section of a base; what has none stands under its word. */
interface SectionNames {
  /** Of its declarations and their steps. */
  readonly exact: readonly string[];
  /** Of its declarations alone, without capitals. */
  readonly folded: readonly string[];
}

const keptNames = new WeakMap<ReadSection, SectionNames>();

function namesIn(section: ReadSection): SectionNames {
  let names = keptNames.get(section);
  if (names === undefined) {
    const nameOf = ({ declaration }: Placed): string => declaration.name?.text ?? declaration.word;
    names = {
      exact: section.every.map(nameOf),
      folded: section.declarations.map((placed) => nameOf(placed).toLowerCase()),
    };
    keptNames.set(section, names);
  }
  return names;
}

/** Whether a section of a base may be other than as it is written: something that is changed, or declared again, is in it. */
export type Touches = (section: ReadSection) => boolean;

/** `own` are the names that the spec's own file declares, without capitals. */
export function touching(changes: readonly Placed[], own: ReadonlyMap<string, Placed>): Touches {
  const changed = new Set(
    changes.map(({ declaration }) =>
      declaration.word === 'insert'
        ? (declaration.beside?.step.text ?? 'step')
        : (declaration.name?.text ?? blockOf(declaration)),
    ),
  );
  return (section) => {
    const { exact, folded } = namesIn(section);
    return exact.some((name) => changed.has(name)) || (own.size > 0 && folded.some((name) => own.has(name)));
  };
}

/** What a file declares, steps too. */
export interface DeclaredNames {
  readonly byName: ReadonlyMap<string, readonly Placed[]>;
  /** In the order of the file. */
  readonly all: readonly Placed[];
}

const keptDeclared = new WeakMap<ReadFile, DeclaredNames>();

/** What a file declares, by name; kept as long as the file is the same. */
export function declaredIn(file: ReadFile): DeclaredNames {
  let declared = keptDeclared.get(file);
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
    keptDeclared.set(file, declared);
  }
  return declared;
}
