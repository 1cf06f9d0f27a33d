// A view as questions see it, over all edits: who looks a name up, goes through a list or asks for a flag is asked again when that is
// another. An edit that leaves names and their order alone changes the declarations that it is in; for any other the view is built
// anew and held against the one of before. Single declarations are in recorded.ts.
import { atOnce, type InPieces } from '../../grammar/give-way.ts';
import { type BuiltView, buildingView, type Duplicate, perhapsIn, thingOf } from './build-view.ts';
import { allIn, changedDeclarations } from './changed-declarations.ts';
import { engineOf } from './declared-data.ts';
import { foldedName } from './folded-name.ts';
import { likeNames, likened, type OwnText } from './likeness.ts';
import { isSeen, type Placed, type ReadFile, statementsFor } from './placed.ts';
import { type Asked, type Cell, changed, newCell, noteRead, readBy } from './questions.ts';
import { becomes, newStanding, type Standing } from './recorded.ts';
import { matchRenamed } from './renamed-steps.ts';
import { type Spliced, spliced } from './spliced.ts';
import { flagIn } from './statements.ts';
import { LIST_OF, type Thing } from './view.ts';

export interface RecordedView {
  /** The view that checks and the rehearsal are given. */
  readonly view: BuiltView;
  /** The declarations of the first file that are looked at for the variant, in order, each `when` too. */
  readonly own: () => readonly Standing[];
  /** What a declaration is among those that are looked at. */
  readonly standingOf: (placed: Placed) => Standing | undefined;
  /** Takes the files as they are read now; tells which declarations of the first file say something else, which came and which went. */
  update(files: readonly ReadFile[], incomplete: boolean): ViewUpdate;
  /** The same in pieces. It may be left off: what is seen is another only when it is done. */
  updating(files: readonly ReadFile[], incomplete: boolean): InPieces<ViewUpdate>;
  /** The names that were looked up to answer a question, in the order met. */
  namesRead(question: Asked): readonly string[];
  /** The place of a declaration among the others. */
  placeOf(standing: Standing): number;
  /** The thing that a declaration declares; undefined for one that only changes another. */
  thingOf(standing: Standing): Thing | undefined;
}

export interface ViewUpdate {
  readonly differs: readonly Standing[];
  readonly came: readonly Standing[];
  readonly went: readonly Standing[];
}

/** Declarations with those that take their place. */
type Pairs = readonly (readonly [Standing, Placed])[];

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

type ThingList = (typeof LIST_OF)[Thing['kind']];
type ListName = ThingList | 'specs' | 'engines';
type Flag = 'draft' | 'incomplete' | 'perhaps' | 'engine' | 'duplicates' | 'all';

const THING_LISTS: readonly ThingList[] = Object.values(LIST_OF);

interface NameCell extends Cell {
  readonly of: string;
}

const keyOf = ({ file, declaration, when }: Placed): string =>
  `${declaration.word} ${declaration.name?.text ?? declaration.changed?.word ?? ''} ${when.join(' ')} ${file}`;

function sameItems(some: readonly unknown[], others: readonly unknown[]): boolean {
  return some.length === others.length && some.every((each, i) => each === others[i]);
}

/** A draft that its own first spec says to be one. */
function isDraft(specs: readonly Placed[], home: string, variant: string | undefined): boolean {
  const own = specs[0];
  return (
    own !== undefined && own.file === home && flagIn(statementsFor(own.declaration.body?.statements, variant), 'draft')
  );
}

/** A view of some files for a variant, kept for as long as the files are. */
export function recordView(files: readonly ReadFile[], variant: string | undefined, incomplete: boolean): RecordedView {
  return atOnce(recordingView(files, variant, incomplete));
}

