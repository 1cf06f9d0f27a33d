// Fits, repair sizes and tables of grades: what follows from sizes without any rule of thumb. All values of one call are in one unit.

import { compare, type Exact, equal, minus, negate, plus, ratioOf, signOf, times, ZERO } from './exact.ts';
import { type Interval, range, subtractIntervals } from './interval.ts';

export type Fit = { readonly clearance: Interval; readonly kind: 'clearance' | 'interference' | 'transition' };

/** Hole less shaft; a negative clearance is an interference. Worst case. */
export function fitOf(hole: Interval, shaft: Interval): Fit {
  const clearance = subtractIntervals(hole, shaft);
  if (signOf(clearance.low) >= 0) return { clearance, kind: 'clearance' };
  return { clearance, kind: signOf(clearance.high) <= 0 ? 'interference' : 'transition' };
}

const HALF = ratioOf(1, 2) ?? ZERO;

/**
 * The size that a repair step makes of a standard one. A dimension shifts by the whole step: undersize makes a shaft smaller, oversize a bore or
 * its piston larger. The wall of a shell shifts by half of it the other way: an undersize shell is thicker; an oversize one for a larger
 * housing is thicker too.
 */
export function repairSize(
  standard: Interval,
  step: Exact,
  way: 'undersize' | 'oversize',
  measure: 'dimension' | 'wall',
): Interval {
  const shift = measure === 'wall' ? times(step, HALF) : way === 'undersize' ? negate(step) : step;
  return range(plus(standard.low, shift), plus(standard.high, shift), plus(standard.nominal, shift));
}

/** Whether a stated repair size is what its step makes of the standard, both ends exactly. */
export function isRepairSize(
  stated: Interval,
  standard: Interval,
  step: Exact,
  way: 'undersize' | 'oversize',
  measure: 'dimension' | 'wall',
): boolean {
  const right = repairSize(standard, step, way, measure);
  return equal(stated.low, right.low) && equal(stated.high, right.high);
}

export type GradeFault = {
  readonly kind: 'hole' | 'overlap';
  readonly after: number;
  readonly before: number;
  readonly low: Exact;
  readonly high: Exact;
};

/**
 * Holes and overlaps between neighbouring grades, by their place in the list. Grades that share an end have neither; one unit of the last
 * written place between them (0.55 and 0.551) is no hole where that place is given, unless others of the table share an end, so that it is
 * not how the table is written. Overlaps are found between any two that follow by size.
 */
export function gradeFaults(grades: readonly Interval[], lastPlace: Exact = ZERO): readonly GradeFault[] {
  const sorted = grades
    .map((grade, at) => ({ grade, at }))
    .sort((first, second) => compare(first.grade.low, second.grade.low));
  const faults: GradeFault[] = [];
  const begins = new Set(sorted.map(({ grade }) => grade.low.toFraction()));
  const isShared = sorted.some(({ grade }) => begins.has(grade.high.toFraction()));
  const allowed = isShared ? ZERO : lastPlace;
  let reached = sorted[0];
  for (const next of sorted.slice(1)) {
    if (reached === undefined) break;
    const gap = minus(next.grade.low, reached.grade.high);
    const places = { after: reached.at, before: next.at };
    if (signOf(gap) < 0) {
      const high = compare(reached.grade.high, next.grade.high) < 0 ? reached.grade.high : next.grade.high;
      faults.push({ kind: 'overlap', ...places, low: next.grade.low, high });
    } else if (compare(gap, allowed) > 0) {
      faults.push({ kind: 'hole', ...places, low: reached.grade.high, high: next.grade.low });
    }
    if (compare(next.grade.high, reached.grade.high) > 0) reached = next;
  }
  return faults;
}

/** The grades whose range holds a measured value; one that lies on a shared end has two. */
export function gradesFor(grades: readonly Interval[], measured: Exact): readonly number[] {
  return grades.flatMap((grade, at) =>
    compare(grade.low, measured) <= 0 && compare(measured, grade.high) <= 0 ? [at] : [],
  );
}

/**
 * Whether a measured value looks like a slip: outside its limits, and inside them when taken ten
 * times more or less, or as inches for millimetres or the other way. Gives the factor that puts it right.
 */
export function likelySlip(measured: Exact, low: Exact, high: Exact): '10' | '1/10' | '25.4' | '1/25.4' | undefined {
  if (compare(measured, low) >= 0 && compare(measured, high) <= 0) return undefined;
  const factors = [
    ['10', ratioOf(10, 1)],
    ['1/10', ratioOf(1, 10)],
    ['25.4', ratioOf(254, 10)],
    ['1/25.4', ratioOf(10, 254)],
  ] as const;
  for (const [name, factor] of factors) {
    if (factor === undefined || signOf(measured) === 0) continue;
    const meant = times(measured, factor);
    if (compare(meant, low) >= 0 && compare(meant, high) <= 0) return name;
  }
  return undefined;
}
