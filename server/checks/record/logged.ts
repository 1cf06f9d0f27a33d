// Readings of a log held against the limits that have their names, where they were taken at the speed or temperature that the bounds are
// for. Nothing is reported here.
import type { Log, Reading, Value } from '../../../grammar/tree.ts';
import { compare } from '../../mechanics/exact.ts';
import { sameDimension } from '../../mechanics/units.ts';
import { evaluation } from '../../model/evaluation.ts';
import { readAs } from '../../model/expression.ts';
import { limitBounds } from '../../model/limit-sums.ts';
import { type Bounds, measureOf } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Limit, View } from '../../model/view.ts';
import { recordStatements } from './measurements.ts';

export interface LoggedOutside {
  readonly reading: Reading;
  readonly limit: Limit;
  readonly bounds: Bounds;
}

/** Whether a log was written at what bounds are for: anything where they say nothing; unknown, and so not, where the log does not. */
function isAt(wanted: Value | undefined, written: Value | undefined): boolean {
  if (wanted === undefined) return true;
  if (written === undefined || wanted.kind === 'by-place' || written.kind === 'by-place') return false;
  const [one, other] = [measureOf(wanted), measureOf(written)];
  if (one === undefined || other === undefined || !sameDimension(one.unit, other.unit)) return false;
  return compare(other.interval.low, one.interval.low) >= 0 && compare(other.interval.high, one.interval.high) <= 0;
}

/** What a log was written at: as it says behind `at`, else the one of its readings that is a speed or a temperature, as the bounds have it. */
function takenAt(limit: Limit, log: Log): Value | undefined {
  if (log.at !== undefined || limit.at === undefined) return log.at;
  const wanted = limit.at.kind === 'by-place' ? undefined : measureOf(limit.at);
  const same = log.readings.filter(({ value }) => {
    const read = value.kind === 'by-place' ? undefined : measureOf(value);
    return read !== undefined && wanted !== undefined && sameDimension(read.unit, wanted.unit);
  });
  return same.length === 1 ? same[0]?.value : undefined;
}

/** The readings that lie outside their limits. */
export function loggedOutside(placed: Placed, view: View): readonly LoggedOutside[] {
  return recordStatements(placed, view).flatMap((each) =>
    each.kind !== 'log'
      ? []
      : each.readings.flatMap((reading): LoggedOutside[] => {
          const limit = view.things.get(reading.name.text);
          if (
            limit?.kind !== 'limit' ||
            limit.broken ||
            reading.value.kind === 'by-place' ||
            !isAt(limit.at, takenAt(limit, each))
          )
            return [];
          const [measure, bounds] = [
            readAs(reading.value, limit, evaluation(view)),
            limitBounds(limit, 'within', { index: 1, of: 1 }, view),
          ];
          if (measure === undefined || bounds === undefined || !sameDimension(measure.unit, bounds.unit)) return [];
          const { low, high } = measure.interval;
          const isIn =
            (bounds.low === undefined || compare(low, bounds.low) >= 0) &&
            (bounds.high === undefined || compare(high, bounds.high) <= 0);
          return isIn ? [] : [{ reading, limit, bounds }];
        }),
  );
}
