// The places of a part that are concerned when single ones are asked for: `piston 3`, `head left`. Which of another part go with them is
// told by name, by bank, or by number as in limits. No state.
import { pairedPlaces } from '../model/feature-places.ts';
import type { Fastener, Part, View } from '../model/view.ts';

/** Places of a part, by number from 0 in the order in which they are declared. */
export type Places = ReadonlySet<number>;

export function allPlacesOf(part: Part): Places {
  return new Set(Array.from({ length: Math.max(1, part.count) }, (_, i) => i));
}

export function areAll(part: Part, places: Places): boolean {
  return places.size >= Math.max(1, part.count);
}

interface Numbered {
  readonly index: number;
  readonly group: string | undefined;
  readonly ofGroup: number;
  readonly number: number;
}

function numbered(part: Part): readonly Numbered[] {
  let index = 0;
  return part.places.flatMap(({ name, count }) =>
    Array.from({ length: count }, (_, i) => ({ index: index++, group: name, ofGroup: count, number: i + 1 })),
  );
}

/** `1..3`, `1, 3`: numbers with rows of three and more drawn together. */
function rows(numbers: readonly number[]): string {
  const parts: string[] = [];
  for (let i = 0; i < numbers.length; i += 1) {
    const from = numbers[i] ?? 0;
    let last = i;
    while (numbers[last + 1] === (numbers[last] ?? 0) + 1) last += 1;
    if (last - i >= 2) {
      parts.push(`${from}..${numbers[last] ?? from}`);
      i = last;
    } else parts.push(String(from));
  }
  return parts.join(', ');
}

/** The places as a spec writes them behind the name; nothing where all are meant. */
export function placeWords(part: Part, places: Places): string {
  if (areAll(part, places)) return '';
  const chosen = numbered(part).filter(({ index }) => places.has(index));
  const groups = [...new Set(chosen.map(({ group }) => group))];
  return groups
    .map((group) => {
      const own = chosen.filter((each) => each.group === group);
      const whole = group !== undefined && own.length === own[0]?.ofGroup;
      const numbers = whole ? '' : rows(own.map(({ number }) => number));
      return [group, numbers].filter((each) => each !== undefined && each !== '').join(' ');
    })
    .join(', ');
}

export function nameWith(part: Part, places: Places): string {
  const words = placeWords(part, places);
  return words === '' ? part.name : `${part.name} ${words}`;
}

/** The places that some words mean (`left`, `3`, `upper 2`); undefined where the part has none of that name. */
export function placesAsked(part: Part, words: readonly string[]): Places | undefined {
  const all = numbered(part);
  const found = new Set<number>();
  let group: string | undefined;
  let open: readonly number[] = [];
  for (const word of words.flatMap((each) => each.split(/[\s,]+/)).filter((each) => each !== '')) {
    const range = /^(\d+)(?:\.\.(\d+))?$/.exec(word);
    if (range === null) {
      for (const index of open) found.add(index);
      const own = all.filter((each) => each.group === word);
      if (own.length === 0) return undefined;
      group = word;
      open = own.map(({ index }) => index);
      continue;
    }
    open = [];
    const from = Number(range[1]);
    const to = Number(range[2] ?? range[1]);
    const own = all.filter((each) => each.group === group && each.number >= from && each.number <= to);
    if (own.length !== to - from + 1) return undefined;
    for (const { index } of own) found.add(index);
  }
  for (const index of open) found.add(index);
  return found.size === 0 ? undefined : found;
}

/** By cylinder (from 1), its bank. */
function banksOf(view: View): ReadonlyMap<number, string> {
  const banks = new Map<number, string>();
  for (const statement of view.engine?.statements ?? [])
    if (statement.kind === 'bank')
      for (const cylinder of statement.cylinders) banks.set(cylinder.value, statement.side.word);
  return banks;
}

/** The cylinder (from 1) that a place belongs to, where the part has as many places, or a multiple, for each. */
function cylinderOf({ number, ofGroup }: Numbered, view: View): number | undefined {
  const cylinders = view.engine?.cylinders ?? 0;
  return cylinders > 1 && ofGroup % cylinders === 0 ? Math.ceil(number / (ofGroup / cylinders)) : undefined;
}

