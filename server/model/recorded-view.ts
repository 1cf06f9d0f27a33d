// A view as questions see it, over all edits: who looks a name up, goes through a list or asks for a flag is asked again when that is
// another. An edit that leaves names and their order alone changes the declarations that it is in; for any other the view is built
// anew and held against the one of before. Single declarations are in recorded.ts.
import type { InPieces } from '../../grammar/give-way.ts';
import { type BuiltView, buildingView, perhapsIn, thingOf } from './build-view.ts';
import { allIn, changedDeclarations } from './changed-declarations.ts';
import { engineOf } from './declared-data.ts';
import { foldedName } from './folded-name.ts';
import { likeNames, likened, type OwnText } from './likeness.ts';
import { isSeen, type Placed, type ReadFile, statementsFor } from './placed.ts';
import { type Asked, noteDiffering, sourcesRead } from './questions.ts';
import { type Among, becomes, type Declares, newStanding, type Standing } from './recorded.ts';
import {
  type Flag,
  type ListName,
  type Member,
  type Planned,
  sameItems,
  sameNames,
  THING_LISTS,
  type ThingList,
  type Together,
} from './recorded-together.ts';
import { matchRenamed } from './renamed-steps.ts';
import { type Spliced, spliced } from './spliced.ts';
import { flagIn } from './statements.ts';
import type { Duplicate, Thing } from './view.ts';

export interface RecordedView {
  /** The view that checks and the rehearsal are given. */
  readonly view: BuiltView;
  /** Whether there is no other variant. */
  readonly isOne: boolean;
  /**
   * The declarations of the first file that are looked at for the variant, in order, each `when` too; the same list as long as they are the same.
   */
  readonly own: () => readonly Standing[];
  /** What a declaration is among those that are looked at. */
  readonly standingOf: (placed: Placed) => Standing | undefined;
  /** The names that were looked up to answer a question, in the order met. */
  namesRead(question: Asked): readonly string[];
  /** The thing that a declaration declares; undefined for one that only changes another. */
  thingOf(standing: Standing): Thing | undefined;
}

/** The view of one variant, and how it follows an edit: what becomes of it is told before any of it is seen. */
export interface Following {
  readonly recorded: RecordedView;
  /** `planned` is told what is to stand for what all see, and tells what another view has planned. */
  plan(files: readonly ReadFile[], planned: Planned): InPieces<Plan>;
  take(files: readonly ReadFile[], incomplete: boolean, how: Plan): ViewUpdate;
}

export type Plan = Rebuilt | Spliced | InPlace;

export interface ViewUpdate {
  readonly differs: readonly Standing[];
  readonly came: readonly Standing[];
  readonly went: readonly Standing[];
}

/** Declarations with those that take their place. */
type Pairs = readonly Pair[];
type Pair = readonly [Standing, Placed];

/** Those that take the place of others one for one, and where those stood. */
interface InPlace {
  readonly pairs: Pairs;
  readonly were: readonly Placed[];
}

/** A view that is built anew, and what becomes of the declarations of the one before. */
interface Rebuilt {
  readonly real: BuiltView;
  readonly home: Set<Placed>;
  readonly standings: Map<Placed, Standing>;
  readonly came: readonly Standing[];
  readonly went: ReadonlySet<Standing>;
  readonly takes: Pairs;
}

interface Taken {
  readonly differs: Set<Standing>;
  readonly came: readonly Standing[];
  readonly went: readonly Standing[];
}

/** A draft that its own first spec says to be one. */
function isDraft(specs: readonly Placed[], home: string, variant: string | undefined): boolean {
  const own = specs[0];
  return (
    own !== undefined && own.file === home && flagIn(statementsFor(own.declaration.body?.statements, variant), 'draft')
  );
}

