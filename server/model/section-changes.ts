// Which sections of a file came and which went between two readings. Readings share what an edit left alone, so that this is a look
// at both ends.
import type { ReadFile, ReadSection } from './placed.ts';

export interface SectionChanges {
  readonly gone: readonly ReadSection[];
  readonly come: readonly ReadSection[];
}

const NONE: SectionChanges = { gone: [], come: [] };

export function sectionChanges(before: ReadFile, now: ReadFile): SectionChanges {
  if (before === now) return NONE;
  const [old, sections] = [before.sections, now.sections];
  const most = Math.min(old.length, sections.length);
  let front = 0;
  while (front < most && old[front] === sections[front]) front += 1;
  let back = 0;
  while (back < most - front && old[old.length - 1 - back] === sections[sections.length - 1 - back]) back += 1;
  return { gone: old.slice(front, old.length - back), come: sections.slice(front, sections.length - back) };
}
