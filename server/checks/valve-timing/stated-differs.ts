// A stated duration, centre, separation or overlap that the events contradict; or one event that contradicts several of them.
import { lookUp } from '../../../grammar/look-up.ts';
import { type QuantityArgument, type TermArgument, told } from '../../../grammar/told.ts';
import type { Events, Span } from '../../../grammar/tree.ts';
import {
  compare,
  decimalPlaces,
  type Exact,
  exact,
  minus,
  over,
  plus,
  ratioOf,
  roundTo,
  times,
  toNumber,
  wholeNumber,
  ZERO,
} from '../../mechanics/exact.ts';
import { factorOf, unitOf, unitText } from '../../mechanics/units.ts';
import type { EventAngles } from '../../mechanics/valve-timing.ts';
import { type StatedResult, statedValues, valuesFrom, workOutTiming } from '../../model/valve-sums.ts';
import type { ValveTiming } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import { change, inWords } from '../support.ts';
import page from './stated-differs.md';

const WORDS: Readonly<Record<string, string>> = {
  'inlet-duration': 'inlet duration',
  'exhaust-duration': 'exhaust duration',
  'inlet-centre': 'inlet centre',
  'exhaust-centre': 'exhaust centre',
  separation: 'separation',
  overlap: 'overlap',
};
const EVENTS: readonly {
  readonly key: keyof EventAngles;
  readonly word: 'inlet' | 'exhaust';
  readonly part: 'opens' | 'closes';
}[] = [
  { key: 'inletOpens', word: 'inlet', part: 'opens' },
  { key: 'inletCloses', word: 'inlet', part: 'closes' },
  { key: 'exhaustOpens', word: 'exhaust', part: 'opens' },
  { key: 'exhaustCloses', word: 'exhaust', part: 'closes' },
];
const HALF = ratioOf(1, 2) ?? ZERO;
const ONE_DEGREE = wholeNumber(1) ?? ZERO;

const shown = (angle: Exact): string => String(Number(toNumber(angle).toFixed(2)));

/** Whether a worked-out value is the stated one, allowing for its rounding. */
function agrees(result: StatedResult, worked: Exact): boolean {
  const half = times(result.last, HALF);
  return compare(worked, minus(result.stated.low, half)) >= 0 && compare(worked, plus(result.stated.high, half)) <= 0;
}

/** By how much an event would have to be later for every stated value to be right; undefined where no shift of it does that. */
function shiftOf(
  event: keyof EventAngles,
  angles: Partial<EventAngles>,
  stated: readonly StatedResult[],
  first: StatedResult,
): Exact | undefined {
  const at = angles[event];
  const moved = at === undefined ? undefined : valuesFrom({ ...angles, [event]: plus(at, ONE_DEGREE) })[first.key];
  const steep = moved === undefined ? undefined : minus(moved, first.worked);
  const middle = times(plus(first.stated.low, first.stated.high), HALF);
  const shift = steep === undefined ? undefined : over(minus(middle, first.worked), steep);
  if (at === undefined || shift === undefined) return undefined;
  const values = valuesFrom({ ...angles, [event]: plus(at, shift) });
  return stated.every((each) => {
    const value = values[each.key];
    return value !== undefined && agrees(each, value);
  })
    ? shift
    : undefined;
}

function eventSpan(
  timing: ValveTiming,
  word: string,
  part: 'opens' | 'closes',
):
  | { readonly span: Span; readonly angle: Span; readonly number: string | undefined; readonly from: string }
  | undefined {
  const statement = timing.statements.find((each): each is Events => each.kind === 'events' && each.word === word);
  const event = statement?.[part];
  if (event === undefined) return undefined;
  const plain =
    event.angle.kind === 'quantity' && event.angle.minutes === undefined && event.angle.unit?.parts?.[0]?.unit === 'deg'
      ? event.angle.number
      : undefined;
  return {
    span: { start: event.angle.start, end: event.from.end },
    angle: plain ?? event.angle,
    number: plain?.text,
    from: event.from.word,
  };
}

const degrees = (angle: Exact): QuantityArgument => figure(shown(angle), 'deg');

/** What a stated value is called: `inlet duration`. */
function calledOf(word: string): TermArgument {
  return told.term(lookUp(WORDS, word) ?? word);
}

const QUARTER = wholeNumber(90) ?? ZERO;
const HALF_TURN = wholeNumber(180) ?? ZERO;

/** An event as cam cards give it: so much before or after the dead centre that is nearer. `later` is how far behind its own one it lies, in degrees. */
function eventAs(later: Exact, from: string): { readonly angle: string; readonly from: string } {
  let [away, centre] = [later, from.slice(1)];
  const flip = (by: Exact): void => {
    away = plus(away, by);
    centre = centre === 'tdc' ? 'bdc' : 'tdc';
  };
  for (let i = 0; i < 4 && compare(away, QUARTER) > 0; i += 1) flip(minus(ZERO, HALF_TURN));
  for (let i = 0; i < 4 && compare(away, minus(ZERO, QUARTER)) < 0; i += 1) flip(HALF_TURN);
  const before = compare(away, ZERO) < 0 || (compare(away, ZERO) === 0 && from.startsWith('b'));
  return { angle: shown(before ? minus(ZERO, away) : away), from: `${before ? 'b' : 'a'}${centre}` };
}

