// A view in which one stretch of one file says something else: what comes and goes in its names and lists, so that a name that is typed
// costs what stands round it. What is not so plain (a name that is there twice, a table of grades, the engine, a spec) is left to a view
// that is built anew.
import { changedDeclarations } from './changed-declarations.ts';
import { foldedName } from './folded-name.ts';
import type { Placed, ReadFile } from './placed.ts';
import type { Standing } from './recorded.ts';
import { matchRenamed } from './renamed-steps.ts';
import { LIST_OF, type Thing } from './view.ts';

type ThingList = (typeof LIST_OF)[Thing['kind']];

/** More declarations than this in a stretch are too many to look at one by one. */
const MOST = 64;

/** Words that say more than a name. */
const FAR_REACHING: ReadonlySet<string> = new Set(['spec', 'engine', 'grades']);

/** The view as it is, and how it sees a declaration. */
interface Spliceable {
  readonly files: readonly ReadFile[];
  readonly thingIn: (placed: Placed) => Thing | undefined;
  readonly standings: ReadonlyMap<Placed, Standing>;
  readonly lists: Readonly<Record<ThingList, readonly Standing[]>>;
  readonly own: readonly Standing[];
  readonly listed: ReadonlySet<Standing>;
  /** By their names without capitals. */
  readonly folded: ReadonlyMap<string, Standing>;
  readonly isSeen: (placed: Placed) => boolean;
  readonly keyOf: (placed: Placed) => string;
  /** Whether one may take the place of the other under another name. */
  readonly isEquivalent: (one: Placed, other: Placed) => boolean;
  readonly newHere: (placed: Placed) => Standing;
  /** What another variant has found for a declaration that all see alike. */
  readonly planned: (placed: Placed) => Standing | undefined;
}

/** What becomes of a view. */
export interface Spliced {
  /** All that is seen in the stretch, before and now, in order. */
  readonly were: readonly Placed[];
  readonly are: readonly (readonly [Standing, Placed])[];
  readonly isHome: boolean;
  readonly takes: readonly (readonly [Standing, Placed])[];
  readonly came: readonly Standing[];
  readonly went: readonly Standing[];
  /** Those of the stretch that have a name, by it, now and before. */
  readonly named: ReadonlyMap<string, Standing>;
  readonly wereNamed: ReadonlyMap<string, Standing>;
  readonly lists: ReadonlyMap<ThingList, readonly Standing[]>;
  readonly own: readonly Standing[];
}

/** The steps that stand in the sequences among some declarations, and whether a step stands in none of them. */
function stepsAmong(all: readonly Placed[], { thingIn }: Spliceable) {
  const [held, known] = [new Set<Placed>(), new Set<Placed>()];
  for (const placed of all) {
    if (placed.declaration.word !== 'sequence') continue;
    for (const step of placed.steps) if (step !== undefined) known.add(step);
    const thing = thingIn(placed);
    if (thing?.kind === 'sequence') for (const step of thing.steps) held.add(step.placed);
  }
  return { held, isLoose: all.some((placed) => placed.declaration.word === 'step' && !known.has(placed)) };
}

/** The declarations that stand in the stretch now, each with what it was, where it was there; undefined where another variant has it from elsewhere. */
function matched(
  were: readonly Standing[],
  placed: readonly Placed[],
  { standings, keyOf, thingIn, isEquivalent, newHere, planned }: Spliceable,
) {
  const stays = new Set(placed.flatMap((each) => standings.get(each) ?? []));
  const free = were.filter((standing) => !stays.has(standing));
  const matches = new Map<Placed, Standing>();
  for (const each of placed) {
    if (standings.has(each)) continue;
    const kind = thingIn(each)?.kind;
    const known = planned(each);
    // One that has just come is nobody else.
    if (known !== undefined && known.placed !== each && !free.includes(known)) return undefined;
    const at = free.findIndex((other) =>
      known === undefined ? keyOf(other.placed) === keyOf(each) && other.thing?.kind === kind : other === known,
    );
    const [match] = at < 0 ? [] : free.splice(at, 1);
    if (match !== undefined) matches.set(each, match);
  }
  const isHere = new Set(placed);
  matchRenamed(
    matches,
    (step) => free.find((standing) => standing.placed === step),
    (renamed) => isHere.has(renamed) && !standings.has(renamed) && planned(renamed) === undefined,
    isEquivalent,
  );
  const came: Standing[] = [];
  const are = placed.map((each) => {
    const known = standings.get(each) ?? matches.get(each);
    if (known !== undefined) return [known, each] as const;
    const standing = planned(each) ?? newHere(each);
    came.push(standing);
    return [standing, each] as const;
  });
  const taken = new Set(matches.values());
  const takes = [...matches].map(([each, standing]) => [standing, each] as const);
  return { are, takes, came, went: free.filter((standing) => !taken.has(standing)) };
}

