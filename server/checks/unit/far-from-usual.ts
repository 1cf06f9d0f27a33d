// Times, speeds and temperatures of the work that nobody means: a run above the redline, a sealant that cures in seconds, a starter that turns
// for minutes. Wide enough that no workshop goes beyond (judgement; no source).
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import type { Value } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { parseThread } from '../../mechanics/threads.ts';
import { kindOf } from '../../mechanics/units.ts';
import { engineMeasure } from '../../model/engine-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import { isA } from '../../model/trade-names.ts';
import type { Fastener, Step, Supply, ValveTiming, View } from '../../model/view.ts';
import type { Report } from '../check.ts';
import { tooFast } from '../engine/impossible.ts';

const MINUTE = 60;
const HOUR = 60 * MINUTE;
const ZERO_CELSIUS = 273.15;

/** What lies between is told by nobody; in base units: seconds, kelvin, degrees a second. */
const RUN_TIME = { least: 1, most: 12 * HOUR };
const CRANK_TIME = { least: 1, most: 3 * MINUTE };
const CURE = { least: 4 * MINUTE, most: 10 * 24 * HOUR };
const OPEN_TIME = { least: 30, most: 4 * HOUR };
const WARM = { least: ZERO_CELSIUS + 35, most: ZERO_CELSIUS + 150 };
/** Of a bolt: nut factor and coefficient of friction, from the slipperiest lubricant to rust. No unit. */
const NUT_FACTOR = { least: 0.05, most: 0.5 };
const FRICTION = { least: 0.03, most: 0.6 };
/** Of a valve, in mm. */
const LIFT = { least: 2, most: 40 };
/** The slowest that any engine runs, in turns a minute, and the part of its redline that none runs below. */
const SLOWEST = 150;
const PART_OF_REDLINE = 15;
/** Degrees: hunting gears may need some hundred turns. */
const BY_HAND = { least: 0, most: 300 * 360 };
/** What parts are heated to before they are fitted: beyond it steel loses its temper. */
const HEAT = { least: ZERO_CELSIUS + 40, most: ZERO_CELSIUS + 400 };
/** A retorque may bring up what was only snugged, but not ten times; a draw-up is no more than twice what the bolt gets. */
const RETORQUE = { least: 0.25, most: 4 };
const DRAW_UP = 2;
/** A gauge reads so much too high. */
const GAUGE = 1.05;

interface Ends {
  readonly low: number;
  readonly high: number;
}

function endsOf(value: Value | undefined, kind: string): Ends | undefined {
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  if (measure === undefined || kindOf(measure.unit) !== kind) return undefined;
  return { low: toNumber(measure.interval.low), high: toNumber(measure.interval.high) };
}

const textAt = (placed: Placed, span: { readonly start: number; readonly end: number }): string =>
  placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');

type Bounds = { readonly least: number; readonly most: number };

/** Says a value beyond bounds, in words that have what is written in them. */
function sayBeyond(
  placed: Placed,
  value: Value | undefined,
  kind: string,
  { least, most }: Bounds,
  words: (written: string) => Told,
  report: Report,
): void {
  const ends = endsOf(value, kind);
  if (value === undefined || ends === undefined || (ends.low >= least && ends.high <= most)) return;
  report(placed, value, told`${words(textAt(placed, value))} See whether a point or a unit slipped.`);
}

/** The first speed, of all runs of the spec, beyond so many turns a minute. */
function firstBeyond({ sequences }: View, most: number): Value | undefined {
  return sequences
    .flatMap(({ steps }) => steps)
    .flatMap(({ statements }) => statements)
    .flatMap((each) => (each.kind === 'run' ? (each.at ?? []) : []))
    .find((at) => (endsOf(at, 'speed')?.low ?? 0) / 6 > most);
}

