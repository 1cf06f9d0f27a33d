// Parts come off, and what holds them comes out with them.

import { told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import { targetsOf } from '../../model/action-places.ts';
import { isA } from '../../model/trade-names.ts';
import type { Step } from '../../model/view.ts';
import { type Act, pointAt, targetAct } from '../act.ts';
import type { ActionRule } from '../action-rule.ts';
import { onTopOf, sayIfCovered, sayIfUnder } from '../covers.ts';
import { sealantGone } from '../curing.ts';
import { adjustmentsChanged, disturb, lashDisturbed, limitsStale, slack } from '../disturb.ts';
import { isLashShim } from '../early.ts';
import { sayIfFastened } from '../fastened.ts';
import { comeLoose, OUT } from '../fastener-state.ts';
import { sayIfNotDrained } from '../fluids.ts';
import { gasketsPressed } from '../gaskets.ts';
import { inWords } from '../in-words.ts';
import { DRY, OFF, type PartState, withAt } from '../part-state.ts';
import { placesNow } from '../places.ts';
import { screwsAt } from '../screws.ts';
import { sayIfShutIn } from '../shut-in.ts';
import { anyOn, coverOf, type State, sayOfStep } from '../state.ts';
import { emptied } from './fill.ts';
import { sayIfTensionerPushes } from './hold-back.ts';

interface Gone {
  readonly part: PartState;
  readonly act: Act;
  /** Where it came off before. */
  readonly by: Act | undefined;
}

/** Of the targets of one action, those that are not on; one finding for all of them. */
function sayGone(state: State, gone: readonly Gone[]): void {
  const [first] = gone;
  if (first === undefined) return;
  const one = gone.length === 1;
  const { by } = first;
  const names = inWords(gone.map(({ part }) => told.thing(part.part)));
  sayOfStep(
    state,
    'sequence/not-fitted-yet',
    first.act,
    by === undefined
      ? one
        ? told`${names} is not on here, so it can't come off.`
        : told`${names} are not on here, so they can't come off.`
      : one
        ? told`${names} is not on here, so it can't come off: it came off in step ${told.thing(by.step)}.`
        : told`${names} are not on here, so they can't come off: they came off in step ${told.thing(by.step)}.`,
    pointAt(by, one ? told`it came off here` : told`they came off here`),
  );
}

/** Gaskets and seals that were tightened down are done with; shells and the like are as new after a trial. Common practice, no source. */
function isCrushed(state: State, { part }: PartState): boolean {
  return (
    isA(part, 'gasket', 'seal', 'o-ring', 'washer') &&
    state.clampedBy.get(part.name).some(({ used }) => used.includes(true))
  );
}

/** A chain or belt that went on in this job, and has not run since. */
function isRehung(state: State, part: PartState, places: readonly number[]): boolean {
  const isLoop = state.drivesOf
    .get(part.part.name)
    .some(({ drive }) => drive.wraps.some((wrap) => wrap.part === part.part.name));
  return isLoop && !state.running.hasRun && places.every((i) => part.fittedBy[i] !== undefined);
}

export const remove: ActionRule = { carryOut: removeAll };

function removeAll(state: State, step: Step, action: Action): void {
  const names = new Set(action.targets.map((target) => target.owner.text));
  const gone: Gone[] = [];
  for (const target of targetsOf(action, state.view)) {
    const part = state.parts.get(target.owner.text);
    if (part === undefined) continue;
    const { name } = part.part;
    const act = targetAct(step, action, target);
    const places = placesNow(state, part.part, target.places);
    if (state.turn !== undefined && part.removedBy?.statement === action && places.every((i) => part.on[i] === OFF))
      continue;
    if (!part.isGraded && places.length > 0 && places.every((i) => part.on[i] === OFF)) {
      if (!state.ahead.expectedMissing.has(name) && !state.saidMissing.has(name))
        gone.push({ part, act, by: part.removedBy });
    } else {
      const cover = coverOf(state, name);
      const top = onTopOf(state, part, places);
      if (top !== undefined && !names.has(top.part.name)) sayIfUnder(state, part, places, act, told`take it off`);
      else if (cover !== undefined && !names.has(cover.part.name))
        sayIfCovered(state, name, act, 'sequence/covered', told`take it off`);
      else if (
        !sayIfFastened(state, part, places, act) &&
        !sayIfShutIn({ state, part, places, mate: part.mate, comesOff: true, withIt: action }, act)
      )
        sayIfNotDrained(state, name, act);
    }
    sayIfTensionerPushes(state, name, act);
    gasketsPressed(state, part, names, act);
    sealantGone(state, name);
    part.wet = DRY;
    part.pressedBy = undefined;
    part.lifted = false;
    part.partWay = undefined;
    const wasTrial = part.onTrial !== undefined || step.trial;
    const isAsNew = wasTrial ? !isCrushed(state, part) : isRehung(state, part, places);
    part.on = withAt(part.on, places, OFF);
    part.fittedBy = withAt(part.fittedBy, places, undefined);
    part.joined = withAt(part.joined, places, undefined);
    if (!isAsNew) part.used = withAt(part.used, places, true);
    part.triedIn = part.onTrial?.step;
    part.removedBy = act;
    emptied(state, name, false);
    part.onTrial = undefined;
    part.pinned = undefined;
    disturb(state, name, act);
    slack(state, name, act);
    if (isLashShim(part)) lashDisturbed(state, act);
    state.atMark.delete(name);
    adjustmentsChanged(state, [{ part: name }], act);
    limitsStale(state, name, act, wasTrial);
    for (const fastener of state.clampedBy.get(name)) {
      // Bolts for each of a part come out with the ones that come off; others when all of it is off.
      const own = fastener.fastener.each === name;
      if (!own && anyOn(part)) continue;
      const out = own ? screwsAt(fastener, places) : [...fastener.stages.keys()];
      comeLoose(fastener, out, OUT);
      if (fastener.loosenedBy === undefined) fastener.loosenedBy = act;
    }
  }
  if (gone.length > 0 && !state.unsure) sayGone(state, gone);
}
