// Names and places in words: `upper 1, 2 and 4`. Messages themselves are where they are said.
import { type Argument, type ListArgument, told } from '../../grammar/told.ts';
import type { NamedPlace } from '../model/feature-places.ts';
import type { Part } from '../model/view.ts';

/** Several in a row: `a, b and c`. */
export function inWords(names: readonly Argument[]): ListArgument {
  return told.list(names);
}

/** The places by name and number, from numbers counted from 0. */
export function inPlaces(part: Part, places: readonly number[]): ListArgument {
  let first = 0;
  const texts = part.places.flatMap(({ name, count }) => {
    const own = places.filter((place) => place >= first && place < first + count).map((place) => place - first + 1);
    first += count;
    if (own.length === 0) return [];
    return [withNumbers(name, count === 1 ? undefined : inNumbers(own))];
  });
  return inWords(texts);
}

function withNumbers(name: string | undefined, numbers: Argument | undefined): Argument {
  if (name === undefined) return numbers ?? '';
  return numbers === undefined ? told.place(name) : told.row([told.place(name), ' ', numbers]);
}

/** A part, with the places that are meant where it is not all of them. */
export function nameWith(part: Part, places: readonly number[]): Argument {
  return places.length === part.count ? told.thing(part) : told.row([told.thing(part), ' ', inPlaces(part, places)]);
}

/** Numbers in words, a row of three or more as its ends: `1 to 3 and 5`. */
export function inNumbers(numbers: readonly number[]): ListArgument {
  const rows: { first: number; last: number }[] = [];
  for (const number of numbers) {
    const row = rows[rows.length - 1];
    if (row !== undefined && number === row.last + 1) row.last = number;
    else rows.push({ first: number, last: number });
  }
  return inWords(
    rows.flatMap(({ first, last }): readonly Argument[] =>
      last - first > 1 ? [told`${first} to ${last}`] : last > first ? [first, last] : [first],
    ),
  );
}

/** Places told by name and number: `inlet 2 to 4 and exhaust 1`. */
export function inNamedPlaces(places: readonly NamedPlace[]): ListArgument {
  const names = [...new Set(places.map(({ name }) => name))];
  return inWords(
    names.map((name) =>
      withNumbers(name, inNumbers(places.filter((each) => each.name === name).map(({ number }) => number))),
    ),
  );
}
