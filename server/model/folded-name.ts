// Names without capitals: two that differ in capitals alone are one name said twice.
import { apart } from '../../grammar/characters.ts';

/** More than the longest specs have. */
const MOST_NAMES = 20_000;

const foldedNames = new Map<string, string>();

/** A name without capitals. Kept, since every name is asked for again and again. */
export function foldedName(name: string): string {
  let folded = foldedNames.get(name);
  if (folded === undefined) {
    folded = apart(name.toLowerCase());
    if (foldedNames.size > MOST_NAMES) foldedNames.clear();
    foldedNames.set(apart(name), folded);
  }
  return folded;
}