/** A list in order with some of it in the place of others that stood in a row; undefined where it can't be told where that is. */
function inPlaceOf(
  list: readonly Standing[],
  were: readonly Standing[],
  are: readonly Standing[],
  before: () => Standing | undefined | 'unknown',
): readonly Standing[] | undefined {
  const [first] = were;
  const nearest = first === undefined ? before() : undefined;
  if (nearest === 'unknown') return undefined;
  const at = first !== undefined ? list.indexOf(first) : nearest === undefined ? 0 : list.indexOf(nearest) + 1;
  if (at < 0 || !were.every((standing, i) => list[at + i] === standing)) return undefined;
  return [...list.slice(0, at), ...are, ...list.slice(at + were.length)];
}

/** What becomes of a view with a reading of its files; undefined where it has to be built anew. */
export function spliced(view: Spliceable, now: readonly ReadFile[]): Spliced | undefined {
  const { files, thingIn, standings, listed, folded } = view;
  if (now.length !== files.length || now.some(({ file }, i) => file !== files[i]?.file)) return undefined;
  const number = now.findIndex((file, i) => file !== files[i]);
  const file = now[number];
  if (file === undefined || now.some((each, i) => i > number && each !== files[i])) return undefined;
  const changes = changedDeclarations(files[number], file);
  const were = changes.were.flatMap((placed) => standings.get(placed) ?? []);
  const placed = changes.are.filter(view.isSeen);
  if (changes.were.length + changes.are.length > MOST) return undefined;
  if ([...changes.were, ...changes.are].some(({ declaration }) => FAR_REACHING.has(declaration.word))) return undefined;
  const [stepsBefore, steps] = [stepsAmong(changes.were, view), stepsAmong(changes.are, view)];
  if (stepsBefore.isLoose || steps.isLoose) return undefined;

  const match = matched(were, placed, view);
  if (match === undefined) return undefined;
  const { are, takes, came, went } = match;
  const listedNow = are.flatMap(([standing, each]) => {
    const thing = thingIn(each);
    return thing !== undefined && (each.declaration.word !== 'step' || steps.held.has(each)) ? { standing, thing } : [];
  });
  const namesOf = (all: readonly Standing[]): readonly string[] =>
    all.map(({ thing }) => foldedName(thing?.name ?? ''));
  const wereNamed = were.filter((standing) => listed.has(standing));
  const names = listedNow.map(({ thing }) => foldedName(thing.name));
  const touched = new Set([...namesOf(wereNamed), ...names]);
  const isOfStretch = new Set(wereNamed);
  const isTwice =
    new Set(names).size < names.length ||
    [...touched].some((name) => {
      const known = folded.get(name);
      return known !== undefined && !isOfStretch.has(known);
    });
  if (isTwice || namesOf(view.lists.grades).some((name) => touched.has(name))) return undefined;

  const nearest = (isIn: (standing: Standing) => boolean) => (): Standing | undefined | 'unknown' => {
    for (const each of changes.before()) {
      const standing = standings.get(each);
      if (standing !== undefined && isIn(standing)) return standing;
    }
    return number === 0 ? undefined : 'unknown';
  };
  const lists = new Map<ThingList, readonly Standing[]>();
  for (const list of Object.values(LIST_OF)) {
    const isOf = ({ thing }: Standing): boolean => thing !== undefined && LIST_OF[thing.kind] === list;
    const [old, is] = [
      wereNamed.filter(isOf),
      listedNow.flatMap(({ standing, thing }) => (LIST_OF[thing.kind] === list ? standing : [])),
    ];
    if (old.length === is.length && old.every((each, i) => each === is[i])) continue;
    const next = inPlaceOf(
      view.lists[list],
      old,
      is,
      nearest((standing) => listed.has(standing) && isOf(standing)),
    );
    if (next === undefined) return undefined;
    lists.set(list, next);
  }
  const isHome = number === 0;
  const all = are.map(([standing]) => standing);
  const own = isHome
    ? inPlaceOf(
        view.own,
        were,
        all,
        nearest(() => true),
      )
    : view.own;
  if (own === undefined) return undefined;
  return {
    ...{ are, isHome, takes, came, went, lists, own },
    were: were.map((standing) => standing.placed),
    named: new Map(listedNow.map(({ standing, thing }) => [thing.name, standing])),
    wereNamed: new Map(wereNamed.map((standing) => [standing.thing?.name ?? '', standing])),
  };
}