const SIDES = new Set(['left', 'right']);

/** The side that a place lies on. */
function sideOf(each: Numbered, view: View): string | undefined {
  if (each.group !== undefined && SIDES.has(each.group)) return each.group;
  const cylinder = cylinderOf(each, view);
  return cylinder === undefined ? undefined : banksOf(view).get(cylinder);
}

/** The places of another part that go with some places of one; all of them where that can't be told. */
export function placesAlong(from: Part, places: Places, to: Part, view: View): Places {
  if (areAll(from, places) || to.count < 2) return allPlacesOf(to);
  const own = numbered(from).filter(({ index }) => places.has(index));
  const others = numbered(to);
  // By name: left head, left gasket.
  const names = new Set(others.map(({ group }) => group).filter((name) => name !== undefined));
  if (
    own.every(({ group }) => group !== undefined && names.has(group)) &&
    !own.some((each) => cylinderOf(each, view) && each.ofGroup > 1)
  )
    return new Set(others.filter((each) => own.some((one) => one.group === each.group)).map(({ index }) => index));
  // By bank: the left head and the cylinders under it.
  const hasSides = others.every((each) => sideOf(each, view) !== undefined);
  const oneIsSide = [...own, ...others].some(({ group }) => group !== undefined && SIDES.has(group));
  if (oneIsSide && hasSides && own.every((each) => sideOf(each, view) !== undefined)) {
    const sides = new Set(own.map((each) => sideOf(each, view)));
    return new Set(others.filter((each) => sides.has(sideOf(each, view))).map(({ index }) => index));
  }
  if (oneIsSide && (view.engine?.layout === 'vee' || view.engine?.layout === 'flat')) return allPlacesOf(to);
  // By cylinder, in each of the groups (`upper`, `inlet`); else by number.
  const cylinders = own.map((each) => cylinderOf(each, view));
  if (cylinders.every((each) => each !== undefined) && others.every((each) => cylinderOf(each, view) !== undefined))
    return new Set(
      others.filter((each) => cylinders.some((one) => one === cylinderOf(each, view))).map(({ index }) => index),
    );
  // Halves of a row: the front head and the cylinders under it.
  const of = view.engine?.cylinders ?? 0;
  const isHalf = (part: Part): boolean => of > 1 && part.count > 1 && part.count < of && of % part.count === 0;
  if (isHalf(from) && others.every((each) => cylinderOf(each, view) !== undefined)) {
    const under = own.flatMap(({ index }) => pairedPlaces({ index: index + 1, of: from.count }, of));
    return new Set(others.filter((each) => under.includes(cylinderOf(each, view) ?? 0)).map(({ index }) => index));
  }
  if (isHalf(to) && cylinders.every((each) => each !== undefined))
    return new Set(
      cylinders.flatMap((each) => pairedPlaces({ index: each ?? 1, of }, to.count).map((number) => number - 1)),
    );
  const found = own.flatMap(({ index }) => pairedPlaces({ index: index + 1, of: from.count }, to.count));
  return found.length === 0 ? allPlacesOf(to) : new Set(found.map((number) => number - 1));
}

/** The part whose places the screws of a fastener go by: that of its `each`, else a part that it clamps with as many at each named place. */
export function screwsGoBy(fastener: Fastener, part: Part, view: View): Part | undefined {
  const each = fastener.each === undefined ? undefined : view.things.get(fastener.each);
  if (each?.kind === 'part') return each;
  const isShared = part.places.every(({ name }) => name !== undefined) && fastener.count % part.count === 0;
  return isShared && part.count > 1 && fastener.clamps.some((clamp) => clamp.part === part.name) ? part : undefined;
}

/** The screws that hold some places of a part, as a spec names them. Those that are not so many for each of a part are undone all. */
export function screwWords(fastener: Fastener, part: Part, places: Places, view: View): string {
  const each = screwsGoBy(fastener, part, view);
  if (each === undefined) return fastener.name;
  const words = placeWords(each, placesAlong(part, places, each, view));
  return words === '' ? fastener.name : `${fastener.name} ${words}`;
}
