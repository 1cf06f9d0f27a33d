// Fasteners: snug, tightened stage by stage, loosened, secured.

import { told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import { targetsOf } from '../../model/action-places.ts';
import { isA } from '../../model/trade-names.ts';
import { type Act, pointAt, targetAct } from '../act.ts';
import type { ActionRule } from '../action-rule.ts';
import { stageCount } from '../at-the-bench.ts';
import { lashChanged } from '../early.ts';
import { type FastenerState, FINAL, OUT, SNUG, tightenAgain } from '../fastener-state.ts';
import { sayIfFastenerLeft } from '../fasteners-left.ts';
import { sayIfOnOrder } from '../on-order.ts';
import { sayIfOutOfTurn } from '../out-of-turn.ts';
import { filled, OFF, type PartState, withAt, withEach } from '../part-state.ts';
import { placesNow } from '../places.ts';
import { sayIfAtWrongHeat, sayIfStretchedTwice } from '../retorque.ts';
import { sayIfOutOfReach, screwsIn, screwsName } from '../screws.ts';
import { anyOn, type State, say, sayMissing } from '../state.ts';
import { sayIfDrawnEarly } from '../tension.ts';

function isStage(state: State, fastener: FastenerState, stage: number | undefined): number {
  return stage === undefined || stage >= stageCount(state.view, fastener.fastener) ? FINAL : stage + SNUG;
}

/** The first thing that it clamps and that is not there. */
function missingClamp(state: State, fastener: FastenerState, isTrial: boolean): string | undefined {
  for (const clamp of fastener.fastener.clamps) {
    const part = state.parts.get(clamp.part);
    // A trial is done dry, or with something between the faces that is no gasket.
    if (part === undefined || (isTrial && isA(clamp.part, 'gasket', 'seal', 'o-ring'))) continue;
    const places = placesNow(state, part.part, clamp.places);
    if (places.every((i) => part.on[i] === OFF)) return clamp.part;
  }
  // A stud or plug needs what it is screwed into; on the bench that may be a part that goes on later.
  const { intoPart } = fastener.fastener;
  const into = intoPart === undefined ? undefined : state.parts.get(intoPart);
  if (into !== undefined && intoPart !== undefined && !anyOn(into) && !state.ahead.fitted.has(intoPart))
    return intoPart;
  return undefined;
}

/** A stage that there is not, or one that is left out between the last that was done and this. */
function sayIfStageSkipped(
  state: State,
  { fastener, stages }: FastenerState,
  action: Action,
  screws: readonly number[],
  act: Act,
): void {
  const stage = action.stage?.value;
  if (stage === undefined || fastener.broken) return;
  const count = Math.max(1, stageCount(state.view, fastener));
  if (stage > count || stage < 1) {
    say(
      state,
      'sequence/stage-left',
      act,
      count === 1
        ? told`${told.thing(fastener)} has one stage: there is no stage ${stage}.`
        : told`${told.thing(fastener)} has ${count} stages: there is no stage ${stage}.`,
      {},
      action.stage,
    );
    return;
  }
  const done = Math.min(...screws.map((i) => (stages[i] ?? OUT) - SNUG));
  if (done < 1 || done >= count || stage <= done + 1) return;
  const left = stage - done === 2 ? told`stage ${done + 1} is` : told`stages ${done + 1} to ${stage - 1} are`;
  say(
    state,
    'sequence/stage-left',
    act,
    told`${told.thing(fastener)} goes from stage ${done} to stage ${stage} here: ${left} left out.`,
    {},
    action.stage,
  );
}

/** What goes over the studs that are named after it: the barrels over cylinder studs, the head over head studs. */
function goingOver(state: State, stem: string | undefined): readonly PartState[] {
  if (stem === undefined) return [];
  if (isA(stem, 'cylinder', 'barrel')) return state.parts.ofKind('barrel', 'cylinder');
  return isA(stem, 'head', 'manifold', 'rocker-support') ? state.parts.among([stem]) : [];
}

/** Says that a stud goes in when what its nut holds is on already. Some heads are fitted so, in a narrow place. Common practice, no source. */
function sayIfStudLate(state: State, { fastener, last }: FastenerState, act: Act): void {
  if ((fastener.joint !== 'stud' && !isA(fastener, 'stud')) || last !== undefined || act.step.trial) return;
  const nut = state.fasteners.get(fastener.name.replace(/-stud$/i, '-nut'));
  const clamped = [...fastener.clamps, ...(nut === undefined || nut.fastener === fastener ? [] : nut.fastener.clamps)];
  const stem = /^(.+)-stud$/i.exec(fastener.name)?.[1];
  const over = [...clamped.flatMap(({ part }) => state.parts.get(part) ?? []), ...goingOver(state, stem)].find(
    ({ on, fittedBy, lifted }) => !lifted && on.every((each) => each !== OFF) && fittedBy[0] !== undefined,
  );
  const by = over?.fittedBy[0];
  if (over === undefined || by === undefined || by.step.trial || state.unsure) return;
  say(
    state,
    'sequence/covered',
    act,
    told`${told.thing(fastener)} goes in here, and ${told.thing(over.part)}, which it holds, went on in step ${told.thing(by.step)}. Set the studs before ${told.thing(over.part)} goes on.`,
    { related: pointAt(by, told`${told.thing(over.part)} goes on here`), severity: 'information' },
  );
}

/** `snug` runs it in until it seats, `tighten` goes on to a stage or the last. */
export const tighten: ActionRule = {
  carryOut(state, step, action) {
    for (const target of targetsOf(action, state.view)) {
      const fastener = state.fasteners.get(target.owner.text);
      if (fastener === undefined) continue;
      const act = targetAct(step, action, target);
      const { name } = fastener.fastener;
      fastener.mentioned = true;
      const missing = missingClamp(state, fastener, step.trial);
      if (missing !== undefined)
        sayMissing(
          state,
          'sequence/tightened-early',
          missing,
          act,
          told`${told.named(name)} clamps ${told.named(missing)}, and ${told.named(missing)} is not on yet. Fit ${told.named(missing)} first, then tighten.`,
        );
      else sayIfOutOfReach(state, fastener, step, action, target, told`get at ${told.named(name)}`);
      sayIfOnOrder(state, fastener.fastener, act);
      sayIfStudLate(state, fastener, act);
      const screws = screwsIn(state, fastener, target);
      sayIfStageSkipped(state, fastener, action, screws, act);
      sayIfAtWrongHeat(state, fastener, act);
      sayIfStretchedTwice(state, fastener, action, screws, act);
      const snugOnly = action.word === 'snug';
      // For each place in turn the same ones come out and go in: that is one time.
      const isSameTime = state.turn !== undefined && fastener.loosenedBy?.step === step;
      const old = screws.filter((i) => fastener.used[i] === true);
      if (!snugOnly && old.length > 0 && fastener.fastener.singleUse && missing === undefined && !isSameTime) {
        const named = screwsName(state, fastener, old);
        say(
          state,
          'sequence/not-renewed',
          act,
          told`${named} is single-use and has been loosened in this job: it has to be new when it goes back. Say renew ${named} before this, when new ones are there.`,
          { related: pointAt(fastener.loosenedBy, told`loosened here`) },
        );
        fastener.used = filled(fastener.used.length, false);
      }
      const to = snugOnly ? SNUG : isStage(state, fastener, action.stage?.value);
      if (to === FINAL) {
        sayIfOutOfTurn(state, fastener, act);
        if (missing === undefined) sayIfDrawnEarly(state, fastener, act);
      }
      fastener.stages = withEach(fastener.stages, screws, (was = OUT) => (snugOnly ? Math.max(to, was) : to));
      fastener.last = act;
      fastener.saidHolding = false;
      if (!snugOnly) {
        tightenAgain(fastener, screws, state.running);
        lashChanged(state, fastener, act);
        fastener.secured = withAt(fastener.secured, screws, false);
        if (fastener.stages.every((stage) => stage > SNUG)) fastener.loosenedBy = undefined;
      }
    }
  },
  fastenerAtEnd: sayIfFastenerLeft,
};
