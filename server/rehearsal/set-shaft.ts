// A shaft is set: the crankshaft to a dead centre or an angle, any shaft to one of its marks.
import type { SetShaft } from '../../grammar/tree.ts';
import { equal, minus, plus, toNumber, ZERO } from '../mechanics/exact.ts';
import type { Step } from '../model/view.ts';
import type { Act } from './act.ts';
import {
  agreeAngle,
  angleOfSet,
  type CrankAngle,
  degreesOf,
  isWhole,
  pastInCycle,
  pastInTurn,
  TURN,
} from './crank-angle.ts';
import { hindrances, isCoupled, sayPinned } from './hindrances.ts';
import { sayHiddenMark } from './marks.ts';
import { isComplete, type State, turningShaft } from './state.ts';
import { sayNotIn } from './turn.ts';
import { camshaftAlone, crankshaftAlone } from './valve-contact.ts';

export function setShaft(state: State, step: Step, statement: SetShaft): void {
  const act: Act = { step, statement, span: statement.shaft };
  sayNotIn(state, statement.shaft.text, act, 'set');
  if (statement.mark !== undefined) setToMark(state, statement, act);
  else if (statement.shaft.text === state.crankshaft) setCrankshaft(state, statement, act);
}

function setToMark(state: State, statement: SetShaft, act: Act): void {
  const { mark } = statement;
  if (mark === undefined) return;
  sayHiddenMark(state, statement.shaft.text, mark.text, { ...act, span: mark });
  const shaft = turningShaft(state, statement.shaft.text);
  if (shaft === state.crankshaft || isCoupled(state, shaft)) return;
  if (state.atMark.has(shaft)) return;
  sayPinned(state, shaft, act);
  camshaftAlone(state, shaft, act, statement.shaft);
  const stated = degreesOf(state.parts.get(statement.shaft.text)?.part.marks.get(mark.text)?.at);
  const read = degreesOf(statement.at);
  if (stated === undefined || read === undefined || isWhole(minus(stated, read), TURN)) state.atMark.add(shaft);
}

/** Whether it surely has to be turned to get there. */
function isElsewhere(state: State, next: CrankAngle | undefined): boolean {
  const coupled = state.drives.values().some((drive) => isComplete(state, drive));
  const past =
    (coupled ? pastInCycle(next, state.running.crank, state.view) : undefined) ?? pastInTurn(next, state.running.crank);
  return past !== undefined && toNumber(past) !== 0;
}

function setCrankshaft(state: State, statement: SetShaft, act: Act): void {
  const next = angleOfSet(state.view, statement, state.tdcOf);
  crankshaftAlone(state, act, statement.shaft, undefined, next?.degrees);
  if (isElsewhere(state, next)) hindrances(state, act, statement.shaft);
  for (const drive of state.drives.values()) {
    if (!isComplete(state, drive)) continue;
    const moved = pastInCycle(next, state.running.crank, state.view);
    // The crankshaft may have gone round any number of times to get there, unless it stood there already.
    if (moved === undefined || !equal(moved, ZERO)) {
      drive.linkOffset = undefined;
      for (const name of drive.parts) state.atMark.delete(turningShaft(state, name));
    }
    if (moved !== undefined && drive.offset !== undefined) drive.offset = plus(drive.offset, moved);
    else if (drive.aligned || drive.disturbedBy !== undefined) drive.offset = undefined;
    else drive.offset = pastInCycle(next, agreeAngle(state.view, drive.drive, state.tdcOf), state.view);
  }
  state.running.crank = next;
}
