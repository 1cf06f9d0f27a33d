// By how much two figures differ, in words: `5 N.m more (8.3 %)`, `wider: 0.01 mm higher at the high end`.
import { type Told, told } from '../../grammar/told.ts';
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

/** The words for more and for less, and whether the share is told behind them. */
interface Words {
  readonly more: (size: string, share: string) => Told;
  readonly less: (size: string, share: string) => Told;
  readonly withShare: boolean;
}

const MORE_OR_LESS: Words = {
  more: (size, share) => told`${told.named(size)} more${told.named(share)}`,
  less: (size, share) => told`${told.named(size)} less${told.named(share)}`,
  withShare: true,
};
const AT_THE_LOW_END: Words = {
  more: (size) => told`${told.named(size)} higher at the low end`,
  less: (size) => told`${told.named(size)} lower at the low end`,
  withShare: false,
};
const AT_THE_HIGH_END: Words = {
  more: (size) => told`${told.named(size)} higher at the high end`,
  less: (size) => told`${told.named(size)} lower at the high end`,
  withShare: false,
};

function differenceText(old: End, now: End, from: Unit, to: Unit, words: Words): Told | undefined {
  const before = convert(old.value, from, to);
  if (before === undefined) return undefined;
  const difference = minus(now.value, before);
  if (signOf(difference) === 0) return undefined;
  const written = Math.max(decimalPlaces(now.text) ?? 3, sameUnit(from, to) ? (decimalPlaces(old.text) ?? 3) : 0);
  const places = sameUnit(from, to) ? written : written + 1;
  const unit = unitText(to);
  const size = `${sizeText(absolute(difference), places)}${unit === '' ? '' : ` ${unit}`}`;
  const share = words.withShare ? shareText(difference, before, to) : '';
  return signOf(difference) > 0 ? words.more(size, share) : words.less(size, share);
}

/** The old figure in the unit of the new one; empty where both have it. */
function turnedText(old: Printed, now: Printed): string {
  if (sameUnit(old.unit, now.unit)) return '';
  return [old.low, old.high]
    .flatMap((end, i, all) => (end === undefined || (i === 1 && all[0]?.text === end.text) ? [] : [end]))
    .flatMap((end) => {
      const converted = convert(end.value, old.unit, now.unit);
      const places = Math.max(...[now.low, now.high].map((each) => decimalPlaces(each?.text ?? '0') ?? 3)) + 1;
      return converted === undefined ? [] : [toText(converted, places)];
    })
    .join('..');
}

/** What is otherwise at the two ends of a range. */
function endTexts(old: Printed, now: Printed): readonly Told[] {
  return [
    now.low !== undefined && old.low === undefined ? told`no longer open below` : undefined,
    now.low === undefined && old.low !== undefined ? told`now open below` : undefined,
    old.low === undefined || now.low === undefined
      ? undefined
      : differenceText(old.low, now.low, old.unit, now.unit, AT_THE_LOW_END),
    now.high !== undefined && old.high === undefined ? told`no longer open above` : undefined,
    now.high === undefined && old.high !== undefined ? told`now open above` : undefined,
    old.high === undefined || now.high === undefined
      ? undefined
      : differenceText(old.high, now.high, old.unit, now.unit, AT_THE_HIGH_END),
  ].filter((each) => each !== undefined);
}

const RELATIONS: Readonly<Record<Relation, Told>> = {
  same: told`same`,
  more: told`more`,
  less: told`less`,
  wider: told`wider`,
  narrower: told`narrower`,
  shifted: told`shifted`,
  other: told`other`,
};

/** In the unit of the new figure; what the old one was in it is said first where its own was another. Undefined where nothing is to be said. */
export function howMuch(old: Printed, now: Printed, relation: Relation): Told | undefined {
  const turned = turnedText(old, now);
  const inNew = turned === '' ? undefined : told`${told.named(`${turned} ${unitText(now.unit)}`)} before, `;
  const behind = (said: Told | undefined): Told | undefined =>
    inNew === undefined ? said : told.row(said === undefined ? [inNew] : [inNew, said]);
  if (relation === 'more' || relation === 'less') {
    if (old.high === undefined || now.high === undefined) return undefined;
    return behind(differenceText(old.high, now.high, old.unit, now.unit, MORE_OR_LESS));
  }
  const ends = endTexts(old, now);
  const listed = told.row(ends.flatMap((each, i) => (i === 0 ? [each] : [', ', each])));
  return behind(told`${RELATIONS[relation]}: ${listed}`);
}
