// Swept volumes from bore and stroke, as exact ranges (pi to 40 places). Lengths in mm give mm³, in inches cubic inches.
// Source: V = (π/4)·B²·S·n.

import { type Exact, PI, ratioOf, signOf, times, wholeNumber, ZERO } from './exact.ts';
import { type Interval, multiplyIntervals, point } from './interval.ts';

const QUARTER_PI: Exact = times(PI, ratioOf(1, 4) ?? ZERO);

/** Area of a round bore; `undefined` where it can be nothing or less. */
export function boreArea(bore: Interval): Interval | undefined {
  if (signOf(bore.low) <= 0) return undefined;
  return multiplyIntervals(multiplyIntervals(bore, bore), point(QUARTER_PI));
}

/** Volume that one piston sweeps; `undefined` for a bore or stroke of nothing or less. */
export function sweptVolume(bore: Interval, stroke: Interval): Interval | undefined {
  const area = boreArea(bore);
  return area === undefined || signOf(stroke.low) <= 0 ? undefined : multiplyIntervals(area, stroke);
}

/** Volume that all pistons sweep; `undefined` likewise, or for no whole number of cylinders. */
export function displacement(bore: Interval, stroke: Interval, cylinders: number): Interval | undefined {
  const one = sweptVolume(bore, stroke);
  const count = cylinders > 0 ? wholeNumber(cylinders) : undefined;
  return one === undefined || count === undefined ? undefined : multiplyIntervals(one, point(count));
}