/** The same in pieces. */
export function* recordingView(
  first: readonly ReadFile[],
  variant: string | undefined,
  unfound: boolean,
): InPieces<RecordedView> {
  let files: readonly ReadFile[] = [];
  let standings = new Map<Placed, Standing>();
  /** Their places; looked for when they are asked for. */
  let order: ReadonlyMap<Standing, number> | undefined;
  let own: readonly Standing[] = [];
  let listed = new Set<Standing>();
  let names = new Map<string, Standing>();
  /** By their names without capitals, the first of each. */
  let folded = new Map<string, Standing>();
  /** In the order of the view, where they came in another. */
  let namesInOrder: ReadonlyMap<string, Standing> | undefined;
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

  const nameCells = new Map<string, NameCell>();
  const cells = new Map<ListName | Flag, Cell>();
  const cellOf = (key: ListName | Flag): Cell => {
    let cell = cells.get(key);
    if (cell === undefined) {
      cell = newCell();
      cells.set(key, cell);
    }
    return cell;
  };
  const read = <value>(flag: Flag, value: value): value => {
    noteRead(cellOf(flag));
    return value;
  };
  const nameUnread = ({ of: name }: Cell): boolean => nameCells.delete(name as string);
  const noteName = (name: string): void => {
    let cell = nameCells.get(name);
    if (cell === undefined) {
      cell = newCell(nameUnread, name) as NameCell;
      nameCells.set(name, cell);
    }
    noteRead(cell);
  };
  const tell = (key: ListName | Flag): void => {
    const cell = cells.get(key);
    if (cell !== undefined) changed(cell);
  };

  const standingOf = (placed: Placed): Standing | undefined => standings.get(placed);
  const ownText: OwnText = (name) => {
    const placed = names.get(name)?.placed;
    return placed === undefined ? undefined : thingOf(placed, variant);
  };
  /** What a declaration says; of a fastener with what it takes from others. */
  const thingAt = (placed: Placed): Thing | undefined => {
    const thing = thingOf(placed, variant);
    return thing?.kind === 'fastener' && thing.like !== undefined ? likened(thing, ownText) : thing;
  };

  const seenLists = new Map<ListName, readonly unknown[]>();
  const seenList = (list: ListName): readonly unknown[] => {
    noteRead(cellOf(list));
    let seen = seenLists.get(list);
    if (seen === undefined) {
      const asPlaced = list === 'specs' || list === 'engines';
      seen = lists[list].flatMap((each) => (asPlaced ? each.asPlaced : (each.asThing ?? [])));
      seenLists.set(list, seen);
    }
    return seen;
  };
  const places = (): ReadonlyMap<Standing, number> => {
    if (order === undefined) {
      const now = new Map<Standing, number>();
      for (const { sections } of files)
        for (const section of sections)
          for (const placed of allIn(section)) {
            const standing = standings.get(placed);
            if (standing !== undefined) now.set(standing, now.size);
          }
      order = now;
    }
    return order;
  };
  /** Tables of grades that stand for a thing of their own come last. */
  const inOrder = (): ReadonlyMap<string, Standing> => {
    if (namesInOrder === undefined) {
      const now = new Map<string, Standing>();
      const tables: Standing[] = [];
      const enter = (standing: Standing): void => {
        const name = standing.thing?.name ?? '';
        if (names.get(name) === standing) now.set(name, standing);
      };
      for (const standing of places().keys())
        if (standing.thing?.kind === 'grades') tables.push(standing);
        else enter(standing);
      for (const standing of tables) enter(standing);
      namesInOrder = now;
    }
    return namesInOrder;
  };
  function* entries(): Generator<[string, Thing], undefined> {
    noteRead(cellOf('all'));
    for (const [name, { asThing }] of inOrder()) if (asThing !== undefined) yield [name, asThing];
  }
  const things: ReadonlyMap<string, Thing> = {
    get(name) {
      noteName(name);
      return names.get(name)?.asThing;
    },
    has(name) {
      noteName(name);
      return names.has(name);
    },
    get size() {
      noteRead(cellOf('all'));
      return names.size;
    },
    forEach(each) {
      for (const [name, thing] of entries()) each(thing, name, things);
    },
    entries,
    keys: () => [...entries()].map(([name]) => name).values(),
    values: () => [...entries()].map(([, thing]) => thing).values(),
    [Symbol.iterator]: entries,
  };
  const view = Object.defineProperties({} as BuiltView, {
    variant: { enumerable: true, value: variant },
    things: { enumerable: true, value: things },
    engine: {
      enumerable: true,
      get() {
        noteRead(cellOf('engine'));
        return lists.engines[0]?.asEngine;
      },
    },
    duplicates: {
      enumerable: true,
      get() {
        noteRead(cellOf('duplicates'));
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
      becomes(standing, placed, now, undefined);
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
  const inPlace = (now: readonly ReadFile[]): Pairs | undefined => {
    if (now.length !== files.length || now.some(({ file }, i) => file !== files[i]?.file)) return undefined;
    const pairs: (readonly [Standing, Placed])[] = [];
    for (const [i, file] of now.entries()) {
      const { gone, come, isInPlace } = changedDeclarations(files[i], file);
      if (!isInPlace) return undefined;
      for (const [at, old] of gone.entries()) {
        const placed = come[at];
        if (placed === undefined || keyOf(old) !== keyOf(placed)) return undefined;
        const standing = standings.get(old);
        // Whether a table of grades is a thing of its own is told by all names.
        if (placed.declaration.word === 'grades' || placed.steps.length !== old.steps.length) return undefined;
        if (standing === undefined) {
          if (isSeen(placed, variant)) return undefined;
          continue;
        }
        const [was, is] = [standing.thing, thingOf(placed, variant)];
        if (was?.kind !== is?.kind) return undefined;
        if (was?.kind === 'sequence' && is?.kind === 'sequence' && was.steps.length !== is.steps.length)
          return undefined;
        if (was?.kind === 'fastener' && is?.kind === 'fastener' && was.like !== is.like) return undefined;
        pairs.push([standing, placed]);
      }
    }
    return pairs;
  };

  const stretched = (now: readonly ReadFile[]): Spliced | undefined =>
    duplicates.length > 0
      ? undefined
      : spliced(
          {
            ...{ files, variant, standings, lists, own, listed, folded, keyOf, standingOf },
            isSeen: (placed) => isSeen(placed, variant),
          },
          now,
        );

  /** All of a view that is built anew, before any of it is seen. */
  function* rebuilding(now: readonly ReadFile[]): InPieces<Rebuilt> {
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
    for (const placed of all) {
      if (staying(placed) !== undefined) continue;
      yield;
      const kind = thingOf(placed, variant)?.kind;
      const candidates = free.get(`${home.has(placed)} ${keyOf(placed)}`);
      const match = candidates?.find((each) => each.thing?.kind === kind);
      if (match === undefined || candidates === undefined) continue;
      candidates.splice(candidates.indexOf(match), 1);
      went.delete(match);
      matches.set(placed, match);
    }
    matchRenamed(
      matches,
      (step) => {
        const standing = standings.get(step);
        return standing !== undefined && went.has(standing) ? standing : undefined;
      },
      (renamed) => all.has(renamed) && staying(renamed) === undefined,
      variant,
    );
    for (const match of matches.values()) went.delete(match);
    const takes: (readonly [Standing, Placed])[] = [...matches].map(([placed, match]) => [match, placed]);
    for (const placed of all) {
      const standing = matches.get(placed) ?? staying(placed);
      if (standing !== undefined) {
        next.set(placed, standing);
        continue;
      }
      const engine = placed.declaration.word === 'engine' ? engineOf(placed, variant) : undefined;
      const made = newStanding(placed, thingOf(placed, variant), engine, standingOf);
      next.set(placed, made);
      if (home.has(placed)) came.push(made);
    }
    return { real, home, standings: next, came, went, takes };
  }

  /** Has a view that was built anew take the place of the one before. */
  const takeRebuilt = ({ real, home, standings: now, came, went, takes }: Rebuilt): Taken => {
    ownPlaced = home;
    standings = now;
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
    // Things are taken when all names stand: what one takes from another is found by name. Steps come before what holds them.
    const differs = new Set<Standing>();
    for (const [standing, placed] of takes) if (placed.steps.length === 0) settle(standing, placed, differs);
    for (const [standing, placed] of takes) if (placed.steps.length > 0) settle(standing, placed, differs);
    likes = lists.fasteners.filter(({ thing }) => thing?.kind === 'fastener' && thing.like !== undefined);
    for (const standing of came) if (standing.thing?.kind === 'fastener') standing.thing = thingAt(standing.placed);
    for (const list of [...THING_LISTS, 'specs' as const, 'engines' as const]) {
      if (sameItems(oldLists[list], lists[list])) continue;
      seenLists.delete(list);
      tell(list);
      if (list === 'engines') tell('engine');
    }
    const isSameAll =
      sameItems([...oldNames.values()], [...names.values()]) && sameItems([...oldNames.keys()], [...names.keys()]);
    if (!isSameAll) {
      tell('all');
      for (const cell of [...nameCells.values()]) if (oldNames.get(cell.of) !== names.get(cell.of)) changed(cell);
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
    namesInOrder = names;
    order = undefined;
    own = [...home].flatMap(there);
    return { differs, came, went: [...went] };
  };

  /** Has what stands in one stretch take the place of what stood there. */
  const takeSpliced = (change: Spliced): Taken => {
    const { were, are, isHome, takes, came, went, named, own: ownNow } = change;
    for (const { placed } of were) standings.delete(placed);
    for (const [standing, placed] of are) standings.set(placed, standing);
    if (isHome) {
      for (const { placed } of were) ownPlaced.delete(placed);
      for (const [, placed] of are) ownPlaced.add(placed);
    }
    own = ownNow;
    const was = new Map<string, Standing>();
    for (const standing of were)
      if (listed.delete(standing)) {
        const name = standing.thing?.name ?? '';
        was.set(name, standing);
        names.delete(name);
        folded.delete(foldedName(name));
      }
    for (const [name, standing] of named) {
      listed.add(standing);
      names.set(name, standing);
      folded.set(foldedName(name), standing);
    }
    lists = { ...lists, ...Object.fromEntries(change.lists) };
    order = undefined;
    const differs = new Set<Standing>();
    for (const [standing, placed] of takes) if (placed.steps.length === 0) settle(standing, placed, differs);
    for (const [standing, placed] of takes) if (placed.steps.length > 0) settle(standing, placed, differs);
    likes = lists.fasteners.filter(({ thing }) => thing?.kind === 'fastener' && thing.like !== undefined);
    for (const standing of came) if (standing.thing?.kind === 'fastener') standing.thing = thingAt(standing.placed);
    for (const list of change.lists.keys()) {
      seenLists.delete(list);
      tell(list);
    }
    namesInOrder = undefined;
    if (!sameItems([...was.values()], [...named.values()]) || !sameItems([...was.keys()], [...named.keys()])) {
      tell('all');
      for (const name of new Set([...was.keys(), ...named.keys()])) {
        const cell = nameCells.get(name);
        if (cell !== undefined && was.get(name) !== names.get(name)) changed(cell);
      }
    }
    return { differs, came: isHome ? came : [], went };
  };

  /** A declaration is read anew. One that says what it said, elsewhere, is no other. */
  const settle = (standing: Standing, placed: Placed, differs: Set<Standing>): void => {
    const before = standing.placed;
    const steps = standing.asPlaced.steps;
    const engine = placed.declaration.word === 'engine' ? engineOf(placed, variant) : undefined;
    becomes(standing, placed, thingAt(placed), engine);
    const isSame =
      before.parsed === placed.parsed && before.origin === placed.origin && sameItems(steps, standing.asPlaced.steps);
    if (!isSame) differs.add(standing);
  };

  /** How often the view became another: what is built anew is held against the one that it begins with. */
  let version = 0;
  const updating: RecordedView['updating'] = function* (now, isIncomplete) {
    for (;;) {
      const from = version;
      const how = (files.length === 0 ? undefined : (inPlace(now) ?? stretched(now))) ?? (yield* rebuilding(now));
      if (version === from) return take(now, isIncomplete, how);
    }
  };
  const take = (now: readonly ReadFile[], isIncomplete: boolean, how: Rebuilt | Spliced | Pairs): ViewUpdate => {
    version += 1;
    let result: Taken;
    if ('real' in how) result = takeRebuilt(how);
    else if ('were' in how) result = takeSpliced(how);
    else {
      const pairs = how;
      const differs = new Set<Standing>();
      const places = new Map(pairs.map(([standing, placed]) => [standing.placed, placed]));
      const isOwn = new Set(pairs.filter(([standing]) => isOfHome(standing.placed)).map(([standing]) => standing));
      for (const placed of places.keys()) standings.delete(placed);
      for (const [standing, placed] of pairs) standings.set(placed, standing);
      for (const [standing, placed] of pairs)
        if (isOwn.has(standing)) {
          ownPlaced.delete(standing.placed);
          ownPlaced.add(placed);
        }
      if (duplicates.some(({ first: one, second }) => places.has(one) || places.has(second))) {
        duplicates = duplicates.map(({ first: one, second }) => ({
          first: places.get(one) ?? one,
          second: places.get(second) ?? second,
        }));
        tell('duplicates');
      }
      for (const [standing, placed] of pairs) if (placed.steps.length === 0) settle(standing, placed, differs);
      for (const [standing, placed] of pairs) if (placed.steps.length > 0) settle(standing, placed, differs);
      result = { differs, came: [], went: [] };
    }
    files = now;
    takeLikes(result.differs);
    takeFlags(isIncomplete);
    return {
      differs: [...result.differs].filter(({ placed }) => isOfHome(placed)),
      came: result.came,
      went: result.went,
    };
  };
  yield* updating(first, unfound);
  return {
    view,
    own: () => own,
    standingOf,
    update: (now, isIncomplete) => atOnce(updating(now, isIncomplete)),
    updating,
    namesRead(question) {
      return [
        ...new Set(
          readBy(question).flatMap((cell) => {
            const { of: name } = cell;
            if (typeof name !== 'string') return [];
            const thing = names.get(name)?.thing;
            return thing?.kind === 'fastener' ? [name, ...likeNames(thing, ownText)] : [name];
          }),
        ),
      ];
    },
    placeOf: (standing) => places().get(standing) ?? 0,
    thingOf: (standing) => (listed.has(standing) ? standing.asThing : undefined),
  };
}
