// In how many places a feature of a part is there, and which of them go with a place of another part. No values are read here.
import type { Place, Reference } from '../../grammar/tree.ts';
import { takesIn } from './measure.ts';
import type { Fastener, Part, View } from './view.ts';

/** A place that is asked for, among so many. */
export interface Asked {
  readonly index: number;
  readonly of: number;
  /** The name of the group of places (`upper`, `inlet`) that it lies in, where there is one. */
  readonly name?: string | undefined;
  /** Its number in that group, among so many; `index` and `of` where the question is about that group alone. */
  readonly number?: number | undefined;
  readonly ofGroup?: number | undefined;
}

/** In how many places a feature is there, on all of this part together. */
export function placesOfFeature(part: Part, feature: string | undefined): number {
  return Math.max(1, part.count) * countOnOne(part, feature);
}

function countOnOne(part: Part, feature: string | undefined): number {
  const dimension = feature === undefined ? undefined : (part.dimensions.get(feature) ?? part.figures.get(feature));
  return Math.max(1, dimension?.count ?? 1);
}

/** Pairs places: equal counts by number, a multiple evenly. All places of the other side that go with the one asked for; empty where none do. */
export function pairedPlaces(asked: { readonly index: number; readonly of: number }, count: number): readonly number[] {
  if (count === asked.of) return [asked.index];
  if (count % asked.of === 0)
    return Array.from({ length: count / asked.of }, (_, i) => (asked.index - 1) * (count / asked.of) + i + 1);
  return asked.of % count === 0 ? [Math.ceil(asked.index / (asked.of / count))] : [];
}

/** A thing, and perhaps a feature of it, by name. */
export interface NamedFeature {
  readonly owner: { readonly text: string };
  readonly feature?: { readonly text: string } | undefined;
}

/** A place by its name and number, as values by place name it. */
export interface NamedPlace {
  readonly name: string | undefined;
  readonly number: number;
}

/** All places of a feature in order, group by group. */
export function allPlaces(part: Part, feature: string | undefined): readonly NamedPlace[] {
  const each = countOnOne(part, feature);
  return part.places.flatMap((group) =>
    Array.from({ length: Math.max(1, group.count) * each }, (_, i) => ({ name: group.name, number: i + 1 })),
  );
}

/** No engine has more of one kind; a longer row is cut, so that no count can hold the editor up. */
const MOST_SCREWS = 1024;

/** How many of a fastener there are on the engine: those for each of its parts together. */
export function countOfFastener(fastener: Fastener, view: View): number {
  const parts = fastener.eachOf.map((each) => view.things.get(each.owner.text));
  const counts = parts.map((part) => (part?.kind === 'part' ? Math.max(1, part.count) : 1));
  return fastener.count * (counts.length === 0 ? 1 : counts.reduce((sum, count) => sum + count, 0));
}

/** All places of what is named, a feature of a part or a fastener one by one; undefined for what has none. */
export function placesOf(reference: NamedFeature | undefined, view: View): readonly NamedPlace[] | undefined {
  const thing = reference === undefined ? undefined : view.things.get(reference.owner.text);
  if (thing?.kind === 'part') return allPlaces(thing, reference?.feature?.text);
  if (thing?.kind !== 'fastener') return undefined;
  const count = Math.min(countOfFastener(thing, view), MOST_SCREWS);
  return Array.from({ length: count }, (_, i) => ({ name: undefined, number: i + 1 }));
}

/** The places of a feature that are written after it, in order. */
export function namedPlaces(part: Part, feature: string, written: readonly Place[]): readonly NamedPlace[] {
  const all = allPlaces(part, feature);
  return written.flatMap((place) => all.filter((candidate) => takesIn(place, candidate)));
}

/** Whether the places of a part have numbers and no names. */
export const isOnlyNumbered = ({ places }: Part): boolean => places.length === 1 && places[0]?.name === undefined;

/** The places of a feature that go with the place asked for. */
export function placesFor(part: Part, feature: string, reference: Reference, asked: Asked): readonly NamedPlace[] {
  const written = reference.places;
  const [only] = part.places;
  if (written.length === 0 && isOnlyNumbered(part) && only !== undefined) {
    // Places that are only numbered are not listed for each that is asked for.
    return pairedPlaces(asked, Math.max(1, only.count) * countOnOne(part, feature)).map((number) => ({
      name: undefined,
      number,
    }));
  }
  const all = allPlaces(part, feature);
  if (written.some((place) => place.from !== undefined)) return namedPlaces(part, feature, written);
  const pair = (
    places: readonly NamedPlace[],
    by: { readonly index: number; readonly of: number },
  ): readonly NamedPlace[] => pairedPlaces(by, places.length).flatMap((number) => places[number - 1] ?? []);
  const inGroup = { index: asked.number ?? asked.index, of: asked.ofGroup ?? asked.of };
  if (written.length > 0) {
    const named = namedPlaces(part, feature, written);
    return pair(named, named.length === asked.of ? asked : inGroup);
  }
  const ownGroup = asked.name === undefined ? [] : all.filter((place) => place.name === asked.name);
  if (ownGroup.length > 0) return pair(ownGroup, inGroup);
  if (all.length === asked.of || part.places.length < 2) return pair(all, asked);
  // Upper and lower shells, five of each, go with five journals number by number.
  const groups = part.places.map((group) => all.filter((place) => place.name === group.name));
  const first = groups[0]?.length;
  return first !== undefined && groups.every((group) => group.length === first) && pairedPlaces(asked, first).length > 0
    ? groups.flatMap((group) => pair(group, asked))
    : pair(all, asked);
}

/** Places among which written ones are looked for. */
export interface Places<place> {
  /** How many a written place takes in. */
  count(written: Place): number;
  /** Those that it takes in, by number. */
  find(written: Place): readonly place[];
}

/** Makes places ready to be looked through often, so that each look does not go through all of them. */
export function lookedThrough<place extends NamedPlace>(all: readonly place[]): Places<place> {
  const every = [...all].sort((one, other) => one.number - other.number);
  const groups = new Map<string | undefined, place[]>();
  for (const each of every) {
    const own = groups.get(each.name);
    if (own === undefined) groups.set(each.name, [each]);
    else own.push(each);
  }
  const among = ({ name }: Place): readonly place[] => (name === undefined ? every : (groups.get(name.text) ?? []));
  /** How many come before a number. */
  const before = (places: readonly place[], number: number): number => {
    let [low, high] = [0, places.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((places[middle]?.number ?? 0) < number) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  const ends = (written: Place, places: readonly place[]): readonly [from: number, to: number] => {
    const { from, to = from } = written;
    if (from === undefined || to === undefined) return [0, places.length];
    const first = before(places, from);
    return [first, Math.max(first, before(places, to + 1))];
  };
  return {
    count(written) {
      const [from, to] = ends(written, among(written));
      return to - from;
    },
    find(written) {
      const places = among(written);
      return places.slice(...ends(written, places));
    },
  };
}
