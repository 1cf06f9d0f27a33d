// A shaft is set: the crankshaft to a dead centre or an angle, any shaft to one of its marks.

import { told } from '../../grammar/told.ts';
import type { SetShaft } from '../../grammar/tree.ts';
import { equal, minus, plus, toNumber, toText, ZERO } from '../mechanics/exact.ts';
import type { Step } from '../model/view.ts';
import { type Act, actAt } from './act.ts';
import { markAngles } from './at-the-bench.ts';
import {
  agreeAngle,
  angleOfPosition,
  type CrankAngle,
  degreesOf,
  isWhole,
  pastInCycle,
  pastInTurn,
  TURN,
} from './crank-angle.ts';
import { markStands, sayHiddenMark } from './marks.ts';
import { isCoupled, obstructions, sayPinned } from './obstructions.ts';
import { isComplete, partsOf, type State, say, turningShaft } from './state.ts';
import { sayNotIn } from './turn.ts';
import { camshaftAlone, crankshaftAlone } from './valve-contact.ts';

export function setShaft(state: State, step: Step, statement: SetShaft): void {
  const act = actAt(step, statement, statement.shaft);
  sayNotIn(state, statement.shaft.text, act, told`set`);
  if (statement.mark !== undefined) setToMark(state, statement, act);
  else if (statement.shaft.text === state.crankshaft) setCrankshaft(state, statement, act);
}

function setToMark(state: State, statement: SetShaft, act: Act): void {
  const { mark } = statement;
  if (mark === undefined) return;
  sayHiddenMark(state, statement.shaft.text, mark.text, { ...act, span: mark });
  const shaft = turningShaft(state, statement.shaft.text);
  if (shaft === state.crankshaft) return;
  if (isCoupled(state, shaft)) {
    saySetWhileCoupled(state, statement, act);
    return;
  }
  state.setAway.delete(shaft);
  state.setElsewhere.delete(shaft);
  if (state.atMark.has(shaft) && !isElsewhereAtMark(state, statement)) return;
  sayPinned(state, shaft, act);
  camshaftAlone(state, shaft, act, statement.shaft);
  if (!isElsewhereAtMark(state, statement)) state.atMark.add(shaft);
  else {
    state.atMark.delete(shaft);
    state.setElsewhere.set(shaft, act);
  }
}

/** Whether a shaft is set to another place than where the spec has its mark when the marks of its drive agree. */
function isElsewhereAtMark(state: State, { shaft, mark, at }: SetShaft): boolean {
  const part = state.parts.get(shaft.text)?.part;
  const stated = part === undefined || mark === undefined ? undefined : markAngles(state.view, part).get(mark.text);
  const read = degreesOf(at);
  return stated !== undefined && read !== undefined && !isWhole(minus(stated, read), TURN);
}

/** Says that a shaft which a drive holds can't be set to where its mark does not stand. */
function saySetWhileCoupled(state: State, { shaft, mark, at }: SetShaft, act: Act): void {
  const read = degreesOf(at);
  const stands = mark === undefined ? undefined : markStands(state, shaft.text, mark.text);
  if (read === undefined || stands === undefined || mark === undefined || state.unsure) return;
  const off = Math.abs(toNumber(minus(stands, read)) % 360);
  if (off <= 1 || off >= 359) return;
  say(
    state,
    'sequence/not-in-time',
    act,
    told`${told.named(shaft.text)} is held by its drive here, with ${told.named(mark.text)} at ${toText(stands, 0)} degrees: it can't be set to ${toText(read, 0)} degrees without turning the engine or taking the drive off.`,
    {},
    at,
  );
}

/** Whether it surely has to be turned to get there. */
function isElsewhere(state: State, next: CrankAngle | undefined): boolean {
  const coupled = state.drives.values().some((drive) => isComplete(state, drive));
  const past =
    (coupled ? pastInCycle(next, state.running.crank, state.view) : undefined) ?? pastInTurn(next, state.running.crank);
  return past !== undefined && toNumber(past) !== 0;
}

function setCrankshaft(state: State, statement: SetShaft, act: Act): void {
  const next = angleOfPosition(state.view, statement, state.tdcOf);
  crankshaftAlone(state, act, statement.shaft, undefined, next?.degrees);
  if (isElsewhere(state, next)) obstructions(state, act, statement.shaft);
  for (const drive of state.drives.values()) {
    if (!isComplete(state, drive)) continue;
    const moved = pastInCycle(next, state.running.crank, state.view);
    // The crankshaft may have gone round any number of times to get there, unless it stood there already.
    if (moved === undefined || !equal(moved, ZERO)) {
      drive.linkOffset = undefined;
      for (const name of partsOf(state, drive)) state.atMark.delete(turningShaft(state, name));
    }
    if (moved !== undefined && drive.offset !== undefined) drive.offset = plus(drive.offset, moved);
    else if (drive.aligned || drive.disturbedBy !== undefined) drive.offset = undefined;
    else drive.offset = pastInCycle(next, agreeAngle(state.view, drive.drive, state.tdcOf), state.view);
  }
  state.running.crank = next;
}
