// What a sum comes to, and how two of them make one: by plus, minus, times and over, units and the zero of temperatures minded.
import { type Exact, minus, negate, ONE, over, plus, times, toNumber, ZERO } from '../mechanics/exact.ts';
import { isPoint } from '../mechanics/interval.ts';
import {
  addStacks,
  divideStacks,
  multiplyStacks,
  type Stack,
  stackConstant,
  subtractStacks,
} from '../mechanics/stack.ts';
import { type Dimension, dimensionOf, factorOf, isSameDimension, offsetOf, type Unit } from '../mechanics/units.ts';

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

export const NONE: Dimension = dimensionOf([]);

/** One for a temperature on a scale with a zero of its own; none for kelvin, which are taken for a difference, and for all else. */
export function zeroOf(unit: Unit): Exact {
  return offsetOf(unit).equals(ZERO) ? ZERO : ONE;
}

/** A temperature that something is multiplied with or divided by beside a difference stands for one itself: `/ 1 degC` is `/ 1 K`. */
function asDifference(value: Worked): Worked {
  const zero = value.zero ?? ZERO;
  if (zero.equals(ZERO)) return value;
  const offset = times(zero, offsetOf(value.unit));
  return { ...value, stack: subtractStacks(value.stack, stackConstant(offset)), zero: ZERO };
}

export function combine(operator: '+' | '-' | '*' | '/', before: Worked, after: Worked): Worked | undefined {
  let [left, right] = [before, after];
  const inputs = new Map([...left.inputs, ...right.inputs]);
  const rests = left.toMeasure || right.toMeasure ? { toMeasure: true } : {};
  if (operator === '+' || operator === '-') {
    if (!isSameDimension(left.dimension, right.dimension)) return undefined;
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
    const isPlain = isSameDimension(by.dimension, NONE) && isPoint(by.stack.interval);
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
  const unit = isSameDimension(dimension, NONE)
    ? []
    : isSameDimension(dimension, left.dimension)
      ? left.unit
      : isSameDimension(dimension, right.dimension)
        ? right.unit
        : [];
  return { stack, dimension, unit, zero, inputs, ...rests };
}

/** A number in base units as a number in `unit`. `zero` as in `Worked`; a temperature where it is not said. */
export function inUnit(value: Exact, unit: Unit, zero: Exact = ONE): number {
  return toNumber(minus(value, times(zero, offsetOf(unit))).div(factorOf(unit)));
}
