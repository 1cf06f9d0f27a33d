// Exact rational numbers: decimals, fractions and mixed numbers as they are written, and the sums on them.
// No unit and no tolerance lives here; see units.ts and interval.ts.

import { Fraction } from 'fraction.js';

/** A rational number without rounding. Treat it as a value that never changes; the helpers here are the only way in. */
export type Exact = Fraction;

export function isExact(value: unknown): value is Exact {
  return value instanceof Fraction;
}

/** Longest text that is read as a number. What is longer is no measurement. */
const LONGEST_NUMBER = 60;

const DECIMAL = /^([+-]?)(\d*)(?:\.(\d*))?$/;
const FRACTION = /^([+-]?)(?:(\d+)\s+)?(\d+)\/(\d+)$/;
/** Past this size of numerator or denominator a result is rounded to 60 figures, so that no sum can run away. */
const LARGEST = 2n ** 1000n;

const powers: bigint[] = [1n];
function powerOfTen(places: number): bigint {
  for (let at = powers.length; at <= places; at += 1) powers.push((powers[at - 1] ?? 1n) * 10n);
  return powers[places] ?? 10n ** BigInt(places);
}

export const ZERO: Exact = new Fraction(0n, 1n);
export const ONE: Exact = new Fraction(1n, 1n);

/** Pi to 40 places: exact work with round sections is off by less than 1e-40 of the result. */
export const PI: Exact = new Fraction(31415926535897932384626433832795028841972n, 10n ** 40n);

/**
 * Reads a number as written: `53.970`, `-0.0010`, `+0.02`, `.002`, `3/8`, `1 1/2`.
 * Gives `undefined` for anything else, for a zero under the line, and for more than 60 characters; it never throws.
 */
export function exact(text: string): Exact | undefined {
  if (text.length > LONGEST_NUMBER) return undefined;
  const decimal = DECIMAL.exec(text);
  if (decimal) {
    const wholes = decimal[2] ?? '';
    const parts = decimal[3] ?? '';
    if (wholes === '' && parts === '') return undefined;
    const digits = BigInt(wholes + parts);
    return new Fraction(decimal[1] === '-' ? -digits : digits, powerOfTen(parts.length));
  }
  const fraction = FRACTION.exec(text);
  if (!fraction) return undefined;
  const under = BigInt(fraction[4] ?? '0');
  if (under === 0n) return undefined;
  const over = BigInt(fraction[2] ?? '0') * under + BigInt(fraction[3] ?? '0');
  return new Fraction(fraction[1] === '-' ? -over : over, under);
}

/**
 * How many places are written after the point: 3 for `53.970`, 0 for `24`.
 * `undefined` for fractions, whose precision is not said by their digits, and for what is no number.
 */
export function decimalPlaces(text: string): number | undefined {
  const decimal = DECIMAL.exec(text);
  if (!decimal || text.length > LONGEST_NUMBER) return undefined;
  const parts = decimal[3] ?? '';
  if ((decimal[2] ?? '') === '' && parts === '') return undefined;
  return parts.length;
}

/** A whole number. `undefined` where it is not whole or is beyond what a double holds exactly. */
export function wholeNumber(value: number): Exact | undefined {
  return Number.isSafeInteger(value) ? new Fraction(BigInt(value), 1n) : undefined;
}

/** `over / under` of two whole numbers; for constants and counts. `undefined` for a zero under the line or numbers that are not whole. */
export function ratioOf(over: number, under: number): Exact | undefined {
  if (!Number.isSafeInteger(over) || !Number.isSafeInteger(under) || under === 0) return undefined;
  return new Fraction(BigInt(over), BigInt(under));
}

