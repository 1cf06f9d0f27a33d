// Whether two references are of one whole thing: a feature or a place of it may well stand against another of it.
import type { Reference } from '../../grammar/tree.ts';

export function isSameWhole(one: Reference, other: Reference): boolean {
  return (
    one.owner.text === other.owner.text &&
    [one, other].every((each) => each.feature === undefined && each.places.length === 0)
  );
}
