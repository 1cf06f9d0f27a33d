// What a part declaration says, as data.
import type { Name, Statement } from '../../grammar/tree.ts';
import type { Common, Without } from './gathered.ts';
import { plausible } from './most.ts';
import { choiceIn, flagIn, namesIn, textIn, valueIn, wholeIn } from './statements.ts';
import type { Part, PartDimension, PartMark, PlaceGroup } from './view.ts';

/** `upper 1..5, lower 1..5`; a name without numbers is one place. */
function placeGroups(statements: readonly Statement[], count: number | undefined): readonly PlaceGroup[] {
  const groups = new Map<string | undefined, number>();
  const homes = new Map<string | undefined, string>();
  for (const each of statements) {
    if (each.kind !== 'places') continue;
    for (const place of each.places) {
      const size = place.from === undefined ? 1 : (place.to ?? place.from) - place.from + 1;
      if (place.into !== undefined && !homes.has(place.name?.text)) homes.set(place.name?.text, place.into.text);
      groups.set(place.name?.text, (groups.get(place.name?.text) ?? 0) + Math.max(1, plausible(size) ?? 1));
    }
  }
  if (groups.size === 0) return [{ name: undefined, count: Math.max(1, count ?? 1) }];
  const named = [...groups].map(([name, size]): PlaceGroup => {
    const home = homes.get(name);
    return home === undefined ? { name, count: size } : { name, count: size, into: home };
  });
  // `part valve x8` with `places inlet, exhaust` has four of each.
  const total = named.reduce((sum, group) => sum + group.count, 0);
  if (count !== undefined && count > total && named.every((group) => group.count === 1) && count % total === 0)
    return named.map((group) => ({ ...group, count: count / total }));
  return named;
}

function dimensionOf(each: Statement): PartDimension | undefined {
  if (each.kind === 'dimension')
    return {
      name: each.name.text,
      count: Math.max(1, plausible(each.count?.value) ?? 1),
      value: each.value,
      wearLimit: each.wearLimit,
      statement: each,
    };
  if (each.kind === 'figure')
    return { name: each.name.text, count: 1, value: each.value, wearLimit: each.wearLimit, statement: each };
  return undefined;
}

/** A part, for the statements that hold in one variant. */
export function partOf(common: Common, statements: readonly Statement[]): Without<Part> {
  const places = placeGroups(statements, plausible(common.declaration.count?.value));
  const dimensions = new Map<string, PartDimension>();
  const figures = new Map<string, PartDimension>();
  const marks = new Map<string, PartMark>();
  const features = new Map<string, Name>();
  const names = new Set<string>();
  const sizes = new Map<string, Statement>();
  const covers: Part['covers'][number][] = [];
  let outThrough: Part['outThrough'];
  let wallWear: Part['wallWear'];
  for (const each of statements) {
    const dimension = dimensionOf(each);
    if (dimension !== undefined) (each.kind === 'dimension' ? dimensions : figures).set(dimension.name, dimension);
    if (each.kind === 'mark')
      marks.set(each.name.text, { name: each.name.text, at: each.at, against: each.against, statement: each });
    if (each.kind === 'names' && each.word === 'feature') for (const name of each.names) features.set(name.text, name);
    if (each.kind === 'size') sizes.set(each.name.text, each);
    if (each.kind === 'orient') for (const rule of each.rules) names.add(rule.feature.text);
    if (each.kind === 'value' || each.kind === 'number') names.add(each.word);
    if (each.kind === 'value' && each.word === 'wall') wallWear = each.wearLimit;
    if (each.kind === 'reference' && each.word === 'out-through') outThrough = each.reference;
    if (each.kind === 'covers')
      for (const reference of each.covered)
        covers.push({ part: reference.owner.text, mark: reference.feature?.text, reference });
  }
  for (const key of [...dimensions.keys(), ...figures.keys(), ...marks.keys(), ...features.keys()]) names.add(key);
  return {
    kind: 'part',
    ...common,
    count: places.reduce((sum, group) => sum + group.count, 0),
    places,
    dimensions,
    figures,
    marks,
    features,
    featureNames: names,
    sizes,
    wall: valueIn(statements, 'wall'),
    wallWear,
    teeth: wholeIn(statements, 'teeth'),
    links: wholeIn(statements, 'links'),
    pitch: valueIn(statements, 'pitch'),
    fixedTo: namesIn(statements, 'fixed-to')[0]?.text,
    heldBack: textIn(statements, 'held-back'),
    singleUse: flagIn(statements, 'single-use'),
    matched: flagIn(statements, 'matched'),
    securedBy: choiceIn(statements, 'secured-by'),
    onOrder: textIn(statements, 'on-order'),
    covers,
    clearOf: namesIn(statements, 'clear-of'),
    outThrough,
    fitted: choiceIn(statements, 'fitted'),
    bled: flagIn(statements, 'bled'),
    timed: statements.find((each) => each.kind === 'timed'),
    drivenBy: namesIn(statements, 'driven-by')[0],
  };
}
