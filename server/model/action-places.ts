// Which places an action may name: of a part, of the screws of a fastener one by one, of a limit. What a list of targets means.

import type { Action, Name, Place, Reference } from '../../grammar/tree.ts';
import { allPlaces, type NamedPlace } from './feature-places.ts';
import { placesOfLimit } from './limit-places.ts';
import { takesIn } from './measure.ts';
import type { Fastener, Limit, Part, Thing, View } from './view.ts';
import { question } from './view-questions.ts';

/** No engine has more screws of one kind; a larger count is taken as one screw for each place, so that none can hold the editor up. */
const MOST_SCREWS = 1024;

/** How many screws of a fastener lie side by side at each place of its `each`; all of them where it has none. */
export function screwsPerPlace(fastener: Fastener, view: View): number {
  return fastener.count * placesOfEach(fastener, view) > MOST_SCREWS ? 1 : fastener.count;
}

function partOf(name: string | undefined, view: View): Part | undefined {
  const thing = name === undefined ? undefined : view.things.get(name);
  return thing?.kind === 'part' ? thing : undefined;
}

/** How many places the part has of which a fastener has so many each; one without such a part. */
export function placesOfEach(fastener: Fastener, view: View): number {
  return Math.max(1, partOf(fastener.each, view)?.count ?? 1);
}

/**
 * By screw, the names that it goes by. Those of an `each` go by the place of their part; where that is a name alone (`left`), the number
 * behind it tells the screws there apart. Others are numbered, and go by the places of what they clamp as well where they share them evenly.
 */
const screwNames = question((view, fastener: Fastener): readonly (readonly NamedPlace[])[] => {
  const per = screwsPerPlace(fastener, view);
  const each = partOf(fastener.each, view);
  if (each !== undefined) return shared(each, per).map((name) => [name]);
  const clamped = fastener.clamps.flatMap((clamp) => partOf(clamp.part, view) ?? []);
  const named = clamped.find(({ places, count }) => places[0]?.name !== undefined && per % count === 0);
  const names = named === undefined ? [] : shared(named, per / named.count);
  return Array.from({ length: per }, (_, i) => [
    { name: undefined, number: i + 1 },
    ...(names[i] === undefined ? [] : [names[i]]),
  ]);
});

function shared(part: Part, per: number): readonly NamedPlace[] {
  return part.places.flatMap(({ name, count }) =>
    Array.from({ length: count * per }, (_, i) => ({
      name,
      number: name !== undefined && count === 1 ? i + 1 : Math.floor(i / per) + 1,
    })),
  );
}

/** The screws (from 0) that places as written mean; all of them where none is written. */
export function screwsWritten(fastener: Fastener, view: View, written: readonly Place[]): readonly number[] {
  const all = screwNames(view, fastener);
  const numbers = [...all.keys()];
  if (written.length === 0) return numbers;
  return numbers.filter((i) => all[i]?.some((name) => written.some((place) => takesIn(place, name))));
}

/** The places of a limit: of what it is `each` of, else of what it is `of`. */
export function placesToMeasure(limit: Limit, view: View): readonly NamedPlace[] {
  return measuredPlaces(view, limit);
}

const measuredPlaces = question((view, limit: Limit): readonly NamedPlace[] => {
  if (limit.each === undefined) {
    const part = partOf(limit.of?.owner.text, view);
    return part === undefined || part.broken ? [] : allPlaces(part, limit.of?.feature?.text);
  }
  const each = view.things.get(limit.each.owner.text);
  if ((each?.kind !== 'part' && each?.kind !== 'fastener') || each.broken) return [];
  return placesOfLimit(limit, view).map((asked) => ({ name: asked.name, number: asked.number ?? asked.index }));
});

/** The places of a fastener or a limit that an action may name; empty where that is not known. */
export function namedPlacesOf(thing: Thing, view: View): readonly NamedPlace[] {
  if (thing.kind === 'limit') return placesToMeasure(thing, view);
  if (thing.kind !== 'fastener') return [];
  const names = screwNames(view, thing).flat();
  return names.filter(
    (one, i) => names.findIndex((each) => each.name === one.name && each.number === one.number) === i,
  );
}

/** Whether a word in a list of targets is a place of the target before it: `main-shell upper 1..3, lower 1..3`. */
export function isPlaceOf(view: View, owner: string, word: string): boolean {
  const thing = view.things.get(owner);
  if (thing === undefined || view.things.has(word)) return false;
  const places = thing.kind === 'part' ? thing.places : namedPlacesOf(thing, view);
  return places.some(({ name }) => name === word);
}

/** A target that is only a place of the one before it, as that place. */
export function asPlaces(owner: Name, places: readonly Place[]): readonly Place[] {
  const numbers = places.filter((place) => place.name === undefined);
  if (numbers.length === 0) return [{ start: owner.start, end: owner.end, name: owner }];
  return numbers.map((place) => ({ ...place, name: owner }));
}

/** What an action is done to, each thing with all its places. */
export function targetsOf(action: Action, view: View): readonly Reference[] {
  const { targets } = action;
  if (targets.length < 2 || targets.every(({ owner }) => view.things.has(owner.text))) return targets;
  const found: Reference[] = [];
  for (const target of targets) {
    const last = found[found.length - 1];
    if (
      last !== undefined &&
      last.places.length > 0 &&
      target.feature === undefined &&
      isPlaceOf(view, last.owner.text, target.owner.text)
    )
      found[found.length - 1] = {
        ...last,
        places: [...last.places, ...asPlaces(target.owner, target.places)],
        end: target.end,
      };
    else found.push(target);
  }
  return found;
}
