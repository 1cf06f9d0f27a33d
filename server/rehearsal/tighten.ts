// Fasteners: snug, tightened stage by stage, loosened, secured.
import type { Action, Reference } from '../../grammar/tree.ts';
import type { Step } from '../model/view.ts';
import { type Act, pointAt, targetAct } from './act.ts';
import { sayIfCovered } from './covers.ts';
import { adjustmentsChanged } from './disturb.ts';
import { lashChanged } from './early.ts';
import { type FastenerState, FINAL, LOOSE, OUT, SNUG } from './fastener-state.ts';
import { sayIfOnOrder } from './fit.ts';
import { OFF, type PartState } from './part-state.ts';
import { placesNow } from './places.ts';
import { anyOn, type State, say, sayMissing, sayOfStep } from './state.ts';

/** The groups (from 0) of a fastener that an action means: those of the places that are written, else those whose part is there. */
function groupsIn(state: State, fastener: FastenerState, reference: Reference): readonly number[] {
  const { each } = fastener.fastener;
  const part = each === undefined ? undefined : state.parts.get(each);
  if (part === undefined) return [0];
  const written = placesNow(state, part.part, reference.places);
  const there = written.filter((i) => part.on[i] !== OFF);
  return there.length > 0 ? there : written;
}

function isStage(fastener: FastenerState, stage: number | undefined): number {
  return stage === undefined || stage >= fastener.fastener.stages.length ? FINAL : stage + SNUG;
}

/** The first thing that it clamps and that is not there. */
function missingClamp(state: State, fastener: FastenerState): string | undefined {
  for (const clamp of fastener.fastener.clamps) {
    const part = state.parts.get(clamp.part);
    if (part === undefined) continue;
    const places = placesNow(state, part.part, clamp.places);
    if (places.every((i) => part.on[i] === OFF)) return clamp.part;
  }
  return undefined;
}

function reach(
  state: State,
  fastener: FastenerState,
  step: Step,
  action: Action,
  target: Reference,
  doing: string,
): void {
  const first = fastener.fastener.clamps[0]?.part;
  if (first !== undefined) sayIfCovered(state, first, targetAct(step, action, target), 'sequence/covered', doing);
}

/** A stage that there is not, or one that is left out between the last that was done and this. */
function sayIfStageSkipped(
  state: State,
  { fastener, stages }: FastenerState,
  action: Action,
  groups: readonly number[],
  act: Act,
): void {
  const stage = action.stage?.value;
  if (stage === undefined || fastener.broken) return;
  const count = Math.max(1, fastener.stages.length);
  if (stage > count || stage < 1) {
    const has = count === 1 ? 'one stage' : `${count} stages`;
    say(
      state,
      'sequence/stage-left',
      act,
      `${fastener.name} has ${has}: there is no stage ${stage}.`,
      {},
      action.stage,
    );
    return;
  }
  const done = Math.min(...groups.map((i) => (stages[i] ?? OUT) - SNUG));
  if (done < 1 || done >= count || stage <= done + 1) return;
  const left = stage - done === 2 ? `stage ${done + 1} is` : `stages ${done + 1} to ${stage - 1} are`;
  say(
    state,
    'sequence/stage-left',
    act,
    `${fastener.name} goes from stage ${done} to stage ${stage} here: ${left} left out.`,
    {},
    action.stage,
  );
}

export function tighten(state: State, step: Step, action: Action): void {
  for (const target of action.targets) {
    const fastener = state.fasteners.get(target.owner.text);
    if (fastener === undefined) continue;
    const act = targetAct(step, action, target);
    const { name } = fastener.fastener;
    fastener.mentioned = true;
    const missing = missingClamp(state, fastener);
    if (missing !== undefined)
      sayMissing(
        state,
        'sequence/tightened-early',
        missing,
        act,
        `${name} clamps ${missing}, and ${missing} is not on yet. Fit ${missing} first, then tighten.`,
      );
    else reach(state, fastener, step, action, target, `get at ${name}`);
    sayIfOnOrder(state, fastener.fastener, act);
    sayIfStageSkipped(state, fastener, action, groupsIn(state, fastener, target), act);
    const snugOnly = action.word === 'snug';
    // For each place in turn the same ones come out and go in: that is one time.
    const isSameTime = state.turn !== undefined && fastener.loosenedBy?.step === step;
    if (!snugOnly && fastener.used && fastener.fastener.singleUse && missing === undefined && !isSameTime) {
      say(
        state,
        'sequence/not-renewed',
        act,
        `${name} is single-use and has been loosened in this job: it has to be new when it goes back. Say renew ${name} before this, when new ones are there.`,
        { related: pointAt(fastener.loosenedBy, 'loosened here') },
      );
      fastener.used = false;
    }
    const to = snugOnly ? SNUG : isStage(fastener, action.stage?.value);
    for (const i of groupsIn(state, fastener, target))
      fastener.stages[i] = Math.max(to, snugOnly ? (fastener.stages[i] ?? OUT) : to);
    fastener.last = act;
    fastener.saidHolding = false;
    if (!snugOnly) {
      fastener.runs = 0;
      fastener.ran = 0;
      lashChanged(state, fastener, act);
      fastener.secured = false;
      fastener.loosenedBy = undefined;
    }
  }
}

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
    `${name} is not in here, so it can't be loosened: no step before tightens it. Tighten ${name} first, or take this out.`,
  );
}

export function loosen(state: State, step: Step, action: Action): void {
  for (const target of action.targets) {
    const fastener = state.fasteners.get(target.owner.text);
    if (fastener === undefined) continue;
    const act = targetAct(step, action, target);
    const isSaid = fastener.saidHolding;
    fastener.saidHolding = false;
    const gone = isSaid ? undefined : goneWith(state, fastener);
    if (gone === undefined) {
      if (!isSaid) sayIfNeverIn(state, fastener, act);
      reach(state, fastener, step, action, target, `loosen ${fastener.fastener.name}`);
    } else
      sayOfStep(
        state,
        'sequence/not-fitted-yet',
        act,
        `${fastener.fastener.name} is not in here, so it can't be loosened: ${gone.part.name} ${gone.removedBy === undefined ? 'is not on' : `came off in step ${gone.removedBy.step.name}`}.`,
        pointAt(gone.removedBy, 'it came off here'),
      );
    adjustmentsChanged(state, fastener.fastener.clamps, act);
    for (const i of groupsIn(state, fastener, target)) {
      if (fastener.stages[i] === FINAL) fastener.used = true;
      fastener.stages[i] = LOOSE;
    }
    fastener.mentioned = true;
    fastener.loosenedBy = act;
    fastener.last = act;
    fastener.secured = false;
  }
}

export function secure(state: State, step: Step, action: Action): void {
  for (const target of action.targets) {
    const fastener = state.fasteners.get(target.owner.text);
    if (fastener !== undefined) {
      fastener.secured = true;
      continue;
    }
    const part = state.parts.get(target.owner.text);
    if (part === undefined) continue;
    if (placesNow(state, part.part, target.places).every((i) => part.on[i] === OFF))
      sayMissing(
        state,
        'sequence/not-fitted-yet',
        part.part.name,
        targetAct(step, action, target),
        `${part.part.name} is not on yet, so it can't be secured. Fit it first.`,
      );
    part.secured = true;
  }
}

/** A new one lies ready. */
export function renew(state: State, action: Action): void {
  for (const target of action.targets) {
    const part = state.parts.get(target.owner.text);
    if (part !== undefined) part.used = false;
    const fastener = state.fasteners.get(target.owner.text);
    if (fastener !== undefined) fastener.used = false;
  }
}
