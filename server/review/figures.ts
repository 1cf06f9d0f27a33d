// Two written figures held against each other: the same in whatever unit, more or less, wider or narrower, and by how much.
// Plain values in and out; which statement they stand in is not known here.
import type { PlainValue } from '../../grammar/tree.ts';
import {
  absolute,
  compare,
  decimalPlaces,
  type Exact,
  equal,
  exact,
  larger,
  minus,
  over,
  signOf,
  times,
  toNumber,
  toText,
  wholeNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { compareRestated } from '../mechanics/restated.ts';
import { convert, fromBase, kindOf, sameDimension, type Unit, unitText } from '../mechanics/units.ts';
import { textOf } from '../model/expression.ts';
import { measureOf } from '../model/measure.ts';

export type Relation = 'same' | 'more' | 'less' | 'wider' | 'narrower' | 'shifted' | 'other';

/** One end of a figure as printed. */
interface End {
  readonly value: Exact;
  readonly text: string;
}

/** A figure in one of its units; an open side is absent. */
interface Printed {
  readonly low: End | undefined;
  readonly high: End | undefined;
  readonly unit: Unit;
}

export interface Compared {
  readonly relation: Relation;
  /** By how much, in words: `5 N.m more (8.3 %)`; empty where that says nothing. */
  readonly byHowMuch: string;
}

/**
 * Two figures in different units that round to each other may still lie apart where they are printed with few digits (24 N.m is
 * 17.7 lbf.ft, and 18 lbf.ft is 24.4 N.m). Past this share of the larger one it is said. Own choice, no source.
 */
const CLOSE = 0.01;

function endOf(text: string): End | undefined {
  const value = exact(text);
  return value === undefined ? undefined : { value, text };
}

function printedOf(value: PlainValue): Printed | undefined {
  if (value.kind === 'open') {
    const bound = value.value;
    if (bound.kind !== 'quantity') return undefined;
    const printed = printedOf(bound);
    if (printed === undefined) return undefined;
    return value.side === 'at-least' ? { ...printed, high: undefined } : { ...printed, low: undefined };
  }
  const measure = measureOf(value);
  if (measure === undefined) return undefined;
  const { unit, places } = measure;
  if (value.kind === 'quantity' && value.minutes === undefined) {
    const end = endOf(value.number.text);
    return end === undefined ? undefined : { low: end, high: end, unit };
  }
  if (value.kind === 'range') {
    const [one, other] = [endOf(value.low.text), endOf(value.high.text)];
    if (one === undefined || other === undefined) return undefined;
    return compare(one.value, other.value) <= 0 ? { low: one, high: other, unit } : { low: other, high: one, unit };
  }
  const shown = (base: Exact): End => {
    const plain = fromBase(base, unit);
    return { value: plain, text: toText(plain, value.kind === 'quantity' ? 4 : places) };
  };
  return { low: shown(measure.interval.low), high: shown(measure.interval.high), unit };
}

function restatedOf(value: PlainValue): PlainValue | undefined {
  return 'restated' in value ? value.restated : undefined;
}

/** The figure in each unit that it is printed in, its first one first. */
function allPrinted(value: PlainValue): readonly Printed[] {
  const restated = restatedOf(value);
  return [value, ...(restated === undefined ? [] : [restated])].flatMap((each) => printedOf(each) ?? []);
}

const sameUnit = (one: Unit, other: Unit): boolean => unitText(one) === unitText(other);

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

const TINY = 8;

/** A difference at the printed places, or at more where it would come to nothing; zeros that say nothing are left out. */
function sizeText(size: Exact, places: number): string {
  for (let kept = places; kept <= TINY; kept += 1) {
    const text = toText(size, kept);
    if (Number(text) !== 0 || kept === TINY) return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  }
  return toText(size, places);
}

const HUNDRED = wholeNumber(100) ?? ZERO;

/** `8.3 %`; empty where nothing can be a share of it. */
function shareText(difference: Exact, of: Exact, unit: Unit): string {
  if (kindOf(unit) === 'temperature' || kindOf(unit) === 'angle' || signOf(of) <= 0) return '';
  const share = over(times(absolute(difference), HUNDRED), of);
  if (share === undefined) return '';
  const size = toNumber(share);
  return ` (${size >= 100 ? size.toFixed(0) : size >= 1 ? size.toFixed(1).replace(/\.0$/, '') : size.toPrecision(2)} %)`;
}

function differenceText(
  old: End,
  now: End,
  from: Unit,
  to: Unit,
  words: readonly [more: string, less: string, share: boolean],
): string | undefined {
  const before = convert(old.value, from, to);
  if (before === undefined) return undefined;
  const difference = minus(now.value, before);
  if (signOf(difference) === 0) return undefined;
  const written = Math.max(decimalPlaces(now.text) ?? 3, sameUnit(from, to) ? (decimalPlaces(old.text) ?? 3) : 0);
  const places = sameUnit(from, to) ? written : written + 1;
  const unit = unitText(to);
  const size = `${sizeText(absolute(difference), places)}${unit === '' ? '' : ` ${unit}`}`;
  const [more, less, share] = words;
  return `${size} ${signOf(difference) > 0 ? more : less}${share ? shareText(difference, before, to) : ''}`;
}

function howMuch(old: Printed, now: Printed, relation: Relation): string {
  const turned = sameUnit(old.unit, now.unit)
    ? ''
    : [old.low, old.high]
        .flatMap((end, i, all) => (end === undefined || (i === 1 && all[0]?.text === end.text) ? [] : [end]))
        .flatMap((end) => {
          const converted = convert(end.value, old.unit, now.unit);
          const places = Math.max(...[now.low, now.high].map((each) => decimalPlaces(each?.text ?? '0') ?? 3)) + 1;
          return converted === undefined ? [] : [toText(converted, places)];
        })
        .join('..');
  const inNew = turned === '' ? '' : `${turned} ${unitText(now.unit)} before, `;
  if (relation === 'more' || relation === 'less') {
    if (old.high === undefined || now.high === undefined) return '';
    return inNew + (differenceText(old.high, now.high, old.unit, now.unit, ['more', 'less', true]) ?? '');
  }
  const ends = [
    now.low !== undefined && old.low === undefined ? 'no longer open below' : undefined,
    now.low === undefined && old.low !== undefined ? 'now open below' : undefined,
    old.low === undefined || now.low === undefined
      ? undefined
      : differenceText(old.low, now.low, old.unit, now.unit, ['higher at the low end', 'lower at the low end', false]),
    now.high !== undefined && old.high === undefined ? 'no longer open above' : undefined,
    now.high === undefined && old.high !== undefined ? 'now open above' : undefined,
    old.high === undefined || now.high === undefined
      ? undefined
      : differenceText(old.high, now.high, old.unit, now.unit, [
          'higher at the high end',
          'lower at the high end',
          false,
        ]),
  ].filter((each) => each !== undefined);
  return `${inNew}${relation}: ${ends.join(', ')}`;
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
  if (!sameDimension(first.unit, second.unit)) return { relation: 'other', byHowMuch: '' };
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
      byHowMuch: 'the figure in the second unit no longer goes with the first, or did not before',
    };
  return { relation: 'same', byHowMuch: '' };
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
