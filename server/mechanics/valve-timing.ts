// Valve events: durations, centres, separation, overlap, and what shifts them. Angles are exact crank degrees, four-stroke.
// Source: definitions in general use; the worked rows of the reference values check them.

import { compare, type Exact, exact, minus, negate, over, plus, ratioOf, times, wholeNumber, ZERO } from './exact.ts';

/** Before or after top or bottom dead centre. */
export type DeadCentre = 'btdc' | 'atdc' | 'bbdc' | 'abdc';
export type ValveEvent = { readonly angle: Exact; readonly from: DeadCentre };
export type ValveEvents = {
  readonly inlet: { readonly opens: ValveEvent; readonly closes: ValveEvent };
  readonly exhaust: { readonly opens: ValveEvent; readonly closes: ValveEvent };
};

/** On one scale of crank degrees with top dead centre on overlap at 0: exhaust opens before, inlet closes after it. */
export type EventAngles = {
  readonly inletOpens: Exact;
  readonly inletCloses: Exact;
  readonly exhaustOpens: Exact;
  readonly exhaustCloses: Exact;
};

/** Crank degrees; `separation` in cam degrees, as the trade gives it; the inlet centre after, the exhaust centre before top dead centre. */
export type ValveTimingValues = {
  readonly inletDuration: Exact;
  readonly exhaustDuration: Exact;
  readonly inletCentre: Exact;
  readonly exhaustCentre: Exact;
  readonly separation: Exact;
  readonly overlap: Exact;
  readonly bothSeated: Exact;
};

const HALF = ratioOf(1, 2) ?? ZERO;
const HALF_TURN = wholeNumber(180) ?? ZERO;
const CYCLE = wholeNumber(720) ?? ZERO;

/** The dead centres an inlet valve works about are those at 0 and 180, an exhaust valve's at -180 and 0. */
export function eventAngles(events: ValveEvents): EventAngles {
  return {
    inletOpens: angleOf(events.inlet.opens, HALF_TURN),
    inletCloses: angleOf(events.inlet.closes, HALF_TURN),
    exhaustOpens: angleOf(events.exhaust.opens, negate(HALF_TURN)),
    exhaustCloses: angleOf(events.exhaust.closes, negate(HALF_TURN)),
  };
}

/** `undefined` where a valve would close before it opens, or stay open for a whole cycle. Overlap is negative where there is none. */
export function valveTiming(angles: EventAngles): ValveTimingValues | undefined {
  const inletDuration = minus(angles.inletCloses, angles.inletOpens);
  const exhaustDuration = minus(angles.exhaustCloses, angles.exhaustOpens);
  for (const duration of [inletDuration, exhaustDuration]) {
    if (compare(duration, ZERO) <= 0 || compare(duration, CYCLE) >= 0) return undefined;
  }
  const inletCentre = times(plus(angles.inletOpens, angles.inletCloses), HALF);
  const exhaustCentre = negate(times(plus(angles.exhaustOpens, angles.exhaustCloses), HALF));
  const overlap = minus(angles.exhaustCloses, angles.inletOpens);
  return {
    inletDuration,
    exhaustDuration,
    inletCentre,
    exhaustCentre,
    separation: times(plus(inletCentre, exhaustCentre), HALF),
    overlap,
    bothSeated: minus(CYCLE, minus(plus(inletDuration, exhaustDuration), overlap)),
  };
}

/** All four events later by so many crank degrees (earlier for a negative angle): what a camshaft out by teeth does. Durations and overlap stay. */
export function shiftedEvents(angles: EventAngles, laterBy: Exact): EventAngles {
  return {
    inletOpens: plus(angles.inletOpens, laterBy),
    inletCloses: plus(angles.inletCloses, laterBy),
    exhaustOpens: plus(angles.exhaustOpens, laterBy),
    exhaustCloses: plus(angles.exhaustCloses, laterBy),
  };
}

/** Crank degrees for one tooth on a wheel that turns so many times for a turn of the crankshaft: 360 / (teeth · turns); 720 / teeth at half speed. */
export function oneTooth(teeth: number, turnsPerCrankTurn: Exact): Exact | undefined {
  const count = wholeNumber(teeth);
  if (count === undefined || teeth <= 0) return undefined;
  return over(wholeNumber(360) ?? ZERO, times(count, turnsPerCrankTurn.abs()));
}

/** Valve lift from lobe lift and rocker ratio. */
export function valveLift(lobeLift: Exact, rockerRatio: Exact): Exact {
  return times(lobeLift, rockerRatio);
}

/** Centre of a lobe from the two crank angles at equal lift either side of the peak. Common practice with a degree wheel, no source. */
export function centreFromEqualLift(rising: Exact, falling: Exact): Exact {
  return times(plus(rising, falling), HALF);
}

export type UnusualValue = {
  readonly value: keyof ValveTimingValues | keyof EventAngles;
  readonly low: Exact;
  readonly high: Exact;
};

const degrees = (text: string): Exact => exact(text) ?? ZERO;
/** Wide enough for road, racing and vintage engines, seat to seat or at a lift. Common practice, no source. */
const USUAL: readonly (readonly [keyof EventAngles, string, string])[] = [
  ['inletOpens', '-90', '60'],
  ['inletCloses', '180', '290'],
  ['exhaustOpens', '-290', '-180'],
  ['exhaustCloses', '-60', '90'],
];
const USUAL_VALUES: readonly (readonly [keyof ValveTimingValues, string, string])[] = [
  ['inletDuration', '170', '350'],
  ['exhaustDuration', '170', '350'],
  ['inletCentre', '85', '130'],
  ['exhaustCentre', '85', '130'],
  ['separation', '90', '125'],
  ['overlap', '-60', '150'],
];

/** Events and values outside what engines do, each with the usual range. Common practice, no source. */
export function unusualTiming(angles: EventAngles): readonly UnusualValue[] {
  const values = valveTiming(angles);
  const found: UnusualValue[] = [];
  const hold = (value: UnusualValue['value'], size: Exact, least: string, most: string): void => {
    const [low, high] = [degrees(least), degrees(most)];
    if (compare(size, low) < 0 || compare(size, high) > 0) found.push({ value, low, high });
  };
  for (const [name, least, most] of USUAL) hold(name, angles[name], least, most);
  if (values) for (const [name, least, most] of USUAL_VALUES) hold(name, values[name], least, most);
  return found;
}

function angleOf(event: ValveEvent, bottom: Exact): Exact {
  if (event.from === 'btdc') return negate(event.angle);
  if (event.from === 'atdc') return event.angle;
  return event.from === 'bbdc' ? minus(bottom, event.angle) : plus(bottom, event.angle);
}
