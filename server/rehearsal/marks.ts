// Marks that are to be seen: what hides them, and where a single mark stands. Marks of a whole drive are in confirm.ts.

import { told } from '../../grammar/told.ts';
import type { Confirm } from '../../grammar/tree.ts';
import { absolute, compare, type Exact, minus, negate, ONE, plus, times, toText } from '../mechanics/exact.ts';
import { type Act, pointAt } from './act.ts';
import { markAngles } from './at-the-bench.ts';
import { agreeAngle, degreesOf, isWhole, pastInTurn, TURN, turnedOn, within } from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { coverOf, isComplete, partsOf, type State, say, turningShaft } from './state.ts';

/** Says that something on hides a mark; true when it does. */
export function sayHiddenMark(state: State, part: string, mark: string, act: Act): boolean {
  const cover = coverOf(state, part, mark);
  if (cover === undefined) return false;
  const by = cover.fittedBy.find((each) => each !== undefined);
  const { name } = cover.part;
  say(
    state,
    'sequence/mark-hidden',
    act,
    told`${mark} of ${told.named(part)} can no longer be seen: ${told.named(name)} ${by === undefined ? told`is on` : told`went on in step ${told.thing(by.step)}`} and hides it. Look at it before ${name} goes on, or take ${name} off first.`,
    { related: pointAt(by, told`${told.named(name)} goes on here`) },
  );
  cover.lifted = true;
  return true;
}

/** Says which mark of a drive's wheels is hidden, the first of them; true when one is. */
export function sayHiddenOfDrive(state: State, drive: DriveState, act: Act): boolean {
  return partsOf(state, drive).some((name) =>
    [...marksOf(state, name).keys()].some((mark) => sayHiddenMark(state, name, mark, act)),
  );
}

/** The marks of a part, and where they are said to stand. */
function marksOf(state: State, name: string): ReadonlyMap<string, Exact | undefined> {
  const part = state.parts.get(name)?.part;
  return part === undefined ? new Map() : markAngles(state.view, part);
}

/** How far a shaft has turned, in its own degrees and the engine's direction, since its marks stood as the spec says. */
function turnedSinceMarks(state: State, shaft: string): Exact | undefined {
  const speed = shaft === state.crankshaft ? ONE : state.speeds.get(shaft);
  if (speed === undefined) return undefined;
  for (const drive of state.drives.values()) {
    if (drive.offset === undefined || !isComplete(state, drive)) continue;
    if (partsOf(state, drive).some((name) => turningShaft(state, name) === shaft)) return times(drive.offset, speed);
  }
  if (shaft !== state.crankshaft) return undefined;
  const agrees = state.view.drives.map((drive) =>
    pastInTurn(state.running.crank, agreeAngle(state.view, drive, state.tdcOf)),
  );
  return agrees.find((each) => each !== undefined);
}

/**
 * Degrees clockwise at which a mark stands, as seen from the front; undefined where that is not known. `turned`: degrees of its shaft
 * since the marks stood as the spec says, else as far as the rehearsal knows.
 */
export function markStands(state: State, part: string, mark: string, turned?: Exact): Exact | undefined {
  const stated = marksOf(state, part).get(mark);
  const by = turned ?? turnedSinceMarks(state, turningShaft(state, part));
  if (stated === undefined || by === undefined) return undefined;
  // Clock positions run clockwise as seen from the front.
  const onward = state.view.engine?.rotation === 'anticlockwise' ? negate(by) : by;
  return within(plus(stated, onward), TURN);
}

/** `confirm PART.mark at …`: that it can be seen, and that it can stand there. */
export function confirmMark(state: State, statement: Confirm, act: Act): void {
  const { owner, feature } = statement.target;
  const part = state.parts.get(owner.text);
  if (part === undefined || feature === undefined || sayHiddenMark(state, owner.text, feature.text, act)) return;
  const [stated, read] = [marksOf(state, owner.text).get(feature.text), degreesOf(statement.at)];
  const stands = markStands(state, owner.text, feature.text);
  if (stated === undefined || read === undefined || stands === undefined) return;
  const off = within(minus(stands, read), TURN);
  // Clock positions are read to the nearest degree.
  if (compare(off, ONE) <= 0 || compare(absolute(minus(TURN, off)), ONE) <= 0) return;
  say(
    state,
    'sequence/not-in-time',
    act,
    told`${told.named(feature.text)} of ${told.named(owner.text)} stands at ${toText(stands, 0)} degrees here, and not at ${toText(read, 0)}: the spec has it at ${toText(stated, 0)} when the marks agree.`,
    {
      related: [
        {
          placed: part.part.placed,
          span: part.part.marks.get(feature.text)?.statement ?? part.part.declaration.wordSpan,
          message: told`the mark`,
        },
      ],
    },
    statement.at,
  );
  // Where it is confirmed as the spec has it, the crankshaft was set wrong, and not the confirming.
  if (turningShaft(state, owner.text) === state.crankshaft && isWhole(minus(read, stated), TURN))
    standsAsConfirmed(state, minus(read, stands));
}

/** Goes on as if the crankshaft stood where its mark is confirmed; nothing is coupled to it yet, or the drives are out with it. */
function standsAsConfirmed(state: State, clockwise: Exact): void {
  const onward = state.view.engine?.rotation === 'anticlockwise' ? negate(clockwise) : clockwise;
  if (state.running.crank !== undefined)
    state.running.crank = { ...turnedOn(state.running.crank, onward, state.view), ofCycle: false };
  for (const drive of state.drives.values()) if (isComplete(state, drive)) drive.offset = undefined;
}
