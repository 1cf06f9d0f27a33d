// Names and places in words: `upper 1, 2 and 4`. Messages themselves are where they are said.
import type { NamedPlace } from '../model/feature-places.ts';
import type { Part } from '../model/view.ts';

/** Several in a row: `a, b and c`. */
export function inWords(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** The places by name and number, from numbers counted from 0. */
export function inPlaces(part: Part, places: readonly number[]): string {
  let first = 0;
  const texts = part.places.flatMap(({ name, count }) => {
    const own = places.filter((place) => place >= first && place < first + count).map((place) => place - first + 1);
    first += count;
    if (own.length === 0) return [];
    const numbers = count === 1 ? '' : inNumbers(own);
    return [[name ?? '', numbers].filter((each) => each !== '').join(' ')];
  });
  return inWords(texts);
}

/** A part, with the places that are meant where it is not all of them. */
export function nameWith(part: Part, places: readonly number[]): string {
  return places.length === part.count ? part.name : `${part.name} ${inPlaces(part, places)}`;
}

/** Numbers in words, a row of three or more as its ends: `1 to 3 and 5`. */
export function inNumbers(numbers: readonly number[]): string {
  const rows: { first: number; last: number }[] = [];
  for (const number of numbers) {
    const row = rows[rows.length - 1];
    if (row !== undefined && number === row.last + 1) row.last = number;
    else rows.push({ first: number, last: number });
  }
  return inWords(
    rows.flatMap(({ first, last }) =>
      last - first > 1 ? [`${first} to ${last}`] : last > first ? [String(first), String(last)] : [String(first)],
    ),
  );
}

/** Places told by name and number: `inlet 2 to 4 and exhaust 1`. */
export function inNamedPlaces(places: readonly NamedPlace[]): string {
  const names = [...new Set(places.map(({ name }) => name))];
  return inWords(
    names.map((name) => {
      const numbers = inNumbers(places.filter((each) => each.name === name).map(({ number }) => number));
      return name === undefined ? numbers : `${name} ${numbers}`;
    }),
  );
}
