// Units and what they measure: exact factors, dimensions, kinds, conversion, the other system's unit.
// How a unit may be written (Nm, ft-lb, °) belongs to the grammar; here are only the usual names.

import { type Exact, minus, ONE, over, plus, times, ZERO } from './exact.ts';
import { type Dimension, dimensionKey, isSameDimension, type UnitKind } from './unit-kinds.ts';
import { type UnitId, unitTable } from './unit-table.ts';

export { type Dimension, isSameDimension, kindName, type UnitKind } from './unit-kinds.ts';
export { isUnitId, type UnitId, unitIds } from './unit-table.ts';

export type UnitPart = { readonly unit: UnitId; readonly power: number };
/** Simple units multiplied together: N/mm is N to the power 1 and mm to the power -1. Empty for a plain ratio or count. */
export type Unit = readonly UnitPart[];

/** The unit that consists of this one alone. */
export function unitOf(id: UnitId): Unit {
  return [{ unit: id, power: 1 }];
}

/** Exponents of length, mass, time, angle, temperature and current. A share, a ratio and a count have none. */
export function dimensionOf(unit: Unit): Dimension {
  const only = unit.length === 1 ? unit[0] : undefined;
  if (only?.power === 1) return unitTable[only.unit].dimension;
  let length = 0;
  let mass = 0;
  let time = 0;
  let angle = 0;
  let temperature = 0;
  let current = 0;
  for (const part of unit) {
    const own = unitTable[part.unit].dimension;
    length += own.length * part.power;
    mass += own.mass * part.power;
    time += own.time * part.power;
    angle += own.angle * part.power;
    temperature += own.temperature * part.power;
    current += own.current * part.power;
  }
  return { length, mass, time, angle, temperature, current };
}

export function sameDimension(first: Unit, second: Unit): boolean {
  return first === second || isSameDimension(dimensionOf(first), dimensionOf(second));
}

/**
 * What the unit measures, or `undefined` for a combination that the trade has no word for (N·m·s).
 * km and mi measure a distance run, which has the dimension of a length but is not one.
 */
export function kindOf(unit: Unit): UnitKind | undefined {
  const whole = folded(unit);
  const only = whole.length === 1 ? whole[0] : undefined;
  if (only && only.power === 1) return unitTable[only.unit].kind;
  if (whole.length === 0) return 'ratio';
  return kindOfDimension(dimensionOf(whole));
}

/** What a result of these dimensions measures where its unit alone does not say; a ratio where nothing is left. */
export function kindOfDimension(dimension: Dimension): UnitKind | undefined {
  return kindByDimension.get(dimensionKey(dimension));
}

/** Whether both measure the same kind of thing; a length and a distance run do not. */
export function sameKind(first: Unit, second: Unit): boolean {
  return sameDimension(first, second) && kindOf(first) === kindOf(second);
}

/**
 * How many base units one of this unit is. The base units are mm, tonne, s, degree and kelvin, so that N, MPa and N/mm come out as 1
 * and N·m as 1000, and products are right without further factors. Offsets of temperatures are not in it.
 */
export function factorOf(unit: Unit): Exact {
  const only = unit.length === 1 ? unit[0] : undefined;
  if (only?.power === 1) return unitTable[only.unit].factor;
  let factor = ONE;
  for (const part of unit) {
    const own = unitTable[part.unit].factor;
    for (let left = Math.abs(part.power); left > 0; left -= 1) {
      factor = part.power > 0 ? times(factor, own) : (over(factor, own) ?? factor);
    }
  }
  return factor;
}

/** Whether conversions by this unit are exact. Only the radian is not: its factor holds pi, kept to 40 places. */
export function hasExactFactor(unit: Unit): boolean {
  return unit.every((part) => part.unit !== 'rad');
}

/** The value in the other unit, offsets of temperatures included; `undefined` where the two do not measure the same. */
export function convert(value: Exact, from: Unit, to: Unit): Exact | undefined {
  if (!sameDimension(from, to)) return undefined;
  return over(minus(plus(times(value, factorOf(from)), offsetOf(from)), offsetOf(to)), factorOf(to));
}

/** As `convert`, for a difference, a tolerance or a width: 9 °F of difference are 5 K, not -12.8 °C. */
export function convertDifference(value: Exact, from: Unit, to: Unit): Exact | undefined {
  if (!sameDimension(from, to)) return undefined;
  return over(times(value, factorOf(from)), factorOf(to));
}

