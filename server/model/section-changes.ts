// Which sections of a file came and which went between two readings, and which declarations. Readings share what an edit left alone,
// so that this is a look at both ends; a spec that is built on another may have a change at its front and what comes of it far behind.
import type { Placed, ReadFile, ReadSection } from './placed.ts';
import { sharedEnds } from './sifted.ts';

export interface SectionChanges {
  readonly gone: readonly ReadSection[];
  readonly come: readonly ReadSection[];
  /** There are sections between them that are the same; each then stands where the one before it stood. */
  readonly scattered: boolean;
}

const NONE: SectionChanges = { gone: [], come: [], scattered: false };

/** The last answer: all that is kept from edit to edit asks about the same two readings. */
let last:
  | { readonly old: readonly ReadSection[]; readonly now: readonly ReadSection[]; readonly changes: SectionChanges }
  | undefined;

export function sectionChanges(before: ReadFile, now: ReadFile): SectionChanges {
  if (before === now) return NONE;
  const [old, sections] = [before.sections, now.sections];
  if (last !== undefined && last.old === old && last.now === sections) return last.changes;
  const { front, back } = sharedEnds(old, sections);
  const [gone, come] = [old.slice(front, old.length - back), sections.slice(front, sections.length - back)];
  const changes = inPlace(gone, come) ?? { gone, come, scattered: false };
  last = { old, now: sections, changes };
  return changes;
}

/** Sections in the place of as many others, without those that are the same; undefined where each is another. */
function inPlace(gone: readonly ReadSection[], come: readonly ReadSection[]): SectionChanges | undefined {
  if (gone.length !== come.length || !gone.some((section, i) => section === come[i])) return undefined;
  return {
    gone: gone.filter((section, i) => section !== come[i]),
    come: come.filter((section, i) => section !== gone[i]),
    scattered: true,
  };
}

export interface PlacedChanges {
  readonly gone: readonly Placed[];
  readonly come: readonly Placed[];
}

/** One section in the place of another with as many declarations: a sequence of which a step is another, above all. */
function eachInPlace({ gone, come }: SectionChanges): PlacedChanges | undefined {
  const [old, now] = [gone[0], come[0]];
  if (old === undefined || now === undefined || gone.length > 1 || come.length > 1) return undefined;
  if (old.every.length !== now.every.length || old.whens.length + now.whens.length > 0) return undefined;
  const [went, came]: [Placed[], Placed[]] = [[], []];
  for (let i = 0; i < old.every.length; i += 1) {
    const [one, other] = [old.every[i], now.every[i]];
    if (one === other || one === undefined || other === undefined) continue;
    went.push(one);
    came.push(other);
  }
  return { gone: went, come: came };
}

function allIn(sections: readonly ReadSection[]): readonly Placed[] {
  const all: Placed[] = [];
  for (const { every, whens } of sections) {
    for (const placed of every) all.push(placed);
    for (const placed of whens) all.push(placed);
  }
  return all;
}

const changesOf = new WeakMap<SectionChanges, PlacedChanges>();

/** The declarations and the `when` that are in some of these sections alone: of a long sequence in which one step changed, it and that step. */
export function placedChanges(changes: SectionChanges): PlacedChanges {
  const known = changesOf.get(changes);
  if (known !== undefined) return known;
  const { gone, come } = eachInPlace(changes) ?? { gone: allIn(changes.gone), come: allIn(changes.come) };
  const [were, are] = [new Set(gone), new Set(come)];
  const found = {
    gone: gone.filter((placed) => !are.has(placed)),
    come: come.filter((placed) => !were.has(placed)),
  };
  changesOf.set(changes, found);
  return found;
}
