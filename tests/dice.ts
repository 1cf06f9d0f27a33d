// Numbers for tests that make texts by chance: they come out the same each time.

/** A number below so many, thrown again with each call. */
export type Roll = (sides: number) => number;

export function dice(seed: number): Roll {
  let state = seed;
  return (sides) => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fff_ffff;
    return Math.floor((state / 0x8000_0000) * sides);
  };
}
