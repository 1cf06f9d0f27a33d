// Works out expressions: references to dimensions, figures, limits and engine values, with their tolerances as a stack, place by place.

import { lookUp } from '../../grammar/look-up.ts';
import { type Terms, termsOf } from '../../grammar/terms.ts';
import type { Expression, PlainValue, Reference } from '../../grammar/tree.ts';
import { type Exact, exact, minus, negate, ONE, PI, plus, times, ZERO } from '../mechanics/exact.ts';
import {
  greatestStack,
  leastStack,
  meanStack,
  negateStack,
  type Stack,
  spreadStack,
  stackConstant,
} from '../mechanics/stack.ts';
import { dimensionOf, isSameDimension, offsetOf, type Unit, unitOf } from '../mechanics/units.ts';
import { broughtSize, featureValue, inputAt, limitInput, timingFigure } from './expression-inputs.ts';
import { type Asked, allPlaces, isOnlyNumbered, namedPlaces, placesFor, placesOfFeature } from './feature-places.ts';
import { placesOfLimit } from './limit-places.ts';
import { type Measure, measureOf, plainValues, takesIn, valueAt } from './measure.ts';
import { MOST_FACTORS, MOST_IN_A_SUM } from './most.ts';
import type { Limit, View } from './view.ts';
import { combine, NONE, type Worked, zeroOf } from './worked.ts';

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
  /** Set where something was looked at that may be another at another place. */
  readonly place: { counts: boolean };
}

/** What a figure of the engine comes to, in base units. Given along, since it may be worked out from an expression itself. */
export type EngineFigure = (name: string, view: View) => Worked | undefined;

/** Starts working out in a view, with how a figure of the engine is worked out: see evaluation.ts. */
export function evaluationWith(view: View, engineFigure: EngineFigure, asked: Asked = ONLY): Evaluation {
  return { view, asked, depth: 0, worked: new Map(), engineFigure, place: { counts: false } };
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
  at.place.counts = true;
  const places = placesFor(part, feature.text, reference.reference, at.asked);
  if (places.length < 2 || String(places.length) !== count.number.text) return undefined;
  const each = places.map((place) => inputAt(`${owner.text}.${feature.text}`, value, [place], true));
  return each.reduce<Worked | undefined>(
    (sum, one, i) => (i === 0 ? one : sum === undefined || one === undefined ? undefined : combine('+', sum, one)),
    undefined,
  );
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
    values.some((value) => !isSameDimension(value.dimension, first.dimension))
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
    const brought = broughtSize(owner, feature, at.view, at.asked);
    if (brought !== undefined) {
      at.place.counts = true;
      return brought;
    }
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
  // Places pair by how many there are, and by name: which number is asked for does not count for that.
  if (value.kind === 'by-place' || (at.asked.name !== undefined && !isOnlyNumbered(thing))) at.place.counts = true;
  return inputAt(
    `${owner}.${feature}`,
    value,
    placesFor(thing, feature, reference, at.asked),
    placesOfFeature(thing, feature) > 1,
  );
}

/** A limit at a place: what was measured of it there, else what it is worked out from, else its bounds, between which it has to lie. */
function limitAt(limit: Limit, asked: Asked, at: Evaluation): Worked | undefined {
  const place = { name: asked.name, number: asked.number ?? asked.index };
  const written = at.view.measured
    ?.get(limit.name)
    ?.find(
      (each) => limit.each === undefined || each.places.length === 0 || each.places.some((own) => takesIn(own, place)),
    );
  if (written !== undefined) {
    at.place.counts = true;
    return limitInput(limit, asked, written.value, readAs(written.value, limit, at));
  }
  if (limit.expression !== undefined) {
    const key = `${limit.name} ${asked.name ?? ''} ${asked.number ?? ''} ${asked.index} ${asked.of} ${at.depth}`;
    if (!at.worked.has(key)) at.worked.set(key, workOutSum(limit.expression, { ...at, asked, depth: at.depth + 1 }));
    return at.worked.get(key);
  }
  if (limit.within?.kind === 'by-place') at.place.counts = true;
  const bounds = limit.within === undefined ? undefined : valueAt(limit.within, place);
  const worked = bounds === undefined ? undefined : limitInput(limit, asked, bounds, readAs(bounds, limit, at));
  return worked === undefined ? undefined : { ...worked, toMeasure: true };
}

const isTemperature = (unit: Unit): boolean => isSameDimension(dimensionOf(unit), dimensionOf(unitOf('K')));

/**
 * Whether a limit of temperatures is for a temperature (one) or for a difference of two (none): as its sum has it, else as its bounds are
 * written, which are a difference in kelvin. One too for all that is no temperature, where it makes no difference.
 */
export function zeroOfLimit(limit: Limit, at: Evaluation): Exact {
  const unit = unitOfBounds(limit);
  if (unit !== undefined && !isTemperature(unit)) return ONE;
  const worked =
    limit.expression === undefined ? undefined : workOutSum(limit.expression, { ...at, depth: at.depth + 1 });
  if (worked !== undefined) return isTemperature(worked.unit) ? (worked.zero ?? ZERO) : ONE;
  return unit === undefined ? ONE : zeroOf(unit);
}

function unitOfBounds(limit: Limit): Unit | undefined {
  const [bounds] = plainValues(limit.within ?? limit.wearLimit);
  if (bounds === undefined) return undefined;
  return measureOf(bounds.kind === 'open' && bounds.value.kind === 'quantity' ? bounds.value : bounds)?.unit;
}

/** What was measured of a limit, in base units: where it is for a difference of temperatures, a difference, whatever its scale. */
export function readAs(
  value: PlainValue,
  limit: Limit,
  at: Evaluation,
): (Measure & { readonly zero: Exact }) | undefined {
  const measure = measureOf(value);
  if (measure === undefined) return undefined;
  const own = zeroOf(measure.unit);
  if (!isTemperature(measure.unit)) return { ...measure, zero: own };
  const zero = zeroOfLimit(limit, at);
  if (zero.equals(own)) return { ...measure, zero };
  // A temperature in kelvin is told on the scale of its bounds.
  if (own.equals(ZERO)) return { ...measure, unit: unitOfBounds(limit) ?? measure.unit, zero };
  const offset = times(minus(zero, own), offsetOf(measure.unit));
  const moved = (edge: Exact): Exact => plus(edge, offset);
  const { low, nominal, high } = measure.interval;
  return { ...measure, interval: { low: moved(low), nominal: moved(nominal), high: moved(high) }, zero };
}
