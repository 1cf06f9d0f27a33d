// Names and places in words: `upper 1, 2 and 4`. Messages themselves are where they are said.
import type { Part } from '../model/view.ts';
import { placeName } from './places.ts';

/** Several in a row: `a, b and c`. */
export function inWords(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

/** The places by name and number, from numbers counted from 0. */
export function inPlaces(part: Part, places: readonly number[]): string {
  const names = places.slice(0, 12).map((i) => placeName(part, i));
  if (places.length > names.length) names.push('…');
  return inWords(names);
}
