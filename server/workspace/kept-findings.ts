// Keeps the findings of each declaration until it, or something that was looked up to make them, changes.
import type { Span } from '../../grammar/tree.ts';
import type { Extra } from '../checks/check.ts';
import type { BuiltView } from '../model/build-view.ts';
import type { Severity } from '../model/finding.ts';
import { keptByFile } from '../model/kept-by-file.ts';
import type { Placed } from '../model/placed.ts';
import type { Fastener, Thing, View } from '../model/view.ts';

export type Parsed = Placed['parsed'];

/** A finding before its places are worked out: everything is told by tree and own offsets, so that a shift costs nothing. */
export interface Raw {
  readonly code: string;
  readonly severity: Severity;
  readonly parsed: Parsed;
  readonly span: Span;
  readonly message: string;
  readonly extra: Extra;
}

/** The findings of one thing, and what was looked up to make them. */
export interface Kept {
  readonly raws: readonly Raw[];
  readonly looked: readonly (readonly [string, Parsed | undefined])[];
  readonly engine: Parsed | undefined | false;
  readonly specs: readonly Parsed[] | undefined;
  readonly flags: readonly (readonly [Flag, unknown])[];
  /** The lists of the view that were gone through, each by the number of its content. */
  readonly lists: readonly (readonly [ListName, number])[];
}

const keptByTree = new WeakMap<Parsed, Map<string, Kept>>();

/** The lists of a view that a check may go through. */
export const LISTS = [
  'parts',
  'fasteners',
  'supplies',
  'grades',
  'drives',
  'valveTimings',
  'limits',
  'sequences',
  'jobs',
  'steps',
  'engines',
] as const;

export type ListName = (typeof LISTS)[number];

/** For so many variants what is found in a declaration is kept: each name that one has while it is typed counts. */
const MOST_VARIANTS = 16;

const FLAGS = ['draft', 'incomplete', 'perhaps'] as const;

type Flag = (typeof FLAGS)[number];

/** The content of each list, numbered anew whenever a tree in it is another: lists of one number hold the same trees. */
const lastContents = keptByFile<Map<string, { readonly list: Listed; readonly number: number }>>();

type Listed = readonly (Thing | Placed)[];

/** Lets go of the lists of variants that a file has no more. */
export function onlyListsOf(file: string, variants: readonly (string | undefined)[]): void {
  const lists = lastContents.get(file);
  if (lists === undefined || lists.size <= variants.length * LISTS.length) return;
  const there = new Set(variants.flatMap((variant) => LISTS.map((list) => `${variant ?? ''} ${list}`)));
  for (const key of lists.keys()) if (!there.has(key)) lists.delete(key);
}

const numbersByView = new WeakMap<View, Map<ListName, number>>();

let contents = 0;

const treeOf = (each: Thing | Placed): Parsed => ('placed' in each ? each.placed.parsed : each.parsed);

function holdsTheSame(old: Listed, now: Listed): boolean {
  if (old.length !== now.length) return false;
  for (let i = 0; i < now.length; i += 1) {
    const [one, other] = [old[i], now[i]];
    if (one === other) continue;
    if (one === undefined || other === undefined || treeOf(one) !== treeOf(other)) return false;
  }
  return true;
}

function contentNumber(view: BuiltView, list: ListName): number {
  let numbers = numbersByView.get(view);
  if (numbers === undefined) {
    numbers = new Map();
    numbersByView.set(view, numbers);
  }
  const known = numbers.get(list);
  if (known !== undefined) return known;
  const file = view.specs[0]?.file ?? view.engines[0]?.file ?? '';
  const key = `${view.variant ?? ''} ${list}`;
  let lists = lastContents.get(file);
  if (lists === undefined) {
    lists = new Map();
    lastContents.set(file, lists);
  }
  const last = lists.get(key);
  const now: Listed = view[list];
  const same = last !== undefined && (last.list === now || holdsTheSame(last.list, now));
  if (!same) contents += 1;
  const number = same ? last.number : contents;
  lists.set(key, { list: now, number });
  numbers.set(list, number);
  return number;
}

/** Notes the fasteners that one is like, and theirs. */
function noteLikes(fastener: Fastener, things: View['things'], looked: Map<string, Parsed | undefined>): void {
  let { like } = fastener;
  for (let depth = 0; like !== undefined && depth < 8; depth += 1) {
    const other = things.get(like);
    looked.set(like, other?.placed.parsed);
    like = other?.kind === 'fastener' ? other.like : undefined;
  }
}

