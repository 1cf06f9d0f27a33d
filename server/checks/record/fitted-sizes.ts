// A spec as it is with the repair sizes that a record says were fitted: the dimensions and walls of those sizes in place of the
// standard ones. What follows from them is worked out elsewhere.
import type { ByPlace, Place, PlaceEntry, RecordFitted, Statement, Value } from '../../../grammar/tree.ts';
import type { FittedAs, Part, PartDimension, Thing, View } from '../../model/view.ts';

/** One part with the repair size that went in. */
export interface FittedSize {
  readonly statement: RecordFitted;
  readonly part: Part;
  readonly size: Statement & { readonly kind: 'size' };
}

/** The repair sizes that a record names and its spec has, as written. */
export function fittedSizes(statements: readonly Statement[], view: View): readonly FittedSize[] {
  return statements.flatMap((statement) => {
    if (statement.kind !== 'record-fitted' || statement.size === undefined) return [];
    const part = view.things.get(statement.part.owner.text);
    if (part?.kind !== 'part') return [];
    const size = part.sizes.get(statement.size.text);
    return size?.kind === 'size' ? [{ statement, part, size }] : [];
  });
}

/** A value that holds at some places, and another one everywhere else. */
function atPlaces(fitted: Value, places: readonly Place[], standard: Value | undefined): Value {
  if (places.length === 0) return fitted;
  const entries: PlaceEntry[] = [];
  const { start, end } = fitted;
  if (fitted.kind === 'by-place') entries.push(...fitted.entries);
  else entries.push({ places, value: fitted, start, end });
  if (standard?.kind === 'by-place') entries.push(...standard.entries);
  else if (standard !== undefined)
    entries.push({ places: [{ start: standard.start, end: standard.end }], value: standard, start, end });
  const value: ByPlace = { kind: 'by-place', entries, start, end };
  return value;
}

function withSize(part: Part, { statement, size }: FittedSize): Part {
  return withValues(part, size, statement.part.places, undefined);
}

/** A part with the values of a size; of some features alone where they are named. */
function withValues(
  part: Part,
  size: FittedSize['size'],
  places: readonly Place[],
  features: readonly string[] | undefined,
): Part {
  const dimensions = new Map<string, PartDimension>(part.dimensions);
  let { wall, wallWear } = part;
  for (const each of size.body?.statements ?? []) {
    if (each.kind === 'value' && each.word === 'wall' && features === undefined) {
      wall = atPlaces(each.value, places, wall);
      wallWear = each.wearLimit ?? wallWear;
    }
    if (each.kind !== 'dimension' || each.value === undefined) continue;
    if (features?.includes(each.name.text) === false) continue;
    const standard = dimensions.get(each.name.text);
    if (standard === undefined) continue;
    const value = atPlaces(each.value, places, standard.value);
    dimensions.set(each.name.text, { ...standard, value, wearLimit: each.wearLimit ?? standard.wearLimit });
  }
  return Object.create(part, {
    dimensions: { value: dimensions },
    wall: { value: wall },
    wallWear: { value: wallWear },
  }) as Part;
}

/** A view that knows which repair sizes and grades a record says were fitted, for bounds that differ by them. */
export function withFitted(view: View, statements: readonly Statement[]): View {
  const fitted = statements.flatMap((each): FittedAs[] =>
    each.kind !== 'record-fitted'
      ? []
      : [each.size, each.grade].flatMap((name) =>
          name === undefined ? [] : [{ part: each.part.owner.text, name: name.text, places: each.part.places }],
        ),
  );
  return fitted.length === 0 ? view : (Object.create(view, { fitted: { value: fitted } }) as View);
}

/** What a view sees with these sizes fitted; the view itself where there are none. */
export function withFittedSizes(view: View, sizes: readonly FittedSize[]): View {
  if (sizes.length === 0) return view;
  const fitted = new Map<string, Part>();
  for (const size of sizes) {
    const { name } = size.part;
    const part = fitted.get(name) ?? view.things.get(name);
    if (part?.kind === 'part') fitted.set(name, withSize(part, size));
  }
  // All else is looked up in the view itself, when it is.
  return Object.create(view, {
    things: { value: inPlaceOf(view.things, fitted) },
    parts: { get: () => view.parts.map((part) => fitted.get(part.name) ?? part) },
  }) as View;
}

/** What a view sees with some features of a part at one of its sizes, or all of them; undefined where it has no such size. */
export function withMachined(
  view: View,
  part: Part,
  name: string,
  features: readonly string[] | undefined,
  places: readonly Place[],
): View | undefined {
  const size = part.sizes.get(name);
  if (size?.kind !== 'size') return undefined;
  const own = view.things.get(part.name);
  if (own?.kind !== 'part') return undefined;
  const sized = withValues(own, size, places, features);
  return Object.create(view, { things: { value: inPlaceOf(view.things, new Map([[part.name, sized]])) } }) as View;
}

/** The things of a view with some parts in the place of those of their names. */
function inPlaceOf(things: View['things'], fitted: ReadonlyMap<string, Part>): View['things'] {
  const all = (): ReadonlyMap<string, Thing> => new Map<string, Thing>([...things, ...fitted]);
  return {
    get: (name) => fitted.get(name) ?? things.get(name),
    has: (name) => things.has(name),
    get size() {
      return things.size;
    },
    forEach: (each, of) => all().forEach(each, of),
    entries: () => all().entries(),
    keys: () => things.keys(),
    values: () => all().values(),
    [Symbol.iterator]: () => all().entries(),
  };
}
