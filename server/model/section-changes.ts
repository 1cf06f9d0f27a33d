// Which sections of a file came and which went between two readings. Readings share what an edit left alone, so that this is a look
// at both ends.
import type { ReadFile, ReadSection } from './placed.ts';
import { sharedEnds } from './sifted.ts';

export interface SectionChanges {
  readonly gone: readonly ReadSection[];
  readonly come: readonly ReadSection[];
}

const NONE: SectionChanges = { gone: [], come: [] };

/** The last answer: all that is kept from edit to edit asks about the same two readings. */
let last:
  | { readonly old: readonly ReadSection[]; readonly now: readonly ReadSection[]; readonly changes: SectionChanges }
  | undefined;

export function sectionChanges(before: ReadFile, now: ReadFile): SectionChanges {
  if (before === now) return NONE;
  const [old, sections] = [before.sections, now.sections];
  if (last !== undefined && last.old === old && last.now === sections) return last.changes;
  const { front, back } = sharedEnds(old, sections);
  const changes = { gone: old.slice(front, old.length - back), come: sections.slice(front, sections.length - back) };
  last = { old, now: sections, changes };
  return changes;
}
