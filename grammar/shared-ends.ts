// Two lists that are the same but for one stretch, as most are before and after an edit.

/** How many items two lists share at their front, and how many behind that at their back. */
export function sharedEnds<item>(one: readonly item[], other: readonly item[]): readonly [front: number, back: number] {
  const most = Math.min(one.length, other.length);
  let front = 0;
  while (front < most && one[front] === other[front]) front += 1;
  let back = 0;
  while (back < most - front && one[one.length - 1 - back] === other[other.length - 1 - back]) back += 1;
  return [front, back];
}
