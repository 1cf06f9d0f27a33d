// Brings a view up to date after an edit: what the changed sections declared goes out of it, what they declare now comes in. Where more
// than that may be another, the view is built anew (build-view.ts); the result is the same.
import { type BuiltView, namesOf, perhapsIn, sequenceAgain, thingOf } from './build-view.ts';
import { engineOf } from './declared-data.ts';
import { allLikened } from './likeness.ts';
import { foldedName, type NamesInOrder } from './names-in-order.ts';
import { patchedLists, placingIn, type Stretch } from './patch-lists.ts';
import { holdsFor, type Placed, type ReadFile, type ReadSection } from './placed.ts';
import { sectionChanges } from './section-changes.ts';
import { sharedEnds } from './sifted.ts';
import type { Thing } from './view.ts';

/** A thing before an edit and after it; its text differs. */
export interface ChangedThing {
  readonly old: Thing;
  readonly now: Thing;
}

export interface ViewChanges {
  /** Those of one kind and name before and after. */
  readonly things: readonly ChangedThing[];
  /** Those that were not there, and those that are not there any more. */
  readonly added: readonly Thing[];
  readonly dropped: readonly Thing[];
  readonly engine: boolean;
  /** Other names may now be declared where something can't be read. */
  readonly perhaps: boolean;
}

export interface Patched {
  readonly view: BuiltView;
  readonly changes: ViewChanges;
}

/** A view of which more is another is built anew sooner than patched. */
const MOST_CHANGED = 200;

/** What stands for more than itself: a change in it is a change everywhere. A spec that says the same is only moved. */
const FAR_REACHING = new Set(['spec', 'use', 'grades']);

/** What a stretch of a file declares for a variant, without what is the same before and after at its ends. */
interface Held {
  readonly things: readonly Thing[];
  readonly engines: readonly Placed[];
}

function holding(sections: readonly ReadSection[], variant: string | undefined): readonly Placed[] {
  return sections.flatMap((section) => section.declarations).filter((placed) => holdsFor(placed, variant));
}

function held(placed: readonly Placed[], variant: string | undefined): Held {
  const things: Thing[] = [];
  for (const each of placed) {
    const thing = thingOf(each, variant);
    if (thing === undefined) continue;
    things.push(thing);
    if (thing.kind === 'sequence') for (const step of thing.steps) things.push(step);
  }
  return { things, engines: placed.filter(({ declaration }) => declaration.word === 'engine') };
}

/** The thing that stands in a view for one: a fastener may have taken from others. */
function standing(names: NamesInOrder, thing: Thing): Thing {
  if (thing.kind !== 'fastener' || thing.like === undefined) return thing;
  const there = names.get(thing.name);
  return there?.placed === thing.placed ? there : thing;
}

/** The pairs of one kind and name, and what is without a partner. */
function pairUp(old: readonly Thing[], now: readonly Thing[]): Pick<ViewChanges, 'things' | 'added' | 'dropped'> {
  const same = new Set<Thing>(old);
  const left = new Map<string, Thing>();
  const stays = new Set<Thing>(now);
  for (const thing of old) if (!stays.has(thing)) left.set(`${thing.kind} ${thing.name}`, thing);
  const things: ChangedThing[] = [];
  const added: Thing[] = [];
  for (const thing of now) {
    if (same.has(thing)) continue;
    const key = `${thing.kind} ${thing.name}`;
    const before = left.get(key);
    if (before === undefined) added.push(thing);
    else {
      left.delete(key);
      things.push({ old: before, now: thing });
    }
  }
  return { things, added, dropped: [...left.values()] };
}

/** Whether a name of these things is declared twice: which of the two is the first may be another now. */
function isTwice({ duplicates }: BuiltView, things: readonly Thing[]): boolean {
  if (duplicates.length === 0) return false;
  const twice = new Set(duplicates.map(({ second }) => foldedName(second.declaration.name?.text ?? '')));
  return things.some(({ name }) => twice.has(foldedName(name)));
}