function saySpeed(placed: Placed, value: Value | undefined, view: View, report: Report): void {
  const speed = endsOf(value, 'speed');
  if (value === undefined || speed === undefined) return;
  const written: Argument = textAt(placed, value);
  const redline = engineMeasure('redline', view);
  // Turns a minute are six degrees a second.
  const perMinute = { low: speed.low / 6, high: speed.high / 6 };
  const most =
    redline === undefined || kindOf(redline.unit) !== 'speed' ? undefined : toNumber(redline.stack.interval.high) / 6;
  if (most !== undefined && perMinute.low > most * GAUGE) {
    // Of several runs one redline is at fault: the first is told.
    if (value !== firstBeyond(view, most * GAUGE)) return;
    report(
      placed,
      value,
      told`The engine is run at ${written} here, and its redline is ${String(Math.round(most))} rpm. See whether a point or a unit slipped.`,
    );
  } else if (perMinute.high < Math.max(SLOWEST, tooFast(view) === undefined ? (most ?? 0) / PART_OF_REDLINE : 0))
    report(
      placed,
      value,
      told`This engine does not run as slowly as ${written}. See whether a point or a unit slipped.`,
    );
}

/** Runs of the engine, on its own or on the starter. */
export function sayFarRuns(step: Step, view: View, report: Report): void {
  const { placed } = step;
  for (const each of step.statements) {
    if (each.kind === 'run') {
      saySpeed(placed, each.at, view, report);
      const long = (written: string): Told => told`No engine is run for ${written} in one go at the bench.`;
      sayBeyond(placed, each.for, 'time', RUN_TIME, long, report);
      const warm = (written: string): Told => told`No engine is run until it is at ${written}.`;
      sayBeyond(placed, each.until, 'temperature', WARM, warm, report);
    }
    if (each.kind === 'action' && each.word === 'fit') {
      const hot = (written: string): Told => told`No part is heated to ${written} before it is fitted.`;
      sayBeyond(placed, each.at, 'temperature', HEAT, hot, report);
    }
    if (each.kind === 'rotate') {
      const far = (written: string): Told => told`Nobody turns an engine by hand for ${written}.`;
      sayBeyond(placed, each.amount, 'angle', BY_HAND, far, report);
    }
    if (each.kind === 'crank') {
      const long = (written: string): Told => told`A starter is not held for ${written}.`;
      sayBeyond(placed, each.for, 'time', CRANK_TIME, long, report);
    }
  }
}

/** How long a sealant takes, and how long it stays open. */
export function sayFarTimes(supply: Supply, report: Report): void {
  for (const each of supply.statements) {
    if (each.kind !== 'value') continue;
    const { placed } = supply;
    if (each.word === 'cure')
      sayBeyond(placed, each.value, 'time', CURE, (written) => told`No sealant takes ${written} to cure.`, report);
    if (each.word === 'close-within')
      sayBeyond(
        placed,
        each.value,
        'time',
        OPEN_TIME,
        (written) => told`No sealant stays open for ${written}.`,
        report,
      );
  }
}

/** How high a valve opens. */
export function sayFarLift({ placed, statements }: ValveTiming, report: Report): void {
  for (const each of statements)
    if (each.kind === 'value' && each.word === 'lift')
      sayBeyond(placed, each.value, 'length', LIFT, (written) => told`No valve opens ${written}.`, report);
}

/** Torques besides the stages that have nothing to do with them: of a retorque, and of a draw-up. */
export function sayFarTorques({ placed, statements, stages }: Fastener, report: Report): void {
  const torques = stages.flatMap(({ kind, value }) => (kind === 'torque' ? (endsOf(value, 'torque') ?? []) : []));
  const last = torques.at(-1);
  if (last === undefined) return;
  const highest = Math.max(...torques.map(({ high }) => high));
  for (const each of statements) {
    // Where an angle follows, the torque before it is not what the bolt is tight with.
    if (each.kind === 'retorque' && stages.at(-1)?.kind === 'torque') {
      const { value } = each.stage;
      const ends = endsOf(value, 'torque');
      if (value === undefined || ends === undefined) continue;
      if (ends.low <= last.high * RETORQUE.most && ends.high >= last.low * RETORQUE.least) continue;
      const stage = stages.at(-1);
      report(
        placed,
        value,
        told`It is tightened to ${textAt(placed, stage?.span ?? value)}, and again to ${textAt(placed, value)}: that is another joint. See whether a point or a unit slipped.`,
      );
    }
    if (each.kind === 'draw-up') {
      const ends = endsOf(each.value, 'torque');
      if (ends === undefined || ends.low <= highest * DRAW_UP) continue;
      report(
        placed,
        each.value,
        told`The parts are drawn together with ${textAt(placed, each.value)}, more than twice of what the bolt itself gets. See whether a point or a unit slipped.`,
      );
    }
  }
}

