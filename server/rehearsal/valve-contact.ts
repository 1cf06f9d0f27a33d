// Whether valves can meet pistons when one shaft is turned without the other. Rules of thumb, common practice, no source.

import { type Told, told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import { absolute, compare, type Exact, minus, plus, toNumber, wholeNumber, ZERO } from '../mechanics/exact.ts';
import { withinTurn } from '../mechanics/piston-tops.ts';
import { shaftsOfDrive, speedsOf } from '../model/drive-sums.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Drive, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { Act } from './act.ts';
import { agreeAngle, firingAngles, pastInTurn, TURN, within } from './crank-angle.ts';
import { isCoupled } from './obstructions.ts';
import { OFF, type PartState } from './part-state.ts';
import { allOn, anyOn, partsOf, type State, say } from './state.ts';

/** So many degrees of crankshaft on each side of the top count as near it. */
const NEAR: Exact = wholeNumber(30) ?? ZERO;
const VALVE_GEAR: readonly TradeKind[] = ['pushrod', 'rocker', 'rocker-support', 'lifter'];

/** The shafts with wheels of drives that are called camshafts, whether or not anything turns them. */
const shaftsLikeCams = question((view, _all: 'drives'): readonly string[] => [
  ...new Set(view.drives.flatMap((drive) => shaftsOfDrive(view, drive)).filter((shaft) => /cam/i.test(shaft))),
]);

/** The shafts that drives turn at half speed, and that are called camshafts, the nearest to the crankshaft first. */
const camshaftsIn = question((view, _all: 'drives'): readonly string[] =>
  [...(speedsOf(view)?.speeds ?? [])].flatMap(([shaft, speed]) =>
    /cam/i.test(shaft) && Math.abs(toNumber(speed)) === 0.5 ? [shaft] : [],
  ),
);

/** The camshafts that are on and that no whole drive couples to the crankshaft. */
function looseCamshafts(state: State): readonly PartState[] {
  const { view } = state;
  const loose = state.parts.among(shaftsLikeCams(view, 'drives')).filter((part) => {
    const { name } = part.part;
    return anyOn(part) && !isCoupled(state, name) && camshaftsIn(view, 'drives').includes(name);
  });
  // A drive that lacks a part is a finding already.
  if (
    loose.length === 0 ||
    state.drives.values().some((drive) => partsOf(state, drive).some((name) => isSaid(state, name)))
  )
    return [];
  return loose.length === 1
    ? loose
    : state.parts.among(camshaftsIn(view, 'drives')).filter((part) => loose.includes(part));
}

function isSaid(state: State, part: string): boolean {
  return state.ahead.expectedMissing.has(part) || state.saidMissing.has(part);
}

/** Heads, pistons, crankshaft and all valve gear are on, in an engine whose valves reach the pistons. */
function canMeet(state: State): boolean {
  if (state.view.engine?.interference !== true) return false;
  const heads = state.parts.ofKind('head');
  const pistons = state.parts.ofKind('piston');
  const crankshaft = state.crankshaft === undefined ? undefined : state.parts.get(state.crankshaft);
  return (
    heads.some(allOn) &&
    pistons.every((part) => anyOn(part)) &&
    crankshaft !== undefined &&
    anyOn(crankshaft) &&
    state.parts.ofKind(...VALVE_GEAR).every((part) => anyOn(part))
  );
}

/** Places in the turn at which some piston is at the top. */
function tops({ view, tdcOf }: Pick<State, 'view' | 'tdcOf'>): readonly Exact[] {
  const angles = firingAngles(view);
  const from = angles.get(tdcOf);
  if (from === undefined) return [ZERO];
  return [...angles.values()].map((angle) => within(minus(angle, from), TURN));
}

/** Whether one of the tops lies less than `near` from a place in the turn. */
function isNearTop(state: State, place: Exact): boolean {
  return tops(state).some((top) => {
    const past = within(minus(place, top), TURN);
    return compare(past, NEAR) < 0 || compare(minus(TURN, past), NEAR) < 0;
  });
}

/** So far from every top that the pistons stand well down. Where the tops come closer, some piston always stands near one. */
const WELL_DOWN = 45;

/**
 * Degrees back from a place in the turn to the nearest at which no piston is near the top: half way between two tops, as the crankpins and
 * the firing order have them. Undefined where there is no such place, as in a five-cylinder, whose tops lie 72 degrees apart.
 */
export function degreesBack(places: readonly number[], from: number): number | undefined {
  const sorted = [...new Set(places.map(withinTurn))].toSorted((a, b) => a - b);
  const middles = sorted.flatMap((top, i) => {
    const gap = (sorted[i + 1] ?? (sorted[0] ?? 0) + 360) - top;
    return gap / 2 >= WELL_DOWN ? [top + gap / 2] : [];
  });
  const back = middles.map((middle) => withinTurn(from - middle));
  return back.length === 0 ? undefined : Math.min(...back);
}

/** Degrees back from where the marks of a drive agree to where no piston is near the top; undefined where there is no such place. */
export function turnBackFromMarks(view: View, drive: Drive): number | undefined {
  const tdcOf = drive.marksAgree?.cylinder ?? 1;
  const from = agreeAngle(view, drive, tdcOf);
  return from === undefined ? undefined : degreesBack(tops({ view, tdcOf }).map(toNumber), toNumber(from.degrees));
}

/** What to do so that no valve meets a piston. */
function wayFromTop(state: State, place: Exact): Told {
  const back = degreesBack(tops(state).map(toNumber), toNumber(place));
  return back === undefined
    ? told`In this engine some piston always stands near the top: set the camshaft to its mark, and pin it, before the head goes on.`
    : told`Turn the crankshaft back ${Math.round(back)} degrees first, so that no piston is near the top.`;
}

/** A camshaft is turned while no drive couples it to the crankshaft. */
export function camshaftAlone(state: State, shaft: string, act: Act, span: Span): void {
  const part = state.parts.get(shaft);
  if (state.running.crank === undefined || part === undefined || state.atMark.has(shaft)) return;
  if (!canMeet(state) || !looseCamshafts(state).includes(part) || !isNearTop(state, state.running.crank.degrees))
    return;
  if (state.unsure) return;
  say(
    state,
    'sequence/valve-contact',
    act,
    told`${told.named(shaft)} is turned alone with the head on and a piston near the top: a valve can meet it. ${wayFromTop(state, state.running.crank.degrees)}`,
    {},
    span,
  );
}

/** The crankshaft is turned while a camshaft is not coupled to it: by an amount, or to a place in the turn. True when they can meet. */
export function crankshaftAlone(
  state: State,
  act: Act,
  span: Span,
  by: Exact | undefined,
  to: Exact | undefined,
): boolean {
  if (!canMeet(state)) return false;
  const cams = looseCamshafts(state);
  if (cams.length === 0) return false;
  const allAtMark = cams.every((part) => state.atMark.has(part.part.name) || part.pinned !== undefined);
  const meets = by === undefined ? !allAtMark && comesNear(state, to) : passesTop(state, by, allAtMark);
  if (!meets || state.unsure) return false;
  say(
    state,
    'sequence/valve-contact',
    act,
    told`${told.named(state.crankshaft ?? '')} is turned with the head on while nothing couples ${told.named(cams[0]?.part.name ?? '')} to it: a piston can meet a valve on its way to the top. Set the camshafts to their marks first, or turn after the drive is on.`,
    {},
    span,
  );
  return true;
}

/** Whether it surely moves, and to a place near a top. Where nobody knows how it stands, it may stand there already. */
function comesNear(state: State, to: Exact | undefined): boolean {
  if (to === undefined || state.running.crank === undefined || !isNearTop(state, to)) return false;
  return !isZero(within(minus(to, state.running.crank.degrees), TURN));
}

/** Whether a turn leads over a top. Where it begins is no matter; where it ends is none if all marks agree there. */
function passesTop(state: State, by: Exact, allAtMark: boolean): boolean {
  const size = absolute(by);
  if (compare(size, TURN) >= 0) return true;
  if (state.running.crank === undefined) return false;
  const start = state.running.crank.degrees;
  const forward = compare(by, ZERO) > 0;
  const end = { degrees: within(plus(start, by), TURN), ofCycle: false };
  const marks = state.view.drives.map((drive) => agreeAngle(state.view, drive, state.tdcOf));
  const endsAtMarks = allAtMark && marks.some((each) => each !== undefined && isZero(pastInTurn(end, each)));
  return tops(state).some((top) => {
    const away = within(forward ? minus(top, start) : minus(start, top), TURN);
    if (isZero(away)) return false;
    const reached = compare(away, size) < 0 || (compare(minus(away, NEAR), size) < 0 && compare(away, NEAR) > 0);
    return reached && !(endsAtMarks && isZero(within(minus(away, size), TURN)));
  });
}

function isZero(value: Exact | undefined): boolean {
  return value !== undefined && toNumber(value) === 0;
}

/** A head goes on with its camshaft in it, some valves open, while a piston stands near the top. */
export function headOnto(state: State, head: PartState, act: Act): void {
  const { crank } = state.running;
  if (!isA(head.part, 'head') || crank === undefined || state.view.engine?.interference !== true) return;
  const camshaft = state.parts
    .ofKind('camshaft')
    .find(({ mate, on }) => mate === head.part.name && on.some((each) => each !== OFF));
  const pistons = state.parts.ofKind('piston');
  if (camshaft === undefined || pistons.length === 0 || !pistons.every((part) => anyOn(part))) return;
  if (state.atMark.has(camshaft.part.name) || camshaft.pinned !== undefined || !isNearTop(state, crank.degrees)) return;
  if (state.unsure) return;
  say(
    state,
    'sequence/valve-contact',
    act,
    told`${told.thing(head.part)} goes on with ${told.thing(camshaft.part)} in it and a piston near the top: valves that stand open meet it. ${wayFromTop(state, crank.degrees)}`,
  );
}