/** A view that notes what is looked up in it. */
function watched(view: BuiltView): {
  readonly view: BuiltView;
  readonly looked: Map<string, Parsed | undefined>;
  engine: Parsed | undefined | false;
  specs: readonly Parsed[] | undefined;
  readonly flags: Map<Flag, unknown>;
  readonly lists: Map<ListName, number>;
} {
  const notes = {
    looked: new Map<string, Parsed | undefined>(),
    engine: false as Parsed | undefined | false,
    specs: undefined as readonly Parsed[] | undefined,
    flags: new Map<Flag, unknown>(),
    lists: new Map<ListName, number>(),
    view,
  };
  const note = (list: ListName): void => {
    if (!notes.lists.has(list)) notes.lists.set(list, contentNumber(view, list));
  };
  const things = new Proxy(view.things, {
    get(target, key) {
      if (key === 'get' || key === 'has') {
        return (name: string) => {
          const thing = target.get(name);
          notes.looked.set(name, thing?.placed.parsed);
          // The text of a sequence does not change with that of its steps, nor that of a fastener with those that it is like.
          if (thing?.kind === 'sequence') note('steps');
          if (thing?.kind === 'fastener') noteLikes(thing, target, notes.looked);
          return key === 'get' ? thing : thing !== undefined;
        };
      }
      // All things were gone through: that is every list.
      for (const list of LISTS) note(list);
      const value = Reflect.get(target, key) as unknown;
      return typeof value === 'function' ? (value as (...args: unknown[]) => unknown).bind(target) : value;
    },
  });
  const proxy = new Proxy(view, {
    get(target, key) {
      if (key === 'things') return things;
      if (key === 'specs') notes.specs = target.specs.map((spec) => spec.parsed);
      if (FLAGS.includes(key as Flag)) notes.flags.set(key as Flag, target[key as Flag]);
      if (key === 'engine') notes.engine = target.engine?.placed.parsed;
      if (LISTS.includes(key as ListName)) note(key as ListName);
      if (key === 'sequences') note('steps');
      return Reflect.get(target, key) as unknown;
    },
  });
  return Object.assign(notes, { view: proxy });
}

/** The names that were looked up to check a declaration for a variant, in the order met. */
export function lookedUpBy(tree: Parsed, variant: string | undefined): readonly string[] {
  return (
    keptByTree
      .get(tree)
      ?.get(variant ?? '')
      ?.looked.map(([name]) => name) ?? []
  );
}

function stillHolds(kept: Kept, view: BuiltView): boolean {
  if (kept.flags.some(([flag, value]) => view[flag] !== value)) return false;
  if (kept.engine !== false && kept.engine !== view.engine?.placed.parsed) return false;
  if (
    kept.specs !== undefined &&
    (kept.specs.length !== view.specs.length || kept.specs.some((parsed, i) => view.specs[i]?.parsed !== parsed))
  )
    return false;
  if (kept.lists.some(([list, number]) => contentNumber(view, list) !== number)) return false;
  return kept.looked.every(([name, parsed]) => view.things.get(name)?.placed.parsed === parsed);
}

/** The findings of a declaration: those that were kept, or what `run` reports now through a view that notes what is looked up. */
export function checkOne(
  placed: Placed,
  view: BuiltView,
  run: (placed: Placed, seen: BuiltView, into: Raw[]) => void,
): Kept {
  let byVariant = keptByTree.get(placed.parsed);
  if (byVariant === undefined) {
    byVariant = new Map();
    keptByTree.set(placed.parsed, byVariant);
  }
  const key = view.variant ?? '';
  const known = byVariant.get(key);
  if (known !== undefined && stillHolds(known, view)) return known;
  const notes = watched(view);
  const raws: Raw[] = [];
  run(placed, notes.view, raws);
  // What a fastener takes from others is looked up before it is checked.
  if (placed.declaration.name !== undefined) notes.view.things.get(placed.declaration.name.text);
  const found: Kept = {
    raws,
    looked: [...notes.looked],
    engine: notes.engine,
    specs: notes.specs,
    flags: [...notes.flags],
    lists: [...notes.lists],
  };
  if (byVariant.size >= MOST_VARIANTS) byVariant.clear();
  byVariant.set(key, found);
  return found;
}
