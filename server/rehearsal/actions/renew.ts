// New ones are got ready for what was on before, at the places named.

import type { ActionRule } from '../action-rule.ts';
import { onEach } from '../action-rule.ts';
import { withAt } from '../part-state.ts';
import { placesIn } from '../places.ts';
import { screwsIn } from '../screws.ts';

export const renew: ActionRule = onEach((state, { part, fastener, reference }) => {
  if (part !== undefined) {
    part.used = withAt(part.used, placesIn(part.part, reference.places), false);
    part.pressedBy = undefined;
  }
  if (fastener === undefined) return;
  const screws = reference.places.length === 0 ? fastener.stages.keys() : screwsIn(state, fastener, reference);
  fastener.used = withAt(fastener.used, screws, false);
});
