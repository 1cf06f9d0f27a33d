// Small helpers that many checks share: lists in words, "did you mean", renaming fixes.
import { type Among, nearestAmong, nearestName } from '../../grammar/nearest.ts';
import { type Argument, type ListArgument, type ListWord, type Told, told } from '../../grammar/told.ts';
import type { Name, Span } from '../../grammar/tree.ts';
import type { Placed } from '../model/placed.ts';
import type { Extra } from './check.ts';

/** More names than this are not written out in a message. */
const MOST_NAMED = 24;

/** `a, b and c`. */
export function inWords(items: readonly Argument[], last: ListWord = 'and'): ListArgument {
  return told.list(items, last, MOST_NAMED);
}

/** The nearest known name, as a sentence and a fix. */
export function didYouMean(name: Name, known: Iterable<string>, placed: Placed): Meant {
  return meaning(name, nearestName(name.text, known), placed);
}

/** The same among names that many are looked for in. */
export function didYouMeanAmong(name: Name, known: Among, placed: Placed): Meant {
  return meaning(name, nearestAmong(name.text, known), placed);
}

interface Meant {
  readonly sentence: Told;
  readonly fixes: NonNullable<Extra['fixes']>;
}

/** Says what a name is taken for, and makes it that. */
export function meaning(name: Name, near: string | undefined, placed: Placed): Meant {
  if (near === undefined) return { sentence: told.nothing, fixes: [] };
  return { sentence: told` Did you mean ${near}?`, fixes: [change(placed, name, near)] };
}

/** A fix that writes something else in one place. */
export function change(
  placed: Placed,
  span: Span,
  text: string,
  title: Told = told`Change ${placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ')} to ${text}`,
): NonNullable<Extra['fixes']>[number] {
  return { title, edits: [{ placed, span, text }] };
}

/** A fix that puts something in at an offset of a declaration. */
export function insert(placed: Placed, at: number, text: string, title: Told): NonNullable<Extra['fixes']>[number] {
  return { title, edits: [{ placed, span: { start: at, end: at }, text }] };
}
