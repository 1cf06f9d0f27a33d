// Works out expressions: references to dimensions, figures, limits and engine values, with their tolerances as a stack, place by place.
import type { Expression, PlainValue, Reference, Value } from '../../grammar/tree.ts';
import { type Exact, exact, larger, smaller, ZERO } from '../mechanics/exact.ts';
import { range } from '../mechanics/interval.ts';
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
import { type Dimension, dimensionOf, factorOf, type Unit } from '../mechanics/units.ts';
import { engineFigure } from './engine-sums.ts';
import { type Asked, allPlaces, type NamedPlace, namedPlaces, placesFor, placesOfFeature } from './feature-places.ts';
import { measureOf, valueAt } from './measure.ts';
import type { Part, View } from './view.ts';

/** A worked-out value in base units. `unit` is the one that a result is shown in, where an input gives one. */
export interface Worked {
  readonly stack: Stack;
  readonly dimension: Dimension;
  readonly unit: Unit;
  /** What went in, by name, as written. */
  readonly inputs: ReadonlyMap<string, string>;
}

const NONE: Dimension = dimensionOf([]);
const ONLY: Asked = { index: 1, of: 1 };
/** A limit that is worked out from limits that are worked out from it would never end. */
const DEEPEST = 12;

export interface Evaluation {
  readonly view: View;
  readonly asked: Asked;
  readonly depth: number;
}

/** Starts working out in a view. */
export function evaluation(view: View, asked: Asked = ONLY): Evaluation {
  return { view, asked, depth: 0 };
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
            inputs: new Map(),
          };
    }
    case 'negated': {
      const operand = workOut(expression.operand, at);
      return operand === undefined ? undefined : { ...operand, stack: negateStack(operand.stack) };
    }
    case 'binary': {
      const left = workOut(expression.left, at);
      const right = workOut(expression.right, at);
      return left === undefined || right === undefined ? undefined : combine(expression.operator, left, right);
    }
    case 'call':
      return workOutCall(expression.name.text, expression.operands, at);
    case 'reference':
      return workOutReference(expression.reference, at);
  }
}

function sameDimension(first: Dimension, second: Dimension): boolean {
  return (
    first.length === second.length &&
    first.mass === second.mass &&
    first.time === second.time &&
    first.angle === second.angle &&
    first.temperature === second.temperature
  );
}

function combine(operator: '+' | '-' | '*' | '/', left: Worked, right: Worked): Worked | undefined {
  const inputs = new Map([...left.inputs, ...right.inputs]);
  if (operator === '+' || operator === '-') {
    if (!sameDimension(left.dimension, right.dimension)) return undefined;
    const stack = operator === '+' ? addStacks(left.stack, right.stack) : subtractStacks(left.stack, right.stack);
    return { stack, dimension: left.dimension, unit: left.unit.length > 0 ? left.unit : right.unit, inputs };
  }
  const sign = operator === '*' ? 1 : -1;
  const dimension: Dimension = {
    length: left.dimension.length + sign * right.dimension.length,
    mass: left.dimension.mass + sign * right.dimension.mass,
    time: left.dimension.time + sign * right.dimension.time,
    angle: left.dimension.angle + sign * right.dimension.angle,
    temperature: left.dimension.temperature + sign * right.dimension.temperature,
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
  return { stack, dimension, unit, inputs };
}

const GATHER: Readonly<Record<string, (values: readonly Stack[]) => Stack | undefined>> = {
  min: leastStack,
  max: greatestStack,
  mean: meanStack,
  spread: spreadStack,
};

function workOutCall(name: string, operands: readonly Expression[], at: Evaluation): Worked | undefined {
  const gather = GATHER[name.toLowerCase()];
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
  return stack === undefined ? undefined : { stack, dimension: first.dimension, unit: first.unit, inputs };
}

function everyPlace(reference: Reference, at: Evaluation): readonly (Worked | undefined)[] {
  const part = at.view.things.get(reference.owner.text);
  const feature = reference.feature?.text;
  if (part?.kind !== 'part' || feature === undefined) return [workOutReference(reference, at)];
  const value = featureValue(part, feature);
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
    inputs: new Map([[value.kind === 'by-place' && places.length === 1 ? at : key, texts.join(', ')]]),
  };
}

function workOutReference(reference: Reference, at: Evaluation): Worked | undefined {
  const owner = reference.owner.text;
  const feature = reference.feature?.text;
  if (owner === 'engine') return feature === undefined ? undefined : engineFigure(feature, at.view);
  const thing = at.view.things.get(owner);
  if (thing?.kind === 'limit' && feature === undefined) {
    return thing.expression === undefined ? undefined : workOut(thing.expression, { ...at, depth: at.depth + 1 });
  }
  if (thing?.kind !== 'part' || feature === undefined) return undefined;
  const value = featureValue(thing, feature);
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

function featureValue(part: Part, feature: string): Value | number | undefined {
  if (feature === 'teeth') return part.teeth;
  if (feature === 'links') return part.links;
  if (feature === 'wall') return part.wall;
  if (feature === 'pitch') return part.pitch;
  const dimension = part.dimensions.get(feature)?.value ?? part.figures.get(feature)?.value;
  if (dimension !== undefined) return dimension;
  const statement = part.statements.find((candidate) => candidate.kind === 'value' && candidate.word === feature);
  return statement?.kind === 'value' ? statement.value : undefined;
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

/** A number in base units as a number in `unit`, without the offset of temperatures. */
export function inUnit(value: Exact, unit: Unit): number {
  return Number(value.div(factorOf(unit)).valueOf());
}
