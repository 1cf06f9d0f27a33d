// Works out expressions: references to dimensions, figures, limits and engine values, with their tolerances as a stack, place by place.
import { lookUp } from '../../grammar/look-up.ts';
import { type Terms, termsOf } from '../../grammar/terms.ts';
import type { Expression, Place, PlainValue, Reference, Value } from '../../grammar/tree.ts';
import {
  type Exact,
  exact,
  larger,
  minus,
  negate,
  ONE,
  over,
  PI,
  plus,
  smaller,
  times,
  toNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { isPoint, range } from '../mechanics/interval.ts';
import {
  addStacks,
  divideStacks,
  greatestStack,
  leastStack,
  meanStack,
  multiplyStacks,
  negateStack,
  type Stack,
  spreadStack,
  stackConstant,
  stackInput,
  subtractStacks,
} from '../mechanics/stack.ts';
import { type Dimension, dimensionOf, factorOf, offsetOf, type Unit, unitOf } from '../mechanics/units.ts';
import { broughtValues } from './brought-sizes.ts';
import { valuesOfWords } from './expression-kind.ts';
import {
  type Asked,
  allPlaces,
  type NamedPlace,
  namedPlaces,
  placesFor,
  placesOf,
  placesOfFeature,
} from './feature-places.ts';
import { measureOf, takesIn, valueAt } from './measure.ts';
import { MOST_FACTORS, MOST_IN_A_SUM } from './most.ts';
import { liftOf, TIMING_LIFTS, TIMING_VALUES, workOutTiming } from './valve-sums.ts';
import type { Limit, Part, ValveTiming, View } from './view.ts';
import { question } from './view-questions.ts';

/** A worked-out value in base units. `unit` is the one that a result is shown in, where an input gives one. */
export interface Worked {
  readonly stack: Stack;
  readonly dimension: Dimension;
  readonly unit: Unit;
  /**
   * For temperatures: how often the zero of their scale is in it. A temperature has it once, a difference of two not at all, so that
   * 9 degF of difference are 5 K. Where it is not said, not at all.
   */
  readonly zero?: Exact;
  /** What went in, by name, as written. */
  readonly inputs: ReadonlyMap<string, string>;
  /** Where it rests on a limit that is only measured, and has not been: its bounds stand for it. */
  readonly toMeasure?: boolean;
}

const NONE: Dimension = dimensionOf([]);
const ONLY: Asked = { index: 1, of: 1 };
/** A limit that is worked out from limits that are worked out from it would never end. */
export const DEEPEST = 12;

export interface Evaluation {
  readonly view: View;
  readonly asked: Asked;
  readonly depth: number;
  /** What limits came to on the way: one that is named twice is worked out once. */
  readonly worked: Map<string, Worked | undefined>;
  readonly engineFigure: EngineFigure;
}

/** What a figure of the engine comes to, in base units. Given along, since it may be worked out from an expression itself. */
export type EngineFigure = (name: string, view: View) => Worked | undefined;

/** Starts working out in a view, with how a figure of the engine is worked out: see evaluation.ts. */
export function evaluationWith(view: View, engineFigure: EngineFigure, asked: Asked = ONLY): Evaluation {
  return { view, asked, depth: 0, worked: new Map(), engineFigure };
}

/** Whether more figures and names stand in a sum than any engine has. */
export function isTooLong(expression: Expression): boolean {
  const open = [expression];
  let [figures, factors] = [0, 0];
  for (let each = open.pop(); each !== undefined; each = open.pop()) {
    if (figures > MOST_IN_A_SUM || factors > MOST_FACTORS) return true;
    if (each.kind === 'binary') {
      open.push(each.left, each.right);
      if (each.operator === '*' || each.operator === '/') factors += 1;
    } else if (each.kind === 'negated') open.push(each.operand);
    else if (each.kind === 'call') open.push(...each.operands);
    else figures += 1;
  }
  return false;
}

/** Works out a whole sum as it is written; undefined too where it is too long. */
export function workOutSum(expression: Expression, at: Evaluation): Worked | undefined {
  return isTooLong(expression) ? undefined : workOut(expression, at);
}

/** Works out an expression at a place. Undefined where anything in it is unknown, unreadable or of kinds that don't go together. */
export function workOut(expression: Expression, at: Evaluation): Worked | undefined {
  if (at.depth > DEEPEST) return undefined;
  switch (expression.kind) {
    case 'quantity': {
      const measure = measureOf(expression);
      return measure === undefined
        ? undefined
        : {
            stack: stackConstant(measure.interval.nominal),
            dimension: dimensionOf(measure.unit),
            unit: measure.unit,
            zero: zeroOf(measure.unit),
            inputs: new Map(),
          };
    }
    case 'negated': {
      const operand = workOut(expression.operand, at);
      return operand === undefined
        ? undefined
        : { ...operand, stack: negateStack(operand.stack), zero: negate(operand.zero ?? ZERO) };
    }
    case 'binary':
      return severalTimes(expression, at) ?? workOutTerms(termsOf(expression), at);
    case 'call':
      return workOutCall(expression.name.text, expression.operands, at);
    case 'reference':
      return workOutReference(expression.reference, at);
  }
}

/** A sum or product of more terms is worked out in halves: what it is made of is then no deeper than it must be. */
const MOST_IN_A_ROW = 32;

function workOutTerms({ first, further }: Terms, at: Evaluation): Worked | undefined {
  const values: Worked[] = [];
  for (const term of [first, ...further.map(({ right }) => right)]) {
    const value = workOut(term, at);
    if (value === undefined) return undefined;
    values.push(value);
  }
  const isProduct = further.some(({ operator }) => operator === '*' || operator === '/');
  const [forth, back] = isProduct ? (['*', '/'] as const) : (['+', '-'] as const);
  const signs = [forth, ...further.map(({ operator }) => operator)];
  /** The terms from one to another, as if a plus or a times stood before the first of them. */
  const between = (from: number, to: number): Worked | undefined => {
    if (to - from === 1) return values[from];
    const middle = to - from <= MOST_IN_A_ROW ? to - 1 : (from + to) >> 1;
    const [left, right] = [between(from, middle), between(middle, to)];
    if (left === undefined || right === undefined) return undefined;
    return combine(signs[middle] === signs[from] ? forth : back, left, right);
  };
  return between(0, values.length);
}

/** `2 * main-shell.wall` where the two shells of a place differ: the wall of one and that of the other. Undefined for all else. */
function severalTimes(expression: Expression & { readonly kind: 'binary' }, at: Evaluation): Worked | undefined {
  const { left, right, operator } = expression;
  const [count, reference] = left.kind === 'quantity' ? [left, right] : [right, left];
  if (operator !== '*' || count.kind !== 'quantity' || count.unit !== undefined || reference.kind !== 'reference')
    return undefined;
  const { owner, feature } = reference.reference;
  const part = at.view.things.get(owner.text);
  const value = part?.kind === 'part' && feature !== undefined ? featureValue(at.view, part, feature.text) : undefined;
  if (part?.kind !== 'part' || feature === undefined || typeof value !== 'object' || value.kind !== 'by-place')
    return undefined;
  const places = placesFor(part, feature.text, reference.reference, at.asked);
  if (places.length < 2 || String(places.length) !== count.number.text) return undefined;
  const each = places.map((place) => inputAt(`${owner.text}.${feature.text}`, value, [place], true));
  return each.reduce<Worked | undefined>(
    (sum, one, i) => (i === 0 ? one : sum === undefined || one === undefined ? undefined : combine('+', sum, one)),
    undefined,
  );
}

function sameDimension(first: Dimension, second: Dimension): boolean {
  return (
    first.length === second.length &&
    first.mass === second.mass &&
    first.time === second.time &&
    first.angle === second.angle &&
    first.temperature === second.temperature &&
    first.current === second.current
  );
}

/** One for a temperature on a scale with a zero of its own; none for kelvin, which are taken for a difference, and for all else. */
function zeroOf(unit: Unit): Exact {
  return offsetOf(unit).equals(ZERO) ? ZERO : ONE;
}

/** A temperature that something is multiplied with or divided by beside a difference stands for one itself: `/ 1 degC` is `/ 1 K`. */
function asDifference(value: Worked): Worked {
  const zero = value.zero ?? ZERO;
  if (zero.equals(ZERO)) return value;
  const offset = times(zero, offsetOf(value.unit));
  return { ...value, stack: subtractStacks(value.stack, stackConstant(offset)), zero: ZERO };
}

function combine(operator: '+' | '-' | '*' | '/', before: Worked, after: Worked): Worked | undefined {
  let [left, right] = [before, after];
  const inputs = new Map([...left.inputs, ...right.inputs]);
  const rests = left.toMeasure || right.toMeasure ? { toMeasure: true } : {};
  if (operator === '+' || operator === '-') {
    if (!sameDimension(left.dimension, right.dimension)) return undefined;
    const stack = operator === '+' ? addStacks(left.stack, right.stack) : subtractStacks(left.stack, right.stack);
    const second = right.zero ?? ZERO;
    const zero = plus(left.zero ?? ZERO, operator === '+' ? second : negate(second));
    return {
      stack,
      dimension: left.dimension,
      unit: left.unit.length > 0 ? left.unit : right.unit,
      zero,
      inputs,
      ...rests,
    };
  }
  // A plain number times a temperature stays one, as in the half of a sum of two. A ratio of two temperatures is one of kelvin.
  const scaled = [left, right].find((side) => !(side.zero ?? ZERO).equals(ZERO));
  const by = scaled === left ? right : left;
  let zero = ZERO;
  if (scaled !== undefined) {
    const isPlain = sameDimension(by.dimension, NONE) && isPoint(by.stack.interval);
    if (isPlain && (operator === '*' || by === right))
      zero =
        (operator === '*' ? times(scaled.zero ?? ZERO, by.stack.middle) : over(scaled.zero ?? ZERO, by.stack.middle)) ??
        ZERO;
    else if (by.zero === undefined || by.zero.equals(ZERO)) [left, right] = [asDifference(left), asDifference(right)];
  }
  const sign = operator === '*' ? 1 : -1;
  const dimension: Dimension = {
    length: left.dimension.length + sign * right.dimension.length,
    mass: left.dimension.mass + sign * right.dimension.mass,
    time: left.dimension.time + sign * right.dimension.time,
    angle: left.dimension.angle + sign * right.dimension.angle,
    temperature: left.dimension.temperature + sign * right.dimension.temperature,
    current: left.dimension.current + sign * right.dimension.current,
  };
  const stack = operator === '*' ? multiplyStacks(left.stack, right.stack) : divideStacks(left.stack, right.stack);
  if (stack === undefined) return undefined;
  const unit = sameDimension(dimension, NONE)
    ? []
    : sameDimension(dimension, left.dimension)
      ? left.unit
      : sameDimension(dimension, right.dimension)
        ? right.unit
        : [];
  return { stack, dimension, unit, zero, inputs, ...rests };
}

const GATHER: Readonly<Record<string, (values: readonly Stack[]) => Stack | undefined>> = {
  min: leastStack,
  max: greatestStack,
  mean: meanStack,
  spread: spreadStack,
};

function workOutCall(name: string, operands: readonly Expression[], at: Evaluation): Worked | undefined {
  const gather = lookUp(GATHER, name.toLowerCase());
  const values: Worked[] = [];
  for (const operand of operands) {
    // One reference alone means all of its places.
    const all =
      operands.length === 1 && operand.kind === 'reference'
        ? everyPlace(operand.reference, at)
        : [workOut(operand, at)];
    for (const value of all) {
      if (value === undefined) return undefined;
      values.push(value);
    }
  }
  const first = values[0];
  if (
    gather === undefined ||
    first === undefined ||
    values.some((value) => !sameDimension(value.dimension, first.dimension))
  )
    return undefined;
  const stack = gather(values.map((value) => value.stack));
  const inputs = new Map(values.flatMap((value) => [...value.inputs]));
  const zero = gather === spreadStack ? ZERO : (first.zero ?? ZERO);
  const rests = values.some((value) => value.toMeasure) ? { toMeasure: true } : {};
  return stack === undefined
    ? undefined
    : { stack, dimension: first.dimension, unit: first.unit, zero, inputs, ...rests };
}

function everyPlace(reference: Reference, at: Evaluation): readonly (Worked | undefined)[] {
  const part = at.view.things.get(reference.owner.text);
  if (part?.kind === 'limit' && reference.feature === undefined)
    return placesOfLimit(part, at.view, reference.places).map((asked) => limitAt(part, asked, at));
  const feature = reference.feature?.text;
  if (part?.kind !== 'part' || feature === undefined) return [workOutReference(reference, at)];
  const value = featureValue(at.view, part, feature);
  const places = reference.places.length > 0 ? namedPlaces(part, feature, reference.places) : allPlaces(part, feature);
  if (value === undefined || typeof value === 'number') return [workOutReference(reference, at)];
  return places.map((place) => inputAt(`${part.name}.${feature}`, value, [place], places.length > 1));
}

/** A written value at places that stand for one input; where they differ, all that it may be. Undefined where one is unreadable. */
function inputAt(key: string, value: Value, places: readonly NamedPlace[], several: boolean): Worked | undefined {
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

function workOutReference(reference: Reference, at: Evaluation): Worked | undefined {
  const owner = reference.owner.text;
  const feature = reference.feature?.text;
  if (owner === 'engine') return feature === undefined ? undefined : at.engineFigure(feature, at.view);
  const thing = at.view.things.get(owner);
  if (thing?.kind === 'limit' && feature === undefined) {
    // A place that is named is that one, whichever is asked for; one limit of many pairs as a dimension does.
    const named = reference.places.length === 0 ? [] : placesOfLimit(thing, at.view, reference.places);
    return limitAt(thing, named[0] ?? at.asked, at);
  }
  if (thing === undefined && owner === 'pi' && feature === undefined)
    return { stack: stackConstant(PI), dimension: NONE, unit: [], zero: ZERO, inputs: new Map() };
  if (thing?.kind === 'valve-timing' && feature !== undefined) return timingFigure(thing, feature);
  if (feature !== undefined && (thing?.kind === 'part' || thing?.kind === 'grades')) {
    const brought = broughtSize(owner, feature, at);
    if (brought !== undefined) return brought;
  }
  if (thing?.kind !== 'part' || feature === undefined) return undefined;
  const value = featureValue(at.view, thing, feature);
  if (value === undefined) return undefined;
  if (typeof value === 'number') {
    const number = exact(String(value)) ?? ZERO;
    return {
      stack: stackConstant(number),
      dimension: NONE,
      unit: [],
      inputs: new Map([[`${owner}.${feature}`, String(value)]]),
    };
  }
  return inputAt(
    `${owner}.${feature}`,
    value,
    placesFor(thing, feature, reference, at.asked),
    placesOfFeature(thing, feature) > 1,
  );
}

/** A figure that the events of a valve timing come to: `road-grind.overlap`. */
function timingFigure(timing: ValveTiming, name: string): Worked | undefined {
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
function broughtSize(owner: string, size: string, at: Evaluation): Worked | undefined {
  const values = broughtValues(owner, size, at.view);
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

/** A limit at a place: what was measured of it there, else what it is worked out from, else its bounds, between which it has to lie. */
function limitAt(limit: Limit, asked: Asked, at: Evaluation): Worked | undefined {
  const place = { name: asked.name, number: asked.number ?? asked.index };
  const written = at.view.measured
    ?.get(limit.name)
    ?.find(
      (each) => limit.each === undefined || each.places.length === 0 || each.places.some((own) => takesIn(own, place)),
    );
  if (written !== undefined) return limitInput(limit, asked, written.value);
  if (limit.expression !== undefined) {
    const key = `${limit.name} ${asked.name ?? ''} ${asked.number ?? ''} ${asked.index} ${asked.of} ${at.depth}`;
    if (!at.worked.has(key)) at.worked.set(key, workOutSum(limit.expression, { ...at, asked, depth: at.depth + 1 }));
    return at.worked.get(key);
  }
  const bounds = limit.within === undefined ? undefined : valueAt(limit.within, place);
  const worked = bounds === undefined ? undefined : limitInput(limit, asked, bounds);
  return worked === undefined ? undefined : { ...worked, toMeasure: true };
}

function limitInput(limit: Limit, asked: Asked, value: PlainValue): Worked | undefined {
  const measure = measureOf(value);
  if (measure === undefined) return undefined;
  const at =
    limit.each === undefined
      ? ''
      : ` ${asked.name === undefined ? '' : `${asked.name} `}${asked.number ?? asked.index}`;
  return {
    stack: stackInput(`${limit.name}${at}`, measure.interval),
    dimension: dimensionOf(measure.unit),
    unit: measure.unit,
    zero: zeroOf(measure.unit),
    inputs: new Map([[`${limit.name}${at}`, textOf(value)]]),
  };
}

/** The places that a limit has: those of what it is `each` of; of these the ones that are written. */
export function placesOfLimit(limit: Limit, view: View, written: readonly Place[] = []): readonly Asked[] {
  const each = limit.each;
  if (each === undefined) return ONE_PLACE;
  if (each.places.length === 0 && written.length === 0)
    return everyPlaceOf(view, `${each.owner.text}${each.feature === undefined ? '' : `.${each.feature.text}`}`);
  const all = placesOf(each, view);
  if (all === undefined) return ONE_PLACE;
  const places = each.places.length === 0 ? all : all.filter((place) => each.places.some((own) => takesIn(own, place)));
  const inGroup = new Map<string | undefined, number>();
  for (const { name } of all) inGroup.set(name, (inGroup.get(name) ?? 0) + 1);
  return places.flatMap((place, i) => {
    if (written.length > 0 && !written.some((own) => takesIn(own, place))) return [];
    return [asAsked(place, i, places.length, inGroup)];
  });
}

const ONE_PLACE: readonly Asked[] = [{ index: 1, of: 1 }];

function asAsked(
  { name, number }: NamedPlace,
  i: number,
  of: number,
  inGroup: ReadonlyMap<string | undefined, number>,
): Asked {
  const at = { index: i + 1, of };
  return name === undefined ? at : { ...at, name, number, ofGroup: inGroup.get(name) ?? 0 };
}

/** All places of a thing or of a feature of it (`valve`, `valve.stem`), one place where it has none: many limits ask for the same. */
const everyPlaceOf = question((view, named: string): readonly Asked[] => {
  const [owner = '', feature] = named.split('.');
  const all = placesOf(
    { owner: { text: owner }, feature: feature === undefined ? undefined : { text: feature } },
    view,
  );
  if (all === undefined) return ONE_PLACE;
  const inGroup = new Map<string | undefined, number>();
  for (const { name } of all) inGroup.set(name, (inGroup.get(name) ?? 0) + 1);
  return all.map((place, i) => asAsked(place, i, all.length, inGroup));
});

function featureValue(view: View, part: Part, feature: string): Value | number | undefined {
  if (feature === 'teeth') return part.teeth;
  if (feature === 'links') return part.links;
  if (feature === 'wall') return part.wall;
  if (feature === 'pitch') return part.pitch;
  const dimension = part.dimensions.get(feature)?.value ?? part.figures.get(feature)?.value;
  if (dimension !== undefined) return dimension;
  return valuesOfWords(view, part).get(feature);
}

/** A plain value as it would be written. */
export function textOf(value: PlainValue): string {
  const unit = 'unit' in value && value.unit !== undefined ? ` ${value.unit.text}` : '';
  switch (value.kind) {
    case 'quantity':
      return `${value.number.text}${unit}${value.minutes === undefined ? '' : `${value.minutes.text}'`}`;
    case 'range':
      return `${value.low.text}..${value.high.text}${unit}`;
    case 'tolerance': {
      const same = value.minus.text === `-${value.plus.text}`;
      return same
        ? `${value.nominal.text} ±${value.plus.text}${unit}`
        : `${value.nominal.text} +${value.plus.text} ${value.minus.text}${unit}`;
    }
    case 'clock':
      return `${value.hour}${value.minute === 0 ? '' : `:${String(value.minute).padStart(2, '0')}`} o'clock`;
    case 'ratio':
      return `${value.first.text}:${value.second.text}`;
    case 'open':
      return value.side;
    case 'expression':
      return 'worked out';
  }
}

/** A number in base units as a number in `unit`. `zero` as in `Worked`; a temperature where it is not said. */
export function inUnit(value: Exact, unit: Unit, zero: Exact = ONE): number {
  return toNumber(minus(value, times(zero, offsetOf(unit))).div(factorOf(unit)));
}
