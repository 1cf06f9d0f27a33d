// The places that a limit has: each is worked out, measured and judged for itself.
import type { Place } from '../../grammar/tree.ts';
import { type Asked, type NamedPlace, placesOf } from './feature-places.ts';
import { takesIn } from './measure.ts';
import type { Limit, View } from './view.ts';
import { question } from './view-questions.ts';

/** The places that a limit has: those of what it is `each` of; of these the ones that are written. */
export function placesOfLimit(limit: Limit, view: View, written: readonly Place[] = []): readonly Asked[] {
  const each = limit.each;
  if (each === undefined) return ONE_PLACE;
  if (each.places.length === 0 && written.length === 0)
    return everyPlaceOf(view, `${each.owner.text}${each.feature === undefined ? '' : `.${each.feature.text}`}`);
  const all = placesOf(each, view);
  if (all === undefined) return ONE_PLACE;
  const places = each.places.length === 0 ? all : all.filter((place) => each.places.some((own) => takesIn(own, place)));
  const inGroup = new Map<string | undefined, number>();
  for (const { name } of all) inGroup.set(name, (inGroup.get(name) ?? 0) + 1);
  return places.flatMap((place, i) => {
    if (written.length > 0 && !written.some((own) => takesIn(own, place))) return [];
    return [asAsked(place, i, places.length, inGroup)];
  });
}

const ONE_PLACE: readonly Asked[] = [{ index: 1, of: 1 }];

function asAsked(
  { name, number }: NamedPlace,
  i: number,
  of: number,
  inGroup: ReadonlyMap<string | undefined, number>,
): Asked {
  const at = { index: i + 1, of };
  return name === undefined ? at : { ...at, name, number, ofGroup: inGroup.get(name) ?? 0 };
}

/** All places of a thing or of a feature of it (`valve`, `valve.stem`), one place where it has none: many limits ask for the same. */
const everyPlaceOf = question((view, named: string): readonly Asked[] => {
  const [owner = '', feature] = named.split('.');
  const all = placesOf(
    { owner: { text: owner }, feature: feature === undefined ? undefined : { text: feature } },
    view,
  );
  if (all === undefined) return ONE_PLACE;
  const inGroup = new Map<string | undefined, number>();
  for (const { name } of all) inGroup.set(name, (inGroup.get(name) ?? 0) + 1);
  return all.map((place, i) => asAsked(place, i, all.length, inGroup));
});
