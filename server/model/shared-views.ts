// The views of the variants of a spec that is looked at once, made to share what does not differ. Most of a spec says the same for every
// variant: a thing is one object in all of these views, what it says otherwise from variant to variant tells that it was read (noteDiffering),
// and so do the lists of a view. Who read nothing of that has the answer for all variants.
import type { BuiltView } from './build-view.ts';
import { deepEqual } from './deep-equal.ts';
import { noteDiffering } from './questions.ts';
import { LIST_OF, type Sequence, type Thing } from './view.ts';

export interface SharedViews {
  /** One for each variant, in order. */
  readonly views: readonly BuiltView[];
  /** Looks at one of the views; the things say meanwhile what they say for its variant. */
  lookAt<result>(view: number, look: () => result): result;
}

/** Which of the views is looked at. */
interface Looking {
  at: number;
}

/** Gives a field that differs: read, it says so, and what it is for the one that `at` tells. */
function differing(on: object, field: string, each: readonly unknown[], at: () => number): void {
  const get = (): unknown => {
    noteDiffering();
    return each[at()];
  };
  Object.defineProperty(on, field, { get, enumerable: true, configurable: true });
}

/** Objects of one form, one a variant, as one: the first where they all are it. */
function asOne<record extends object>(each: readonly record[], looking: Looking): record {
  const first = each[0] as record;
  if (each.every((other) => other === first)) return first;
  const one = { ...first };
  for (const field of new Set(each.flatMap((other) => Object.keys(other)))) {
    const values = each.map((other) => Reflect.get(other, field) as unknown);
    if (!values.every((value) => deepEqual(values[0], value))) differing(one, field, values, () => looking.at);
  }
  return one;
}

const LISTS = Object.values(LIST_OF);

/** Whether lists hold the same objects. */
const sameObjects = (one: readonly unknown[], other: readonly unknown[]): boolean =>
  one.length === other.length && one.every((each, i) => each === other[i]);

/** The things of the views by what stands for each in all of them; one that is not the same declaration everywhere stands for itself. */
function sharedThings(views: readonly BuiltView[], looking: Looking): (thing: Thing) => Thing {
  const shared = new Map<Thing, Thing>();
  const sharing = (thing: Thing): Thing => shared.get(thing) ?? thing;
  // What a sequence holds is shared before it is.
  const stepsShared = (thing: Thing): Thing => {
    if (thing.kind !== 'sequence' || thing.steps.every((step) => sharing(step) === step)) return thing;
    return { ...thing, steps: thing.steps.map((step) => sharing(step) as Sequence['steps'][number]) };
  };
  const share = (lists: readonly (readonly Thing[])[]): void => {
    // Most things are one object already.
    const [first = [], ...others] = lists;
    if (others.every((other) => sameObjects(first, other))) return;
    const byPlace = lists.map((list) => new Map(list.map((thing) => [thing.placed, thing])));
    for (const placed of byPlace[0]?.keys() ?? []) {
      const each = byPlace.flatMap((things) => things.get(placed) ?? []);
      if (each.length < views.length) continue;
      const one = asOne(each.map(stepsShared), looking);
      for (const thing of each) if (thing !== one) shared.set(thing, one);
    }
  };
  share(views.map((view) => view.steps));
  for (const list of LISTS) if (list !== 'steps') share(views.map((view): readonly Thing[] => view[list]));
  return shared.size === 0 ? (thing) => thing : sharing;
}

/** The things of a view by name; a name that does not lead to the same thing in all says so, and so does who goes through them all. */
class DifferingNames extends Map<string, Thing> {
  private readonly names: ReadonlySet<string>;

  constructor(things: ReadonlyMap<string, Thing>, names: ReadonlySet<string>) {
    super();
    this.names = names;
    for (const [name, thing] of things) super.set(name, thing);
  }
  override get(name: string): Thing | undefined {
    if (this.names.has(name)) noteDiffering();
    return super.get(name);
  }
  override has(name: string): boolean {
    if (this.names.has(name)) noteDiffering();
    return super.has(name);
  }
  override get size(): number {
    noteDiffering();
    return super.size;
  }
  override forEach(...given: Parameters<Map<string, Thing>['forEach']>): void {
    noteDiffering();
    super.forEach(...given);
  }
  override keys(): ReturnType<Map<string, Thing>['keys']> {
    noteDiffering();
    return super.keys();
  }
  override values(): ReturnType<Map<string, Thing>['values']> {
    noteDiffering();
    return super.values();
  }
  override entries(): ReturnType<Map<string, Thing>['entries']> {
    noteDiffering();
    return super.entries();
  }
  override [Symbol.iterator](): ReturnType<Map<string, Thing>['entries']> {
    return this.entries();
  }
}

/** The names of each view with what they lead to; one map for all where they are the same in all. */
function sharedNames(
  views: readonly BuiltView[],
  sharing: (thing: Thing) => Thing,
): readonly ReadonlyMap<string, Thing>[] {
  const [first, ...others] = views.map(({ things }) => {
    const named = new Map(things);
    for (const [name, thing] of things) if (sharing(thing) !== thing) named.set(name, sharing(thing));
    return named;
  });
  if (first === undefined) return [];
  const names = [...first.keys()];
  const isSame = (other: typeof first): boolean =>
    sameObjects(names, [...other.keys()]) && names.every((name) => first.get(name) === other.get(name));
  if (others.every(isSame)) return views.map(() => first);
  const all = [first, ...others];
  const differ = new Set(all.flatMap((things) => [...things.keys()]));
  for (const name of names) if (others.every((other) => other.get(name) === first.get(name))) differ.delete(name);
  return all.map((things) => new DifferingNames(things, differ));
}

/** Makes views of several variants of the same files share what does not differ. They are good for `lookAt` alone. */
export function sharedViews(built: readonly BuiltView[]): SharedViews {
  if (built.length < 2) return { views: built, lookAt: (_, look) => look() };
  const looking: Looking = { at: 0 };
  const sharing = sharedThings(built, looking);
  const named = sharedNames(built, sharing);
  const engines = built.flatMap(({ engine }) => engine ?? []);
  const isOneEngine = engines.length === built.length && engines.every(({ placed }) => placed === engines[0]?.placed);
  const engine = isOneEngine ? asOne(engines, looking) : undefined;
  const own = built.map((view, i) => ({
    ...view,
    things: named[i] ?? view.things,
    engine: engine ?? view.engine,
    ...Object.fromEntries(LISTS.map((list) => [list, view[list].map(sharing)])),
  }));
  const views = own.map((view, i) => {
    const made = { ...view };
    for (const field of Object.keys(view)) {
      if (field === 'things') continue;
      const values = own.map((each) => Reflect.get(each, field) as unknown);
      if (values.every((value) => deepEqual(values[0], value))) Object.assign(made, { [field]: values[0] });
      else differing(made, field, values, () => i);
    }
    return made as BuiltView;
  });
  return {
    views,
    lookAt(view, look) {
      looking.at = view;
      return look();
    },
  };
}
