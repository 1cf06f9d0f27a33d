// Exact rational numbers: decimals, fractions and mixed numbers as they are written, and the sums on them. While what stands over and under
// the line is small enough for a double to hold it exactly, it is held so, which is fast; what is larger is held in whole numbers of any size,
// and what is larger still is brought into lowest terms only where somebody asks for them, since that costs more than the sum itself.
// Sums are made very often: what each needs has a name of its own, and no list is made to be taken apart again.
// No unit and no tolerance lives here; see units.ts and interval.ts.

import { Fraction } from 'fraction.js';

/** A rational number in whole numbers of any size, its sign over the line. */
class Large {
  readonly over: bigint;
  readonly under: bigint;
  #lowest: Fraction | undefined;

  constructor(over: bigint, under: bigint, lowest?: Fraction) {
    this.over = over;
    this.under = under;
    this.#lowest = lowest;
  }

  /** In lowest terms, which are looked for once. */
  get lowest(): Fraction {
    this.#lowest ??= new Fraction(this.over, this.under);
    return this.#lowest;
  }
}

/** A rational number without rounding. The helpers here are the only way in. */
class Ratio {
  /** In lowest terms with its sign; not a number where it is large. */
  readonly over: number;
  /** In lowest terms, more than zero; not a number where it is large. */
  readonly under: number;
  /** What is larger than a double holds exactly. */
  readonly large: Large | undefined;

  constructor(over: number, under: number, large?: Large) {
    this.over = over;
    this.under = under;
    this.large = large;
  }

  /** What stands over the line in lowest terms, without its sign. */
  get n(): bigint {
    return this.large?.lowest.n ?? BigInt(Math.abs(this.over));
  }

  /** What stands under the line in lowest terms. */
  get d(): bigint {
    return this.large?.lowest.d ?? BigInt(this.under);
  }

  neg(): Ratio {
    return negate(this);
  }

  abs(): Ratio {
    return absolute(this);
  }

  add(other: Ratio): Ratio {
    return plus(this, other);
  }

  sub(other: Ratio | number): Ratio {
    return minus(this, ratioFrom(other));
  }

  mul(other: Ratio | number): Ratio {
    return times(this, ratioFrom(other));
  }

  /** Throws where the other is zero: what may be is divided with `over`. */
  div(other: Ratio | number): Ratio {
    const quotient = over(this, ratioFrom(other));
    if (quotient === undefined) throw new Error('division by zero');
    return quotient;
  }

  compare(other: Ratio): -1 | 0 | 1 {
    return compare(this, other);
  }

  equals(other: Ratio): boolean {
    return equal(this, other);
  }

  /** The greatest whole number that is no more. */
  floor(): Ratio {
    if (this.large !== undefined) return fromLowest(this.large.lowest.floor());
    const rest = this.over % this.under;
    return lowest((this.over - rest) / this.under - (rest < 0 ? 1 : 0), 1);
  }

  /** The nearest whole number, of two the greater. */
  round(): Ratio {
    return plus(this, HALF).floor();
  }

  /** `-7/2`, `3`. */
  toFraction(): string {
    return this.large?.lowest.toFraction() ?? (this.under === 1 ? `${this.over}` : `${this.over}/${this.under}`);
  }
}

export type Exact = Ratio;

export function isExact(value: unknown): value is Exact {
  return value instanceof Ratio;
}

/** Longest text that is read as a number. What is longer is no measurement. */
const LONGEST_NUMBER = 60;

const DECIMAL = /^([+-]?)(\d*)(?:\.(\d*))?$/;
const FRACTION = /^([+-]?)(?:(\d+)\s+)?(\d+)\/(\d+)$/;
/** Past this size of numerator or denominator a result is rounded to 60 figures, so that no sum can run away. */
const LARGEST = 2n ** 1000n;
/** Up to this size, lowest terms are looked for at once: they are quickly found, and what is small goes on in doubles. */
const LOWEST_AT_ONCE = 2n ** 128n;

const powers: bigint[] = [1n];
function powerOfTen(places: number): bigint {
  for (let at = powers.length; at <= places; at += 1) powers.push((powers[at - 1] ?? 1n) * 10n);
  return powers[places] ?? 10n ** BigInt(places);
}

/** Powers of ten that a double holds exactly. */
const SMALL_POWERS = Array.from({ length: 16 }, (_, places) => 10 ** places);

const isSmall = Number.isSafeInteger;

export const ZERO: Exact = new Ratio(0, 1);
export const ONE: Exact = new Ratio(1, 1);
const HALF: Exact = new Ratio(1, 2);

