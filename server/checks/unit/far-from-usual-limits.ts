// Bounds of a limit that nobody means: a weight that no such part has, one place with ten times what the others have. Judgement; no source.
import { told } from '../../../grammar/told.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { kindOf } from '../../mechanics/units.ts';
import { engineMeasure } from '../../model/engine-sums.ts';
import { measureOf, plainValues } from '../../model/measure.ts';
import type { Limit, View } from '../../model/view.ts';
import type { Report } from '../check.ts';
import { massBeyond } from './far-from-usual-parts.ts';

/** What each part of a limit may weigh. */
function sayMass(limit: Limit, view: View, report: Report): void {
  const of = limit.of ?? limit.each;
  const part = of === undefined ? undefined : view.things.get(of.owner.text);
  if (part?.kind !== 'part' || of?.feature !== undefined || limit.expression !== undefined) return;
  for (const value of plainValues(limit.within)) {
    // A bound that is open may be a difference.
    if (value.kind === 'open') continue;
    const message = massBeyond(part, limit.placed, value, view);
    if (message === undefined) continue;
    report(limit.placed, value, told`${message} See whether a point or a unit slipped.`);
    return;
  }
}

/** One place differs from the others tenfold; with the point moved it lies among them, or no further off than this. */
const AMONG = 1.5;
const TENFOLD = { least: 4, most: 25 };

/** One place of a limit that has about ten times, or a tenth of, what all others have. */
function sayPlace({ within, placed }: Limit, report: Report): void {
  if (within?.kind !== 'by-place' || within.entries.length < 2) return;
  const entries = within.entries.flatMap((entry) => {
    const measure = entry.value.kind === 'open' ? undefined : measureOf(entry.value);
    if (measure === undefined) return [];
    const [low, high] = [toNumber(measure.interval.low), toNumber(measure.interval.high)];
    const { places } = entry;
    const count = places.reduce((all, { from, to }) => all + Math.max(1, (to ?? from ?? 1) - (from ?? 1) + 1), 0);
    return low > 0 ? [{ entry, low, high, count, kind: kindOf(measure.unit) }] : [];
  });
  if (entries.length !== within.entries.length || entries.length === 0) return;
  const most = entries.reduce((one, other) => (other.low > one.low ? other : one), entries[0] as (typeof entries)[0]);
  const least = entries.reduce((one, other) => (other.high < one.high ? other : one), most);
  for (const one of [most, least]) {
    const others = entries.filter((each) => each !== one);
    const places = others.reduce((all, { count }) => all + count, 0);
    if (one.count > 1 || places < 2 || others.some(({ kind }) => kind !== one.kind)) continue;
    const [low, high] = [Math.min(...others.map((each) => each.low)), Math.max(...others.map((each) => each.high))];
    const times = one.low >= high ? 10 : one.high <= low ? 1 / 10 : 1;
    const apart = times > 1 ? one.low / low : high / one.high;
    if (times === 1 || high / low > TENFOLD.least || apart < TENFOLD.least || apart > TENFOLD.most) continue;
    if (one.low / times < low / AMONG || one.high / times > high * AMONG) continue;
    const written = placed.section.text.slice(one.entry.value.start, one.entry.value.end).replace(/\s+/g, ' ');
    report(
      placed,
      one.entry.value,
      times > 1
        ? told`${written} is ten times what the other places have. See whether a point slipped.`
        : told`${written} is a tenth of what the other places have. See whether a point slipped.`,
    );
    return;
  }
}

/** In kelvin: what nothing of an engine is measured at. In turns of its redline: how fast none is turned for it. Judgement; no source. */
const HOTTEST = 273.15 + 250;
const COLDEST = 273.15 - 60;
const PAST_REDLINE = 1.1;

/** Bounds that are told for a heat or a speed that the engine never has. */
function sayAt(limit: Limit, view: View, report: Report): void {
  const { at, placed } = limit;
  const measure = at === undefined || at.kind === 'by-place' ? undefined : measureOf(at);
  if (at === undefined || measure === undefined) return;
  const [low, high] = [toNumber(measure.interval.low), toNumber(measure.interval.high)];
  const kind = kindOf(measure.unit);
  const redline = engineMeasure('redline', view);
  const isTooFast =
    kind === 'speed' &&
    redline !== undefined &&
    kindOf(redline.unit) === 'speed' &&
    low > PAST_REDLINE * toNumber(redline.stack.interval.high);
  if (!isTooFast && !(kind === 'temperature' && (low > HOTTEST || high < COLDEST))) return;
  const written = placed.section.text.slice(at.start, at.end).replace(/\s+/g, ' ');
  report(
    placed,
    at,
    isTooFast
      ? told`${told.thing(limit)} is told for ${written}, which is past the redline. See whether a digit or a point slipped.`
      : told`${told.thing(limit)} is told for ${written}, and nothing of an engine is measured at that. See whether a digit or a point slipped.`,
  );
}

/** The bounds of a limit. */
export function sayFarLimit(limit: Limit, view: View, report: Report): void {
  if (limit.broken) return;
  sayMass(limit, view, report);
  sayPlace(limit, report);
  sayAt(limit, view, report);
}
