// By how much two figures differ, in words: `5 N.m more (8.3 %)`, `wider: 0.01 mm higher at the high end`.
import {
  absolute,
  decimalPlaces,
  type Exact,
  minus,
  over,
  signOf,
  times,
  toNumber,
  toText,
  wholeNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { convert, kindOf, type Unit, unitText } from '../mechanics/units.ts';
import type { Relation } from './printed.ts';
import { type End, type Printed, sameUnit } from './printed.ts';

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

/** In the unit of the new figure; what the old one was in it is said first where its own was another. */
export function howMuch(old: Printed, now: Printed, relation: Relation): string {
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
