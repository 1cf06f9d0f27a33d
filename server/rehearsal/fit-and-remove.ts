// Parts go on and come off: what must be there, what must not be there yet, what covers the place.
import type { Action } from '../../grammar/tree.ts';
import { ZERO } from '../mechanics/exact.ts';
import type { Fastener, Part, Step } from '../model/view.ts';
import { cycleOf, isWhole } from './crank-angle.ts';
import {
  type Act,
  ASSUMED,
  anyOn,
  coverOf,
  type DriveState,
  FINAL,
  LOOSE,
  OFF,
  ON,
  OUT,
  type PartState,
  placeName,
  placesIn,
  pointAt,
  type State,
  say,
  sayMissing,
  targetAct,
  turningShaft,
} from './state.ts';

/** The step in which a cover went on, in words. */
function coveredWhere(cover: PartState): string {
  const by = cover.fittedBy.find((act) => act !== undefined);
  return by === undefined ? `${cover.part.name} is on` : `${cover.part.name} went on in step ${by.step.name}`;
}

/** Says that a part can't be reached any more, once. */
export function sayIfCovered(state: State, part: string, act: Act, code: string, doing: string): void {
  const cover = coverOf(state, part);
  if (cover === undefined) return;
  const by = cover.fittedBy.find((each) => each !== undefined);
  say(
    state,
    code,
    act,
    `${part} can no longer be reached to ${doing}: ${coveredWhere(cover)} and covers it. Do this before, or take ${cover.part.name} off first.`,
    { related: pointAt(by, `${cover.part.name} goes on here`) },
  );
}

/** A part that the same fastener clamps and that is on already, with this gasket between it and what it sits on. */
function onTopOf(state: State, gasket: PartState, places: readonly number[]): PartState | undefined {
  if (!/gasket/i.test(gasket.part.name)) return undefined;
  for (const fastener of state.clampedBy.get(gasket.part.name) ?? []) {
    for (const clamp of fastener.fastener.clamps) {
      const other = state.parts.get(clamp.part);
      if (other === undefined || other === gasket || /gasket|washer|seal/i.test(clamp.part)) continue;
      const same = other.on.length === gasket.on.length;
      if (same ? places.some((i) => other.on[i] !== OFF) : other.on.every((each) => each !== OFF)) return other;
    }
  }
  return undefined;
}

function sayIfUnder(state: State, gasket: PartState, places: readonly number[], act: Act, doing: string): boolean {
  const top = state.unsure ? undefined : onTopOf(state, gasket, places);
  if (top === undefined) return false;
  const by = top.fittedBy.find((each) => each !== undefined);
  say(
    state,
    'sequence/covered',
    act,
    `${gasket.part.name} lies under ${top.part.name}, and ${coveredWhere(top)}: too late to ${doing}. Do this before, or take ${top.part.name} off first.`,
    { related: pointAt(by, `${top.part.name} goes on here`) },
  );
  return true;
}

/** Work on a drive: it has to be proved again, and nobody knows where its links stand. Its shafts stay where they are. */
function disturb(state: State, part: string, act: Act): void {
  for (const drive of state.drivesOf.get(part) ?? []) {
    if (drive.offset !== undefined) {
      const atMarks = isWhole(drive.offset, cycleOf(state.view));
      for (const name of drive.parts) {
        if (atMarks) state.atMark.add(turningShaft(state, name));
        else state.atMark.delete(turningShaft(state, name));
      }
    }
    drive.disturbedBy = act;
    drive.proved = false;
    drive.turned = ZERO;
    drive.offset = undefined;
    drive.linkOffset = undefined;
    drive.aligned = false;
  }
}

/** What was adjusted on these parts is not as it was. */
export function adjustmentsChanged(state: State, parts: readonly { readonly part: string }[], act: Act): void {
  for (const each of state.adjusted.values()) {
    const of = each.limit.of?.owner.text ?? each.limit.each?.owner.text;
    if (parts.some(({ part }) => part === of)) each.changedBy = act;
  }
}

/** Limits that depend on how a part sits: after it has been off they have to be measured again. */
const BY_ASSEMBLY = new Set(['end-play', 'backlash', 'valve-lash']);