/** Value in base units (see `factorOf`), offsets of temperatures included, so that values of one dimension can be compared. */
export function toBase(value: Exact, unit: Unit): Exact {
  return plus(times(value, factorOf(unit)), offsetOf(unit));
}

/** From base units back; the inverse of `toBase`. */
export function fromBase(value: Exact, unit: Unit): Exact {
  return over(minus(value, offsetOf(unit)), factorOf(unit)) ?? value;
}

/** The usual unit of the other system, inch for metric and metric for inch; `undefined` where both systems share it (deg, s, rpm, %). */
export function otherSystem(unit: Unit): Unit | undefined {
  let changed = false;
  const parts = folded(unit).map((part) => {
    const other = unitTable[part.unit].other;
    if (other === undefined) return part;
    changed = true;
    return { unit: other, power: part.power };
  });
  return changed ? parts : undefined;
}

/** Product of two units with like parts gathered; for `first / second` use `second` through `inverseUnit`. */
export function multiplyUnits(first: Unit, second: Unit): Unit {
  const powers = new Map<UnitId, number>();
  for (const part of [...first, ...second]) powers.set(part.unit, (powers.get(part.unit) ?? 0) + part.power);
  return [...powers].filter(([, power]) => power !== 0).map(([unit, power]) => ({ unit, power }));
}

export function inverseUnit(unit: Unit): Unit {
  return unit.map((part) => ({ unit: part.unit, power: -part.power }));
}

/** The usual way to write it: `N.m`, `N/mm`, `mm2`; empty for a plain ratio. */
export function unitText(unit: Unit): string {
  const shown = (part: UnitPart): string => {
    const size = Math.abs(part.power);
    return size === 1 ? part.unit : `${part.unit}${size}`;
  };
  const above = unit.filter((part) => part.power > 0).map(shown);
  const below = unit.filter((part) => part.power < 0).map(shown);
  return (above.length === 0 && below.length > 0 ? '1' : above.join('.')) + below.map((text) => `/${text}`).join('');
}

/** The unit with parts that have a name together made one: N and m become N.m. Values do not change. */
export function folded(unit: Unit): Unit {
  if (unit.length < 2) return unit;
  const known = wholeByText.get(unitText(unit));
  return known === undefined ? unit : unitOf(known);
}

const wholeByText = new Map<string, UnitId>(
  (Object.keys(unitTable) as UnitId[]).filter((id) => /[./]/.test(id)).map((id) => [id, id]),
);

const kindByDimension = new Map<string, UnitKind>(
  (
    [
      ['length', 1, 0, 0, 0, 0, 0],
      ['area', 2, 0, 0, 0, 0, 0],
      ['volume', 3, 0, 0, 0, 0, 0],
      ['mass', 0, 1, 0, 0, 0, 0],
      ['time', 0, 0, 1, 0, 0, 0],
      ['angle', 0, 0, 0, 1, 0, 0],
      ['temperature', 0, 0, 0, 0, 1, 0],
      ['force', 1, 1, -2, 0, 0, 0],
      ['torque', 2, 1, -2, 0, 0, 0],
      ['pressure', -1, 1, -2, 0, 0, 0],
      ['spring-rate', 0, 1, -2, 0, 0, 0],
      ['power', 2, 1, -3, 0, 0, 0],
      ['speed', 0, 0, -1, 1, 0, 0],
      ['velocity', 1, 0, -1, 0, 0, 0],
      ['acceleration', 1, 0, -2, 0, 0, 0],
      ['unbalance', 1, 1, 0, 0, 0, 0],
      ['inertia', 2, 1, 0, 0, 0, 0],
      ['density', -3, 1, 0, 0, 0, 0],
      ['flow', 3, 0, -1, 0, 0, 0],
      ['ratio', 0, 0, 0, 0, 0, 0],
      ['current', 0, 0, 0, 0, 0, 1],
      ['voltage', 2, 1, -3, 0, 0, -1],
      ['frequency', 0, 0, -1, 0, 0, 0],
      ['expansion', 0, 0, 0, 0, -1, 0],
    ] as const
  ).map(([kind, length, mass, time, angle, temperature, current]) => [
    dimensionKey({ length, mass, time, angle, temperature, current }),
    kind,
  ]),
);

/** Kelvin at the zero of a temperature scale, in kelvin: 273.15 for °C, 459.67 · 5/9 for °F. Zero for everything that is no plain temperature. */
export function offsetOf(unit: Unit): Exact {
  const only = unit.length === 1 ? unit[0] : undefined;
  return only && only.power === 1 ? (unitTable[only.unit].offset ?? ZERO) : ZERO;
}
