// What is found in single declarations of a file, kept section by section: after an edit only what changed is looked at again, and
// what had looked something up that changed.
import type { BuiltView } from '../model/build-view.ts';
import { keptByFile } from '../model/kept-by-file.ts';
import type { ViewChanges } from '../model/patch-view.ts';
import { holdsFor, type Placed, type ReadFile } from '../model/placed.ts';
import { placedChanges, sectionChanges } from '../model/section-changes.ts';
import { LIST_OF, type Thing } from '../model/view.ts';
import { checkOne, type Kept as Found, onlyListsOf, type Raw } from './kept-findings.ts';

type Run = (placed: Placed, seen: BuiltView, into: Raw[]) => void;

interface Kept {
  file: ReadFile;
  view: BuiltView;
  readonly found: Map<Placed, Found>;
  /** The declarations in which something is found. */
  readonly loud: Map<Placed, readonly Raw[]>;
  /** By name, list, flag or `engine`: the declarations whose checks looked it up. */
  readonly users: Map<string, Set<Placed>>;
}

/** By the variant of each; only those that the file has now. */
const keptOf = keptByFile<Map<string, Kept>>();

function lookedUp({ looked, lists, flags, engine }: Found, tell: (key: string) => void): void {
  for (const [name] of looked) tell(name);
  for (const [list] of lists) tell(`list ${list}`);
  for (const [flag] of flags) tell(`flag ${flag}`);
  if (engine !== false) tell('the engine');
}

function changed(changes: ViewChanges): readonly string[] {
  const nameAndList = ({ name, kind }: Thing): readonly string[] => [name, `list ${LIST_OF[kind]}`];
  return [
    ...changes.things.flatMap(({ now }) => nameAndList(now)),
    ...changes.added.flatMap(nameAndList),
    ...changes.dropped.flatMap(nameAndList),
    ...(changes.engine ? ['the engine', 'list engines'] : []),
    ...(changes.perhaps ? ['flag perhaps'] : []),
  ];
}

/** Whether a declaration is looked at for a variant; a `when` is for each. */
function isSeen(placed: Placed, variant: string | undefined): boolean {
  return placed.declaration.word === 'when' || holdsFor(placed, variant);
}

function look(kept: Kept, placed: Placed, run: Run): void {
  const found = checkOne(placed, kept.view, run);
  kept.found.set(placed, found);
  lookedUp(found, (key) => {
    const users = kept.users.get(key);
    if (users === undefined) kept.users.set(key, new Set([placed]));
    else users.add(placed);
  });
  if (found.raws.length > 0) kept.loud.set(placed, found.raws);
}

function forget(kept: Kept, placed: Placed): void {
  const found = kept.found.get(placed);
  if (found !== undefined) lookedUp(found, (key) => kept.users.get(key)?.delete(placed));
  kept.found.delete(placed);
  kept.loud.delete(placed);
}

/** Lets go of what was found for variants that a file has no more. */
export function onlyVariants(file: string, variants: readonly (string | undefined)[]): void {
  onlyListsOf(file, variants);
  const byVariant = keptOf.get(file);
  if (byVariant === undefined || byVariant.size <= variants.length) return;
  for (const variant of byVariant.keys())
    if (!variants.some((each) => (each ?? '') === variant)) byVariant.delete(variant);
}

/** What is found in the declarations of a file, by place. `before` and `changes` say what a view was made from, where that is known. */
export function keptRaws(
  view: BuiltView,
  file: ReadFile,
  before: BuiltView | undefined,
  changes: ViewChanges | undefined,
  run: Run,
): readonly Raw[] {
  const key = view.variant ?? '';
  let kept = keptOf.get(file.file)?.get(key);
  if (kept !== undefined && before !== undefined && changes !== undefined && kept.view === before) {
    const { gone, come } = placedChanges(sectionChanges(kept.file, file));
    for (const placed of gone) forget(kept, placed);
    kept.file = file;
    kept.view = view;
    const again = new Set(come.filter((placed) => isSeen(placed, view.variant)));
    for (const key of changed(changes)) for (const placed of kept.users.get(key) ?? []) again.add(placed);
    for (const placed of again) {
      forget(kept, placed);
      look(kept, placed, run);
    }
  } else {
    kept = { file, view, found: new Map(), loud: new Map(), users: new Map() };
    for (const { every, whens } of file.sections) {
      for (const placed of every) if (isSeen(placed, view.variant)) look(kept, placed, run);
      for (const placed of whens) look(kept, placed, run);
    }
    const byVariant = keptOf.get(file.file);
    if (byVariant === undefined) keptOf.set(file.file, new Map([[key, kept]]));
    else byVariant.set(key, kept);
  }
  return [...kept.loud]
    .sort(([one], [other]) => one.section.start - other.section.start || one.section.end - other.section.end)
    .flatMap(([, raws]) => raws);
}
