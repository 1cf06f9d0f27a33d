// Which sections of a file came and which went between two readings. Readings share what an edit left alone, so that this is a look
// at both ends; a spec that is built on another may have a change at its front and what comes of it far behind.
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
  const [gone, come] = [old.slice(front, old.length - back), sections.slice(front, sections.length - back)];
  if (gone.length !== come.length) return { gone, come };
  return {
    gone: gone.filter((section, i) => section !== come[i]),
    come: come.filter((section, i) => section !== gone[i]),
  };
}
