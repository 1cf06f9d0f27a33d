// A section of a text: a declaration as it is cut out, with where others were cut out of it.

/** Stands in a section's own text where one of its children was. */
export const HOLE = '\ufffc';

export interface Section {
  /** The reserved word in its usual form, or that of a change; undefined for text before the first declaration. */
  readonly word: string | undefined;
  /** Offsets in the file. */
  readonly start: number;
  readonly end: number;
  /** The section's own text, with one HOLE for each child. */
  readonly text: string;
  readonly children: readonly Section[];
  /** Own offsets of the holes. */
  readonly holes: readonly number[];
  /** Own offsets of opening braces that nothing closed. */
  readonly unclosedBraces: readonly number[];
  /** Own offsets of the quotes of texts that nothing closed. */
  readonly unclosedTexts: readonly number[];
  /** A text in it, and not in one of its children, runs over a line end. */
  readonly runsOver: boolean;
}

/** The offset in the file of an offset in the section's own text. */
export function toFile(section: Section, own: number): number {
  let at = section.start + own;
  for (let i = 0; i < section.holes.length; i += 1) {
    const hole = section.holes[i];
    const child = section.children[i];
    if (hole === undefined || child === undefined || hole >= own) break;
    at += child.end - child.start - 1;
  }
  return at;
}
