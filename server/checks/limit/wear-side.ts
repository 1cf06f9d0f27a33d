// A wear limit on the side to which nothing wears: a journal that would have to grow, a clearance that would have to shrink. And a bound with
// one side, on the side from which nothing threatens: a leak that must be at least so much, an oil pressure that may be no more.
import { told } from '../../../grammar/told.ts';
import { compare } from '../../mechanics/exact.ts';
import { type Bounds, plainValues } from '../../model/measure.ts';
import type { Limit } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { change } from '../support.ts';
import { isFarAway } from './wear-far.ts';
import { type WearPair, wearPairs, wearText } from './wear-pairs.ts';
import page from './wear-side.md';

type Way = 'smaller' | 'larger';

/** By the last word of its name. Common practice, no source. */
const WORN: readonly (readonly [RegExp, Way])[] = [
  [
    /(?:^|[-_])(?:journal|crankpin|stem|skirt|lobe|lobe-height|lobe-lift|thickness|wall|free-length|pressure|spring-load)$/,
    'smaller',
  ],
  [
    /(?:^|[-_])(?:bore|guide|bush-bore|groove|groove-width|clearance|end-play|side-play|backlash|end-gap|ring-gap)$/,
    'larger',
  ],
];
/** By the kind of a limit. Common practice, no source. */
const KINDS: ReadonlyMap<string, Way> = new Map([
  ...[
    ...['oil-clearance', 'ring-gap', 'ring-side-clearance', 'end-play', 'side-clearance', 'piston-clearance'],
    ...['pin-clearance', 'guide-clearance', 'backlash', 'flatness', 'runout', 'out-of-round', 'taper', 'chain-slack'],
  ].map((kind) => [kind, 'larger'] as const),
  ...['press-fit', 'compression', 'spring-load'].map((kind) => [kind, 'smaller'] as const),
]);

function wayOf(name: string): Way | undefined {
  return WORN.find(([pattern]) => pattern.test(name))?.[1];
}

function wayOfLimit({ name, sort }: Limit): Way | undefined {
  return sort === undefined ? wayOf(name) : KINDS.get(sort);
}

/** Whether a wear limit lies beyond the wrong end of the new range. */
function isOnWrongSide(way: Way, fresh: Bounds, wear: Bounds): boolean {
  const isRange = fresh.low !== undefined && fresh.high !== undefined && compare(fresh.low, fresh.high) < 0;
  const beyond = (away: number): boolean => away > 0 || (away === 0 && isRange);
  if (way === 'smaller')
    return fresh.high !== undefined && wear.high !== undefined && beyond(compare(wear.high, fresh.high));
  return fresh.low !== undefined && wear.low !== undefined && beyond(compare(fresh.low, wear.low));
}

/** Which way it wears, where that can be told. */
function wayOfPair({ name, of }: WearPair): Way | undefined {
  if (of === 'wall') return 'smaller';
  if (of === 'dimension') return wayOf(name);
  return of === 'figure' ? undefined : wayOfLimit(of);
}

/** What does harm from one side alone: too near, too little, or too much. By the kind of a limit. Common practice, no source. */
const HARMS: ReadonlyMap<string, 'little' | 'much'> = new Map([
  ['piston-to-valve', 'little'],
  ...['flatness', 'runout', 'out-of-round', 'taper', 'unbalance'].map((kind) => [kind, 'much'] as const),
]);
/** The same by the name of a limit whose kind does not tell. Common practice, no source. */
const HARMS_BY_NAME: readonly (readonly [RegExp, 'little' | 'much'])[] = [
  [
    /(?:^|-)(?:valve|inlet|exhaust)-to-piston$|(?:^|-)piston-to-(?:valve|inlet|exhaust)$|(?:^|-)(?:oil|compression)-pressure$|(?:^|-)(?:water|coolant|oil|fuel)-flow$/,
    'little',
  ],
  [
    /(?:^|-)(?:leak|leakage|leak-down|leak-rate|run-?out|taper|out-of-round|flatness|warp|twist|bend|unbalance|imbalance|spread|drag|blow-by|pressure-(?:drop|loss))$/,
    'much',
  ],
];

/** Words of a title that tell why a bound stands on the other side. */
const OTHER_SIDE = /cold|relief|max|highest|most|least|min\b/i;

/** What does harm there, where that can be told. */
function harmOf({ name, sort, title }: Limit): 'little' | 'much' | undefined {
  const byKind = sort === undefined ? undefined : HARMS.get(sort);
  if (byKind !== undefined) return byKind;
  if (OTHER_SIDE.test(title ?? '')) return undefined;
  const low = name.toLowerCase();
  return sort === undefined || sort === 'other' ? HARMS_BY_NAME.find(([pattern]) => pattern.test(low))?.[1] : undefined;
}

/** A bound that holds the side from which no harm comes, and leaves the other open. */
function sayOpenSide(limit: Limit, report: Report): void {
  const harm = harmOf(limit);
  if (harm === undefined || limit.broken) return;
  const wrong = harm === 'little' ? 'at-most' : 'at-least';
  const value = plainValues(limit.within).find((each) => each.kind === 'open' && each.side === wrong);
  if (value?.kind !== 'open') return;
  const written = wearText(limit.placed, value);
  const right = written.replace(wrong, wrong === 'at-most' ? 'at-least' : 'at-most');
  report(
    limit.placed,
    value,
    harm === 'little'
      ? told`Of ${told.thing(limit)} too little does harm, and ${written} lets it be as little as it likes. Is ${right} meant?`
      : told`Of ${told.thing(limit)} too much does harm, and ${written} lets it be as much as it likes. Is ${right} meant?`,
    { fixes: [change(limit.placed, value, right)] },
  );
}

export const wearSide: ThingCheck<'part' | 'limit'> = {
  code: 'limit/wear-side',
  severity: 'warning',
  scope: 'thing',
  of: ['part', 'limit'],
  page,
  run(thing, _view, report) {
    const { placed } = thing;
    if (thing.kind === 'limit') sayOpenSide(thing, report);
    for (const pair of wearPairs(thing)) {
      const { name, fresh, wear, range, limit } = pair;
      const way = wayOfPair(pair);
      // What lies far from the range is told as that.
      if (way === undefined || !isOnWrongSide(way, range, limit) || isFarAway(pair)) continue;
      const [is, was] = [wearText(placed, wear), wearText(placed, fresh)];
      report(
        placed,
        wear,
        way === 'smaller'
          ? told`${told.named(name)} gets smaller as it wears, and the wear limit ${is} lies above the new range ${was}. See whether two figures changed places.`
          : told`${told.named(name)} gets larger as it wears, and the wear limit ${is} lies below the new range ${was}. See whether two figures changed places.`,
        { related: [{ placed, span: fresh, message: told`The new range.` }] },
      );
    }
  },
};
