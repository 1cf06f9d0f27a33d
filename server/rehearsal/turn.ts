// The engine is turned: by hand through an angle, or by its own power. What that does to the drives' marks and links.
import type { Rotate } from '../../grammar/tree.ts';
import { absolute, type Exact, negate, over, plus, times, toNumber, wholeNumber, ZERO } from '../mechanics/exact.ts';
import { measureOf } from '../model/measure.ts';
import type { Step } from '../model/view.ts';
import type { Act } from './act.ts';
import { cycleOf, turnedOn } from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { hindrances, isCoupled, sayPinned } from './hindrances.ts';
import { anyOn, isComplete, type State, sayMissing, turningShaft } from './state.ts';
import { camshaftAlone, crankshaftAlone } from './valve-contact.ts';

/** The shafts of a drive do not stand where they were any more. */
function leaveMarks(state: State, drive: DriveState): void {
  for (const name of drive.parts) state.atMark.delete(turningShaft(state, name));
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
export function sayNotIn(state: State, shaft: string, act: Act, doing: string): void {
  const part = state.parts.get(shaft);
  if (part === undefined || anyOn(part)) return;
  sayMissing(
    state,
    'sequence/not-fitted-yet',
    shaft,
    act,
    `${shaft} is not in yet, so it can't be ${doing}. Fit it first.`,
  );
}

/** A shaft is turned by hand. `repeats` is how often the step is done. */
export function rotate(state: State, step: Step, statement: Rotate, repeats: number): void {
  const act: Act = { step, statement, span: statement.shaft };
  sayNotIn(state, statement.shaft.text, act, 'turned');
  const shaft = turningShaft(state, statement.shaft.text);
  const isCrank = shaft === state.crankshaft;
  const speed = isCrank ? undefined : state.speeds.get(shaft);
  if (!isCrank && (speed === undefined || !isCoupled(state, shaft))) {
    turnAlone(state, shaft, act);
    return;
  }
  const onCrank = crankTurn(state, statement, repeats, speed);
  if (isCrank) crankshaftAlone(state, act, statement.shaft, onCrank, undefined);
  hindrances(state, act, statement.shaft);
  if (onCrank === undefined) unknownTurn(state);
  else moveBy(state, onCrank);
}

function turnAlone(state: State, shaft: string, act: Act): void {
  sayPinned(state, shaft, act);
  camshaftAlone(state, shaft, act, act.span);
  state.atMark.delete(shaft);
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
  hindrances(state, act, act.span);
  unknownTurn(state);
}
