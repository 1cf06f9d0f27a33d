// What two trees say differently, whatever statement they are of: figures by value, names by what they stand for, the rest as read.
// Where they stand is of no account, nor what was left out because it is understood (`x1`).
import { lookUp } from '../../grammar/look-up.ts';
import type { Name, Place, PlaceEntry, PlainValue } from '../../grammar/tree.ts';
import { parseThread } from '../mechanics/threads.ts';
import type { Placed } from '../model/placed.ts';
import { type Compared, compareFigures, sameNumber } from './figures.ts';
import { type Renames, sameName } from './names.ts';

export interface Difference {
  /** Where in the statement, for several figures in one: `stage 2`, `inlet`. */
  readonly where: string;
  /** Two figures of one kind; absent where something else than a figure differs. */
  readonly figures?: { readonly old: PlainValue; readonly now: PlainValue; readonly compared: Compared };
}

/** The two sides: the declarations that the trees stand in, and what was renamed between them. */
export interface Sides {
  readonly old: Placed | undefined;
  readonly now: Placed | undefined;
  readonly renames: Renames;
}

type Tree = Readonly<Record<string, unknown>>;

const POSITIONS = new Set(['start', 'end', 'wordSpan', 'designationSpan', 'known']);
const FIGURES = new Set(['quantity', 'range', 'tolerance', 'open']);
/** Lists whose order means nothing, by the property that holds them. */
const ANY_ORDER = new Set(['clamped', 'cylinders', 'links']);
const OTHER: readonly Difference[] = [{ where: '' }];

function isTree(value: unknown): value is Tree {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

const textIn = (tree: Tree): string | undefined => (typeof tree['text'] === 'string' ? tree['text'] : undefined);

/** The differences of two trees; empty where they mean the same. */
export function differences(
  old: unknown,
  now: unknown,
  sides: Sides,
  where = '',
  property = '',
): readonly Difference[] {
  if (old === now) return [];
  if (Array.isArray(old) && Array.isArray(now)) return lists(old, now, sides, where, property);
  if (!isTree(old) || !isTree(now)) return understood(property, old, now) ? [] : [{ where }];
  const kinds = [old['kind'], now['kind']];
  if (kinds.every((kind) => typeof kind === 'string' && FIGURES.has(kind))) {
    const [one, other] = [old as unknown as PlainValue, now as unknown as PlainValue];
    const compared = compareFigures(one, other);
    if (compared !== undefined)
      return compared.relation === 'same' ? [] : [{ where, figures: { old: one, now: other, compared } }];
  }
  if (kinds[0] === 'by-place' && kinds[1] === 'by-place') return byPlace(old, now, sides, where);
  if (kinds[0] === 'ratio' && kinds[1] === 'ratio') return sameRatio(old, now) ? [] : [{ where }];
  if (isPlace(old) && isPlace(now)) return samePlaces([old], [now]) ? [] : [{ where }];
  const [text, other] = [textIn(old), textIn(now)];
  if (text !== undefined && other !== undefined) {
    const number = sameNumber(text, other);
    const same =
      number ??
      sameName(
        { name: old as unknown as Name, in: sides.old },
        { name: now as unknown as Name, in: sides.now },
        sides.renames,
      );
    return same ? [] : [{ where }];
  }
  return Object.keys({ ...old, ...now })
    .filter((each) => !POSITIONS.has(each))
    .flatMap((each) => differences(lookUp(old, each), lookUp(now, each), sides, where, each));
}

/** What means the same when it is left out: one of it, a place that ends where it begins. */
function understood(property: string, old: unknown, now: unknown): boolean {
  if (typeof old === 'string' && typeof now === 'string' && property === 'designation') return sameThread(old, now);
  if (property !== 'count') return false;
  const many = (value: unknown): unknown => (value === undefined ? 1 : isTree(value) ? value['value'] : value);
  return many(old) === many(now);
}

function sameThread(old: string, now: string): boolean {
  const [one, other] = [parseThread(old), parseThread(now)];
  if (one === undefined || other === undefined) return old === now;
  return (
    one.family === other.family &&
    one.diameter === other.diameter &&
    one.pitch === other.pitch &&
    one.leftHand === other.leftHand
  );
}

function lists(
  old: readonly unknown[],
  now: readonly unknown[],
  sides: Sides,
  where: string,
  property: string,
): readonly Difference[] {
  if (property === 'places') return samePlaces(old as readonly Place[], now as readonly Place[]) ? [] : [{ where }];
  if (old.length !== now.length) return [{ where }];
  if (ANY_ORDER.has(property)) {
    const left = [...now];
    for (const each of old) {
      const at = left.findIndex((other) => differences(each, other, sides).length === 0);
      if (at < 0) return [{ where }];
      left.splice(at, 1);
    }
    return [];
  }
  const called = property === 'stages' ? 'stage' : '';
  return old.flatMap((each, i) =>
    differences(each, now[i], sides, called === '' || old.length < 2 ? where : `${called} ${i + 1}`),
  );
}

/** A place stands somewhere and has nothing but a name and numbers. */
function isPlace(tree: Tree): boolean {
  if (typeof tree['start'] !== 'number') return false;
  return Object.keys(tree).every((each) => ['start', 'end', 'name', 'from', 'to'].includes(each)) && !('text' in tree);
}

const MOST_PLACES = 200;

/** Each single place that is meant: `upper 1..2` is `upper 1` and `upper 2`. */
function singlePlaces(places: readonly Place[]): ReadonlySet<string> {
  return new Set(
    places.flatMap(({ name, from, to }) => {
      const called = name?.text ?? '';
      if (from === undefined) return [called];
      const last = Math.min(to ?? from, from + MOST_PLACES);
      return Array.from({ length: Math.max(0, last - from + 1) }, (_, i) => `${called} ${from + i}`);
    }),
  );
}

function samePlaces(old: readonly unknown[], now: readonly unknown[]): boolean {
  const [one, other] = [singlePlaces(old as readonly Place[]), singlePlaces(now as readonly Place[])];
  return one.size === other.size && [...one].every((place) => other.has(place));
}

function byPlace(old: Tree, now: Tree, sides: Sides, where: string): readonly Difference[] {
  const values = (tree: Tree): ReadonlyMap<string, PlainValue> =>
    new Map(
      (tree['entries'] as readonly PlaceEntry[]).flatMap((entry) =>
        [...singlePlaces(entry.places)].map((place) => [place.trim(), entry.value] as const),
      ),
    );
  const [before, after] = [values(old), values(now)];
  if (before.size !== after.size || [...before.keys()].some((place) => !after.has(place))) return OTHER;
  return [...before].flatMap(([place, value]) =>
    differences(value, after.get(place), sides, where === '' ? place : `${where}, ${place}`),
  );
}

function sameRatio(old: Tree, now: Tree): boolean {
  const number = (part: unknown): number => Number(isTree(part) ? textIn(part) : undefined);
  return (
    number(old['first']) * number(now['second']) === number(now['first']) * number(old['second']) ||
    (textIn(old['first'] as Tree) === textIn(now['first'] as Tree) &&
      textIn(old['second'] as Tree) === textIn(now['second'] as Tree))
  );
}

export function isSame(old: unknown, now: unknown, sides: Sides): boolean {
  return differences(old, now, sides).length === 0;
}
