// Trees of sections, cached by the text that they were read from, so that an undo reads nothing.

import { type Parsed, parseSection } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/section.ts';
import { textCache } from '../../grammar/text-cache.ts';
import { isOnce } from './questions.ts';

/**
 * Characters of text whose trees are cached for when they stand there again, beside as many as the file at hand has, so that an edit that
 * cuts the whole anew (a quote, a brace) does not read the whole anew. A spec of 10,000 lines has about 250,000. What is cached of a
 * day of edits is some megabytes for each 100,000.
 */
const MOST_CACHED = 100_000;

const trees = textCache<Parsed>(MOST_CACHED);

/** Says how many characters the file at hand has. */
export function resize(length: number): void {
  trees.resize(MOST_CACHED + length);
}

/** Gives the tree of a section, read now or before. Two sections of one file never share a tree, so that each tree has one place. */
export type Read = (section: Section, inSequence: boolean) => Parsed;

/**
 * Reads the sections of a file; `taken` are the trees that stand in it. Of files that are looked at once, one after the other, what is written
 * alike is read once: a tree tells nothing of the file that it stands in.
 */
export function reader(file: string, taken: Set<Parsed>): Read {
  /** How often each has been read so far: the trees of those before are taken. */
  const next = new Map<string, number>();
  const whose = isOnce() ? '' : file;
  return (section, inSequence) => {
    const written = `${section.word ?? ''}${inSequence ? '+' : ''}${section.unclosedBraces.join()}|${section.unclosedTexts.join()}|${section.text}`;
    for (let times = next.get(written) ?? 0; ; times += 1) {
      const key = `${whose}|${times}|${written}`;
      const known = trees.get(key);
      if (known !== undefined && taken.has(known)) continue;
      const tree = known ?? readNow(section, inSequence);
      if (known === undefined) trees.set(key, tree);
      taken.add(tree);
      next.set(written, times + 1);
      return tree;
    }
  };
}

/** Tokens and comments are needed for printing alone, which looks for them itself. */
function readNow(section: Section, inSequence: boolean): Parsed {
  return { ...parseSection(section, inSequence), tokens: [], comments: [] };
}