function limitsStale(state: State, part: string, act: Act): void {
  if (state.plan.begins !== 'whole') return;
  for (const limit of state.view.limits) {
    if (!limit.measured || limit.sort === undefined || !BY_ASSEMBLY.has(limit.sort)) continue;
    // What a table of grades is chosen by is measured on trial, once.
    if (state.view.grades.some((grades) => grades.by?.owner.text === limit.name)) continue;
    if ((limit.of ?? limit.each)?.owner.text === part) state.stale.set(limit.name, act);
  }
}

/** The wheels of a chain or belt, and the shafts of wheels that go on with it, that are not there. */
function missingFor(state: State, drive: DriveState, loop: string, withIt: ReadonlySet<string>): string | undefined {
  for (const wrap of drive.drive.wraps) {
    if (wrap.part !== loop) continue;
    for (const wheel of wrap.wheels) {
      const part = state.parts.get(wheel.part);
      if (part === undefined || (part.part.teeth ?? 0) === 0) continue;
      if (!withIt.has(wheel.part)) {
        if (!anyOn(part)) return wheel.part;
        continue;
      }
      const shaft = state.parts.get(turningShaft(state, wheel.part));
      if (shaft !== undefined && !anyOn(shaft) && !withIt.has(shaft.part.name)) return shaft.part.name;
    }
  }
  return undefined;
}

function checkTogether(
  state: State,
  groups: ReadonlyMap<string, readonly (readonly string[])[]>,
  name: string,
  action: Action,
  act: Act,
): void {
  for (const group of groups.get(name) ?? []) {
    if (
      state.saidTogether.has(group) ||
      group.every((each) => action.targets.some((target) => target.owner.text === each))
    )
      continue;
    if (action.mate !== undefined && group.includes(action.mate.reference.owner.text)) continue;
    const apart = group.find((each) => {
      if (each === name || action.targets.some((target) => target.owner.text === each)) return false;
      const other = state.parts.get(each);
      const by = other?.fittedBy.find((one) => one !== undefined);
      return (
        other !== undefined &&
        anyOn(other) &&
        by !== undefined &&
        by.statement !== action &&
        (other.mate === undefined || !group.includes(other.mate))
      );
    });
    if (apart === undefined) continue;
    state.saidTogether.add(group);
    const by = state.parts.get(apart)?.fittedBy.find((one) => one !== undefined);
    say(
      state,
      'sequence/together',
      act,
      `${group.join(', ')} go on together: another step fits them so, and here ${name} goes on after ${apart}. Fit them in one action, with together.`,
      { related: pointAt(by, `${apart} goes on here`) },
    );
  }
}

/** Work stops where the first thing that has not come is needed. */
export function sayIfOnOrder(state: State, thing: Part | Fastener, act: Act): void {
  if (!thing.onOrder || state.saidOnOrder) return;
  state.saidOnOrder = true;
  say(
    state,
    'sequence/on-order',
    act,
    `${thing.name} has not come yet: work stops at step ${act.step.name}. Take the on-order line out when it is there.`,
    {
      related: [
        {
          placed: thing.placed,
          span: thing.declaration.name ?? thing.declaration.wordSpan,
          message: 'said to be on order',
        },
      ],
    },
  );
}

