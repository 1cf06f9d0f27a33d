// What becomes of a view with an edit, planned before any of it is seen: declarations take each other's place one for one, or one stretch is another,
// or the view is built anew and held against the one of before.
import type { InPieces } from '../../grammar/give-way.ts';
import { type BuiltView, buildingView, thingOf } from './build-view.ts';
import { allIn, changedDeclarations } from './changed-declarations.ts';
import { isSeen, type Placed, type ReadFile } from './placed.ts';
import type { Standing } from './recorded.ts';
import type { Planned } from './recorded-together.ts';
import { matchRenamed } from './renamed-steps.ts';
import { type Spliced, spliced } from './spliced.ts';
import { isEquivalent, keyOf, newHere, type ViewState } from './view-state.ts';

export type Plan = Rebuilt | Spliced | InPlace;

/** Declarations with those that take their place. */
export type Pairs = readonly Pair[];
type Pair = readonly [Standing, Placed];

/** Those that take the place of others one for one, and where those stood. */
export interface InPlace {
  readonly pairs: Pairs;
  readonly were: readonly Placed[];
}

/** A view that is built anew, and what becomes of the declarations of the one before. */
export interface Rebuilt {
  readonly real: BuiltView;
  readonly home: Set<Placed>;
  readonly standings: Map<Placed, Standing>;
  readonly came: readonly Standing[];
  readonly went: ReadonlySet<Standing>;
  readonly takes: Pairs;
}

/** Whether a declaration can take the place of another, and the names and their order stay. */
function staysAlike({ variant }: ViewState, old: Placed, placed: Placed): boolean {
  const [was, is] = [thingOf(old, variant), thingOf(placed, variant)];
  if (was?.kind !== is?.kind) return false;
  if (was?.kind === 'sequence' && is?.kind === 'sequence') return was.steps.length === is.steps.length;
  return !(was?.kind === 'fastener' && is?.kind === 'fastener' && was.like !== is.like);
}

/** Each declaration with the one that takes its place, where names and their order stay; undefined for any other edit. */
function inPlace(state: ViewState, now: readonly ReadFile[], planned: Planned): InPlace | undefined {
  const { files, standings, variant } = state;
  if (now.length !== files.length || now.some(({ file }, i) => file !== files[i]?.file)) return undefined;
  const pairs: Pair[] = [];
  const were: Placed[] = [];
  for (const [i, file] of now.entries()) {
    const { gone, come, isInPlace } = changedDeclarations(files[i], file);
    if (!isInPlace) return undefined;
    for (const [at, old] of gone.entries()) {
      const placed = come[at];
      if (placed === undefined || keyOf(state, old) !== keyOf(state, placed)) return undefined;
      const standing = standings.get(old);
      const elsewhere = planned.get(placed);
      if (elsewhere !== undefined && elsewhere !== standing) return undefined;
      // Whether a table of grades is a thing of its own is told by all names.
      if (placed.declaration.word === 'grades' || placed.steps.length !== old.steps.length) return undefined;
      if (standing === undefined) {
        if (isSeen(placed, variant)) return undefined;
        continue;
      }
      if (!staysAlike(state, old, placed)) return undefined;
      pairs.push([standing, placed]);
      were.push(old);
    }
  }
  return { pairs, were };
}

function stretched(state: ViewState, now: readonly ReadFile[], planned: Planned): Spliced | undefined {
  const { files, standings, lists, own, listed, folded, duplicates, variant } = state;
  if (duplicates.length > 0) return undefined;
  return spliced(
    {
      ...{ files, standings, lists, own, listed, folded },
      thingIn: (placed) => thingOf(placed, variant),
      keyOf: (placed) => keyOf(state, placed),
      isEquivalent: (one, other) => isEquivalent(state, one, other),
      newHere: (placed) => newHere(state, placed),
      planned: (placed) => planned.get(placed),
      isSeen: (placed) => isSeen(placed, variant),
    },
    now,
  );
}

/** The declarations that a variant sees, and those of them that are the first file's. */
interface Seen {
  readonly all: Set<Placed>;
  readonly home: Set<Placed>;
}

function* seeing(files: readonly ReadFile[], variant: string | undefined): InPieces<Seen> {
  const all = new Set<Placed>();
  const home = new Set<Placed>();
  for (const [i, file] of files.entries())
    for (const section of file.sections) {
      for (const placed of allIn(section))
        if (isSeen(placed, variant)) {
          all.add(placed);
          if (i === 0) home.add(placed);
        }
      yield;
    }
  return { all, home };
}

