// Whether two answers say the same: plain data by what it holds, anything else (a thing, a function) by being the same object.
import { sameTold, Told } from '../../grammar/told.ts';
import { equal, isExact } from '../mechanics/exact.ts';

/** The mark of a form (a prototype) whose objects are compared by what they hold, as plain ones are. */
export const BY_FIELDS = Symbol('by fields');

/**
 * Equal all the way down, for plain objects, lists, maps and sets; the order in a map or a set counts. It is asked of each answer after an
 * edit, and makes nothing on the way.
 */
export function deepEqual(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return typeof one === 'number' && typeof other === 'number' && Number.isNaN(one) && Number.isNaN(other);
  const kind: unknown = Object.getPrototypeOf(one);
  if (kind !== Object.getPrototypeOf(other)) return false;
  if (kind === Array.prototype) return sameList(one as readonly unknown[], other as readonly unknown[]);
  if (kind === Map.prototype)
    return sameMap(one as ReadonlyMap<unknown, unknown>, other as ReadonlyMap<unknown, unknown>);
  if (kind === Set.prototype) return sameSet(one as ReadonlySet<unknown>, other as ReadonlySet<unknown>);
  if (isExact(one)) return isExact(other) && equal(one, other);
  if (one instanceof Told) return sameTold(one, other as Told, deepEqual);
  if (kind !== Object.prototype && kind !== null && !(BY_FIELDS in (kind as object))) return false;
  return sameFields(one, other);
}

/** Whether two objects of one form have the same fields of their own, and those say the same. */
function sameFields(one: object, other: object): boolean {
  let fields = 0;
  for (const name in one) {
    if (!Object.hasOwn(one, name)) continue;
    if (!Object.hasOwn(other, name) || !deepEqual(Reflect.get(one, name), Reflect.get(other, name))) return false;
    fields += 1;
  }
  for (const name in other) if (Object.hasOwn(other, name)) fields -= 1;
  return fields === 0;
}

function sameList(one: readonly unknown[], other: readonly unknown[]): boolean {
  if (one.length !== other.length) return false;
  for (let i = 0; i < one.length; i += 1) if (!deepEqual(one[i], other[i])) return false;
  return true;
}

function sameMap(one: ReadonlyMap<unknown, unknown>, other: ReadonlyMap<unknown, unknown>): boolean {
  if (one.size !== other.size) return false;
  const [keys, values] = [other.keys(), other.values()];
  for (const key of one.keys()) if (!deepEqual(key, keys.next().value)) return false;
  for (const value of one.values()) if (!deepEqual(value, values.next().value)) return false;
  return true;
}

function sameSet(one: ReadonlySet<unknown>, other: ReadonlySet<unknown>): boolean {
  if (one.size !== other.size) return false;
  const items = other.values();
  for (const item of one) if (!deepEqual(item, items.next().value)) return false;
  return true;
}
