// What goes into a sum: written sizes, figures, what was measured of a limit, sizes that a grade brings, what valve events come to.

import { lookUp } from '../../grammar/look-up.ts';
import type { PlainValue, Value } from '../../grammar/tree.ts';
import { type Exact, larger, smaller, toNumber, ZERO } from '../mechanics/exact.ts';
import { range } from '../mechanics/interval.ts';
import { stackConstant, stackInput } from '../mechanics/stack.ts';
import { dimensionOf, unitOf } from '../mechanics/units.ts';
import { broughtValues } from './brought-sizes.ts';
import { valuesOfWords } from './expression-kind.ts';
import type { Asked, NamedPlace } from './feature-places.ts';
import { type Measure, measureOf, valueAt } from './measure.ts';
import { textOf } from './value-text.ts';
import { liftOf, TIMING_LIFTS, TIMING_VALUES, workOutTiming } from './valve-sums.ts';
import type { Limit, Part, ValveTiming, View } from './view.ts';
import { type Worked, zeroOf } from './worked.ts';

/** A written value at places that stand for one input; where they differ, all that it may be. Undefined where one is unreadable. */
export function inputAt(
  key: string,
  value: Value,
  places: readonly NamedPlace[],
  several: boolean,
): Worked | undefined {
  const plains = places.map((place) => valueAt(value, place));
  const measures = plains.flatMap((plain) => (plain === undefined ? [] : (measureOf(plain) ?? [])));
  const [plain, first, place] = [plains[0], measures[0], places[0]];
  if (plain === undefined || first === undefined || place === undefined || measures.length !== plains.length)
    return undefined;
  const intervals = measures.map((measure) => measure.interval);
  const same = intervals.every((each) => each.low.equals(first.interval.low) && each.high.equals(first.interval.high));
  const interval = same
    ? first.interval
    : range(intervals.map((each) => each.low).reduce(smaller), intervals.map((each) => each.high).reduce(larger));
  const at = `${key} ${place.name ?? ''}${place.name === undefined ? '' : ' '}${place.number}`;
  const texts = [...new Set(plains.map((each) => (each === undefined ? '' : textOf(each))))];
  return {
    stack: stackInput(several || value.kind === 'by-place' ? at : key, interval),
    dimension: dimensionOf(first.unit),
    unit: first.unit,
    zero: zeroOf(first.unit),
    inputs: new Map([[value.kind === 'by-place' && places.length === 1 ? at : key, texts.join(', ')]]),
  };
}

/** A figure that the events of a valve timing come to: `road-grind.overlap`. */
export function timingFigure(timing: ValveTiming, name: string): Worked | undefined {
  const lift = TIMING_LIFTS.includes(name) ? liftOf(timing, name) : undefined;
  if (lift !== undefined)
    return {
      stack: stackConstant(lift.interval.nominal),
      dimension: dimensionOf(lift.unit),
      unit: lift.unit,
      zero: ZERO,
      inputs: new Map([[`${timing.name}.${name}`, `${Number(toNumber(lift.interval.nominal).toFixed(4))} mm`]]),
    };
  const key = lookUp(TIMING_VALUES, name);
  const value = key === undefined ? undefined : workOutTiming(timing)?.values[key];
  if (value === undefined) return undefined;
  const unit = unitOf('deg');
  const said = `${Number(toNumber(value).toFixed(2))} deg`;
  return {
    stack: stackConstant(value),
    dimension: dimensionOf(unit),
    unit,
    zero: ZERO,
    inputs: new Map([[`${timing.name}.${name}`, said]]),
  };
}

/** A size that a grade brings: of the grade that was measured, else anything from the least of them to the greatest. */
export function broughtSize(owner: string, size: string, view: View, asked: Asked): Worked | undefined {
  const values = broughtValues(owner, size, view, asked);
  const measures = values.flatMap((value) => (value.kind === 'by-place' ? [] : (measureOf(value) ?? [])));
  const [first] = measures;
  if (first === undefined || measures.length !== values.length) return undefined;
  const intervals = measures.map((measure) => measure.interval);
  const interval =
    intervals.length === 1
      ? first.interval
      : range(intervals.map((each) => each.low).reduce(smaller), intervals.map((each) => each.high).reduce(larger));
  const texts = values.flatMap((value) => (value.kind === 'by-place' ? [] : [textOf(value)]));
  const key = `${owner}.${size}`;
  return {
    stack: stackInput(key, interval),
    dimension: dimensionOf(first.unit),
    unit: first.unit,
    zero: zeroOf(first.unit),
    inputs: new Map([[key, [...new Set(texts)].join(', ')]]),
  };
}

/** A value of a limit as it goes into a sum: as it is written, and as it is read. */
export function limitInput(
  limit: Limit,
  asked: Asked,
  value: PlainValue,
  measure: (Measure & { readonly zero: Exact }) | undefined,
): Worked | undefined {
  if (measure === undefined) return undefined;
  const at =
    limit.each === undefined
      ? ''
      : ` ${asked.name === undefined ? '' : `${asked.name} `}${asked.number ?? asked.index}`;
  return {
    stack: stackInput(`${limit.name}${at}`, measure.interval),
    dimension: dimensionOf(measure.unit),
    unit: measure.unit,
    zero: measure.zero,
    inputs: new Map([[`${limit.name}${at}`, textOf(value)]]),
  };
}

export function featureValue(view: View, part: Part, feature: string): Value | number | undefined {
  if (feature === 'teeth') return part.teeth;
  if (feature === 'links') return part.links;
  if (feature === 'wall') return part.wall;
  if (feature === 'pitch') return part.pitch;
  const dimension = part.dimensions.get(feature)?.value ?? part.figures.get(feature)?.value;
  if (dimension !== undefined) return dimension;
  return valuesOfWords(view, part).get(feature);
}