/** What stood, and is free to stand for something that is new. */
interface Free {
  /** All that was free. */
  readonly all: ReadonlySet<Standing>;
  /** What of it has found no other place. */
  readonly went: Set<Standing>;
  readonly byKey: ReadonlyMap<string, Standing[]>;
}

function freeIn(state: ViewState, { all, home }: Seen): Free {
  const went = new Set<Standing>();
  const byKey = new Map<string, Standing[]>();
  for (const [placed, standing] of state.standings) {
    const wasHome = state.ownPlaced.has(placed);
    if (all.has(placed) && home.has(placed) === wasHome) continue;
    went.add(standing);
    const key = `${home.has(placed) || wasHome} ${keyOf(state, placed)}`;
    const list = byKey.get(key);
    if (list === undefined) byKey.set(key, [standing]);
    else list.push(standing);
  }
  return { all: new Set(went), went, byKey };
}

/** What stood there and stays. */
function staying({ standings }: ViewState, free: Free, placed: Placed): Standing | undefined {
  const known = standings.get(placed);
  return known === undefined || free.all.has(known) ? undefined : known;
}

/** Takes what stood for a declaration that is told apart from this one by nothing but its place. */
function taken(state: ViewState, { home }: Seen, { went, byKey }: Free, placed: Placed): Standing | undefined {
  const kind = thingOf(placed, state.variant)?.kind;
  const candidates = byKey.get(`${home.has(placed)} ${keyOf(state, placed)}`);
  const at = candidates?.findIndex((each) => each.thing?.kind === kind && went.has(each)) ?? -1;
  return at < 0 ? undefined : candidates?.splice(at, 1)[0];
}

/** What stood elsewhere and takes the place of what is new, by that. */
function* matching(state: ViewState, seen: Seen, free: Free, planned: Planned): InPieces<Map<Placed, Standing>> {
  const { all } = seen;
  const { went } = free;
  const matches = new Map<Placed, Standing>();
  const match = (placed: Placed, standing: Standing): void => {
    went.delete(standing);
    matches.set(placed, standing);
  };
  // What another variant sees alike has been found a place.
  for (const placed of all) {
    const standing = staying(state, free, placed) === undefined ? planned.get(placed) : undefined;
    if (standing !== undefined && went.has(standing)) match(placed, standing);
  }
  for (const placed of all) {
    if (staying(state, free, placed) !== undefined || planned.has(placed)) continue;
    yield;
    const found = taken(state, seen, free, placed);
    if (found !== undefined) match(placed, found);
  }
  matchRenamed(
    matches,
    (step) => {
      const standing = state.standings.get(step);
      return standing !== undefined && went.has(standing) ? standing : undefined;
    },
    (renamed) => all.has(renamed) && staying(state, free, renamed) === undefined && !planned.has(renamed),
    (one, other) => isEquivalent(state, one, other),
  );
  for (const standing of matches.values()) went.delete(standing);
  return matches;
}

/** All of a view that is built anew, before any of it is seen. */
function* rebuilding(state: ViewState, now: readonly ReadFile[], planned: Planned): InPieces<Rebuilt> {
  const real = yield* buildingView(now, state.variant);
  const seen = yield* seeing(now, state.variant);
  const free = freeIn(state, seen);
  const matches = yield* matching(state, seen, free, planned);
  const takes = [...matches].map(([placed, standing]): Pair => [standing, placed]);
  const standings = new Map<Placed, Standing>();
  const came: Standing[] = [];
  for (const placed of seen.all) {
    const standing = matches.get(placed) ?? staying(state, free, placed);
    if (standing !== undefined) {
      standings.set(placed, standing);
      continue;
    }
    const made = planned.get(placed) ?? newHere(state, placed);
    standings.set(placed, made);
    came.push(made);
  }
  return { real, home: seen.home, standings, came, went: free.went, takes };
}

/** What becomes of the view. `planned` is told what is to stand for what all see, and tells what another view has planned. */
export function* planning(state: ViewState, now: readonly ReadFile[], planned: Planned): InPieces<Plan> {
  const small = state.files.length === 0 ? undefined : (inPlace(state, now, planned) ?? stretched(state, now, planned));
  const plan = small ?? (yield* rebuilding(state, now, planned));
  const places = 'pairs' in plan ? plan.pairs : [...plan.takes, ...plan.came.map((each): Pair => [each, each.placed])];
  for (const [standing, placed] of places) if (state.together.isAlike(placed)) planned.set(placed, standing);
  return plan;
}
