// Fasteners are loosened.

import { told } from '../../../grammar/told.ts';
import { targetsOf } from '../../model/action-places.ts';
import type { Act } from '../act.ts';
import { pointAt, targetAct } from '../act.ts';
import type { ActionRule } from '../action-rule.ts';
import { adjustmentsChanged, disturb, isKeyed, lashDisturbed } from '../disturb.ts';
import { holdsValveGear } from '../early.ts';
import { comeLoose, type FastenerState, LOOSE, OUT } from '../fastener-state.ts';
import type { PartState } from '../part-state.ts';
import { proofUndone } from '../proof.ts';
import { sayIfOutOfReach, screwsIn } from '../screws.ts';
import { anyOn, type State, say, sayOfStep } from '../state.ts';

/** What it clamps, where none of that is on: it is out then. */
function goneWith(state: State, fastener: FastenerState): PartState | undefined {
  if (!fastener.stages.every((stage) => stage === OUT) || state.unsure) return undefined;
  const clamped = fastener.fastener.clamps.map((clamp) => state.parts.get(clamp.part));
  return clamped.every((part) => part !== undefined && !anyOn(part)) ? clamped[0] : undefined;
}

/** What it clamps is on, and no step before has put it in. */
function sayIfNeverIn(state: State, each: FastenerState, act: Act): void {
  const { name } = each.fastener;
  if (each.mentioned || !each.stages.every((stage) => stage === OUT) || state.saidEarly.has(name) || state.unsure)
    return;
  say(
    state,
    'sequence/not-fitted-yet',
    act,
    told`${told.named(name)} is not in here, so it can't be loosened: no step before tightens it. Tighten ${told.named(name)} first, or take this out.`,
  );
}

export const loosen: ActionRule = {
  carryOut(state, step, action) {
    for (const target of targetsOf(action, state.view)) {
      const fastener = state.fasteners.get(target.owner.text);
      if (fastener === undefined) continue;
      const act = targetAct(step, action, target);
      const isSaid = fastener.saidHolding;
      fastener.saidHolding = false;
      const gone = isSaid ? undefined : goneWith(state, fastener);
      if (gone === undefined) {
        if (!isSaid) sayIfNeverIn(state, fastener, act);
        sayIfOutOfReach(state, fastener, step, action, target, told`loosen ${told.thing(fastener.fastener)}`);
      } else
        sayOfStep(
          state,
          'sequence/not-fitted-yet',
          act,
          told`${told.thing(fastener.fastener)} is not in here, so it can't be loosened: ${told.thing(gone.part)} ${gone.removedBy === undefined ? told`is not on` : told`came off in step ${told.thing(gone.removedBy.step)}`}.`,
          pointAt(gone.removedBy, told`it came off here`),
        );
      adjustmentsChanged(state, fastener.fastener.clamps, act);
      if (holdsValveGear(fastener)) lashDisturbed(state, act);
      for (const { part } of fastener.fastener.clamps) {
        if (isKeyed(state, part)) proofUndone(state, part, act);
        else disturb(state, part, act);
      }
      comeLoose(fastener, screwsIn(state, fastener, target), LOOSE);
      fastener.mentioned = true;
      fastener.loosenedBy = act;
      fastener.last = act;
    }
  },
};
