// Bounds of what is measured that the engine's own figures miss whatever their tolerances do: how far pistons stand proud against rod, stroke and
// block, the chamber of a head against the engine's.
import { type Told, told } from '../../../grammar/told.ts';
import { type Exact, negate } from '../../mechanics/exact.ts';
import { sameDimension, unitOf } from '../../mechanics/units.ts';
import { engineFigure, engineMeasure } from '../../model/engine-sums.ts';
import { limitBounds } from '../../model/limit-sums.ts';
import { isA } from '../../model/trade-names.ts';
import type { Limit, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { boundsShown, rangeShown } from '../figures.ts';
import page from './design-differs.md';

interface Designed {
  readonly low: Exact;
  readonly high: Exact;
  readonly from: Told;
}

/** What the engine's figures make of what a limit measures; undefined for what they do not tell. */
function designed(limit: Limit, view: View): Designed | undefined {
  const of = (limit.of ?? limit.each)?.owner.text ?? '';
  if (limit.sort === 'protrusion' && isA(of, 'piston')) {
    const deck = engineFigure('deck-clearance', view)?.stack.interval;
    return deck === undefined
      ? undefined
      : {
          low: negate(deck.high),
          high: negate(deck.low),
          from: told`block height, rod length, stroke and compression height`,
        };
  }
  if (limit.sort === 'volume' && /chamber/i.test(limit.name) && (of === '' || isA(of, 'head'))) {
    const chamber = engineMeasure('chamber', view)?.stack.interval;
    return chamber === undefined
      ? undefined
      : { low: chamber.low, high: chamber.high, from: told`the chamber of the engine` };
  }
  return undefined;
}

export const designDiffers: ThingCheck = {
  code: 'limit/design-differs',
  severity: 'warning',
  scope: 'thing',
  page,
  run(limit, view, report) {
    if (limit.kind !== 'limit' || limit.broken || limit.expression !== undefined || limit.within === undefined) return;
    const found = designed(limit, view);
    const bounds = found === undefined ? undefined : limitBounds(limit, 'within', { index: 1, of: 1 }, view);
    if (found === undefined || bounds === undefined) return;
    if (!sameDimension(bounds.unit, unitOf(limit.sort === 'volume' ? 'cc' : 'mm'))) return;
    const isUnder = bounds.low !== undefined && found.high.compare(bounds.low) < 0;
    const isOver = bounds.high !== undefined && found.low.compare(bounds.high) > 0;
    if (!isUnder && !isOver) return;
    report(
      limit.placed,
      limit.within,
      told`${told.thing(limit)} must lie within ${boundsShown(bounds)}, and from ${found.from} it comes out at ${rangeShown(found, bounds.unit, bounds.places)}, whatever the parts measure. Either a figure of the engine or a bound is wrong.`,
    );
  },
};