/** Threads of spark plugs: ISO 1919, 2344, 2704, 28741, and the smallest and the old ones; from memory. */
const PLUG_THREADS: ReadonlySet<string> = new Set(['M8x1', 'M10x1', 'M12x1.25', 'M14x1.25', 'M18x1.5']);

/** A metric spark plug with a thread that none has. */
export function sayFarPlug(fastener: Fastener, report: Report): void {
  const { placed, statements } = fastener;
  const said = statements.find((each) => each.kind === 'thread');
  const thread = fastener.thread === undefined ? undefined : parseThread(fastener.thread);
  if (!isA(fastener, 'spark-plug') || said?.kind !== 'thread' || thread === undefined) return;
  if (!thread.designation.startsWith('M') || PLUG_THREADS.has(thread.designation)) return;
  report(
    placed,
    said.designationSpan,
    told`No spark plug has ${thread.designation}: they have ${told.list([...PLUG_THREADS], 'or')}. See whether a figure slipped.`,
  );
}

/** Of its length, what the strongest bolt stretches by before it breaks, and some. Judgement; no source. */
const MOST_STRETCH = 0.015;
/** Of its thread, what the bolt of a rod, which is no longer than ten times that, stretches by. Judgement; no source. */
const MOST_OF_ROD_BOLT = 0.1;

/** A bolt that would be stretched by more than any can be. */
function sayFarStretch(fastener: Fastener, report: Report): void {
  const { placed, statements } = fastener;
  const said = statements.find((each) => each.kind === 'value' && each.word === 'stretch');
  const ends = said?.kind === 'value' ? endsOf(said.value, 'length') : undefined;
  if (said?.kind !== 'value' || ends === undefined) return;
  const length = statements.find((each) => each.kind === 'value' && each.word === 'length');
  const whole = length?.kind === 'value' ? endsOf(length.value, 'length')?.high : undefined;
  const thread = fastener.thread === undefined ? undefined : parseThread(fastener.thread)?.diameter;
  const ofRod = fastener.clamps.some(({ part }) => isA(part, 'rod-cap')) ? thread : undefined;
  const most = whole !== undefined ? whole * MOST_STRETCH : ofRod === undefined ? undefined : ofRod * MOST_OF_ROD_BOLT;
  if (most === undefined || ends.low <= most) return;
  report(
    placed,
    said.value,
    told`No such bolt is stretched by ${textAt(placed, said.value)}: bolts stretch by some three thousandths of their length. See whether a point or a unit slipped.`,
  );
}

/** What the sums of a bolt go by: friction, and lengths of which one can't be longer than the other. */
export function sayFarBolt(fastener: Fastener, report: Report): void {
  const { placed, statements } = fastener;
  sayFarStretch(fastener, report);
  for (const each of statements) {
    if (each.kind !== 'number') continue;
    const bounds = each.word === 'nut-factor' ? NUT_FACTOR : each.word === 'friction' ? FRICTION : undefined;
    const number = Number(each.number.text);
    if (bounds === undefined || (number >= bounds.least && number <= bounds.most)) continue;
    report(
      placed,
      each.number,
      told`A ${each.word} of ${each.number.text} is none that a bolt has: ${String(bounds.least)} to ${String(bounds.most)} is the most that there is. See whether a point slipped.`,
    );
  }
  const lengthOf = (
    word: string,
  ): { readonly value: Value; readonly high: number; readonly low: number } | undefined => {
    const said = statements.find((each) => each.kind === 'value' && each.word === word);
    const ends = said?.kind === 'value' ? endsOf(said.value, 'length') : undefined;
    return said?.kind !== 'value' || ends === undefined ? undefined : { value: said.value, ...ends };
  };
  const whole = lengthOf('length');
  for (const word of ['shank', 'thread-length']) {
    const part = lengthOf(word);
    if (whole === undefined || part === undefined || part.low <= whole.high) continue;
    report(
      placed,
      part.value,
      told`A ${word} of ${textAt(placed, part.value)} is more than the whole bolt, which is ${textAt(placed, whole.value)} long. See whether a point or a unit slipped.`,
    );
  }
}
