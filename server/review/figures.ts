// Two written figures held against each other: the same in whatever unit, more or less, wider or narrower, and by how much.
// Plain values in and out; which statement they stand in is not known here.
import { type Told, told } from '../../grammar/told.ts';
import type { PlainValue } from '../../grammar/tree.ts';
import {
  absolute,
  compare,
  type Exact,
  equal,
  exact,
  larger,
  minus,
  over,
  toNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { compareRestated } from '../mechanics/restated.ts';
import { convert, kindOf, sameDimension, type Unit } from '../mechanics/units.ts';
import { textOf } from '../model/value-text.ts';
import { howMuch } from './how-much.ts';
import { allPrinted, type End, type Printed, printedOf, type Relation, restatedOf, sameUnit } from './printed.ts';

export interface Compared {
  readonly relation: Relation;
  /** By how much, in words: `5 N.m more (8.3 %)`; empty where that says nothing. */
  readonly byHowMuch: Told | undefined;
}

/**
 * Two figures in different units that round to each other may still lie apart where they are printed with few digits (24 N.m is
 * 17.7 lbf.ft, and 18 lbf.ft is 24.4 N.m). Past this share of the larger one it is said. Own choice, no source.
 */
const CLOSE = 0.01;

/** -1, 0 or 1: where the second stands to the first; 0 also where two units agree at their printed precision. */
function standing(first: End, second: End, units: readonly [Unit, Unit], scale: Exact): -1 | 0 | 1 | undefined {
  const [from, to] = units;
  if (sameUnit(from, to)) return compare(second.value, first.value);
  const converted = convert(first.value, from, to);
  if (converted === undefined) return undefined;
  if (equal(converted, second.value)) return 0;
  const printed = compareRestated({ text: first.text, unit: from }, { text: second.text, unit: to });
  const share = over(absolute(minus(converted, second.value)), scale);
  const isClose = kindOf(to) === 'temperature' || (share !== undefined && toNumber(share) <= CLOSE);
  if (printed?.verdict === 'agrees' && isClose) return 0;
  return compare(second.value, converted);
}

/** Where the ends of the second figure stand to those of the first, as that relation; an open side lies past every figure. */
function relationOf(old: Printed, now: Printed): Relation | undefined {
  const scale = [now.low, now.high].reduce(
    (most, end) => (end === undefined ? most : larger(most, absolute(end.value))),
    ZERO,
  );
  const at = (first: End | undefined, second: End | undefined, open: -1 | 1): -1 | 0 | 1 | undefined => {
    if (first === undefined && second === undefined) return 0;
    if (first === undefined) return open === 1 ? -1 : 1;
    if (second === undefined) return open;
    return standing(first, second, [old.unit, now.unit], scale);
  };
  const low = at(old.low, now.low, -1);
  const high = at(old.high, now.high, 1);
  if (low === undefined || high === undefined) return undefined;
  if (low === 0 && high === 0) return 'same';
  const isPoint = (each: Printed): boolean =>
    each.low !== undefined && each.high !== undefined && equal(each.low.value, each.high.value);
  if (isPoint(old) && isPoint(now)) return high > 0 ? 'more' : 'less';
  if (low <= 0 && high >= 0) return 'wider';
  return low >= 0 && high <= 0 ? 'narrower' : 'shifted';
}

/** Whether the restatements tell the wrench another figure than before, though the first figures agree. */
function misleads(old: PlainValue, now: PlainValue): boolean {
  const [before, after] = [restatedOf(old), restatedOf(now)];
  if (after === undefined) return false;
  const agrees = (value: PlainValue, restated: PlainValue): boolean => {
    const [first, second] = [printedOf(value), printedOf(restated)];
    if (first === undefined || second === undefined) return true;
    return (['low', 'high'] as const).every((end) => {
      const [one, other] = [first[end], second[end]];
      if (one === undefined || other === undefined) return one === other;
      const verdict = compareRestated({ text: one.text, unit: first.unit }, { text: other.text, unit: second.unit });
      return verdict === undefined || verdict.verdict !== 'differs';
    });
  };
  return agrees(now, after) === false && (before === undefined || agrees(old, before));
}

/**
 * How a new figure stands to the old one. Undefined where they can't be held against each other as figures: a sum, a clock, a ratio,
 * something unreadable.
 */
export function compareFigures(old: PlainValue, now: PlainValue): Compared | undefined {
  const [before, after] = [allPrinted(old), allPrinted(now)];
  const [first, second] = [before[0], after[0]];
  if (first === undefined || second === undefined) return undefined;
  if (!sameDimension(first.unit, second.unit)) return { relation: 'other', byHowMuch: undefined };
  const shared = after.flatMap((each) => {
    const other = before.find((one) => sameUnit(one.unit, each.unit));
    return other === undefined ? [] : [[other, each] as const];
  });
  const [one, other] = shared[0] ?? [first, second];
  const relation = relationOf(one, other);
  if (relation === undefined) return undefined;
  if (relation !== 'same') return { relation, byHowMuch: howMuch(one, other, relation) };
  if (misleads(old, now) || misleads(now, old))
    return {
      relation: 'other',
      byHowMuch: told`the figure in the second unit no longer goes with the first, or did not before`,
    };
  return { relation: 'same', byHowMuch: undefined };
}

/** A figure as written: `24 N.m (18 lbf.ft)`. */
export function figureText(value: PlainValue): string {
  const restated = restatedOf(value);
  const bound =
    value.kind === 'open' && value.value.kind === 'quantity' ? `${value.side} ${textOf(value.value)}` : textOf(value);
  return restated === undefined ? bound : `${bound} (${figureText(restated)})`;
}

/** Whether two bare numbers are one: 18 and 18.0. */
export function sameNumber(old: string, now: string): boolean | undefined {
  const [one, other] = [exact(old), exact(now)];
  return one === undefined || other === undefined ? undefined : equal(one, other);
}
