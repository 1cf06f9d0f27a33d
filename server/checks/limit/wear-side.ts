// A wear limit on the side to which nothing wears: a journal that would have to grow, a clearance that would have to shrink.
import { told } from '../../../grammar/told.ts';
import type { PlainValue, Statement, Value } from '../../../grammar/tree.ts';
import { compare } from '../../mechanics/exact.ts';
import { sameDimension } from '../../mechanics/units.ts';
import type { Bounds } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Limit } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { pairsOf, plainBounds } from './wear-inside.ts';
import page from './wear-side.md';

type Way = 'smaller' | 'larger';

/** By the last word of its name. Common practice, no source. */
const WORN: readonly (readonly [RegExp, Way])[] = [
  [/(?:^|[-_])(?:journal|crankpin|stem|skirt|lobe|lobe-height|lobe-lift|thickness|wall|free-length)$/, 'smaller'],
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
  if (way === 'smaller')
    return fresh.high !== undefined && wear.high !== undefined && compare(wear.high, fresh.high) > 0;
  return fresh.low !== undefined && wear.low !== undefined && compare(wear.low, fresh.low) < 0;
}

function say(
  placed: Placed,
  name: string,
  way: Way | undefined,
  values: readonly [fresh: Value | undefined, wear: Value | undefined],
  report: Report,
): void {
  if (way === undefined) return;
  for (const { one, other } of pairsOf(...values)) {
    const [fresh, wear] = [plainBounds(one), plainBounds(other)];
    if (fresh === undefined || wear === undefined || !sameDimension(fresh.unit, wear.unit)) continue;
    if (!isOnWrongSide(way, fresh, wear)) continue;
    const text = (value: PlainValue): string => placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
    report(
      placed,
      other,
      way === 'smaller'
        ? told`${told.named(name)} gets smaller as it wears, and the wear limit ${text(other)} lies above the new range ${text(one)}. See whether two figures changed places.`
        : told`${told.named(name)} gets larger as it wears, and the wear limit ${text(other)} lies below the new range ${text(one)}. See whether two figures changed places.`,
      { related: [{ placed, span: one, message: told`The new range.` }] },
    );
  }
}

function walk(placed: Placed, statements: readonly Statement[], report: Report): void {
  for (const each of statements) {
    if (each.kind === 'dimension')
      say(placed, each.name.text, wayOf(each.name.text), [each.value, each.wearLimit], report);
    if (each.kind === 'value' && each.word === 'wall')
      say(placed, 'wall', 'smaller', [each.value, each.wearLimit], report);
    if (each.kind === 'size') walk(placed, each.body?.statements ?? [], report);
  }
}

export const wearSide: ThingCheck = {
  code: 'limit/wear-side',
  severity: 'warning',
  scope: 'thing',
  page,
  run(thing, _view, report) {
    if (thing.kind === 'part') walk(thing.placed, thing.statements, report);
    else if (thing.kind === 'limit' && !thing.broken)
      say(thing.placed, thing.name, wayOfLimit(thing), [thing.within, thing.wearLimit], report);
  },
};