export function fit(
  state: State,
  step: Step,
  action: Action,
  groups: ReadonlyMap<string, readonly (readonly string[])[]>,
): void {
  const names = new Set(action.targets.map((target) => target.owner.text));
  for (const target of action.targets) {
    const part = state.parts.get(target.owner.text);
    if (part === undefined) continue;
    const { name } = part.part;
    const act = targetAct(step, action, target);
    const places = placesIn(part.part, target.places);
    const twice = places.find((i) => part.on[i] === ON);
    if (twice !== undefined) {
      const which = placeName(part.part, twice);
      const by = part.fittedBy[twice];
      say(
        state,
        'sequence/fitted-twice',
        act,
        `${name}${which === '' ? '' : ` ${which}`} is on already${by === undefined ? ' and has not come off' : `: it went on in step ${by.step.name}`}. Leave one of the two out, or take it off in between.`,
        { related: pointAt(by, 'it goes on here') },
      );
    } else {
      if (!sayIfUnder(state, part, places, act, 'fit it')) sayIfCovered(state, name, act, 'sequence/covered', 'fit it');
      sayIfOnOrder(state, part.part, act);
      checkTogether(state, groups, name, action, act);
      for (const drive of state.drivesOf.get(name) ?? []) {
        const missing = missingFor(state, drive, name, names);
        if (missing === undefined) continue;
        sayMissing(
          state,
          'sequence/not-fitted-yet',
          missing,
          act,
          `${name} can't go on yet: ${missing} is not there. Fit ${missing} first.`,
        );
        break;
      }
      if (part.used && part.part.singleUse && !step.trial) {
        say(
          state,
          'sequence/not-renewed',
          act,
          `${name} is single-use and has been off in this job: it has to be new when it goes back. Say renew ${name} before this, when a new one is there.`,
          { related: pointAt(part.removedBy, 'it came off here') },
        );
      }
      part.secured = false;
    }
    const wasOff = places.some((i) => part.on[i] === OFF);
    for (const i of places) {
      part.on[i] = ON;
      part.fittedBy[i] = act;
    }
    part.used = false;
    state.saidMissing.delete(name);
    part.mate = action.mate?.reference.owner.text;
    if (twice === undefined) part.onTrial = step.trial ? act : undefined;
    if (wasOff || part.on.length === 0) {
      disturb(state, name, act);
      state.atMark.delete(name);
    }
  }
}

export function remove(state: State, step: Step, action: Action): void {
  const names = new Set(action.targets.map((target) => target.owner.text));
  for (const target of action.targets) {
    const part = state.parts.get(target.owner.text);
    if (part === undefined) continue;
    const { name } = part.part;
    const act = targetAct(step, action, target);
    const places = placesIn(part.part, target.places);
    if (!state.unsure && places.length > 0 && places.every((i) => part.on[i] === OFF)) {
      say(
        state,
        'sequence/not-fitted-yet',
        act,
        `${name} is not on here, so it can't come off${part.removedBy === undefined ? '' : `: it came off in step ${part.removedBy.step.name}`}.`,
        { related: pointAt(part.removedBy, 'it came off here') },
      );
    } else {
      const cover = coverOf(state, name);
      const top = onTopOf(state, part, places);
      if (top !== undefined && !names.has(top.part.name)) sayIfUnder(state, part, places, act, 'take it off');
      else if (cover === undefined || !names.has(cover.part.name))
        sayIfCovered(state, name, act, 'sequence/covered', 'take it off');
    }
    for (const i of places) {
      part.on[i] = OFF;
      part.fittedBy[i] = undefined;
    }
    const wasTrial = part.onTrial !== undefined || step.trial;
    part.removedBy = act;
    part.used = true;
    part.onTrial = undefined;
    part.heldBack = undefined;
    part.pinned = undefined;
    disturb(state, name, act);
    state.atMark.delete(name);
    adjustmentsChanged(state, [{ part: name }], act);
    if (!wasTrial) limitsStale(state, name, act);
    for (const fastener of state.clampedBy.get(name) ?? []) {
      // Bolts for each of a part come out with the ones that come off; others when all of it is off.
      const own = fastener.fastener.each === name;
      if (!own && anyOn(part)) continue;
      const out = own ? places : [...fastener.stages.keys()];
      for (const i of out) {
        if (fastener.stages[i] === FINAL) fastener.used = true;
        fastener.stages[i] = OUT;
      }
      fastener.secured = false;
      if (fastener.loosenedBy === undefined) fastener.loosenedBy = act;
    }
  }
}

/** What stands on the stand before the first step. */
export function standsThere(state: State, name: string): void {
  const part = state.parts.get(name);
  if (part === undefined) return;
  part.on.forEach((each, i) => {
    if (each === OFF) part.on[i] = ASSUMED;
  });
  part.secured = true;
  // What a part that stands there is bolted with is as it came.
  for (const fastener of state.clampedBy.get(name) ?? [])
    if (fastener.stages.every((each) => each === OUT)) fastener.stages.fill(LOOSE);
}
