// What the view of one variant holds, over all edits: which declarations stand in it, by place, by name and in lists, and what is asked of
// single ones. How it is seen is in view-as-seen.ts, how it follows an edit in view-plans.ts and view-updates.ts.
import { thingOf } from './build-view.ts';
import { engineOf } from './declared-data.ts';
import { likened, type OwnText } from './likeness.ts';
import type { Placed, ReadFile } from './placed.ts';
import { type Among, type Declares, newStanding, type Standing } from './recorded.ts';
import { type ListName, THING_LISTS, type ThingList, type Together } from './recorded-together.ts';
import type { Duplicate, Thing } from './view.ts';

export interface ViewState {
  readonly variant: string | undefined;
  /** Its number among those that stand together. */
  readonly at: number;
  readonly together: Together;
  /** Where those stand that it does not share with the others. */
  readonly among: Among;
  /** What a name leads to in the text alone: what a fastener takes from another is found by it. */
  readonly ownText: OwnText;
  files: readonly ReadFile[];
  standings: Map<Placed, Standing>;
  /** Those of the first file, in order. */
  own: readonly Standing[];
  ownPlaced: Set<Placed>;
  listed: Set<Standing>;
  names: Map<string, Standing>;
  /** By their names without capitals, the first of each. */
  folded: Map<string, Standing>;
  /** Those that have names, in the order of the view; looked for when they are asked for. */
  namedInOrder: readonly Standing[] | undefined;
  lists: Readonly<Record<ListName, readonly Standing[]>>;
  /** The lists as they are seen, each made when it is asked for. */
  readonly seenLists: Map<ListName, readonly unknown[]>;
  duplicates: readonly Duplicate[];
  /** Fasteners that take from others. */
  likes: readonly Standing[];
  perhaps: ReadonlySet<string>;
  incomplete: boolean;
  draft: boolean;
}

/** All lists of a view, each made of something. */
export function listsOf(
  things: (list: ThingList) => readonly Standing[],
  others: (list: 'specs' | 'engines') => readonly Standing[],
): ViewState['lists'] {
  const made = Object.fromEntries(THING_LISTS.map((list) => [list, things(list)]));
  return {
    ...(made as unknown as Record<ThingList, readonly Standing[]>),
    specs: others('specs'),
    engines: others('engines'),
  };
}

/** The view of a variant, of no files yet. */
export function newViewState(variant: string | undefined, at: number, together: Together): ViewState {
  const state: ViewState = {
    variant,
    at,
    together,
    among: { seenOf: (placed) => state.standings.get(placed), isOfSome: !together.isOne, at: 0 },
    ownText(name) {
      const placed = state.names.get(name)?.placed;
      return placed === undefined ? undefined : thingOf(placed, variant);
    },
    files: [],
    standings: new Map(),
    own: [],
    ownPlaced: new Set(),
    listed: new Set(),
    names: new Map(),
    folded: new Map(),
    namedInOrder: undefined,
    lists: listsOf(
      () => [],
      () => [],
    ),
    seenLists: new Map(),
    duplicates: [],
    likes: [],
    perhaps: new Set(),
    incomplete: false,
    draft: false,
  };
  return state;
}

/** What a declaration says; of a fastener with what it takes from others. */
export function thingAt({ variant, ownText }: ViewState, placed: Placed): Thing | undefined {
  const thing = thingOf(placed, variant);
  return thing?.kind === 'fastener' && thing.like !== undefined ? likened(thing, ownText) : thing;
}

/** What a declaration declares for each variant that it stands for as one, or once where it is the same for all. */
export function declaredBy(state: ViewState, placed: Placed): readonly Declares[] {
  const { variant, together } = state;
  const isEngine = placed.declaration.word === 'engine';
  if (!together.isAlike(placed))
    return [{ thing: thingAt(state, placed), engine: isEngine ? engineOf(placed, variant) : undefined }];
  const [first, ...others] = together.variants.map((each) => ({
    thing: thingOf(placed, each),
    engine: isEngine ? engineOf(placed, each) : undefined,
  }));
  if (first === undefined) return [];
  const isSame = others.every(({ thing, engine }) => thing === first.thing && engine === first.engine);
  return isSame ? [first] : [first, ...others];
}

/** What stands for a declaration that is new. */
export function newHere(state: ViewState, placed: Placed): Standing {
  const { together, among } = state;
  return newStanding(placed, declaredBy(state, placed), together.isAlike(placed) ? together.among : among);
}

/** Declarations that are told apart by nothing else may take each other's place. */
export function keyOf({ together }: ViewState, placed: Placed): string {
  const { file, declaration, when } = placed;
  const name = declaration.name?.text ?? declaration.changed?.word ?? '';
  return `${declaration.word} ${name} ${when.join(' ')} ${file} ${together.isAlike(placed)}`;
}

/** Whether one step may take the place of another under another name. */
export function isEquivalent({ variant, together }: ViewState, one: Placed, other: Placed): boolean {
  return (
    thingOf(one, variant)?.kind === thingOf(other, variant)?.kind && together.isAlike(one) === together.isAlike(other)
  );
}