/** The double as the exact rational that it stands for, for results of roots and sines. `undefined` for what is not finite. */
export function fromNumber(value: number): Exact | undefined {
  if (!Number.isFinite(value)) return undefined;
  let scaled = value;
  let shift = 0;
  while (!Number.isInteger(scaled) && shift < 1074) {
    scaled *= 2;
    shift += 1;
  }
  if (!Number.isInteger(scaled)) return undefined;
  return bounded(new Fraction(BigInt(scaled), 1n << BigInt(shift)));
}

export function plus(first: Exact, second: Exact): Exact {
  if (first.d === second.d) return make(first.s * first.n + second.s * second.n, first.d);
  return make(first.s * first.n * second.d + second.s * second.n * first.d, first.d * second.d);
}

export function minus(first: Exact, second: Exact): Exact {
  if (first.d === second.d) return make(first.s * first.n - second.s * second.n, first.d);
  return make(first.s * first.n * second.d - second.s * second.n * first.d, first.d * second.d);
}

export function times(first: Exact, second: Exact): Exact {
  return make(first.s * first.n * second.s * second.n, first.d * second.d);
}

/** `first / second`; `undefined` where the second is zero. */
export function over(first: Exact, second: Exact): Exact | undefined {
  if (second.n === 0n) return undefined;
  return make(first.s * first.n * second.s * second.d, first.d * second.n);
}

export function negate(value: Exact): Exact {
  return value.neg();
}

export function absolute(value: Exact): Exact {
  return value.abs();
}

/** -1, 0 or 1: where the first stands to the second. */
export function compare(first: Exact, second: Exact): -1 | 0 | 1 {
  const left = first.d === second.d ? first.s * first.n : first.s * first.n * second.d;
  const right = first.d === second.d ? second.s * second.n : second.s * second.n * first.d;
  return left < right ? -1 : left > right ? 1 : 0;
}

export function equal(first: Exact, second: Exact): boolean {
  return first.n === second.n && first.d === second.d && (first.n === 0n || first.s === second.s);
}

export function smaller(first: Exact, second: Exact): Exact {
  return compare(first, second) <= 0 ? first : second;
}

export function larger(first: Exact, second: Exact): Exact {
  return compare(first, second) >= 0 ? first : second;
}

export function signOf(value: Exact): -1 | 0 | 1 {
  return value.n === 0n ? 0 : value.s < 0n ? -1 : 1;
}

/** The nearest double, to one unit in its last place. */
export function toNumber(value: Exact): number {
  return Number(value.s * value.n) / Number(value.d);
}

/** To so many decimal places; `nearest` rounds a half away from zero, `down` cuts off toward zero. Negative places round to tens, hundreds… */
export function roundTo(value: Exact, places: number, way: 'nearest' | 'down' = 'nearest'): Exact {
  const up = places >= 0 ? powerOfTen(places) : 1n;
  const down = places < 0 ? powerOfTen(-places) : 1n;
  const under = value.d * down;
  const whole = way === 'down' ? (value.n * up) / under : (2n * value.n * up + under) / (2n * under);
  return new Fraction(value.s * whole * down, up);
}

/** Written with exactly so many places (0 or more), a half rounded away from zero: 24.4 at 3 places is `24.400`. */
export function toText(value: Exact, places: number): string {
  const kept = Math.max(0, Math.trunc(places));
  const rounded = roundTo(value, kept);
  const digits = ((rounded.n * powerOfTen(kept)) / rounded.d).toString().padStart(kept + 1, '0');
  const sign = signOf(rounded) < 0 ? '-' : '';
  return kept === 0 ? sign + digits : `${sign}${digits.slice(0, -kept)}.${digits.slice(-kept)}`;
}

function make(numerator: bigint, denominator: bigint): Exact {
  return bounded(new Fraction(numerator, denominator));
}

function bounded(value: Exact): Exact {
  if (value.n < LARGEST && value.d < LARGEST) return value;
  const length = (size: bigint): number => size.toString().length;
  const places = 60 - (length(value.n) - length(value.d));
  return places > 300 ? ZERO : roundTo(value, places);
}
