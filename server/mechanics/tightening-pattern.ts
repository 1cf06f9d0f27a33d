// In which order the bolts of a face are tightened where its maker's order is not known. Common practice, no source.

/**
 * Numbers for bolts in rows, from the middle outward, round and round: as many as each row has bolts. Common practice, no source; a
 * maker's own order goes before it.
 */
export function fromTheMiddle(rows: readonly number[]): readonly (readonly number[])[] {
  const bolts = rows.flatMap((count, row) =>
    Array.from({ length: count }, (_none, at) => ({ row, at, across: at - (count - 1) / 2 })),
  );
  const last = rows.length - 1;
  // In a ring: up the right side, down the left.
  const inRing = ({ row, across }: (typeof bolts)[number]): number => (across < 0 ? rows.length + row : last - row);
  const sorted = [...bolts].sort(
    (one, other) =>
      Math.abs(one.across) - Math.abs(other.across) ||
      (one.across === 0 ? one.row - other.row : inRing(one) - inRing(other)),
  );
  const numbers = rows.map((count) => new Array<number>(count).fill(0));
  for (const [i, { row, at }] of sorted.entries()) {
    const line = numbers[row];
    if (line !== undefined) line[at] = i + 1;
  }
  return numbers;
}

/** Numbers for bolts round a circle, each across from the one before as near as may be. Common practice, no source. */
export function acrossTheCircle(count: number): readonly number[] {
  const numbers = new Array<number>(count).fill(0);
  if (count % 2 === 1) {
    for (let i = 0; i < count; i += 1) numbers[(i * ((count - 1) / 2)) % count] = i + 1;
    return numbers;
  }
  const half = count / 2;
  for (let i = 0; i < half; i += 1) {
    numbers[i] = 2 * i + 1;
    numbers[i + half] = 2 * i + 2;
  }
  return numbers;
}