function sayEvent(
  timing: ValveTiming,
  wrong: readonly StatedResult[],
  event: (typeof EVENTS)[number],
  shift: Exact,
  report: Report,
): boolean {
  const place = eventSpan(timing, event.word, event.part);
  const number = place?.number === undefined ? undefined : exact(place.number);
  if (place === undefined) return false;
  const later = number === undefined || place.from.startsWith('a') ? number : minus(ZERO, number);
  const right =
    later === undefined || !/^[ab][tb]dc$/.test(place.from) ? undefined : eventAs(plus(later, shift), place.from);
  const stated = wrong.map(
    (each) =>
      told`${calledOf(each.statement.what.word)} ${degrees(each.worked)} where ${shown(each.stated.low)} is stated`,
  );
  report(
    timing.placed,
    place.span,
    right === undefined
      ? told`With this event the figures come to ${inWords(stated)}.`
      : told`With this event the figures come to ${inWords(stated)}. ${figure(right.angle, 'deg')} ${right.from} would make all of them right.`,
    {
      related: wrong.map((each) => ({
        placed: timing.placed,
        span: each.statement.value,
        message: told`The events make it ${degrees(each.worked)}.`,
      })),
      fixes:
        right === undefined || place.number === undefined
          ? []
          : [
              change(
                timing.placed,
                place.span,
                `${right.angle} deg ${right.from}`,
                told`Change ${place.number} deg ${place.from} to ${right.angle} deg ${right.from}`,
              ),
            ],
    },
  );
  return true;
}

/** `243°36'`, to the nearest minute: as it is stated, so is it told. */
function inMinutes(angle: Exact): string {
  const minutes = Math.round(toNumber(angle) * 60);
  const whole = Math.floor(Math.abs(minutes) / 60);
  return `${minutes < 0 ? '-' : ''}${whole}°${String(Math.abs(minutes) % 60).padStart(2, '0')}'`;
}

function sayStated(timing: ValveTiming, result: StatedResult, report: Report): void {
  const { value } = result.statement;
  const places = value.kind === 'quantity' ? (decimalPlaces(value.number.text) ?? 0) : 0;
  const inUnit = over(result.worked, factorOf(result.unit));
  const rounded = inUnit === undefined ? undefined : String(Number(toNumber(roundTo(inUnit, places)).toFixed(places)));
  const exactly =
    inUnit !== undefined && compare(roundTo(inUnit, places), inUnit) === 0
      ? rounded
      : inUnit === undefined
        ? undefined
        : String(Number(toNumber(inUnit).toFixed(2)));
  const word = lookUp(WORDS, result.statement.what.word) ?? result.statement.what.word;
  const written = timing.placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
  const unit = unitText(result.unit.length === 0 ? unitOf('deg') : result.unit);
  const isInMinutes = value.kind === 'quantity' && value.minutes !== undefined;
  const right = isInMinutes
    ? told.quantity(inMinutes(result.worked), toNumber(result.worked), 'deg')
    : figure(exactly ?? shown(result.worked), unit);
  report(
    timing.placed,
    value,
    word === 'separation'
      ? told`The events make a ${told.term(word)} of ${right}, and ${written} is stated. See which one the source means.`
      : told`The events make an ${calledOf(result.statement.what.word)} of ${right}, and ${written} is stated. See which one the source means.`,
    {
      fixes:
        value.kind === 'quantity' && value.minutes === undefined && exactly !== undefined
          ? [change(timing.placed, value.number, exactly, told`Change ${written} to ${exactly} ${unit}`)]
          : [],
      related: EVENTS.filter((event) => word.startsWith(event.word) || !/inlet|exhaust/.test(word)).flatMap((event) => {
        const place = eventSpan(timing, event.word, event.part);
        return place === undefined ? [] : [{ placed: timing.placed, span: place.span, message: told`The event.` }];
      }),
    },
  );
}

/** The stated values that the events contradict. */
export function contradicted(timing: ValveTiming): readonly StatedResult[] {
  return statedValues(timing).filter((result) => !agrees(result, result.worked));
}

export const statedDiffers: ThingCheck<'valve-timing'> = {
  code: 'valve-timing/stated-differs',
  severity: 'error',
  scope: 'thing',
  of: ['valve-timing'],
  page,
  run(thing, _view, report) {
    if (thing.broken) return;
    const wrong = contradicted(thing);
    const first = wrong[0];
    const angles = workOutTiming(thing)?.angles;
    if (first === undefined || angles === undefined) return;
    if (wrong.length > 1) {
      const stated = statedValues(thing);
      const shifts = EVENTS.flatMap((event) => {
        const shift = shiftOf(event.key, angles, stated, first);
        return shift === undefined ? [] : [{ event, shift }];
      });
      const only = shifts[0];
      if (only !== undefined && shifts.length === 1 && sayEvent(thing, wrong, only.event, only.shift, report)) return;
    }
    for (const result of wrong) sayStated(thing, result, report);
  },
};
