// One part over several places of what it is chosen by: a head gasket over its pistons. Nothing is reported here.
import { placesOfLimit } from '../../model/limit-places.ts';
import type { Grades, Limit, Thing, View } from '../../model/view.ts';

/** Whether one of a part stands over several places of a protrusion. */
export function isOneForSeveral(limit: Limit, part: Thing | undefined, view: View): boolean {
  if (limit.sort !== 'protrusion') return false;
  return part?.kind !== 'part' || part.count === 1 || placesOfLimit(limit, view).length > part.count;
}

/**
 * Whether a table chooses one for all places. One gasket for several cylinders: the piston that stands proudest chooses it (common
 * practice, no source).
 */
export function byTheHighest(limit: Limit, table: Grades, view: View): boolean {
  const part = view.things.get(table.name);
  return isOneForSeveral(limit, part, view) && (part?.kind !== 'part' || part.count === 1);
}
