// Works out valve timings: durations, centres, separation and overlap from the events, and what the spec states of them.
import type { Events, Stated, ValveEvent as WrittenEvent } from '../../grammar/tree.ts';
import { type Exact, ZERO } from '../mechanics/exact.ts';
import { type DeadCentre, type EventAngles, eventAngles, type ValveEvent, type ValveTimingValues, valveTiming } from '../mechanics/valve-timing.ts';
import { kindOf } from '../mechanics/units.ts';
import { measureOf } from './measure.ts';
import type { ValveTiming } from './view.ts';

/** The values by their names in the language. */
export const TIMING_VALUES: Readonly<Record<string, keyof ValveTimingValues>> = {
  'inlet-duration': 'inletDuration', 'exhaust-duration': 'exhaustDuration', 'inlet-centre': 'inletCentre', 'exhaust-centre': 'exhaustCentre', separation: 'separation', overlap: 'overlap',
};

export interface ValveTimingResult {
  readonly angles: EventAngles;
  readonly values: ValveTimingValues | undefined;
}

function eventOf(written: WrittenEvent | undefined): ValveEvent | undefined {
  const measure = written === undefined ? undefined : measureOf(written.angle);
  if (written === undefined || measure === undefined || kindOf(measure.unit) !== 'angle') return undefined;
  const word = written.from.word;
  if (word === 'tdc') return { angle: ZERO, from: 'atdc' };
  if (word === 'bdc') return { angle: ZERO, from: 'abdc' };
  return ['btdc', 'atdc', 'bbdc', 'abdc'].includes(word) ? { angle: measure.interval.nominal, from: word as DeadCentre } : undefined;
}

/** Works the events out; undefined where one is missing or unreadable. */
export function workOutTiming(timing: ValveTiming): ValveTimingResult | undefined {
  const events = (word: string): Events | undefined => timing.statements.find((statement): statement is Events => statement.kind === 'events' && statement.word === word);
  const [inlet, exhaust] = [events('inlet'), events('exhaust')];
  const [io, ic, eo, ec] = [eventOf(inlet?.opens), eventOf(inlet?.closes), eventOf(exhaust?.opens), eventOf(exhaust?.closes)];
  if (io === undefined || ic === undefined || eo === undefined || ec === undefined) return undefined;
  const angles = eventAngles({ inlet: { opens: io, closes: ic }, exhaust: { opens: eo, closes: ec } });
  return { angles, values: valveTiming(angles) };
}

export interface StatedResult {
  readonly statement: Stated;
  readonly stated: { readonly low: Exact; readonly high: Exact };
  readonly worked: Exact;
  readonly places: number;
}

/** What is stated beside what the events say. */
export function statedValues(timing: ValveTiming): readonly StatedResult[] {
  const values = workOutTiming(timing)?.values;
  if (values === undefined) return [];
  return timing.statements.flatMap((statement) => {
    const key = statement.kind === 'stated' ? TIMING_VALUES[statement.what.word] : undefined;
    if (statement.kind !== 'stated' || key === undefined || statement.value.kind === 'by-place') return [];
    const measure = measureOf(statement.value);
    return measure === undefined || kindOf(measure.unit) !== 'angle' ? [] : [{ statement, stated: measure.interval, worked: values[key], places: measure.places }];
  });
}
