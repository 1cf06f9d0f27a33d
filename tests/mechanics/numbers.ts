// Short hands for tests: numbers and units that are known to be readable.

import { type Exact, exact } from '../../server/mechanics/exact.ts';
import { type Unit, type UnitId, unitOf } from '../../server/mechanics/units.ts';

/** The number written so; throws where it is not one, which is a fault of the test. */
export function written(text: string): Exact {
  const value = exact(text);
  if (value === undefined) throw new Error(`no number: ${text}`);
  return value;
}

export function unitFor(...parts: readonly (UnitId | [UnitId, number])[]): Unit {
  return parts.flatMap((part) => (typeof part === 'string' ? unitOf(part) : [{ unit: part[0], power: part[1] }]));
}

/** The value, or a failure of the test where there is none. */
export function there<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('nothing worked out');
  return value;
}