/** The view of a variant, of no files yet; `at` is its number among those that stand together. */
export function following(variant: string | undefined, at: number, together: Together): Following {
  let files: readonly ReadFile[] = [];
  let standings = new Map<Placed, Standing>();
  let own: readonly Standing[] = [];
  let listed = new Set<Standing>();
  let names = new Map<string, Standing>();
  /** By their names without capitals, the first of each. */
  let folded = new Map<string, Standing>();
  /** Those that have names, in the order of the view; looked for when they are asked for. */
  let namedInOrder: readonly Standing[] | undefined;
  let lists: Record<ListName, readonly Standing[]> = {
    ...(Object.fromEntries(THING_LISTS.map((list) => [list, []])) as unknown as Record<ThingList, []>),
    specs: [],
    engines: [],
  };
  let duplicates: readonly Duplicate[] = [];
  /** Fasteners that take from others. */
  let likes: readonly Standing[] = [];
  let perhaps: ReadonlySet<string> = new Set();
  let incomplete = false;
  let draft = false;

  /** Who asks something of the view, and of no question in hand, looks at its variant from here on. */
  const looked = (): void => together.looksAt(at);
  const read = <value>(flag: Flag, value: value): value => {
    looked();
    together.noteFlag(flag);
    return value;
  };
  const tell = (key: ListName | Flag | 'all'): void => together.tell(key);

  const standingOf = (placed: Placed): Standing | undefined => standings.get(placed);
  const among: Among = { seenOf: standingOf, isOfSome: !together.isOne, at: 0 };
  /** What a declaration says by itself. */
  const thingIn = (placed: Placed): Thing | undefined => thingOf(placed, variant);
  /** What a declaration declares for each variant that it stands for as one, or once where it is the same for all. */
  const declaredBy = (placed: Placed): readonly Declares[] => {
    const isEngine = placed.declaration.word === 'engine';
    if (!together.isAlike(placed))
      return [{ thing: thingAt(placed), engine: isEngine ? engineOf(placed, variant) : undefined }];
    const [first, ...others] = together.variants.map((each) => ({
      thing: thingOf(placed, each),
      engine: isEngine ? engineOf(placed, each) : undefined,
    }));
    if (first === undefined) return [];
    const isSame = others.every(({ thing, engine }) => thing === first.thing && engine === first.engine);
    return isSame ? [first] : [first, ...others];
  };
  const newHere = (placed: Placed): Standing =>
    newStanding(placed, declaredBy(placed), together.isAlike(placed) ? together.among : among);
  const ownText: OwnText = (name) => {
    const placed = names.get(name)?.placed;
    return placed === undefined ? undefined : thingIn(placed);
  };
  /** What a declaration says; of a fastener with what it takes from others. */
  const thingAt = (placed: Placed): Thing | undefined => {
    const thing = thingIn(placed);
    return thing?.kind === 'fastener' && thing.like !== undefined ? likened(thing, ownText) : thing;
  };

  const seenLists = new Map<ListName, readonly unknown[]>();
  const seenList = (list: ListName): readonly unknown[] => {
    looked();
    together.noteList(list);
    let seen = seenLists.get(list);
    if (seen === undefined) {
      const asPlaced = list === 'specs' || list === 'engines';
      seen = lists[list].flatMap((each) => (asPlaced ? each.asPlaced : (each.asThing ?? [])));
      seenLists.set(list, seen);
    }
    return seen;
  };
  /** Goes through all that stand, in order. */
  const eachStanding = (look: (standing: Standing) => void): void => {
    for (const { sections } of files)
      for (const section of sections)
        for (const placed of allIn(section)) {
          const standing = standings.get(placed);
          if (standing !== undefined) look(standing);
        }
  };
  /** Tables of grades that stand for a thing of their own come last. */
  const inOrder = (): readonly Standing[] => {
    // A name that is declared twice stands where it was declared first: such a view was built anew, and its names stand in order.
    if (namedInOrder === undefined && duplicates.length > 0) namedInOrder = [...names.values()];
    if (namedInOrder === undefined) {
      const now: Standing[] = [];
      const tables: Standing[] = [];
      eachStanding((standing) => {
        const { thing } = standing;
        if (thing !== undefined && names.get(thing.name) === standing)
          (thing.kind === 'grades' ? tables : now).push(standing);
      });
      for (const standing of tables) now.push(standing);
      namedInOrder = now;
    }
    return namedInOrder;
  };
  /** All that is named, in order, tracked as looked through. */
  const allNamed = (): readonly Standing[] => {
    looked();
    together.noteAll();
    return inOrder();
  };
  function* entries(): Generator<[string, Thing], undefined> {
    for (const { thing, asThing } of allNamed())
      if (thing !== undefined && asThing !== undefined) yield [thing.name, asThing];
  }
  const things: ReadonlyMap<string, Thing> = {
    get(name) {
      looked();
      together.noteName(name);
      return names.get(name)?.asThing;
    },
    has(name) {
      looked();
      together.noteName(name);
      return names.has(name);
    },
    get size() {
      looked();
      together.noteAll();
      return names.size;
    },
    forEach(each) {
      for (const [name, thing] of entries()) each(thing, name, things);
    },
    entries,
    keys: () =>
      allNamed()
        .flatMap(({ thing }) => thing?.name ?? [])
        .values(),
    values: () =>
      allNamed()
        .flatMap(({ asThing }) => asThing ?? [])
        .values(),
    [Symbol.iterator]: entries,
  };
  const view = Object.defineProperties({} as BuiltView, {
    variant: {
      enumerable: true,
      get() {
        looked();
        if (!together.isOne) noteDiffering();
        return variant;
      },
    },
    things: { enumerable: true, value: things },
    engine: {
      enumerable: true,
      get() {
        looked();
        together.noteFlag('engine');
        return lists.engines[0]?.asEngine;
      },
    },
    duplicates: {
      enumerable: true,
      get() {
        looked();
        together.noteFlag('duplicates');
        return duplicates.map(({ first: one, second }) => ({
          first: standings.get(one)?.asPlaced ?? one,
          second: standings.get(second)?.asPlaced ?? second,
        }));
      },
    },
    draft: { enumerable: true, get: () => read('draft', draft) },
    incomplete: { enumerable: true, get: () => read('incomplete', incomplete) },
    perhaps: { enumerable: true, get: () => read('perhaps', perhaps) },
    ...Object.fromEntries(
      [...THING_LISTS, 'specs' as const, 'engines' as const].map((list) => [
        list,
        { enumerable: true, get: () => seenList(list) },
      ]),
    ),
  });

  let ownPlaced = new Set<Placed>();
  const isOfHome = (placed: Placed): boolean => ownPlaced.has(placed);
  const keyOf = (placed: Placed): string => {
    const { file, declaration, when } = placed;
    const name = declaration.name?.text ?? declaration.changed?.word ?? '';
    return `${declaration.word} ${name} ${when.join(' ')} ${file} ${together.isAlike(placed)}`;
  };

  /** Whether one step may take the place of another under another name. */
  const isEquivalent = (one: Placed, other: Placed): boolean =>
    thingIn(one)?.kind === thingIn(other)?.kind && together.isAlike(one) === together.isAlike(other);

  /** Fasteners that take from others: what those say may be another now. */
  const takeLikes = (differs: Set<Standing>): void => {
    for (const standing of likes) {
      const { placed, thing } = standing;
      const now = thingAt(placed);
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
  };

  const takeFlags = (isIncomplete: boolean): void => {
    const specs = lists.specs.map(({ placed }) => placed);
    const isDraftNow = isDraft(specs, files[0]?.file ?? '', variant);
    if (isDraftNow !== draft) {
      draft = isDraftNow;
      tell('draft');
    }
    if (isIncomplete !== incomplete) {
      incomplete = isIncomplete;
      tell('incomplete');
    }
    const names = perhapsIn(files);
    if (names !== perhaps) {
      perhaps = names;
      tell('perhaps');
    }
  };

  /** Each declaration with the one that takes its place, where names and their order stay; undefined for any other edit. */
  const inPlace = (now: readonly ReadFile[], planned: Planned): InPlace | undefined => {
    if (now.length !== files.length || now.some(({ file }, i) => file !== files[i]?.file)) return undefined;
    const pairs: Pair[] = [];
    const were: Placed[] = [];
    for (const [i, file] of now.entries()) {
      const { gone, come, isInPlace } = changedDeclarations(files[i], file);
      if (!isInPlace) return undefined;
      for (const [at, old] of gone.entries()) {
        const placed = come[at];
        if (placed === undefined || keyOf(old) !== keyOf(placed)) return undefined;
        const standing = standings.get(old);
        const elsewhere = planned.get(placed);
        if (elsewhere !== undefined && elsewhere !== standing) return undefined;
        // Whether a table of grades is a thing of its own is told by all names.
        if (placed.declaration.word === 'grades' || placed.steps.length !== old.steps.length) return undefined;
        if (standing === undefined) {
          if (isSeen(placed, variant)) return undefined;
          continue;
        }
        const [was, is] = [thingIn(old), thingIn(placed)];
        if (was?.kind !== is?.kind) return undefined;
        if (was?.kind === 'sequence' && is?.kind === 'sequence' && was.steps.length !== is.steps.length)
          return undefined;
        if (was?.kind === 'fastener' && is?.kind === 'fastener' && was.like !== is.like) return undefined;
        pairs.push([standing, placed]);
        were.push(old);
      }
    }
    return { pairs, were };
  };

  const stretched = (now: readonly ReadFile[], planned: Planned): Spliced | undefined =>
    duplicates.length > 0
      ? undefined
      : spliced(
          {
            ...{ files, thingIn, standings, lists, own, listed, folded, keyOf, isEquivalent, newHere },
            planned: (placed) => planned.get(placed),
            isSeen: (placed) => isSeen(placed, variant),
          },
          now,
        );

  /** All of a view that is built anew, before any of it is seen. */
  function* rebuilding(now: readonly ReadFile[], planned: Planned): InPieces<Rebuilt> {
    const real = yield* buildingView(now, variant);
    const free = new Map<string, Standing[]>();
    const all = new Set<Placed>();
    const home = new Set<Placed>();
    for (const [i, file] of now.entries())
      for (const section of file.sections) {
        for (const placed of allIn(section))
          if (isSeen(placed, variant)) {
            all.add(placed);
            if (i === 0) home.add(placed);
          }
        yield;
      }
    const went = new Set<Standing>();
    for (const [placed, standing] of standings) {
      if (all.has(placed) && home.has(placed) === ownPlaced.has(placed)) continue;
      went.add(standing);
      const key = `${home.has(placed) || ownPlaced.has(placed)} ${keyOf(placed)}`;
      const list = free.get(key);
      if (list === undefined) free.set(key, [standing]);
      else list.push(standing);
    }
    const left: ReadonlySet<Standing> = new Set(went);
    /** What stood there and stays. */
    const staying = (placed: Placed): Standing | undefined => {
      const known = standings.get(placed);
      return known === undefined || left.has(known) ? undefined : known;
    };
    const next = new Map<Placed, Standing>();
    const came: Standing[] = [];
    const matches = new Map<Placed, Standing>();
    const match = (placed: Placed, standing: Standing): void => {
      went.delete(standing);
      matches.set(placed, standing);
    };
    // What another variant sees alike has been found a place.
    for (const placed of all) {
      const standing = staying(placed) === undefined ? planned.get(placed) : undefined;
      if (standing !== undefined && went.has(standing)) match(placed, standing);
    }
    for (const placed of all) {
      if (staying(placed) !== undefined || planned.has(placed)) continue;
      yield;
      const kind = thingIn(placed)?.kind;
      const candidates = free.get(`${home.has(placed)} ${keyOf(placed)}`);
      const at = candidates?.findIndex((each) => each.thing?.kind === kind && went.has(each)) ?? -1;
      const [found] = at < 0 ? [] : (candidates?.splice(at, 1) ?? []);
      if (found !== undefined) match(placed, found);
    }
    matchRenamed(
      matches,
      (step) => {
        const standing = standings.get(step);
        return standing !== undefined && went.has(standing) ? standing : undefined;
      },
      (renamed) => all.has(renamed) && staying(renamed) === undefined && !planned.has(renamed),
      isEquivalent,
    );
    for (const standing of matches.values()) went.delete(standing);
    const takes: (readonly [Standing, Placed])[] = [...matches].map(([placed, standing]) => [standing, placed]);
    for (const placed of all) {
      const standing = matches.get(placed) ?? staying(placed);
      if (standing !== undefined) {
        next.set(placed, standing);
        continue;
      }
      const made = planned.get(placed) ?? newHere(placed);
      next.set(placed, made);
      came.push(made);
    }
    return { real, home, standings: next, came, went, takes };
  }

  /** Has a view that was built anew take the place of the one before. */
  const takeRebuilt = ({ real, home, standings: now, came, went, takes }: Rebuilt): Taken => {
    ownPlaced = home;
    standings = now;
    for (const standing of went) together.goes(standing);
    for (const standing of came) together.stands(standing, undefined);
    const there = (placed: Placed): Standing[] => {
      const standing = standings.get(placed);
      return standing === undefined ? [] : [standing];
    };
    const oldNames = names;
    names = new Map();
    for (const [name, { placed }] of real.things) {
      const standing = standings.get(placed);
      if (standing !== undefined) names.set(name, standing);
    }
    const oldLists = lists;
    lists = {
      ...(Object.fromEntries(
        THING_LISTS.map((list) => [list, real[list].flatMap(({ placed }) => there(placed))]),
      ) as unknown as Record<ThingList, readonly Standing[]>),
      specs: real.specs.flatMap(there),
      engines: real.engines.flatMap(there),
    };
    // Things are taken when all names stand: what one takes from another is found by name.
    const differs = reconcileAll(takes);
    likes = lists.fasteners.filter(({ thing }) => thing?.kind === 'fastener' && thing.like !== undefined);
    for (const standing of came) if (standing.thing?.kind === 'fastener') standing.thing = thingAt(standing.placed);
    for (const list of [...THING_LISTS, 'specs' as const, 'engines' as const]) {
      if (sameItems(oldLists[list], lists[list])) continue;
      seenLists.delete(list);
      tell(list);
      if (list === 'engines') tell('engine');
    }
    if (!sameNames(oldNames, names)) {
      tell('all');
      for (const name of together.namesLookedUp()) if (oldNames.get(name) !== names.get(name)) together.tellName(name);
    }
    const isSameTwice =
      duplicates.length === real.duplicates.length &&
      duplicates.every(
        ({ first: one, second }, i) => one === real.duplicates[i]?.first && second === real.duplicates[i]?.second,
      );
    duplicates = real.duplicates;
    if (!isSameTwice) tell('duplicates');
    listed = new Set(THING_LISTS.flatMap((list) => lists[list]));
    folded = new Map();
    for (const [name, standing] of names) folded.set(foldedName(name), standing);
    namedInOrder = undefined;
    own = [...home].flatMap(there);
    return { differs, came: came.filter(({ placed }) => home.has(placed)), went: [...went] };
  };

  /** Has what stands in one stretch take the place of what stood there. */
  const takeSpliced = (change: Spliced): Taken => {
    const { were, are, isHome, takes, came, went, named, wereNamed, own: ownNow } = change;
    for (const standing of went) together.goes(standing);
    for (const standing of came) together.stands(standing, undefined);
    for (const placed of were) standings.delete(placed);
    for (const [standing, placed] of are) standings.set(placed, standing);
    if (isHome) {
      for (const placed of were) ownPlaced.delete(placed);
      for (const [, placed] of are) ownPlaced.add(placed);
    }
    own = ownNow;
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
    lists = { ...lists, ...Object.fromEntries(change.lists) };
    const differs = reconcileAll(takes);
    likes = lists.fasteners.filter(({ thing }) => thing?.kind === 'fastener' && thing.like !== undefined);
    for (const standing of came) if (standing.thing?.kind === 'fastener') standing.thing = thingAt(standing.placed);
    for (const list of change.lists.keys()) {
      seenLists.delete(list);
      tell(list);
    }
    namedInOrder = undefined;
    if (!sameNames(wereNamed, named)) {
      tell('all');
      for (const name of new Set([...wereNamed.keys(), ...named.keys()]))
        if (wereNamed.get(name) !== names.get(name)) together.tellName(name);
    }
    return { differs, came: isHome ? came : [], went };
  };

  /** A declaration is read anew. One that says what it said, elsewhere, is no other. */
  const reconcile = (standing: Standing, placed: Placed, differs: Set<Standing>): void => {
    let isAnother = together.reconciled.get(standing);
    if (isAnother === undefined) {
      const before = standing.placed;
      const steps = standing.asPlaced.steps;
      becomes(standing, placed, declaredBy(placed));
      together.stands(standing, before);
      isAnother =
        before.parsed !== placed.parsed ||
        before.origin !== placed.origin ||
        !sameItems(steps, standing.asPlaced.steps);
      together.reconciled.set(standing, isAnother);
    }
    if (isAnother) differs.add(standing);
  };
  const reconcileAll = (takes: Pairs): Set<Standing> => {
    const differs = new Set<Standing>();
    // Steps come before what holds them.
    for (const [standing, placed] of takes) if (placed.steps.length === 0) reconcile(standing, placed, differs);
    for (const [standing, placed] of takes) if (placed.steps.length > 0) reconcile(standing, placed, differs);
    return differs;
  };

  const takeInPlace = ({ pairs, were }: InPlace): Taken => {
    const places = new Map(were.map((placed, i) => [placed, pairs[i]?.[1] ?? placed]));
    const areOwn = were.map(isOfHome);
    for (const placed of were) standings.delete(placed);
    for (const [standing, placed] of pairs) standings.set(placed, standing);
    for (const [i, placed] of were.entries())
      if (areOwn[i] === true) {
        ownPlaced.delete(placed);
        ownPlaced.add(places.get(placed) ?? placed);
      }
    if (duplicates.some(({ first: one, second }) => places.has(one) || places.has(second))) {
      duplicates = duplicates.map(({ first: one, second }) => ({
        first: places.get(one) ?? one,
        second: places.get(second) ?? second,
      }));
      tell('duplicates');
    }
    return { differs: reconcileAll(pairs), came: [], went: [] };
  };

  function* plan(now: readonly ReadFile[], planned: Planned): InPieces<Plan> {
    const how =
      (files.length === 0 ? undefined : (inPlace(now, planned) ?? stretched(now, planned))) ??
      (yield* rebuilding(now, planned));
    const places = 'pairs' in how ? how.pairs : [...how.takes, ...how.came.map((each): Pair => [each, each.placed])];
    for (const [standing, placed] of places) if (together.isAlike(placed)) planned.set(placed, standing);
    return how;
  }
  const take = (now: readonly ReadFile[], isIncomplete: boolean, how: Plan): ViewUpdate => {
    const result = 'real' in how ? takeRebuilt(how) : 'pairs' in how ? takeInPlace(how) : takeSpliced(how);
    files = now;
    takeLikes(result.differs);
    takeFlags(isIncomplete);
    return {
      differs: [...result.differs].filter(({ placed }) => isOfHome(placed)),
      came: result.came,
      went: result.went,
    };
  };
  const member: Member = {
    names: () => names,
    list: (list) => lists[list],
    flag(flag) {
      if (flag === 'engine') return lists.engines[0]?.placed;
      if (flag === 'duplicates') return duplicates.length === 0 ? 0 : duplicates;
      return flag === 'draft' ? draft : flag === 'incomplete' ? incomplete : perhaps;
    },
  };
  together.members.push(member);
  const recorded: RecordedView = {
    view,
    isOne: together.isOne,
    own: () => own,
    standingOf,
    namesRead(question) {
      return [
        ...new Set(
          sourcesRead(question).flatMap((cell) => {
            const { of: name } = cell;
            if (typeof name !== 'string') return [];
            const thing = names.get(name)?.thing;
            return thing?.kind === 'fastener' ? [name, ...likeNames(thing, ownText)] : [name];
          }),
        ),
      ];
    },
    thingOf: (standing) => (listed.has(standing) ? standing.asThing : undefined),
  };
  return { recorded, plan, take };
}
