// Where the crankshaft stands: angles in the cycle, from a dead centre as written to degrees. What turns it is in turn.ts.
import { type QuantityArgument, type Told, told } from '../../grammar/told.ts';
import type { CrankPosition, DeadCentre, Value } from '../../grammar/tree.ts';
import { angleAtTravel, crankSlider } from '../mechanics/crank-slider.ts';
import {
  type Exact,
  fromNumber,
  minus,
  over,
  plus,
  roundTo,
  times,
  toNumber,
  wholeNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { kindOf } from '../mechanics/units.ts';
import { firingVerdict } from '../model/engine-sums.ts';
import { measureOf } from '../model/measure.ts';
import type { Drive, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';

/** One turn of the crankshaft, degrees. */
export const TURN: Exact = wholeNumber(360) ?? ZERO;
const HALF_TURN: Exact = wholeNumber(180) ?? ZERO;

/** Degrees past top dead centre on compression of the cylinder that angles are told from. */
export interface CrankAngle {
  readonly degrees: Exact;
  /** False where only the place in the turn is known, and not on which of the two strokes. */
  readonly ofCycle: boolean;
}

/** Degrees of one whole cycle: two turns, or one in a two-stroke. */
export function cycleOf(view: View): Exact {
  return view.engine?.cycle === 'two-stroke' ? TURN : times(TURN, wholeNumber(2) ?? ZERO);
}

/** An angle brought to 0 or more and under one round. */
export function within(angle: Exact, round: Exact): Exact {
  const rounds = over(angle, round);
  return rounds === undefined ? angle : minus(angle, times(round, rounds.floor()));
}

/** Whether an angle is a whole number of rounds. */
export function isWhole(angle: Exact, round: Exact): boolean {
  return over(angle, round)?.d === 1n;
}

/** An angle or a clock position in degrees clockwise from the top; undefined where it differs by place or is no angle. */
export function degreesOf(value: Value | undefined): Exact | undefined {
  if (value?.kind === 'clock') return wholeNumber((value.hour * 60 + value.minute) % 720)?.div(2);
  return value === undefined || value.kind === 'by-place' ? undefined : measureOf(value)?.interval.nominal;
}

const firingAnglesOf = question((view, _subject: 'engine'): ReadonlyMap<number, Exact> => {
  const verdict = firingVerdict(view.engine);
  const angles = new Map<number, Exact>();
  if (verdict?.verdict === 'fits') {
    for (const [cylinder, angle] of verdict.firingAngles) {
      const degrees = fromNumber(angle);
      if (degrees !== undefined) angles.set(cylinder, roundTo(degrees, 6));
    }
  }
  return angles;
});

/** Degrees of crankshaft after cylinder 1 at which each cylinder fires; empty where the engine does not say. */
export function firingAngles(view: View): ReadonlyMap<number, Exact> {
  return firingAnglesOf(view, 'engine');
}

/** Top dead centre of a cylinder on compression, told from that of another; undefined where the firing order is not known. */
function firesAt(view: View, cylinder: number, from: number): Exact | undefined {
  if (cylinder === from) return ZERO;
  const angles = firingAngles(view);
  const [its, origin] = [angles.get(cylinder), angles.get(from)];
  return its === undefined || origin === undefined ? undefined : within(minus(its, origin), cycleOf(view));
}

/** A dead centre as an angle from top dead centre of the cylinder `from` on compression. */
function angleOfTdc(view: View, cylinder: number, stroke: string | undefined, from: number): CrankAngle | undefined {
  const fires = firesAt(view, cylinder, from);
  if (fires === undefined) return undefined;
  if (view.engine?.cycle === 'two-stroke') return { degrees: fires, ofCycle: true };
  if (stroke === 'compression') return { degrees: fires, ofCycle: true };
  if (stroke === 'overlap') return { degrees: within(plus(fires, TURN), cycleOf(view)), ofCycle: true };
  return { degrees: within(fires, TURN), ofCycle: false };
}

function ofDeadCentre(view: View, tdc: DeadCentre, from: number): CrankAngle | undefined {
  return angleOfTdc(view, tdc.cylinder.value, tdc.stroke?.known === true ? tdc.stroke.word : undefined, from);
}

/** A quarter of a turn before or after: which dead centre an angle is told from, and on which side. */
const CENTRES = new Map<string, { readonly isBottom: boolean; readonly isBefore: boolean }>([
  ['btdc', { isBottom: false, isBefore: true }],
  ['atdc', { isBottom: false, isBefore: false }],
  ['bbdc', { isBottom: true, isBefore: true }],
  ['abdc', { isBottom: true, isBefore: false }],
  ['bdc', { isBottom: true, isBefore: false }],
]);

/** Where a position that is written brings the crankshaft; undefined where that can't be told. */
export function angleOfPosition(view: View, set: CrankPosition, from: number): CrankAngle | undefined {
  if (set.tdc !== undefined) return ofDeadCentre(view, set.tdc, from);
  const word = set.from?.word ?? '';
  const centre = CENTRES.get(word);
  const away =
    word === 'bdc'
      ? ZERO
      : isLength(set.angle)
        ? degreesOfTravel(view, set.angle, centre?.isBottom === true)
        : degreesOf(set.angle);
  const stroke = set.stroke?.known === true ? set.stroke.word : undefined;
  const top = set.cylinder === undefined ? undefined : angleOfTdc(view, set.cylinder.value, stroke, from);
  if (away === undefined || top === undefined || centre === undefined) return undefined;
  // With a stroke the bottom dead centre is the one that leads to that top, or comes from it.
  const bottom = centre.isBefore || word === 'bdc' ? minus(top.degrees, HALF_TURN) : plus(top.degrees, HALF_TURN);
  const there = centre.isBottom ? bottom : top.degrees;
  const degrees = centre.isBefore ? minus(there, away) : plus(there, away);
  return { degrees: within(degrees, top.ofCycle ? cycleOf(view) : TURN), ofCycle: top.ofCycle };
}

/** Whether it is told how far the piston is from its dead centre, and not by an angle. */
function isLength(value: Value | undefined): boolean {
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  return measure !== undefined && kindOf(measure.unit) === 'length';
}

/** Degrees from a dead centre at which the piston is so far from it: from stroke and rod, to a tenth of a degree. */
function degreesOfTravel(view: View, value: Value | undefined, fromBottom: boolean): Exact | undefined {
  if (value === undefined || value.kind === 'by-place') return undefined;
  const measure = measureOf(value);
  const travel = measure?.interval.nominal ?? measure?.interval.low;
  const [stroke, rod] = ['stroke', 'rod-length'].map((word) => {
    const statement = view.engine?.statements.find((each) => each.word === word);
    const own = statement?.kind === 'value' && statement.value?.kind !== 'by-place' ? statement.value : undefined;
    const read = own === undefined ? undefined : measureOf(own);
    return read?.interval.nominal ?? read?.interval.low;
  });
  if (travel === undefined || stroke === undefined || rod === undefined) return undefined;
  const crank = crankSlider(toNumber(stroke), toNumber(rod));
  if (crank === undefined) return undefined;
  const down = fromBottom ? toNumber(stroke) - toNumber(travel) : toNumber(travel);
  const angle = angleAtTravel(crank, down);
  if (angle === undefined) return undefined;
  const degrees = fromNumber(fromBottom ? 180 - angle : angle);
  return degrees === undefined ? undefined : roundTo(degrees, 1);
}

/** Where the crankshaft stands when the marks of a drive agree. */
export function agreeAngle(view: View, drive: Drive, from: number): CrankAngle | undefined {
  const agree = drive.marksAgree;
  return agree === undefined ? undefined : angleOfTdc(view, agree.cylinder, agree.stroke, from);
}

/** An angle turned on by so many degrees of crankshaft. */
export function turnedOn(angle: CrankAngle, by: Exact, view: View): CrankAngle {
  return { ...angle, degrees: within(plus(angle.degrees, by), angle.ofCycle ? cycleOf(view) : TURN) };
}

/** How far the first angle is past the second, as far as both are known; undefined unless both are known in the whole cycle. */
export function pastInCycle(one: CrankAngle | undefined, other: CrankAngle | undefined, view: View): Exact | undefined {
  if (one === undefined || other === undefined || !one.ofCycle || !other.ofCycle) return undefined;
  return within(minus(one.degrees, other.degrees), cycleOf(view));
}

/** How far the first angle is past the second in one turn, whatever the stroke. */
export function pastInTurn(one: CrankAngle | undefined, other: CrankAngle | undefined): Exact | undefined {
  return one === undefined || other === undefined ? undefined : within(minus(one.degrees, other.degrees), TURN);
}

/** Where the crankshaft stands, in words, told from a cylinder's dead centre. */
function degreesShown(degrees: number): QuantityArgument {
  const shown = Number(degrees.toFixed(1));
  return told.quantity(`${shown} deg`, shown, 'deg');
}

export function angleText(crank: CrankAngle | undefined, cylinder: number): Told {
  if (crank === undefined) return told`anywhere`;
  const degrees = toNumber(crank.degrees);
  if (!crank.ofCycle)
    return degrees === 0
      ? told`at top dead centre ${cylinder}`
      : degrees > 180
        ? told`${degreesShown(360 - degrees)} before top dead centre ${cylinder}`
        : told`${degreesShown(degrees)} past top dead centre ${cylinder}`;
  if (degrees === 0) return told`at top dead centre ${cylinder} on compression`;
  if (degrees === 360) return told`at top dead centre ${cylinder} on overlap`;
  // As an ignition is timed: so much before the top, not nearly two turns past it.
  if (degrees > 540) return told`${degreesShown(720 - degrees)} before top dead centre ${cylinder} on compression`;
  const shown = degreesShown(degrees % 360);
  return degrees < 360
    ? told`${shown} past top dead centre ${cylinder} on compression`
    : told`${shown} past top dead centre ${cylinder} on overlap`;
}
