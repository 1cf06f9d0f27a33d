// Works out valve timings: durations, centres, separation and overlap from the events, and what the spec states of them.
import { lookUp } from '../../grammar/look-up.ts';
import type { Events, PlainValue, Stated, ValveEvent as WrittenEvent } from '../../grammar/tree.ts';
import {
  decimalPlaces,
  type Exact,
  exact,
  negate,
  ONE,
  over,
  plus,
  ratioOf,
  times,
  wholeNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { factorOf, kindOf, type Unit } from '../mechanics/units.ts';
import {
  type DeadCentre,
  type EventAngles,
  eventAngles,
  type ValveEvent,
  type ValveTimingValues,
  valveTiming,
} from '../mechanics/valve-timing.ts';
import { type Measure, measureOf } from './measure.ts';
import type { ValveTiming } from './view.ts';

/** The values by their names in the language. */
export const TIMING_VALUES: Readonly<Record<string, keyof ValveTimingValues>> = {
  'inlet-duration': 'inletDuration',
  'exhaust-duration': 'exhaustDuration',
  'inlet-centre': 'inletCentre',
  'exhaust-centre': 'exhaustCentre',
  separation: 'separation',
  overlap: 'overlap',
};

/** Lifts of a valve timing by their names in the language. */
export const TIMING_LIFTS: readonly string[] = ['valve-lift', 'lobe-lift'];

/**
 * The lift at the valve or at the lobe, in base units (mm): as it is said, or by the rocker ratio from the other. A lift that says neither
 * is the valve's, or the lobe's where a rocker ratio is given.
 */
export function liftOf(timing: ValveTiming, name: string): Measure | undefined {
  const lift = timing.statements.find((each) => each.word === 'lift');
  const ratio = rockerRatio(timing);
  if (lift?.kind !== 'value' || lift.value.kind === 'by-place') return undefined;
  const measure = measureOf(lift.value);
  if (measure === undefined || kindOf(measure.unit) !== 'length') return undefined;
  const isAtValve = lift.at === undefined ? ratio === undefined : lift.at.word === 'valve';
  if (isAtValve === (name === 'valve-lift')) return measure;
  const by = ratio === undefined ? undefined : name === 'valve-lift' ? ratio : over(ONE, ratio);
  if (by === undefined) return undefined;
  const { low, nominal, high } = measure.interval;
  return { ...measure, interval: { low: times(low, by), nominal: times(nominal, by), high: times(high, by) } };
}

/** Lift at the valve for one unit of lift at the lobe: 1.5 of `1.5:1`. */
export function rockerRatio(timing: ValveTiming): Exact | undefined {
  const said = timing.statements.find((each) => each.word === 'rocker-ratio');
  if (said?.kind !== 'number') return undefined;
  const [first, second] = [exact(said.number.text), said.to === undefined ? ONE : exact(said.to.text)];
  return first === undefined || second === undefined ? undefined : over(first, second);
}

export interface ValveTimingResult {
  /** Of the events that are given. */
  readonly angles: Partial<EventAngles>;
  /** What they say: of one camshaft of two, its own duration and centre alone. Empty where a valve would close before it opens. */
  readonly values: Partial<ValveTimingValues>;
}

function eventOf(written: WrittenEvent | undefined): ValveEvent | undefined {
  const measure = written === undefined ? undefined : measureOf(written.angle);
  if (written === undefined || measure === undefined || kindOf(measure.unit) !== 'angle') return undefined;
  const word = written.from.word;
  if (word === 'tdc') return { angle: ZERO, from: 'atdc' };
  if (word === 'bdc') return { angle: ZERO, from: 'abdc' };
  return ['btdc', 'atdc', 'bbdc', 'abdc'].includes(word)
    ? { angle: measure.interval.nominal, from: word as DeadCentre }
    : undefined;
}

const OF_INLET: readonly (keyof ValveTimingValues)[] = ['inletDuration', 'inletCentre'];
const OF_EXHAUST: readonly (keyof ValveTimingValues)[] = ['exhaustDuration', 'exhaustCentre'];

/** What the events at these angles say; empty where a valve would close before it opens. */
export function valuesFrom(angles: Partial<EventAngles>): Partial<ValveTimingValues> {
  const { inletOpens, inletCloses, exhaustOpens, exhaustCloses } = angles;
  const inlet = inletOpens === undefined || inletCloses === undefined ? undefined : { inletOpens, inletCloses };
  const exhaust =
    exhaustOpens === undefined || exhaustCloses === undefined ? undefined : { exhaustOpens, exhaustCloses };
  if (inlet !== undefined && exhaust !== undefined) return valveTiming({ ...inlet, ...exhaust }) ?? {};
  // One camshaft of two: its mirror image stands in for the other, and what depends on both is left out.
  const whole =
    inlet !== undefined
      ? valveTiming({ ...inlet, exhaustOpens: negate(inlet.inletCloses), exhaustCloses: negate(inlet.inletOpens) })
      : exhaust !== undefined
        ? valveTiming({
            ...exhaust,
            inletOpens: negate(exhaust.exhaustCloses),
            inletCloses: negate(exhaust.exhaustOpens),
          })
        : undefined;
  if (whole === undefined) return {};
  return Object.fromEntries((inlet !== undefined ? OF_INLET : OF_EXHAUST).map((key) => [key, whole[key]]));
}

/** Works the events out; undefined where one of those written is unreadable, or a valve has only one. */
export function workOutTiming(timing: ValveTiming): ValveTimingResult | undefined {
  const events = (word: string): Events | undefined =>
    timing.statements.find((statement): statement is Events => statement.kind === 'events' && statement.word === word);
  const [inlet, exhaust] = [events('inlet'), events('exhaust')];
  if (inlet === undefined && exhaust === undefined) return undefined;
  const none: ValveEvent = { angle: ZERO, from: 'atdc' };
  const [io, ic] = inlet === undefined ? [none, none] : [eventOf(inlet.opens), eventOf(inlet.closes)];
  const [eo, ec] = exhaust === undefined ? [none, none] : [eventOf(exhaust.opens), eventOf(exhaust.closes)];
  if (io === undefined || ic === undefined || eo === undefined || ec === undefined) return undefined;
  const { inletOpens, inletCloses, exhaustOpens, exhaustCloses } = eventAngles({
    inlet: { opens: io, closes: ic },
    exhaust: { opens: eo, closes: ec },
  });
  const angles = {
    ...(inlet === undefined ? {} : { inletOpens, inletCloses }),
    ...(exhaust === undefined ? {} : { exhaustOpens, exhaustCloses }),
  };
  return { angles, values: valuesFrom(angles) };
}

/** The events with the phaser at its other end: later where it is parked advanced, earlier where it is parked retarded. */
export function otherEnd(timing: ValveTiming): ValveTimingResult | undefined {
  const parked = workOutTiming(timing);
  const { phaser } = timing;
  if (parked === undefined || phaser?.parked?.known !== true || phaser.range.kind === 'by-place') return undefined;
  const range = measureOf(phaser.range);
  if (range === undefined || kindOf(range.unit) !== 'angle') return undefined;
  const by = phaser.parked.word === 'retarded' ? negate(range.interval.nominal) : range.interval.nominal;
  const angles = Object.fromEntries(
    Object.entries(parked.angles).map(([event, angle]) => [event, plus(angle, by)]),
  ) as Partial<EventAngles>;
  return { angles, values: valuesFrom(angles) };
}

export interface StatedResult {
  readonly statement: Stated;
  readonly key: keyof ValveTimingValues;
  readonly stated: { readonly low: Exact; readonly high: Exact };
  readonly worked: Exact;
  readonly unit: Unit;
  /** What the last place of the stated figure is worth, in base units: a minute where minutes are written. */
  readonly last: Exact;
}

function lastPlaceOf(value: PlainValue, measure: Measure): Exact {
  const minutes = value.kind === 'quantity' ? value.minutes : undefined;
  const places = minutes === undefined ? measure.places : (decimalPlaces(minutes.text) ?? 0);
  const last = over(factorOf(measure.unit), wholeNumber(10 ** places) ?? ONE) ?? ZERO;
  return minutes === undefined ? last : times(last, ratioOf(1, 60) ?? ONE);
}

/** What is stated beside what the events say. */
export function statedValues(timing: ValveTiming): readonly StatedResult[] {
  const values = workOutTiming(timing)?.values;
  if (values === undefined) return [];
  return timing.statements.flatMap((statement) => {
    const key = statement.kind === 'stated' ? lookUp(TIMING_VALUES, statement.what.word) : undefined;
    if (statement.kind !== 'stated' || key === undefined || statement.value.kind === 'by-place') return [];
    const measure = measureOf(statement.value);
    const worked = values[key];
    return measure === undefined || worked === undefined || kindOf(measure.unit) !== 'angle'
      ? []
      : [
          {
            statement,
            key,
            stated: measure.interval,
            worked,
            unit: measure.unit,
            last: lastPlaceOf(statement.value, measure),
          },
        ];
  });
}
