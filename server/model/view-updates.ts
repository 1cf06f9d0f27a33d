// A view becomes what was planned for it with an edit: declarations come to stand, stand for something else, or go, and who asked for what is another
// now is told.
import { perhapsIn } from './build-view.ts';
import { foldedName } from './folded-name.ts';
import { type Placed, type ReadFile, statementsFor } from './placed.ts';
import { becomes, type Standing } from './recorded.ts';
import { sameItems, sameNames, THING_LISTS } from './recorded-together.ts';
import type { Spliced } from './spliced.ts';
import { flagIn } from './statements.ts';
import type { Duplicate } from './view.ts';
import type { InPlace, Pairs, Plan, Rebuilt } from './view-plans.ts';
import { declaredBy, listsOf, thingAt, type ViewState } from './view-state.ts';

/** Which declarations of the first file say something else, which came and which went. */
export interface ViewUpdate {
  readonly differs: readonly Standing[];
  readonly came: readonly Standing[];
  readonly went: readonly Standing[];
}

interface Taken {
  readonly differs: Set<Standing>;
  readonly came: readonly Standing[];
  readonly went: readonly Standing[];
}

/** A declaration is read anew. One that says what it said, elsewhere, is no other. */
function reconcile(state: ViewState, standing: Standing, placed: Placed, differs: Set<Standing>): void {
  const { together } = state;
  let isAnother = together.reconciled.get(standing);
  if (isAnother === undefined) {
    const before = standing.placed;
    const steps = standing.asPlaced.steps;
    becomes(standing, placed, declaredBy(state, placed));
    together.stands(standing, before);
    isAnother =
      before.parsed !== placed.parsed || before.origin !== placed.origin || !sameItems(steps, standing.asPlaced.steps);
    together.reconciled.set(standing, isAnother);
  }
  if (isAnother) differs.add(standing);
}

function reconcileAll(state: ViewState, takes: Pairs): Set<Standing> {
  const differs = new Set<Standing>();
  // Steps come before what holds them.
  for (const [standing, placed] of takes) if (placed.steps.length === 0) reconcile(state, standing, placed, differs);
  for (const [standing, placed] of takes) if (placed.steps.length > 0) reconcile(state, standing, placed, differs);
  return differs;
}

/** Things are taken when all names stand: what one takes from another is found by name. */
function takeThings(state: ViewState, takes: Pairs, came: readonly Standing[]): Set<Standing> {
  const differs = reconcileAll(state, takes);
  state.likes = state.lists.fasteners.filter(({ thing }) => thing?.kind === 'fastener' && thing.like !== undefined);
  for (const standing of came)
    if (standing.thing?.kind === 'fastener') standing.thing = thingAt(state, standing.placed);
  return differs;
}

const sameTwice = (some: readonly Duplicate[], others: readonly Duplicate[]): boolean =>
  some.length === others.length &&
  some.every(({ first, second }, i) => first === others[i]?.first && second === others[i]?.second);

/** Has a view that was built anew take the place of the one before. */
function takeRebuilt(state: ViewState, { real, home, standings, came, went, takes }: Rebuilt): Taken {
  const { together, names: oldNames, lists: oldLists } = state;
  state.ownPlaced = home;
  state.standings = standings;
  for (const standing of went) together.goes(standing);
  for (const standing of came) together.stands(standing, undefined);
  const there = (placed: Placed): Standing[] => {
    const standing = standings.get(placed);
    return standing === undefined ? [] : [standing];
  };
  state.names = new Map();
  for (const [name, { placed }] of real.things) {
    const standing = standings.get(placed);
    if (standing !== undefined) state.names.set(name, standing);
  }
  state.lists = listsOf(
    (list) => real[list].flatMap(({ placed }) => there(placed)),
    (list) => real[list].flatMap(there),
  );
  const differs = takeThings(state, takes, came);
  for (const list of [...THING_LISTS, 'specs' as const, 'engines' as const]) {
    if (sameItems(oldLists[list], state.lists[list])) continue;
    state.seenLists.delete(list);
    together.tell(list);
    if (list === 'engines') together.tell('engine');
  }
  if (!sameNames(oldNames, state.names)) {
    together.tell('all');
    for (const name of together.namesLookedUp())
      if (oldNames.get(name) !== state.names.get(name)) together.tellName(name);
  }
  const isSameTwice = sameTwice(state.duplicates, real.duplicates);
  state.duplicates = real.duplicates;
  if (!isSameTwice) together.tell('duplicates');
  state.listed = new Set(THING_LISTS.flatMap((list) => state.lists[list]));
  state.folded = new Map();
  for (const [name, standing] of state.names) state.folded.set(foldedName(name), standing);
  state.namedInOrder = undefined;
  state.own = [...home].flatMap(there);
  return { differs, came: came.filter(({ placed }) => home.has(placed)), went: [...went] };
}

