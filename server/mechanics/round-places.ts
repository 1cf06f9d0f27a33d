// Places round a circle: bolts on a bolt circle, and the angles between ring gaps. Degrees clockwise from the top of the picture.

/** Directions of so many bolts evenly round a circle, clockwise from the first. */
export function boltCircle(count: number, firstAt = 0): readonly number[] {
  return Array.from({ length: Math.max(0, count) }, (_none, i) => (firstAt + (360 * i) / count) % 360);
}

/** Straight distance between neighbours on a bolt circle: D · sin(180°/n). Source: geometry of the regular polygon. */
export function boltChord(count: number, diameter: number): number | undefined {
  return Number.isInteger(count) && count >= 2 ? diameter * Math.sin(Math.PI / count) : undefined;
}

/** The smaller angle between two directions, 0 to 180. */
export function angleBetween(one: number, other: number): number {
  const turned = (((one - other) % 360) + 360) % 360;
  return turned > 180 ? 360 - turned : turned;
}

/**
 * The side that the pistons press on while they fire, seen from the front: the rod leans the way in which the crankpin goes down, and the
 * piston is pushed the other way. Source: the forces on the rod of a slider-crank.
 */
export function thrustSide(rotation: 'clockwise' | 'anticlockwise'): 'left' | 'right' {
  return rotation === 'clockwise' ? 'left' : 'right';
}

/** A bolt of a drawing in rows, by its row and place in it. */
export type RowPlace = { readonly row: number; readonly at: number };

/**
 * The bolts of rows of one or two as they lie on a circle, clockwise from the top: down the right side and up the left. `undefined` where a
 * row has more than two, or one alone that is neither the first nor the last: those are no circle.
 */
export function roundInRows(
  rows: readonly number[],
): { readonly places: readonly RowPlace[]; readonly firstAt: number } | undefined {
  const last = rows.length - 1;
  const isRound = rows.every((count, row) => count === 2 || (count === 1 && (row === 0 || row === last)));
  const count = rows.reduce((all, each) => all + each, 0);
  if (!isRound || count < 3) return undefined;
  const right = rows.flatMap((each, row): readonly RowPlace[] => [{ row, at: each - 1 }]);
  const left = rows.flatMap((each, row): readonly RowPlace[] => (each === 2 ? [{ row, at: 0 }] : [])).reverse();
  return { places: [...right, ...left], firstAt: rows[0] === 1 ? 0 : 180 / count };
}
