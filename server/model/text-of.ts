// Stretches of a file's text, so that nobody has the whole string of an open text made to look at a few letters.
import { stretchOf, type Written } from '../../grammar/written.ts';
import type { ReadFile } from './placed.ts';

const writtenOf = new WeakMap<ReadFile, Written>();

/** Tells in what pieces the text of a file is held. */
export function heldIn(file: ReadFile, written: Written): void {
  writtenOf.set(file, written);
}

/** The text of a file from one offset to another. */
export function textOf(file: ReadFile, start: number, end: number): string {
  const written = writtenOf.get(file);
  return written === undefined ? file.text.slice(Math.max(0, start), Math.max(0, end)) : stretchOf(written, start, end);
}

/** How long the text of a file is. */
export function lengthOf(file: ReadFile): number {
  return writtenOf.get(file)?.length ?? file.text.length;
}