/** Pi to 40 places: exact work with round sections is off by less than 1e-40 of the result. */
export const PI: Exact = make(31415926535897932384626433832795028841972n, 10n ** 40n);

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
    const power = SMALL_POWERS[parts.length];
    if (power !== undefined && wholes.length + parts.length < SMALL_POWERS.length) {
      const digits = Number(wholes + parts);
      return lowest(decimal[1] === '-' ? -digits : digits, power);
    }
    const digits = BigInt(wholes + parts);
    return make(decimal[1] === '-' ? -digits : digits, powerOfTen(parts.length));
  }
  const fraction = FRACTION.exec(text);
  if (!fraction) return undefined;
  const under = BigInt(fraction[4] ?? '0');
  if (under === 0n) return undefined;
  const over = BigInt(fraction[2] ?? '0') * under + BigInt(fraction[3] ?? '0');
  return make(fraction[1] === '-' ? -over : over, under);
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
  return isSmall(value) ? lowest(value, 1) : undefined;
}

/** `over / under` of two whole numbers; for constants and counts. `undefined` for a zero under the line or numbers that are not whole. */
export function ratioOf(over: number, under: number): Exact | undefined {
  if (!Number.isSafeInteger(over) || !Number.isSafeInteger(under) || under === 0) return undefined;
  return under < 0 ? lowest(-over, -under) : lowest(over, under);
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
  return make(BigInt(scaled), 1n << BigInt(shift));
}

/** What stands over the line, with its sign, in a whole number of any size. */
function signed({ over, large }: Exact): bigint {
  return large === undefined ? BigInt(over) : large.over;
}

/** What stands under the line, as `signed` gives what stands over it. */
function below({ under, large }: Exact): bigint {
  return large === undefined ? BigInt(under) : large.under;
}

/** Numbers that a program says are small and whole. */
function ratioFrom(value: Exact | number): Exact {
  return typeof value === 'number' ? lowest(value, 1) : value;
}

function sum(first: Exact, second: Exact, sign: 1 | -1): Exact {
  if (first.under === second.under) {
    const over = first.over + sign * second.over;
    if (isSmall(over)) return lowest(over, first.under);
  } else {
    const one = first.over * second.under;
    const other = second.over * first.under;
    const over = one + sign * other;
    const under = first.under * second.under;
    if (isSmall(one) && isSmall(other) && isSmall(over) && isSmall(under)) return lowest(over, under);
  }
  const [one, other] = [signed(first) * below(second), signed(second) * below(first)];
  return make(sign === 1 ? one + other : one - other, below(first) * below(second));
}

export function plus(first: Exact, second: Exact): Exact {
  return sum(first, second, 1);
}

export function minus(first: Exact, second: Exact): Exact {
  return sum(first, second, -1);
}

export function times(first: Exact, second: Exact): Exact {
  const over = first.over * second.over;
  const under = first.under * second.under;
  if (isSmall(over) && isSmall(under)) return lowest(over, under);
  return make(signed(first) * signed(second), below(first) * below(second));
}

/** `first / second`; `undefined` where the second is zero. */
export function over(first: Exact, second: Exact): Exact | undefined {
  if (second.over === 0) return undefined;
  const over = first.over * second.under;
  const under = first.under * second.over;
  if (isSmall(over) && isSmall(under)) return under < 0 ? lowest(-over, -under) : lowest(over, under);
  const [above, beneath] = [signed(first) * below(second), below(first) * signed(second)];
  return beneath < 0n ? make(-above, -beneath) : make(above, beneath);
}

export function negate(value: Exact): Exact {
  if (value.over === 0) return value;
  const { large } = value;
  return new Ratio(-value.over, value.under, large && new Large(-large.over, large.under));
}

export function absolute(value: Exact): Exact {
  return signOf(value) < 0 ? negate(value) : value;
}

/** -1, 0 or 1: where the first stands to the second. */
export function compare(first: Exact, second: Exact): -1 | 0 | 1 {
  if (first.under === second.under) return order(first.over, second.over);
  const left = first.over * second.under;
  const right = second.over * first.under;
  if (isSmall(left) && isSmall(right)) return order(left, right);
  return order(signed(first) * below(second), signed(second) * below(first));
}

function order(left: number | bigint, right: number | bigint): -1 | 0 | 1 {
  return left < right ? -1 : left > right ? 1 : 0;
}

export function equal(first: Exact, second: Exact): boolean {
  if (first.large === undefined && second.large === undefined)
    return first.over === second.over && first.under === second.under;
  return signed(first) * below(second) === signed(second) * below(first);
}

export function smaller(first: Exact, second: Exact): Exact {
  return compare(first, second) <= 0 ? first : second;
}

