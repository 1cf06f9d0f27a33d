// Parts go on: what must be there, what must not be there yet, what covers the place.

import { type Argument, told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import { targetsOf } from '../../model/action-places.ts';
import { isA, sealedBy } from '../../model/trade-names.ts';
import type { Step } from '../../model/view.ts';
import { type Act, pointAt, targetAct } from '../act.ts';
import { type ActionRule, onEach } from '../action-rule.ts';
import { sayIfElsewhere } from '../belongs.ts';
import { sayIfCovered, sayIfPumpShutIn, sayIfTappetLate, sayIfUnder } from '../covers.ts';
import { close } from '../curing.ts';
import { disturb } from '../disturb.ts';
import { sayIfBare, sayIfForgottenDry, sayIfNotOiled, sayIfUnsealed } from '../dressed.ts';
import type { DriveState } from '../drive-state.ts';
import { stepsFitting } from '../foresight.ts';
import { sayIfPressed } from '../gaskets.ts';
import { sayIfGritty } from '../grit.ts';
import { inWords, nameWith } from '../in-words.ts';
import { sayLeft } from '../left.ts';
import { isTakenIn, joinedBy, takeIn } from '../made-up.ts';
import { sayIfOnOrder } from '../on-order.ts';
import { OFF, ON, type PartState, withAt, withEach } from '../part-state.ts';
import { sayFilterLeft, sayGradesLeft, sayIfPartLeft } from '../parts-left.ts';
import { placeName, placesNow } from '../places.ts';
import { sayIfRingUnder } from '../rings.ts';
import { sayIfShutIn } from '../shut-in.ts';
import { anyOn, type State, say, sayMissing, sayOfStep, turningShaft } from '../state.ts';
import { sayIfUntimed } from '../timed.ts';
import { headOnto } from '../valve-contact.ts';
import { sayIfMasked } from './mask.ts';

/** A wheel of a chain or belt, or the shaft of a wheel that goes on with it, that is not there. */
function missingFor(
  state: State,
  drive: DriveState,
  loop: string,
  isWithIt: (name: string) => boolean,
): string | undefined {
  for (const wrap of drive.drive.wraps) {
    if (wrap.part !== loop) continue;
    for (const wheel of wrap.wheels) {
      const part = state.parts.get(wheel.part);
      if (part === undefined || (part.part.teeth ?? 0) === 0) continue;
      if (!isWithIt(wheel.part)) {
        if (!anyOn(part)) return wheel.part;
        continue;
      }
      const shaft = state.parts.get(turningShaft(state, wheel.part));
      if (shaft !== undefined && !anyOn(shaft) && !isWithIt(shaft.part.name)) return shaft.part.name;
    }
  }
  return undefined;
}

/** Whether a part is the chain of a drive. */
function isChain(state: State, name: string): boolean {
  return state.drivesOf
    .get(name)
    .some(({ drive }) => drive.wraps.some((wrap) => wrap.part === name && wrap.sort === 'chain'));
}

/** Whether a chain is put over wheels that are all on their shafts, so that it can't be got over them. */
function goesOverAll(state: State, loop: string, withIt: ReadonlySet<string>): boolean {
  if (!withIt.has(loop)) return false;
  const wheels = state.drivesOf
    .get(loop)
    .flatMap(({ drive }) => drive.wraps.flatMap((wrap) => (wrap.part === loop ? wrap.wheels : [])))
    .flatMap((wheel) => state.parts.get(wheel.part) ?? [])
    .filter(({ part }) => (part.teeth ?? 0) > 0);
  return wheels.every((wheel) => anyOn(wheel) && !withIt.has(wheel.part.name));
}

/** `withIt` is all that one action fits, here and below. */
function checkTogether(state: State, name: string, action: Action, withIt: ReadonlySet<string>, act: Act): void {
  if (!isChain(state, name)) return;
  for (const group of state.ahead.groups.get(name) ?? []) {
    // A chain goes on with one of its wheels at least; what else goes on as one in some job may go on apart in another.
    const loop = group.find((each) => isChain(state, each));
    if (loop === undefined || loop !== name || !goesOverAll(state, loop, withIt)) continue;
    if (state.saidTogether.has(group.join(' ')) || group.every((each) => withIt.has(each))) continue;
    const apart = group.find((each) => {
      if (each === name || withIt.has(each)) return false;
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
    state.saidTogether.add(group.join(' '));
    const by = state.parts.get(apart)?.fittedBy.find((one) => one !== undefined);
    say(
      state,
      'sequence/together',
      act,
      told`${told.list(
        group.map((each) => told.named(each, 'part')),
        ',',
      )} go on together: another step fits them so, and here ${told.named(name)} goes on after ${told.named(apart)}. Fit them in one action, with together.`,
      { related: pointAt(by, told`${told.named(apart)} goes on here`) },
    );
  }
}

/** Of the targets of one action, those that are on already; one finding for all of them. */
function sayTwice(
  state: State,
  twice: readonly { readonly part: PartState; readonly place: number; readonly act: Act }[],
): void {
  const [first] = twice;
  if (first === undefined) return;
  const names = inWords(
    twice.map(({ part, place }): Argument => {
      const at = placeName(part.part, place);
      return at === '' ? told.thing(part.part) : told.row([told.thing(part.part), ' ', told.place(at)]);
    }),
  );
  const by = first.part.fittedBy[first.place];
  const one = twice.length === 1;
  const where =
    by === undefined
      ? one
        ? told` and has not come off`
        : told` and have not come off`
      : one
        ? told`: it went on in step ${told.thing(by.step)}`
        : told`: they went on in step ${told.thing(by.step)}`;
  sayOfStep(
    state,
    'sequence/fitted-twice',
    first.act,
    one
      ? told`${names} is on already${where}. Leave one of the two out, or take it off in between.`
      : told`${names} are on already${where}. Leave one of the two out, or take them off in between.`,
    pointAt(by, one ? told`it goes on here` : told`they go on here`),
  );
}

/** Whether some later action of the job, or a sequence that is no part of it, fits a part: what goes onto it goes on at the bench. */
function goesOnLater(state: State, name: string, act: Act): boolean {
  const job = [...state.plan.before, ...state.plan.sequences];
  const fitting = stepsFitting(state.view, name);
  if (fitting.some(({ sequence }) => !job.some((own) => own.name === sequence.name))) return true;
  if (state.ahead.isFittedBehind(act.step, name)) return true;
  const rest = act.step.statements.slice(act.step.statements.indexOf(act.statement));
  return rest.some(
    (each) =>
      each.kind === 'action' && each.word === 'fit' && each.targets.some((target) => target.owner.text === name),
  );
}

/** Says that what a part is fitted to is not there. On the bench it may go onto a part that goes on later. */
function sayIfMateOff(state: State, name: string, action: Action, act: Act): void {
  const mate = action.mate === undefined ? undefined : state.parts.get(action.mate.reference.owner.text);
  if (mate === undefined || !state.plan.assembles || anyOn(mate, action.mate?.reference.places)) return;
  if (goesOnLater(state, mate.part.name, act) || state.unsure) return;
  const off =
    mate.removedBy === undefined
      ? told`and no step fits it`
      : told`it came off in step ${told.thing(mate.removedBy.step)}`;
  sayMissing(
    state,
    'sequence/not-fitted-yet',
    mate.part.name,
    act,
    told`${told.named(name)} can't go ${action.mate?.word ?? ''} ${told.thing(mate.part)}: that is not on here, ${off}. Fit ${told.thing(mate.part)} first.`,
  );
}

/** What is wrong with a part's going on here. */
function check(
  state: State,
  part: PartState,
  places: readonly number[],
  action: Action,
  withIt: ReadonlySet<string>,
  act: Act,
): void {
  const { name } = part.part;
  const mate = action.mate?.reference.owner.text;
  // That it is not on yet is a finding already: that it comes too late is the same fault.
  const isMissed = state.saidMissing.has(name);
  if (
    !sayIfUnder(state, part, places, act, told`fit it`) &&
    !sayIfCovered(state, name, act, 'sequence/covered', told`fit it`) &&
    !isMissed
  )
    sayIfShutIn({ state, part, places, mate, comesOff: false, withIt: action }, act);
  sayIfOnOrder(state, part.part, act);
  sayIfUntimed(state, part, act);
  sayIfUnsealed(state, part, mate, act);
  sayIfBare(state, part, act);
  sayIfGritty(state, part, mate, act);
  sayIfRingUnder(state, part, places, action, act);
  sayIfPumpShutIn(state, part, mate, act);
  sayIfTappetLate(state, part, mate, act);
  headOnto(state, part, act);
  sayIfLoopIsOn(state, name, withIt, act);
  sayIfMateOff(state, name, action, act);
  checkTogether(state, name, action, withIt, act);
  for (const drive of state.drivesOf.get(name)) {
    // A chain is hung on a wheel that is still in the hand, too.
    const missing = missingFor(state, drive, name, (each) => each === mate || withIt.has(each));
    if (missing === undefined) continue;
    sayMissing(
      state,
      'sequence/not-fitted-yet',
      missing,
      act,
      told`${told.named(name)} can't go on yet: ${told.named(missing)} is not there. Fit ${told.named(missing)} first.`,
    );
    break;
  }
  const old = places.filter((i) => part.used[i] === true);
  if (old.length > 0 && part.part.singleUse && !act.step.trial)
    say(
      state,
      'sequence/not-renewed',
      act,
      told`${nameWith(part.part, old)} is single-use and has been off in this job: it has to be new when it goes back. Say renew ${nameWith(part.part, old)} before this, when a new one is there.`,
      { related: pointAt(part.removedBy, told`it came off here`) },
    );
  else if (old.length > 0 && !act.step.trial) sayIfPressedHead(state, part, act);
}

/** Says of a head gasket that goes back as it came off, where nothing says whether it may: pressed once, most do not seal again. Common practice, no source. */
function sayIfPressedHead(state: State, { part, removedBy }: PartState, act: Act): void {
  const sealed = sealedBy(part.name);
  if (!isA(part, 'gasket') || sealed === undefined || !isA(sealed, 'head') || state.unsure) return;
  say(
    state,
    'sequence/not-renewed',
    act,
    told`${told.thing(part)} has been off in this job and goes back: pressed once, most head gaskets do not seal again. Say renew ${told.thing(part)} before this, when a new one is there.`,
    { related: pointAt(removedBy, told`it came off here`), severity: 'information' },
  );
}

export const fit: ActionRule = {
  carryOut: fitAll,
  partAtEnd(state, part) {
    sayIfPartLeft(state, part);
    sayIfPartWay(state, part);
  },
  atEnd(state) {
    sayIfNotOiled(state);
    sayIfForgottenDry(state);
    sayGradesLeft(state);
    sayFilterLeft(state);
  },
};

/** What went in part of the way, and stayed there. */
function sayIfPartWay(state: State, { part, partWay }: PartState): void {
  if (partWay === undefined) return;
  sayLeft(
    state,
    'sequence/left-open',
    partWay.step.placed,
    partWay.span,
    told`${told.thing(part)} goes in part of the way here, and no step pushes it home. Say push-home ${told.thing(part)}.`,
  );
}

/** A part that is in part of the way goes home. */
export const pushHome: ActionRule = onEach((_state, { part }) => {
  if (part !== undefined) part.partWay = undefined;
});

function fitAll(state: State, step: Step, action: Action): void {
  const allTwice: { part: PartState; place: number; act: Act }[] = [];
  const withIt = new Set(action.targets.map((target) => target.owner.text));
  for (const target of targetsOf(action, state.view)) {
    const part = state.parts.get(target.owner.text);
    if (part === undefined) continue;
    const act = targetAct(step, action, target);
    const places = placesNow(state, part.part, target.places);
    // What goes on once in a step that is done for each place has gone on at the first.
    if (state.turn !== undefined && places.every((i) => part.fittedBy[i]?.statement === action)) continue;
    sayIfMasked(
      state,
      [part.part.name, action.mate?.reference.owner.text],
      act,
      told`${told.thing(part.part)} goes on`,
    );
    const place = part.isGraded ? undefined : places.find((i) => part.on[i] === ON && !isTakenIn(part, i, action));
    if (place === undefined) {
      if (!sayIfElsewhere(state, part, target, places, action, act)) check(state, part, places, action, withIt, act);
      // One that was secured too early is a finding already.
      if (!state.saidMissing.has(part.part.name)) part.secured = withAt(part.secured, places, false);
    } else if (!part.lifted) allTwice.push({ part, place, act });
  }
  sayTwice(state, allTwice);
  for (const target of targetsOf(action, state.view)) {
    const part = state.parts.get(target.owner.text);
    if (part !== undefined)
      goesOn(state, part, step, action, targetAct(step, action, target), placesNow(state, part.part, target.places));
  }
}

function goesOn(state: State, part: PartState, step: Step, action: Action, act: Act, places: readonly number[]): void {
  const { name } = part.part;
  const wasOn = places.some((i) => part.on[i] === ON);
  const wasOff = places.some((i) => part.on[i] === OFF);
  const taken = places.filter((i) => isTakenIn(part, i, action));
  takeIn(state, part, taken, act);
  const joined = joinedBy(state, action, places);
  part.on = withAt(part.on, places, ON);
  part.fittedBy = withAt(part.fittedBy, places, act);
  part.joined = withEach(part.joined, places, (_was, which) => joined[which]);
  part.used = withAt(part.used, places, false);
  part.lifted = false;
  part.partWay = action.partWay === undefined ? undefined : act;
  state.saidMissing.delete(name);
  part.mate = action.mate?.reference.owner.text;
  if (!step.trial) part.onTrial = undefined;
  else if (!wasOn) part.onTrial = act;
  close(state, name, part.mate, act);
  if (wasOff) sayIfPressed(state, part, act);
  part.pressedBy = undefined;
  if (wasOff || part.on.length === 0) {
    disturb(state, name, act);
    state.atMark.delete(name);
  }
}

/** Says that a wheel goes on while the chain or belt that runs over it is on: it can't be slipped under it. */
function sayIfLoopIsOn(state: State, name: string, withIt: ReadonlySet<string>, act: Act): void {
  for (const { drive } of state.drivesOf.get(name))
    for (const wrap of drive.wraps) {
      const loop = state.parts.get(wrap.part);
      if (loop === undefined || wrap.part === name || withIt.has(wrap.part) || loop.lifted || !loop.on.includes(ON))
        continue;
      const by = loop.fittedBy.find((each) => each !== undefined);
      const runsOver = wrap.wheels.some((wheel) => wheel.part === name);
      // A wheel that is not there when the chain goes on is said then.
      if (!runsOver || by === undefined || state.saidMissing.has(name) || by.step === act.step) continue;
      if (state.unsure) return;
      sayOfStep(
        state,
        'sequence/covered',
        act,
        told`${told.named(name)} goes on here, and ${told.named(wrap.part)} went on in step ${told.thing(by.step)} and runs over it. Fit ${told.named(name)} before ${told.named(wrap.part)}, or together with it.`,
        pointAt(by, told`${told.named(wrap.part)} goes on here`),
      );
      loop.lifted = true;
      return;
    }
}
