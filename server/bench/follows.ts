// What follows from what was measured: limits that are sums of dimensions, as soon as all of those that can be measured are there.

import { leavesOf } from '../../grammar/terms.ts';
import type { ByPlace, PlaceEntry, Value } from '../../grammar/tree.ts';
import type { Judged } from '../checks/record/measurements.ts';
import { evaluation } from '../model/evaluation.ts';
import { workOutSum } from '../model/expression.ts';
import { type Asked, allPlaces, placesFor } from '../model/feature-places.ts';
import { placesOfLimit } from '../model/limit-places.ts';
import type { Limit, Part, Thing, View } from '../model/view.ts';
import type { Worked } from '../model/worked.ts';

/** A limit that is not measured itself and comes out of others that were. */
export interface Followed {
  readonly limit: Limit;
  readonly asked: Asked | undefined;
  readonly worked: Worked;
  /** The measured limits that it comes from. */
  readonly from: readonly string[];
}

/** The dimension that a limit measures: what it is, or what it is measured at. */
function dimensionOf(limit: Limit, view: View): { readonly part: Part; readonly feature: string } | undefined {
  const reference = limit.expression?.kind === 'reference' ? limit.expression.reference : limit.each;
  if (limit.expression !== undefined && limit.expression.kind !== 'reference') return undefined;
  const part = reference === undefined ? undefined : view.things.get(reference.owner.text);
  const feature = reference?.feature?.text;
  return part?.kind !== 'part' || feature === undefined || !part.dimensions.has(feature)
    ? undefined
    : { part, feature };
}

/** What was measured under a limit at a place of it. */
export function measuredAt(limit: Limit, judged: readonly Judged[], view: View, asked: Asked): Judged | undefined {
  const places = placesOfLimit(limit, view);
  const own = judged.filter((each) => each.limit === limit);
  if (places.length < 2) return own[0];
  if (asked.of !== places.length) return undefined;
  const at = places[asked.index - 1];
  return own.find(
    (each) =>
      each.entry === undefined ||
      each.entry.places.some(
        (place) =>
          at !== undefined &&
          (place.name === undefined || place.name.text === at.name) &&
          (place.from === undefined ||
            (place.from <= (at.number ?? at.index) && (place.to ?? place.from) >= (at.number ?? at.index))),
      ),
  );
}

/** Dimensions as they were measured, in place of what the spec says of them. */
function withMeasured(
  view: View,
  judged: readonly Judged[],
): { readonly view: View; readonly known: ReadonlySet<string> } {
  const things = new Map<string, Thing>(view.things);
  const known = new Set<string>();
  for (const limit of view.limits) {
    const dimension = dimensionOf(limit, view);
    if (dimension === undefined) continue;
    const part = things.get(dimension.part.name);
    const written = part?.kind === 'part' ? part.dimensions.get(dimension.feature) : undefined;
    if (part?.kind !== 'part' || written === undefined) continue;
    const places = allPlaces(part, dimension.feature);
    const entries: PlaceEntry[] = [];
    for (const [i, place] of places.entries()) {
      const found = measuredAt(limit, judged, view, {
        index: i + 1,
        of: places.length,
        name: place.name,
        number: place.number,
      });
      if (found === undefined) continue;
      known.add(`${part.name}.${dimension.feature} ${i}`);
      entries.push({
        places: [
          {
            ...(place.name === undefined ? {} : { name: { text: place.name, start: 0, end: 0 } }),
            from: place.number,
            to: place.number,
            start: 0,
            end: 0,
          },
        ],
        value: found.value,
        start: 0,
        end: 0,
      });
    }
    if (entries.length === 0) continue;
    const rest: readonly PlaceEntry[] =
      written.value === undefined
        ? []
        : written.value.kind === 'by-place'
          ? written.value.entries
          : [{ places: [{ start: 0, end: 0 }], value: written.value, start: 0, end: 0 }];
    const value: ByPlace = { kind: 'by-place', entries: [...entries, ...rest], start: 0, end: 0 };
    const dimensions = new Map(part.dimensions).set(dimension.feature, { ...written, value: value as Value });
    things.set(part.name, { ...part, dimensions });
  }
  const parts = view.parts.map((part) => (things.get(part.name) ?? part) as Part);
  return { view: Object.create(view, { things: { value: things }, parts: { value: parts } }) as View, known };
}

/** Limits that follow from dimensions that were measured, as soon as all of those that can be measured are there. */
export function followFrom(judged: readonly Judged[], view: View): readonly Followed[] {
  if (judged.length === 0) return [];
  const measured = withMeasured(view, judged);
  if (measured.known.size === 0) return [];
  const isMeasurable = (owner: string, feature: string): boolean =>
    view.limits.some((each) => {
      const dimension = dimensionOf(each, view);
      return dimension?.part.name === owner && dimension.feature === feature;
    });
  return view.limits.flatMap((limit): readonly Followed[] => {
    const { expression } = limit;
    if (expression === undefined || expression.kind === 'reference') return [];
    const uses = leavesOf(expression).flatMap((leaf) => {
      if (leaf.kind !== 'reference') return [];
      const { reference } = leaf;
      const [owner, feature] = [reference.owner.text, reference.feature?.text];
      const part = feature === undefined ? undefined : view.things.get(owner);
      return part?.kind === 'part' && feature !== undefined && isMeasurable(owner, feature)
        ? [{ part, feature, reference }]
        : [];
    });
    const from = view.limits
      .filter((each) => {
        const dimension = dimensionOf(each, view);
        return uses.some((use) => use.part.name === dimension?.part.name && use.feature === dimension.feature);
      })
      .map((each) => each.name);
    return placesOfLimit(limit, view).flatMap((asked) => {
      const inputs = uses.flatMap(({ part, feature, reference }) => {
        const all = allPlaces(part, feature);
        return placesFor(part, feature, reference, asked).map((place) => {
          const at = all.findIndex((each) => each.name === place.name && each.number === place.number);
          return measured.known.has(`${part.name}.${feature} ${at}`);
        });
      });
      if (inputs.length === 0 || inputs.includes(false)) return [];
      const worked = workOutSum(expression, evaluation(measured.view, asked));
      return worked === undefined ? [] : [{ limit, asked, worked, from }];
    });
  });
}