export function larger(first: Exact, second: Exact): Exact {
  return compare(first, second) >= 0 ? first : second;
}

export function signOf(value: Exact): -1 | 0 | 1 {
  return value.large === undefined ? order(value.over, 0) : value.large.over < 0n ? -1 : 1;
}

/** The nearest double, to one unit in its last place. */
export function toNumber(value: Exact): number {
  if (value.large === undefined) return value.over / value.under;
  const { s, n, d } = value.large.lowest;
  return Number(s * n) / Number(d);
}

/** To so many decimal places; `nearest` rounds a half away from zero, `down` cuts off toward zero. Negative places round to tens, hundreds… */
export function roundTo(value: Exact, places: number, way: 'nearest' | 'down' = 'nearest'): Exact {
  const [up, down] = [
    SMALL_POWERS[Math.max(0, places)] ?? Number.NaN,
    SMALL_POWERS[Math.max(0, -places)] ?? Number.NaN,
  ];
  const whole = smallWhole(value, up, down, way) * down;
  if (isSmall(whole)) return lowest(signOf(value) < 0 ? -whole : whole, up);
  const [most, least] = [powerOfTen(Math.max(0, places)), powerOfTen(Math.max(0, -places))];
  return make(BigInt(signOf(value)) * largeWhole(value, most, least, way) * least, most);
}

/** `value · up / down`, without its sign, as a whole number; not a number where that cannot be told in doubles. */
function smallWhole({ over, under }: Exact, up: number, down: number, way: 'nearest' | 'down'): number {
  const [above, below] = [Math.abs(over) * up, under * down];
  const [counted, by] = way === 'down' ? [above, below] : [2 * above + below, 2 * below];
  return isSmall(above) && isSmall(below) && isSmall(counted) && isSmall(by)
    ? (counted - (counted % by)) / by
    : Number.NaN;
}

function largeWhole({ n, d }: Exact, up: bigint, down: bigint, way: 'nearest' | 'down'): bigint {
  const under = d * down;
  return way === 'down' ? (n * up) / under : (2n * n * up + under) / (2n * under);
}

/** Written with exactly so many places (0 or more), a half rounded away from zero: 24.4 at 3 places is `24.400`. */
export function toText(value: Exact, places: number): string {
  const kept = Math.max(0, Math.trunc(places));
  const small = smallWhole(value, SMALL_POWERS[kept] ?? Number.NaN, 1, 'nearest');
  const whole = isSmall(small) ? small : largeWhole(value, powerOfTen(kept), 1n, 'nearest');
  const digits = whole.toString().padStart(kept + 1, '0');
  const sign = signOf(value) < 0 && whole.toString() !== '0' ? '-' : '';
  return kept === 0 ? sign + digits : `${sign}${digits.slice(0, -kept)}.${digits.slice(-kept)}`;
}

/** In lowest terms, of two whole numbers that a double holds exactly, the second more than zero. */
function lowest(over: number, under: number): Exact {
  if (over === 0) return ZERO;
  let shared = Math.abs(over);
  for (let rest = under; rest !== 0; ) {
    const left = shared % rest;
    shared = rest;
    rest = left;
  }
  return new Ratio(over / shared, under / shared);
}

/** Of two whole numbers, the second more than zero. */
function make(numerator: bigint, denominator: bigint): Exact {
  if (numerator === 0n) return ZERO;
  const isBetween =
    denominator >= LOWEST_AT_ONCE && denominator < LARGEST && numerator < LARGEST && numerator > -LARGEST;
  return isBetween
    ? new Ratio(Number.NaN, Number.NaN, new Large(numerator, denominator))
    : fromLowest(new Fraction(numerator, denominator));
}

function fromLowest(fraction: Fraction): Exact {
  const value = bounded(fraction);
  const [over, under] = [Number(value.s * value.n), Number(value.d)];
  if (isSmall(over) && isSmall(under)) return new Ratio(over + 0, under);
  return new Ratio(Number.NaN, Number.NaN, new Large(value.s * value.n, value.d, value));
}

function bounded(value: Fraction): Fraction {
  if (value.n < LARGEST && value.d < LARGEST) return value;
  const length = (size: bigint): number => size.toString().length;
  const places = 60 - (length(value.n) - length(value.d));
  if (places > 300) return new Fraction(0n, 1n);
  const [up, down] = [powerOfTen(Math.max(0, places)), powerOfTen(Math.max(0, -places))];
  const under = value.d * down;
  return new Fraction(value.s * ((2n * value.n * up + under) / (2n * under)) * down, up);
}
