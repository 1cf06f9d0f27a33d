// Valve events outside what engines do.

import { lookUp } from '../../../grammar/look-up.ts';
import { type QuantityArgument, type Told, told } from '../../../grammar/told.ts';
import type { Events, Span } from '../../../grammar/tree.ts';
import { compare, type Exact, exact, toNumber, ZERO } from '../../mechanics/exact.ts';
import { type EventAngles, type UnusualValue, unusualTiming } from '../../mechanics/valve-timing.ts';
import { otherEnd, rockerRatio, TIMING_VALUES, workOutTiming } from '../../model/valve-sums.ts';
import type { ValveTiming, View } from '../../model/view.ts';
import { nameSpan, type Report, type ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import { contradicted } from './stated-differs.ts';
import page from './unusual.md';

const EVENTS: Readonly<Record<string, readonly [valve: 'inlet' | 'exhaust', part: 'opens' | 'closes']>> = {
  inletOpens: ['inlet', 'opens'],
  inletCloses: ['inlet', 'closes'],
  exhaustOpens: ['exhaust', 'opens'],
  exhaustCloses: ['exhaust', 'closes'],
};
/** Everyday events, for the valve whose timing is not given here: both valves are judged at once. */
const EVERYDAY: EventAngles = {
  inletOpens: exact('-12') ?? ZERO,
  inletCloses: exact('228') ?? ZERO,
  exhaustOpens: exact('-230') ?? ZERO,
  exhaustCloses: exact('14') ?? ZERO,
};

const degrees = (angle: number): QuantityArgument => figure(String(Number(angle.toFixed(1))), 'deg');

/** An angle on the scale with top dead centre on overlap at 0, as the trade writes it. */
function written(angle: number): Told {
  const of = (size: number, before: string, after: string): Told =>
    size < 0 ? told`${degrees(-size)} ${before}` : told`${degrees(size)} ${after}`;
  return angle < -90
    ? of(angle + 180, 'bbdc', 'abdc')
    : angle > 90
      ? of(angle - 180, 'bbdc', 'abdc')
      : of(angle, 'btdc', 'atdc');
}

function eventSpan(timing: ValveTiming, value: UnusualValue['value']): Span | undefined {
  const event = EVENTS[value];
  const statement =
    event === undefined
      ? undefined
      : timing.statements.find((each): each is Events => each.kind === 'events' && each.word === event[0]);
  const place = event === undefined ? undefined : statement?.[event[1]];
  return place === undefined ? undefined : { start: place.angle.start, end: place.from.end };
}

export const unusual: ThingCheck<'valve-timing'> = {
  code: 'valve-timing/unusual',
  severity: 'warning',
  scope: 'thing',
  of: ['valve-timing'],
  page,
  run(thing, view, report) {
    if (thing.broken || contradicted(thing).length > 0) return;
    sayRatio(thing, report);
    const result = workOutTiming(thing);
    if (result === undefined) return;
    const found = unusualTiming({ ...EVERYDAY, ...result.angles });
    // A phaser is parked where the engine starts well, not where it runs: what is usual at its other end is no slip.
    const shifted = otherEnd(thing)?.angles;
    if (shifted !== undefined && unusualTiming({ ...EVERYDAY, ...shifted }).length === 0) {
      sayOtherBank(thing, view, report);
      return;
    }
    if (found.length === 0) {
      sayParked(thing, shifted, report);
      sayOtherBank(thing, view, report);
    }
    const events = found.flatMap((each) => {
      const span = eventSpan(thing, each.value);
      return span === undefined ? [] : [{ span, each }];
    });
    for (const { span, each } of events) {
      const [valve, part] = lookUp(EVENTS, each.value) ?? ['inlet', 'opens'];
      report(
        thing.placed,
        span,
        told`Hardly any engine's ${told.term(valve)} valve ${told.term(part)} here: ${written(toNumber(each.low))} to ${written(toNumber(each.high))} is the most that engines do. Was another dead centre or another figure meant?`,
      );
    }
    const word = (each: UnusualValue): string | undefined =>
      Object.entries(TIMING_VALUES).find(
        ([, value]) => value === each.value && result.values[value] !== undefined,
      )?.[0];
    const value = events.length > 0 ? undefined : found.find((each) => word(each) !== undefined);
    if (value === undefined) return;
    const name = word(value) ?? '';
    const worked = result.values[lookUp(TIMING_VALUES, name) ?? 'overlap'];
    report(
      thing.placed,
      nameSpan(thing.placed),
      told`These events make ${told.term(name.replace('-', ' '))} ${worked === undefined ? '' : degrees(toNumber(worked))}; engines have ${String(toNumber(value.low))} to ${degrees(toNumber(value.high))}. See the events again.`,
    );
  },
};

/** The events are usual where the phaser is parked, and are none that any engine has at its other end. */
function sayParked(timing: ValveTiming, shifted: Partial<EventAngles> | undefined, report: Report): void {
  const { phaser } = timing;
  const parked = phaser?.parked;
  if (phaser === undefined || parked?.known !== true || shifted === undefined) return;
  const [first] = unusualTiming({ ...EVERYDAY, ...shifted });
  if (first === undefined) return;
  report(
    timing.placed,
    parked,
    parked.word === 'retarded'
      ? told`Parked retarded, the phaser moves these events earlier as it runs, to where hardly any engine has them. See whether it is parked advanced, or how far it moves.`
      : told`Parked advanced, the phaser moves these events later as it runs, to where hardly any engine has them. See whether it is parked retarded, or how far it moves.`,
    { severity: 'information' },
  );
}

/** `right-inlet-grind` and `left-inlet-grind`: the camshafts of two banks open their valves alike. Common practice, no source. */
function sayOtherBank(timing: ValveTiming, view: View, report: Report): void {
  if (!/(^|-)right(-|$)/.test(timing.name)) return;
  const other = view.things.get(timing.name.replace(/(^|-)right(-|$)/, '$1left$2'));
  if (other?.kind !== 'valve-timing' || other.broken) return;
  const [own, its] = [workOutTiming(timing)?.angles, workOutTiming(other)?.angles];
  if (own === undefined || its === undefined) return;
  const names = Object.keys(EVENTS) as UnusualValue['value'][];
  const differs = names.find((name) => {
    const [one, two] = [lookUp(own as Record<string, Exact>, name), lookUp(its as Record<string, Exact>, name)];
    return one !== undefined && two !== undefined && compare(one, two) !== 0;
  });
  const span = differs === undefined ? undefined : eventSpan(timing, differs);
  const there = differs === undefined ? undefined : eventSpan(other, differs);
  if (span === undefined || there === undefined) return;
  const text = (of: ValveTiming, at: Span): string =>
    of.placed.section.text.slice(at.start, at.end).replace(/\s+/g, ' ');
  report(
    timing.placed,
    span,
    told`${text(timing, span)} here, and ${text(other, there)} in ${told.thing(other)}: the valves of both banks open and close alike in nearly every engine. See which of the two is meant.`,
    {
      severity: 'information',
      related: [{ placed: other.placed, span: there, message: told`${told.thing(other)} is told here` }],
    },
  );
}

/** Valve gear has the valve move as far as the lobe, or up to twice as far; a little less in old side-valve gear. Common practice, no source. */
const USUAL_RATIO = { least: 0.8, most: 2.2 };

function sayRatio(timing: ValveTiming, report: Report): void {
  const written = timing.statements.find((each) => each.word === 'rocker-ratio');
  const exactly = rockerRatio(timing);
  const ratio = exactly === undefined ? undefined : toNumber(exactly);
  if (written === undefined || ratio === undefined || (ratio >= USUAL_RATIO.least && ratio <= USUAL_RATIO.most)) return;
  report(
    timing.placed,
    written,
    told`A rocker ratio of ${String(ratio)} to 1 is none that valve gear has: ${String(USUAL_RATIO.least)} to ${String(USUAL_RATIO.most)} is usual.`,
  );
}
