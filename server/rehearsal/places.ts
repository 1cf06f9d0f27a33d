// The places of a part: which of them an action means, and what they are called.
import type { Place } from '../../grammar/tree.ts';
import { type Asked, pairedPlaces } from '../model/feature-places.ts';
import type { Part } from '../model/view.ts';

const THE_ONLY_ONE: readonly number[] = [0];

/** The numbers (from 0) of the places that are written, all of them where none is. */
export function placesIn(part: Part, written: readonly Place[]): readonly number[] {
  if (written.length === 0 && part.count === 1) return THE_ONLY_ONE;
  const found: number[] = [];
  let before = 0;
  for (const { name, count } of part.places) {
    // Of many places those alone are gone through that are written.
    const numbers = new Set<number>();
    const take = (from: number, to: number): void => {
      for (let number = Math.max(1, Math.ceil(from)); number <= Math.min(to, count); number += 1) numbers.add(number);
    };
    if (written.length === 0) take(1, count);
    for (const place of written)
      if (place.name === undefined || place.name.text === name)
        take(place.from ?? 1, place.from === undefined ? count : (place.to ?? place.from));
    for (const number of [...numbers].sort((one, other) => one - other)) found.push(before + number - 1);
    before += count;
  }
  return found;
}

/**
 * The numbers (from 0) of the places that an action means here: those that are written, and of them those that go with the place in hand.
 * A part whose places do not pair with it is meant as a whole, each time.
 */
export function placesNow(
  { turn }: { readonly turn: Asked | undefined },
  part: Part,
  written: readonly Place[],
): readonly number[] {
  const all = placesIn(part, written);
  if (turn === undefined || all.length < 2 || written.some((place) => place.from !== undefined)) return all;
  let first = 0;
  const groups = part.places.map(({ count }) => {
    first += count;
    return all.filter((i) => i >= first - count && i < first);
  });
  const named = groups.filter((group) => group.length > 0);
  // Upper and lower shells, four of each, go with four rods number by number.
  const lists = named.length > 1 && named.every((group) => group.length === turn.of) ? named : [all];
  const paired = lists.flatMap((list) => pairedPlaces(turn, list.length).flatMap((number) => list[number - 1] ?? []));
  return paired.length === 0 ? all : paired;
}

/** `upper 3`, `left`, `4`, or nothing for a part of which there is one. */
export function placeName(part: Part, index: number): string {
  let i = index;
  for (const group of part.places) {
    if (i < group.count)
      return [group.name, group.count > 1 ? String(i + 1) : undefined].filter((each) => each !== undefined).join(' ');
    i -= group.count;
  }
  return '';
}
