// Steps that are called something else now: who works on one need not know what it is called.

import { deepEqual } from './deep-equal.ts';
import type { Placed } from './placed.ts';
import type { Standing } from './recorded.ts';

/** The steps of a sequence, each with the one that has its place under another name. */
function renamedIn(before: Placed, now: Placed): readonly (readonly [Placed, Placed])[] {
  if (before.steps.length !== now.steps.length) return [];
  return before.steps.flatMap((step, i) => {
    const other = now.steps[i];
    return other?.declaration.word === 'step' && step?.declaration.word === 'step' && deepEqual(step.when, other.when)
      ? [[step, other] as const]
      : [];
  });
}

/**
 * Among declarations that take the place of others, the steps of the sequences too that only have another name. `goneAs` is what a step was, where
 * nothing has taken its place yet; `isNew` whether one is seen now that was not there: a step that went to another place among its like is itself; `isEquivalent`
 * whether one may be the other.
 */
export function matchRenamed(
  matches: Map<Placed, Standing>,
  goneAs: (step: Placed) => Standing | undefined,
  isNew: (step: Placed) => boolean,
  isEquivalent: (one: Placed, other: Placed) => boolean,
): void {
  const taken = new Set(matches.values());
  for (const [placed, match] of [...matches])
    for (const [step, renamed] of renamedIn(match.placed, placed)) {
      const standing = goneAs(step);
      if (standing === undefined || taken.has(standing) || matches.has(renamed) || !isNew(renamed)) continue;
      if (!isEquivalent(step, renamed)) continue;
      taken.add(standing);
      matches.set(renamed, standing);
    }
}
