// Which declarations of a file came and which went between two readings. Readings share what an edit left alone, so that this is a look
// from both ends.
import { sharedEnds } from '../../grammar/shared-ends.ts';
import type { Placed, ReadFile, ReadSection } from './placed.ts';

export interface DeclarationChanges {
  readonly gone: readonly Placed[];
  readonly come: readonly Placed[];
  /** All others stand where they stood, and what came stands in the place of what went, one for one. */
  readonly isInPlace: boolean;
  /** The stretch in which that is: all that stood in it and that stands in it now. What is round it is as it was. */
  readonly were: readonly Placed[];
  readonly are: readonly Placed[];
  /** What stands before it, the nearest first. */
  readonly before: () => Iterable<Placed>;
}

const NONE: DeclarationChanges = { gone: [], come: [], isInPlace: true, were: [], are: [], before: () => [] };

/** Both lists without what they share at their ends, and how much they share at the front. */
function middles<item>(
  old: readonly item[],
  now: readonly item[],
): readonly [readonly item[], readonly item[], front: number] {
  const [front, back] = sharedEnds(old, now);
  return [old.slice(front, old.length - back), now.slice(front, now.length - back), front];
}

/** The declarations of a section, its steps and its `when`, in the order written. */
export function allIn({ every, whens }: ReadSection): readonly Placed[] {
  return whens.length === 0 ? every : [...every, ...whens];
}

/** What is in one of two readings alone, in order: the declarations with their steps, and each `when`. */
export function changedDeclarations(before: ReadFile | undefined, now: ReadFile): DeclarationChanges {
  if (before === now) return NONE;
  const [old, sections, front] = middles(before?.sections ?? [], now.sections);
  const all = sections.flatMap(allIn);
  const [left, right, shared] = middles(old.flatMap(allIn), all);
  const [were, are] = [new Set(left), new Set(right)];
  return {
    gone: left.filter((placed) => !are.has(placed)),
    come: right.filter((placed) => !were.has(placed)),
    isInPlace:
      left.length === right.length &&
      left.every((placed, i) => placed === right[i] || !(are.has(placed) || were.has(right[i] ?? placed))),
    were: left,
    are: right,
    *before() {
      yield* all.slice(0, shared).reverse();
      for (let i = front - 1; i >= 0; i -= 1) {
        const section = now.sections[i];
        if (section !== undefined) yield* [...allIn(section)].reverse();
      }
    },
  };
}