/** Has what stands in one stretch take the place of what stood there. */
function takeSpliced(state: ViewState, change: Spliced): Taken {
  const { together, standings, ownPlaced, listed, names, folded } = state;
  const { were, are, isHome, takes, came, went, named, wereNamed, own } = change;
  for (const standing of went) together.goes(standing);
  for (const standing of came) together.stands(standing, undefined);
  for (const placed of were) standings.delete(placed);
  for (const [standing, placed] of are) standings.set(placed, standing);
  if (isHome) {
    for (const placed of were) ownPlaced.delete(placed);
    for (const [, placed] of are) ownPlaced.add(placed);
  }
  state.own = own;
  for (const [name, standing] of wereNamed) {
    listed.delete(standing);
    names.delete(name);
    folded.delete(foldedName(name));
  }
  for (const [name, standing] of named) {
    listed.add(standing);
    names.set(name, standing);
    folded.set(foldedName(name), standing);
  }
  state.lists = { ...state.lists, ...Object.fromEntries(change.lists) };
  const differs = takeThings(state, takes, came);
  for (const list of change.lists.keys()) {
    state.seenLists.delete(list);
    together.tell(list);
  }
  state.namedInOrder = undefined;
  if (!sameNames(wereNamed, named)) {
    together.tell('all');
    for (const name of new Set([...wereNamed.keys(), ...named.keys()]))
      if (wereNamed.get(name) !== names.get(name)) together.tellName(name);
  }
  return { differs, came: isHome ? came : [], went };
}

function takeInPlace(state: ViewState, { pairs, were }: InPlace): Taken {
  const { together, standings, ownPlaced } = state;
  const places = new Map(were.map((placed, i) => [placed, pairs[i]?.[1] ?? placed]));
  const areOwn = were.map((placed) => ownPlaced.has(placed));
  for (const placed of were) standings.delete(placed);
  for (const [standing, placed] of pairs) standings.set(placed, standing);
  for (const [i, placed] of were.entries())
    if (areOwn[i] === true) {
      ownPlaced.delete(placed);
      ownPlaced.add(places.get(placed) ?? placed);
    }
  if (state.duplicates.some(({ first, second }) => places.has(first) || places.has(second))) {
    state.duplicates = state.duplicates.map(({ first, second }) => ({
      first: places.get(first) ?? first,
      second: places.get(second) ?? second,
    }));
    together.tell('duplicates');
  }
  return { differs: reconcileAll(state, pairs), came: [], went: [] };
}

/** Fasteners that take from others: what those say may be another now. */
function takeLikes(state: ViewState, differs: Set<Standing>): void {
  for (const standing of state.likes) {
    const { placed, thing } = standing;
    const now = thingAt(state, placed);
    if (thing?.kind !== 'fastener' || now?.kind !== 'fastener') continue;
    const isSame =
      now.thread === thing.thread &&
      now.strengthClass === thing.strengthClass &&
      now.surface === thing.surface &&
      now.fitted === thing.fitted &&
      now.into === thing.into;
    if (isSame) continue;
    becomes(standing, placed, [{ thing: now, engine: undefined }]);
    differs.add(standing);
  }
}

/** A draft that its own first spec says to be one. */
function isDraft({ lists, files, variant }: ViewState): boolean {
  const own = lists.specs[0]?.placed;
  return (
    own !== undefined &&
    own.file === (files[0]?.file ?? '') &&
    flagIn(statementsFor(own.declaration.body?.statements, variant), 'draft')
  );
}

function takeFlags(state: ViewState, isIncomplete: boolean): void {
  const { together } = state;
  const isDraftNow = isDraft(state);
  if (isDraftNow !== state.draft) {
    state.draft = isDraftNow;
    together.tell('draft');
  }
  if (isIncomplete !== state.incomplete) {
    state.incomplete = isIncomplete;
    together.tell('incomplete');
  }
  const names = perhapsIn(state.files);
  if (names !== state.perhaps) {
    state.perhaps = names;
    together.tell('perhaps');
  }
}

/** Has the view become what was planned. */
export function takePlan(state: ViewState, now: readonly ReadFile[], isIncomplete: boolean, plan: Plan): ViewUpdate {
  const { differs, came, went } =
    'real' in plan ? takeRebuilt(state, plan) : 'pairs' in plan ? takeInPlace(state, plan) : takeSpliced(state, plan);
  state.files = now;
  takeLikes(state, differs);
  takeFlags(state, isIncomplete);
  return { differs: [...differs].filter(({ placed }) => state.ownPlaced.has(placed)), came, went };
}
