// Whether two answers say the same: plain data by what it holds, anything else (a thing, a function) by being the same object.
import { sameTold, Told } from '../../grammar/told.ts';
import { equal, isExact } from '../mechanics/exact.ts';

/** The mark of a form (a prototype) whose objects are compared by what they hold, as plain ones are. */
export const BY_FIELDS = Symbol('by fields');

/** Equal all the way down, for plain objects, lists, maps and sets; the order in a map or a set counts. */
export function sameValue(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return typeof one === 'number' && typeof other === 'number' && Number.isNaN(one) && Number.isNaN(other);
  const kind: unknown = Object.getPrototypeOf(one);
  if (kind !== Object.getPrototypeOf(other)) return false;
  if (Array.isArray(one)) return sameList(one, other as readonly unknown[]);
  if (one instanceof Map || one instanceof Set) {
    const there = other as ReadonlyMap<unknown, unknown> | ReadonlySet<unknown>;
    return one.size === there.size && sameList([...one], [...there]);
  }
  if (isExact(one)) return isExact(other) && equal(one, other);
  if (one instanceof Told) return sameTold(one, other as Told, sameValue);
  if (kind !== Object.prototype && kind !== null && !(BY_FIELDS in (kind as object))) return false;
  const names = Object.keys(one);
  if (names.length !== Object.keys(other).length) return false;
  return names.every(
    (name) => Object.hasOwn(other, name) && sameValue(Reflect.get(one, name), Reflect.get(other, name)),
  );
}

function sameList(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((each, i) => sameValue(each, other[i]));
}