/** Whether names come or go in a way that more hangs on than the things that have them. */
function isEntangled(
  before: BuiltView,
  names: NamesInOrder,
  { things, added, dropped }: Pick<ViewChanges, 'things' | 'added' | 'dropped'>,
): boolean {
  const tables = new Set(before.grades.map(({ name }) => foldedName(name)));
  const free = new Set(dropped.map(({ name }) => foldedName(name)));
  if (free.size !== dropped.length) return true;
  for (const { old } of things) if (names.get(old.name)?.placed !== old.placed) return true;
  for (const thing of dropped) {
    const folded = foldedName(thing.name);
    if (names.get(thing.name)?.placed !== thing.placed || tables.has(folded)) return true;
  }
  const come = new Set<string>();
  for (const { name } of added) {
    const folded = foldedName(name);
    if (tables.has(folded) || come.has(folded)) return true;
    if (names.alike(name) !== undefined && !free.has(folded)) return true;
    come.add(folded);
  }
  return false;
}

/** Whether there are as many things of both, each of the kind of the other. */
function ofTheSameKinds(old: readonly Thing[], now: readonly Thing[]): boolean {
  return old.length === now.length && old.every(({ kind }, i) => kind === now[i]?.kind);
}

/**
 * What differs between the things of two readings of a stretch. Where each is of the kind of the one that stood there, things that are
 * the same are left out wherever they stand, else those at the ends alone: between things that go and come they keep the order.
 */
function differing(old: readonly Thing[], now: readonly Thing[]): Pick<Stretch, 'goes' | 'comes'> {
  if (ofTheSameKinds(old, now))
    return { goes: old.filter((thing, i) => thing !== now[i]), comes: now.filter((thing, i) => thing !== old[i]) };
  const { front, back } = sharedEnds(old, now);
  return { goes: old.slice(front, old.length - back), comes: now.slice(front, now.length - back) };
}

/** A sequence with as many steps as before in its place: it, and the steps that are others. No other step is looked into. */
function stepsInPlace(
  left: readonly Placed[],
  right: readonly Placed[],
  variant: string | undefined,
): Pick<Stretch, 'goes' | 'comes'> | undefined {
  const [old, now] = [left[0], right[0]];
  if (old === undefined || now === undefined || left.length > 1 || right.length > 1) return undefined;
  sequenceAgain(old, now, variant);
  const [was, is] = [thingOf(old, variant), thingOf(now, variant)];
  if (was?.kind !== 'sequence' || is?.kind !== 'sequence' || was.steps.length !== is.steps.length) return undefined;
  const [goes, comes]: [Thing[], Thing[]] = [[was], [is]];
  for (let i = 0; i < was.steps.length; i += 1) {
    const [one, other] = [was.steps[i], is.steps[i]];
    if (one === other || one === undefined || other === undefined) continue;
    goes.push(one);
    comes.push(other);
  }
  return { goes, comes };
}

/** Specs that say the same as before, in another place. */
function movedSpecs(left: readonly Placed[], right: readonly Placed[]): ReadonlyMap<Placed, Placed> {
  const isSpec = ({ declaration }: Placed): boolean => declaration.word === 'spec';
  return new Map(
    left.filter(isSpec).flatMap((old) => {
      const now = right.find((placed) => isSpec(placed) && placed.parsed === old.parsed);
      return now === undefined ? [] : [[old, now] as const];
    }),
  );
}

/** A stretch with what is no thing in it: each by the one that stood there before. */
interface Changed extends Stretch {
  readonly engines: readonly (readonly [Placed, Placed])[];
  readonly specs: ReadonlyMap<Placed, Placed>;
}

const NO_SPECS: Changed['specs'] = new Map();

