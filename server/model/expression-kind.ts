// What kind of thing an expression measures, without working it out: for saying where a length is added to an angle.
import { lookUp } from '../../grammar/look-up.ts';
import { termsOf } from '../../grammar/terms.ts';
import type { Binary, Expression, PlainValue, Quantity, Value } from '../../grammar/tree.ts';
import { type Dimension, dimensionOf, isSameDimension } from '../mechanics/units.ts';
import { broughtValues } from './brought-sizes.ts';
import { ENGINE_FIGURES, engineStatement } from './engine-figures.ts';
import { plainValues, unitFrom } from './measure.ts';
import { TIMING_LIFTS, TIMING_VALUES } from './valve-sums.ts';
import type { Part, View } from './view.ts';
import { question } from './view-questions.ts';

/** Told of a sum of two different kinds. */
export type Clash = (operator: '+' | '-', left: Dimension, right: Dimension, where: Expression) => void;

/** A number without a unit that is one side of a sum: where the sides clash, its unit is what is missing. */
export function bareSide(sum: Expression): Quantity | undefined {
  const sides = sum.kind === 'binary' ? [sum.left, sum.right] : [sum];
  return sides.find((side): side is Quantity => side.kind === 'quantity' && side.unit === undefined);
}

/** Whether nothing is left of a dimension: a plain ratio or a count. */
export function isPlain(dimension: Dimension): boolean {
  return isSameDimension(dimension, NONE);
}

const NONE = dimensionOf([]);
const ANGLE = dimensionOf([{ unit: 'deg', power: 1 }]);
const LENGTH = dimensionOf([{ unit: 'mm', power: 1 }]);

function ofPlain(value: PlainValue | undefined, view: View): Dimension | undefined {
  if (value === undefined) return undefined;
  if (value.kind === 'expression') return dimensionsOf(value.expression, view, () => undefined);
  if (!('unit' in value)) return value.kind === 'quantity' ? NONE : undefined;
  const unit = value.unit?.parts === undefined ? undefined : unitFrom(value.unit.parts);
  return unit === undefined ? undefined : dimensionOf(unit);
}

/** The dimension of a value that must have a unit: without one it is unknown, and unit/missing says so. */
function ofMeasured(value: PlainValue | undefined, view: View): Dimension | undefined {
  const dimension = ofPlain(value, view);
  return dimension === undefined || isPlain(dimension) ? undefined : dimension;
}

/** What the statements of one word say of a part: its `mass`, its `pitch`; of two the first. */
export const valuesOfWords = question(
  (_view, part: Part): ReadonlyMap<string, Value> =>
    new Map(
      part.statements.flatMap((each) => (each.kind === 'value' ? [[each.word, each.value] as const] : [])).reverse(),
    ),
);

/** The dimension of a sum or a product of two; undefined where they don't go together, which is told. */
function ofTwo(sum: Binary, left: Dimension, right: Dimension, clash: Clash): Dimension | undefined {
  const { operator } = sum;
  if (operator === '+' || operator === '-') {
    if (isSameDimension(left, right)) return left;
    clash(operator, left, right, sum);
    return undefined;
  }
  const sign = operator === '*' ? 1 : -1;
  return {
    length: left.length + sign * right.length,
    mass: left.mass + sign * right.mass,
    time: left.time + sign * right.time,
    angle: left.angle + sign * right.angle,
    temperature: left.temperature + sign * right.temperature,
    current: left.current + sign * right.current,
  };
}

/** The dimension of an expression; undefined where something in it is unknown. Clashes are told, and the left side goes on. */
export function dimensionsOf(expression: Expression, view: View, clash: Clash, depth = 0): Dimension | undefined {
  switch (expression.kind) {
    case 'quantity':
      return expression.unit === undefined ? NONE : ofPlain(expression, view);
    case 'negated':
      return dimensionsOf(expression.operand, view, clash, depth);
    case 'call': {
      let all: Dimension | undefined;
      for (const operand of expression.operands) {
        const own = dimensionsOf(operand, view, clash, depth);
        if (own === undefined) return undefined;
        if (all !== undefined && !isSameDimension(all, own)) clash('+', all, own, operand);
        all ??= own;
      }
      return all;
    }
    case 'binary': {
      const { first, further } = termsOf(expression);
      let left = dimensionsOf(first, view, clash, depth);
      for (const each of further) {
        const right = dimensionsOf(each.right, view, clash, depth);
        left = left === undefined || right === undefined ? undefined : ofTwo(each, left, right, clash);
      }
      return left;
    }
    case 'reference': {
      const { owner, feature } = expression.reference;
      if (owner.text === 'engine') {
        const figure = feature === undefined ? undefined : lookUp(ENGINE_FIGURES, feature.text);
        if (figure !== undefined) return dimensionOf(figure.unit);
        const statement = feature === undefined ? undefined : engineStatement(view.engine, 'value', feature.text);
        return statement === undefined || statement.value.kind === 'by-place'
          ? undefined
          : ofMeasured(statement.value, view);
      }
      const thing = view.things.get(owner.text);
      if (thing?.kind === 'limit' && feature === undefined)
        return thing.expression === undefined || depth > 8
          ? ofMeasured(plainValues(thing.within)[0], view)
          : dimensionsOf(thing.expression, view, () => undefined, depth + 1);
      if (thing === undefined && owner.text === 'pi' && feature === undefined) return NONE;
      if (feature === undefined) return undefined;
      if (thing?.kind === 'valve-timing') {
        if (TIMING_LIFTS.includes(feature.text)) return LENGTH;
        return Object.hasOwn(TIMING_VALUES, feature.text) ? ANGLE : undefined;
      }
      const [brought] = broughtValues(owner.text, feature.text, view);
      if (brought !== undefined) return ofMeasured(plainValues(brought)[0], view);
      if (thing?.kind !== 'part') return undefined;
      if (feature.text === 'teeth' || feature.text === 'links') return NONE;
      if (feature.text === 'wall') return thing.wall === undefined ? undefined : LENGTH;
      const figure = thing.figures.get(feature.text);
      if (figure !== undefined) return ofPlain(plainValues(figure.value)[0], view);
      const value = thing.dimensions.get(feature.text)?.value ?? valuesOfWords(view, thing).get(feature.text);
      return ofMeasured(plainValues(value)[0], view);
    }
  }
}
