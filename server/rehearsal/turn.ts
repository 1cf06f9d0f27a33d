// The engine is turned: by hand through an angle, or by its own power. What that does to the drives' marks and links.
import { type Told, told } from '../../grammar/told.ts';
import type { Rotate } from '../../grammar/tree.ts';
import {
  absolute,
  type Exact,
  negate,
  over,
  plus,
  times,
  toNumber,
  toText,
  wholeNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { measureOf } from '../model/measure.ts';
import { isA } from '../model/trade-names.ts';
import type { Fastener, Step } from '../model/view.ts';
import { type Act, actAt, pointAt } from './act.ts';
import { cycleOf, isWhole, turnedOn } from './crank-angle.ts';
import { sayIfNotOiled } from './dressed.ts';
import type { DriveState } from './drive-state.ts';
import { type FastenerState, LOOSE } from './fastener-state.ts';
import { everObstructing, isCoupled, obstructions, sayPinned } from './obstructions.ts';
import { OFF } from './part-state.ts';
import { anyOn, isComplete, partsOf, type State, say, sayMissing, turningShaft } from './state.ts';
import { sayIfWheelOff } from './tension.ts';
import { camshaftAlone, crankshaftAlone } from './valve-contact.ts';

/** The shafts of a drive do not stand where they were any more. */
function leaveMarks(state: State, drive: DriveState): void {
  for (const name of partsOf(state, drive)) state.atMark.delete(turningShaft(state, name));
}

function moveBy(state: State, amount: Exact): void {
  if (state.running.crank !== undefined) state.running.crank = turnedOn(state.running.crank, amount, state.view);
  for (const drive of state.drives.values()) {
    if (!isComplete(state, drive)) continue;
    leaveMarks(state, drive);
    drive.turned = plus(drive.turned, absolute(amount));
    if (drive.offset !== undefined) drive.offset = plus(drive.offset, amount);
    if (drive.linkOffset !== undefined) drive.linkOffset = plus(drive.linkOffset, amount);
  }
}

/** Turned by nobody knows how much. */
function unknownTurn(state: State): void {
  state.running.crank = undefined;
  for (const drive of state.drives.values()) {
    if (!isComplete(state, drive)) continue;
    leaveMarks(state, drive);
    drive.offset = undefined;
    drive.linkOffset = undefined;
    drive.turned = plus(drive.turned, cycleOf(state.view));
  }
}

/** Says that a shaft can't be turned because it is not there. The rehearsal goes on as if it were. */
export function sayNotIn(state: State, shaft: string, act: Act, doing: Told): void {
  const part = state.parts.get(shaft);
  if (part === undefined || anyOn(part)) return;
  sayMissing(
    state,
    'sequence/not-fitted-yet',
    shaft,
    act,
    told`${told.named(shaft)} is not in yet, so it can't be ${doing}. Fit it first.`,
  );
}

/** A shaft is turned by hand. `repeats` is how often the step is done. */
export function rotate(state: State, step: Step, statement: Rotate, repeats: number): void {
  const act = actAt(step, statement, statement.shaft);
  sayNotIn(state, statement.shaft.text, act, told`turned`);
  const shaft = turningShaft(state, statement.shaft.text);
  const isCrank = shaft === state.crankshaft;
  const speed = isCrank ? undefined : state.speeds.get(shaft);
  if (!isCrank && (speed === undefined || !isCoupled(state, shaft))) {
    turnAlone(state, shaft, act);
    return;
  }
  const onCrank = crankTurn(state, statement, repeats, speed);
  sayIfNotOiled(state);
  sayIfNotAligned(state, act);
  if (!step.trial) for (const drive of state.drives.values()) sayIfWheelOff(state, drive, act);
  sayIfBackwards(state, statement, onCrank, act);
  if (!isCrank) sayIfByDriven(state, shaft, act);
  sayIfBarrelsLoose(state, shaft, act);
  const isObstructed = obstructions(state, act, statement.shaft);
  const meets = isCrank && !isObstructed && crankshaftAlone(state, act, statement.shaft, onCrank, undefined);
  if (meets) sayNoMoreOfPins(state);
  if (onCrank === undefined) unknownTurn(state);
  // What can't be done is not done: whatever follows is followed from where the engine stood.
  else if ((isObstructed || meets) && !isWhole(onCrank, cycleOf(state.view))) return;
  else moveBy(state, onCrank);
}

/** A pin that came out for a turn which should not be made: that it comes out again later is no finding of its own. */
function sayNoMoreOfPins(state: State): void {
  for (const part of state.parts.among(everObstructing(state.view, 'steps')))
    if (part.wasPinned && part.pinned === undefined) part.saidNotHeld = true;
}

function turnAlone(state: State, shaft: string, act: Act): void {
  sayPinned(state, shaft, act);
  camshaftAlone(state, shaft, act, act.span);
  if (state.atMark.delete(shaft)) state.setAway.set(shaft, act);
}

/** Says that a drive which was worked on is turned before anybody has put it in line or looked at it. */
function sayIfNotAligned(state: State, act: Act): void {
  for (const each of state.drives.values()) {
    const { drive, disturbedBy, aligned, looked } = each;
    if (disturbedBy === undefined || aligned || looked || drive.marksAgree === undefined || !isComplete(state, each))
      continue;
    if (state.unsure) return;
    each.looked = true;
    say(
      state,
      'sequence/not-aligned',
      act,
      told`The engine is turned after work on ${told.thing(drive)}, and no step puts it in line before. Say align ${told.thing(drive)} where its marks are brought together.`,
      { related: pointAt(disturbedBy, told`worked on here`), missing: true },
    );
  }
}

/** Says that the engine is turned a whole turn or more against its rotation. A little way back and up again is how slack is taken out. */
function sayIfBackwards(state: State, { direction }: Rotate, onCrank: Exact | undefined, act: Act): void {
  const rotation = state.view.engine?.rotation;
  if (direction === undefined || rotation === undefined || onCrank === undefined) return;
  if (toNumber(onCrank) > -360 || state.unsure) return;
  say(
    state,
    'sequence/backwards',
    act,
    told`The engine turns ${rotation}, and is turned ${direction.word} here by ${toText(absolute(onCrank).div(360), 2).replace(/\.?0+$/, '')} turns: a chain or belt goes slack on its driving side and can jump. Turn it ${rotation}.`,
    {},
    direction,
  );
}

/** Says that the engine is turned by a shaft at the far end of a chain or belt. Common practice, no source. */
function sayIfByDriven(state: State, shaft: string, act: Act): void {
  const drive = state.drivesOn.get(shaft).find((each) => each.drive.wraps.length > 0 && isComplete(state, each));
  const loop = drive?.drive.wraps[0]?.part;
  // One that a pin or a slack tensioner lets move by a tooth is no way to turn the engine.
  if (drive === undefined || loop === undefined || !isA(shaft, 'camshaft') || act.step.trial || state.unsure) return;
  if (drive.drive.tensioners.some((name) => state.parts.get(name)?.heldBack !== undefined)) return;
  say(
    state,
    'sequence/backwards',
    act,
    told`${told.named(shaft)} is turned here, and ${told.named(loop)} turns the whole engine with it: it is pulled on the side that runs slack, and can jump. Turn the engine by its crankshaft.`,
    { severity: 'information' },
  );
}

const holdersBy = keyed(
  (view) => view.fasteners,
  (_view, { name, to, clamps }: Fastener): readonly Entry<string>[] =>
    [...new Set([...(to === undefined ? [] : [to.part]), ...clamps.map(({ part }) => part)])].map((part) => [
      part,
      name,
    ]),
);

/** What clamps a barrel or liner, or holds it down through the head on it. */
function holdersOf(state: State, name: string): readonly FastenerState[] {
  return state.fasteners.among(holdersBy(state.view, name));
}

/** Says that a whole engine is turned with its heads off and nothing on the barrels or liners: they lift with the pistons. */
function sayIfBarrelsLoose(state: State, shaft: string, act: Act): void {
  if (shaft !== state.crankshaft || state.plan.begins !== 'whole') return;
  const loose = state.parts.ofKind('barrel', 'liner', 'cylinder').find(({ part, on }) => {
    if (!on.some((each) => each !== OFF)) return false;
    const holders = holdersOf(state, part.name);
    return (
      holders.length > 0 &&
      holders.every(({ stages, loosenedBy }) => loosenedBy !== undefined && stages.every((stage) => stage <= LOOSE))
    );
  });
  const by = loose === undefined ? undefined : holdersOf(state, loose.part.name)[0]?.loosenedBy;
  if (loose === undefined || state.unsure || state.saidEarly.has(loose.part.name)) return;
  state.saidEarly.add(loose.part.name);
  say(
    state,
    'sequence/loose-when-rotated',
    act,
    told`The engine is turned while nothing holds ${told.thing(loose.part)} down: it lifts with the piston, and its seal with it. Hold it down with sleeves and nuts, or do not turn the engine.`,
    { related: pointAt(by, told`loosened here`) },
  );
}

/** Degrees that the crankshaft turns, forward positive; `speed` is that of the shaft that is turned, undefined for the crankshaft. */
function crankTurn(state: State, statement: Rotate, repeats: number, speed: Exact | undefined): Exact | undefined {
  const measure = measureOf(statement.amount)?.interval.nominal;
  if (measure === undefined) return undefined;
  const turned = times(measure, wholeNumber(repeats) ?? ZERO);
  const onCrank = speed === undefined ? turned : over(turned, absolute(speed));
  if (onCrank === undefined || statement.direction === undefined) return onCrank;
  // A shaft that a gear or the back of a belt turns goes the other way round when the engine goes forward.
  const reversed = speed !== undefined && toNumber(speed) < 0;
  const forward = (statement.direction.word === (state.view.engine?.rotation ?? 'clockwise')) !== reversed;
  return forward ? onCrank : negate(onCrank);
}

/** Turned by its own power: everything has gone round many times. */
export function turnedByItself(state: State, act: Act): void {
  sayIfNotOiled(state);
  obstructions(state, act, act.span);
  unknownTurn(state);
}
