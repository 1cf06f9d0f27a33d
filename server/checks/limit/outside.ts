// A limit that the parts miss whatever their tolerances do.
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import { ZERO } from '../../mechanics/exact.ts';
import { shownUnit } from '../../model/limit-sums.ts';
import type { ThingCheck } from '../check.ts';
import { rangeShown } from '../figures.ts';
import page from './outside.md';
import { comesOut, inputsShown, judged } from './verdicts.ts';

function nearest(by: Argument, isSmall: boolean): Told {
  return isSmall
    ? told` The nearest that they come is ${by} too small.`
    : told` The nearest that they come is ${by} too large.`;
}

export const outside: ThingCheck = {
  code: 'limit/outside',
  severity: 'error',
  scope: 'thing',
  page,
  run(thing, view, report) {
    if (thing.kind !== 'limit') return;
    for (const { value, results } of judged(thing, view, 'outside')) {
      const first = results[0];
      if (first?.bounds === undefined) continue;
      const { low, high, unit, places } = first.bounds;
      const { interval } = first.worked.stack;
      const under = low !== undefined && interval.high.compare(low) < 0;
      const by = under ? low.sub(interval.high) : high === undefined ? undefined : interval.low.sub(high);
      const text = comesOut(thing, results);
      const miss =
        by === undefined
          ? told.nothing
          : nearest(
              rangeShown({ low: by, high: by }, unit.length === 0 ? shownUnit(first) : unit, places, ZERO),
              under,
            );
      report(
        thing.placed,
        value,
        told`${text.range}, whatever the parts measure, and must lie within ${text.bounds}.${miss} Worked out from ${inputsShown(results)}.`,
      );
    }
  },
};
