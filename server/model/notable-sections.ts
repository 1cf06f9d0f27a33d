// The few sections of a file that more is asked of than what they declare: what reaches further than themselves, what could not be
// read, what is silenced. So that no edit goes through all sections to find them.
import type { ReadFile, ReadSection } from './placed.ts';
import { sifting } from './sifted.ts';

const FAR_REACHING: ReadonlySet<string> = new Set(['spec', 'use', 'when']);

const notable = sifting(
  (each: ReadSection) => each.hasFaults || each.hasAllows || FAR_REACHING.has(each.section.word ?? ''),
);

/** The sections with a `spec`, a `use` or a `when`, those with faults, and those with an `allow`; in the order of the file. */
export function notableSections(file: ReadFile): readonly ReadSection[] {
  return notable(file.sections, file.file);
}