/** The stretch of each file that is another, as a view sees it; undefined where it reaches further than itself. */
function stretchesOf(
  old: readonly ReadFile[],
  files: readonly ReadFile[],
  variant: string | undefined,
): readonly Changed[] | undefined {
  const stretches: Changed[] = [];
  for (const [number, file] of files.entries()) {
    const was = old[number];
    if (was === undefined || was.file !== file.file) return undefined;
    const { gone, come, scattered } = sectionChanges(was, file);
    if ([...gone, ...come].some((section) => section.whens.length > 0)) return undefined;
    const [then, now] = [holding(gone, variant), holding(come, variant)];
    const { front, back } = sharedEnds(then, now);
    const [left, right] = [then.slice(front, then.length - back), now.slice(front, now.length - back)];
    const specs = movedSpecs(left, right);
    const stays = new Set([...specs.keys(), ...specs.values()]);
    if ([...left, ...right].some((placed) => FAR_REACHING.has(placed.declaration.word) && !stays.has(placed)))
      return undefined;
    const inPlace = stepsInPlace(left, right, variant);
    if (inPlace !== undefined) {
      stretches.push({ engines: [], specs: NO_SPECS, ...inPlace });
      continue;
    }
    const [goes, comes] = [held(left, variant), held(right, variant)];
    if (goes.engines.length !== comes.engines.length) return undefined;
    // Between things that stay, each has to stand in the place of one of its kind.
    if ((scattered || file.putTogether === true) && !ofTheSameKinds(goes.things, comes.things)) return undefined;
    stretches.push({
      engines: goes.engines.map((placed, i) => [placed, comes.engines[i] ?? placed] as const),
      specs,
      ...differing(goes.things, comes.things),
    });
  }
  return stretches;
}

/**
 * The view of some files for the variant of a view of their earlier readings. Undefined where it has to be built anew. The earlier
 * view is good no more: its names lead to the new things.
 */
export function patchView(
  before: BuiltView,
  old: readonly ReadFile[],
  files: readonly ReadFile[],
): Patched | undefined {
  const names = namesOf(before);
  if (names === undefined || old.length !== files.length) return undefined;
  const { variant } = before;
  const stretches = stretchesOf(old, files, variant)?.map(({ goes, comes, engines, specs }) => ({
    goes: goes.map((thing) => standing(names, thing)),
    comes: comes.map((thing) => standing(names, thing)),
    engines,
    specs,
  }));
  if (stretches === undefined) return undefined;
  const [goes, comes] = [stretches.flatMap((each) => each.goes), stretches.flatMap((each) => each.comes)];
  if (goes.length + comes.length > MOST_CHANGED) return undefined;
  const { things, added, dropped } = pairUp(goes, comes);
  if (isTwice(before, [...goes, ...comes]) || isEntangled(before, names, { things, added, dropped })) return undefined;
  const placeOf = placingIn(files);
  const lists = patchedLists(before, stretches, placeOf);
  // The names come last: once they are others, the earlier view is good no more.
  if (lists === undefined || !stretches.every(({ goes, comes }) => names.replace(goes, comes, placeOf)))
    return undefined;
  // What a fastener is like may have changed with any of them.
  const hasFasteners = [...goes, ...comes].some(({ kind }) => kind === 'fastener');
  const { fasteners = before.fasteners } = lists;
  const engines = new Map(stretches.flatMap((each) => each.engines));
  const engine = before.engine === undefined ? undefined : engines.get(before.engine.placed);
  const specs = new Map(stretches.flatMap((each) => [...each.specs]));
  const perhaps = perhapsIn(files);
  const isNew = (then: Placed, now: Placed): boolean => then.parsed !== now.parsed;
  return {
    view: {
      ...before,
      ...lists,
      fasteners: hasFasteners ? allLikened(fasteners, names) : fasteners,
      engine: engine === undefined ? before.engine : engineOf(engine, variant),
      engines: engines.size === 0 ? before.engines : before.engines.map((placed) => engines.get(placed) ?? placed),
      specs: specs.size === 0 ? before.specs : before.specs.map((placed) => specs.get(placed) ?? placed),
      perhaps,
    },
    changes: {
      things: things.filter((each) => isNew(each.old.placed, each.now.placed)),
      added,
      dropped,
      engine: [...engines].some(([then, now]) => isNew(then, now)),
      perhaps: perhaps !== before.perhaps,
    },
  };
}
