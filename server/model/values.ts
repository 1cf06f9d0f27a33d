// Every value that Fettle works out from a spec, by its name in `fettle values`, with its range, its working and its inputs.
// The sums themselves stand in engine-sums.ts, limit-sums.ts, fastener-sums.ts, drive-sums.ts and valve-sums.ts.
import type { Span } from '../../grammar/tree.ts';
import { toNumber, ZERO } from '../mechanics/exact.ts';
import type { Band } from '../mechanics/preload.ts';
import { kindOf, type Unit, unitText } from '../mechanics/units.ts';
import { workOutDrive } from './drive-sums.ts';
import { ENGINE_FIGURES } from './engine-figures.ts';
import { engineFigure, firingVerdict } from './engine-sums.ts';
import { type FastenerResult, workOutFastener } from './fastener-sums.ts';
import type { FilePlace } from './finding.ts';
import { type LimitResult, numberInUnit, placeText, shownUnit, workOutLimit } from './limit-sums.ts';
import { type Placed, placeOf } from './placed.ts';
import { liftOf, otherEnd, TIMING_LIFTS, TIMING_VALUES, workOutTiming } from './valve-sums.ts';
import type { Drive, Fastener, Limit, Thing, ValveTiming, View } from './view.ts';
import { inUnit, type Worked } from './worked.ts';
import { writtenExpression } from './written-expression.ts';

/** One value, as `fettle values --format json` gives it. Numbers are not rounded. */
export interface ValueRow {
  readonly name: string;
  readonly kind: string;
  readonly unit: string;
  readonly nominal?: number;
  readonly low?: number;
  readonly high?: number;
  readonly values?: readonly number[];
  readonly statistical?: { readonly low: number; readonly high: number };
  readonly within?: { readonly low?: number; readonly high?: number };
  /** How many decimals its bounds are written with, where they stand in this unit. */
  readonly places?: number;
  readonly verdict?: 'inside' | 'outside' | 'select';
  /** A difference of temperatures: 9 degF of it are 5 K. */
  readonly difference?: true;
  /** Rests on limits that are only measured, whose bounds stand for what is still to be measured. */
  readonly toMeasure?: true;
  readonly working?: string;
  readonly inputs?: Readonly<Record<string, string>>;
  readonly source?: string;
  /** Where the statement that it belongs to stands. */
  readonly place: FilePlace;
}

function place(placed: Placed, span?: Span): FilePlace {
  return placeOf(placed, span ?? placed.declaration.name ?? placed.declaration.wordSpan);
}

function kindWord(unit: Unit, fallback: string): string {
  return unit.length === 0 ? fallback : (kindOf(unit) ?? fallback);
}

function fromWorked(
  name: string,
  worked: Worked,
  unit: Unit,
  working: string | undefined,
  source: string,
  at: FilePlace,
): ValueRow {
  const { low, high, nominal } = worked.stack.interval;
  return {
    name,
    kind: kindWord(unit, 'ratio'),
    unit: unitText(unit),
    nominal: inUnit(nominal, unit, worked.zero ?? ZERO),
    low: inUnit(low, unit, worked.zero ?? ZERO),
    high: inUnit(high, unit, worked.zero ?? ZERO),
    ...(working === undefined ? {} : { working }),
    inputs: Object.fromEntries(worked.inputs),
    source,
    place: at,
  };
}

/** Of the engine; `only` one figure, `firing-intervals`, where one is asked for. */
function engineRows(view: View, only?: string): readonly ValueRow[] {
  const engine = view.engine;
  if (engine === undefined) return [];
  const at = place(engine.placed);
  const rows = Object.entries(ENGINE_FIGURES).flatMap(([figure, row]) => {
    const worked = only === undefined || only === figure ? engineFigure(figure, view) : undefined;
    return worked === undefined ? [] : [fromWorked(`engine.${figure}`, worked, row.unit, row.working, 'geometry', at)];
  });
  const verdict = only === undefined || only === 'firing-intervals' ? firingVerdict(engine) : undefined;
  if (verdict?.verdict !== 'fits') return rows;
  return [
    ...rows,
    {
      name: 'engine.firing-intervals',
      kind: 'angle',
      unit: 'deg',
      values: verdict.intervals,
      source: 'geometry',
      place: at,
    },
  ];
}

/** What a limit comes to, a row for each place where they differ. */
export function limitRows(limit: Limit, results: readonly LimitResult[], expression: string): readonly ValueRow[] {
  return results.map((result): ValueRow => {
    const unit = shownUnit(result);
    const { low, high, nominal } = result.worked.stack.interval;
    const zero = result.worked.zero ?? ZERO;
    const bounds = result.bounds;
    const name =
      result.place === undefined
        ? `limit.${limit.name}`
        : `limit.${limit.name}.${placeText(result.place).replace(' ', '-')}`;
    return {
      name,
      kind: kindWord(unit, 'ratio'),
      unit: unitText(unit),
      nominal: inUnit(nominal, unit, zero),
      low: inUnit(low, unit, zero),
      high: inUnit(high, unit, zero),
      statistical: {
        low: numberInUnit(result.statistical.low, unit, zero),
        high: numberInUnit(result.statistical.high, unit, zero),
      },
      ...(bounds === undefined
        ? {}
        : {
            within: {
              ...(bounds.low === undefined ? {} : { low: inUnit(bounds.low, unit, zero) }),
              ...(bounds.high === undefined ? {} : { high: inUnit(bounds.high, unit, zero) }),
            },
            ...(unitText(bounds.unit) === unitText(unit) ? { places: bounds.places } : {}),
          }),
      ...(result.verdict === undefined ? {} : { verdict: result.verdict }),
      ...(kindOf(unit) === 'temperature' && zero.equals(ZERO) ? { difference: true as const } : {}),
      ...(result.worked.toMeasure ? { toMeasure: true as const } : {}),
      working: expression,
      inputs: Object.fromEntries(result.worked.inputs),
      source: 'interval arithmetic and root-sum-square',
      place: place(limit.placed),
    };
  });
}

function band(value: Band, scale = 1): { nominal: number; low: number; high: number } {
  return { nominal: value.nominal / scale, low: value.low / scale, high: value.high / scale };
}

/** What a phaser makes of the events at its other end, and the lifts that a rocker ratio gives. */
function timingRows(timing: ValveTiming): readonly ValueRow[] {
  const at = place(timing.placed);
  const other = otherEnd(timing)?.values ?? {};
  const shifted = Object.entries(TIMING_VALUES).flatMap(([word, key]): ValueRow[] => {
    const value = other[key];
    // How long a valve is open stays as it is.
    if (value === undefined || word.endsWith('duration')) return [];
    const name = `valve-timing.${timing.name}.other-end.${word}`;
    return [
      {
        name,
        kind: 'angle',
        unit: 'deg',
        nominal: toNumber(value),
        working: 'with the phaser at its other end',
        place: at,
      },
    ];
  });
  const lifts = TIMING_LIFTS.flatMap((word): ValueRow[] => {
    const lift = liftOf(timing, word);
    if (lift === undefined) return [];
    const { low, nominal, high } = lift.interval;
    return [
      {
        name: `valve-timing.${timing.name}.${word}`,
        kind: 'length',
        unit: 'mm',
        nominal: toNumber(nominal),
        low: toNumber(low),
        high: toNumber(high),
        place: at,
      },
    ];
  });
  return [...shifted, ...lifts];
}

/** Which K or µ a preload was worked out with, in words. */
function frictionSaid(result: FastenerResult): string {
  return result.friction !== undefined
    ? `µ ${result.friction}, after VDI 2230`
    : result.factor === undefined
      ? ''
      : `T = K·F·d, ${result.factor.said}`;
}

/** A row for a figure, where there is one. */
function rowOf<figure>(value: figure | undefined, row: (value: figure) => ValueRow): readonly ValueRow[] {
  return value === undefined ? [] : [row(value)];
}

/** What a stage of a torque comes to. */
function stageRows(
  name: string,
  fastener: Fastener,
  result: FastenerResult,
  source: string,
  { stage, number, preload, share, stretch }: FastenerResult['stages'][number],
): readonly ValueRow[] {
  const at = place(fastener.placed, stage.span);
  const of = `${name}.stage-${number}`;
  return [
    ...rowOf(preload, (value) => ({
      name: `${of}.preload`,
      kind: 'force',
      unit: 'kN',
      ...band(value, 1000),
      working: frictionSaid(result),
      place: at,
    })),
    ...rowOf(share, (value) => ({
      name: `${of}.proof-share`,
      kind: 'ratio',
      unit: '',
      ...band(value),
      source,
      place: at,
    })),
    ...rowOf(stretch, (value) => ({
      name: `${of}.stretch-at-most`,
      kind: 'length',
      unit: 'mm',
      nominal: value,
      working: 'pitch · angle / 360',
      place: at,
    })),
  ];
}

function fastenerRows(fastener: Fastener): readonly ValueRow[] {
  const result = workOutFastener(fastener);
  const name = `fastener.${fastener.name}`;
  const at = place(fastener.placed);
  const geometry = 'thread geometry';
  const source = result.strength?.source ?? geometry;
  const area = result.thread?.stressArea ?? 0;
  return [
    ...rowOf(area > 0 ? area : undefined, (nominal) => ({
      name: `${name}.stress-area`,
      kind: 'area',
      unit: 'mm2',
      nominal,
      source: geometry,
      place: at,
    })),
    ...rowOf(result.proof, (value) => ({
      name: `${name}.proof-load`,
      kind: 'force',
      unit: 'kN',
      nominal: value / 1000,
      source,
      place: at,
    })),
    ...result.stages.flatMap((stage) => stageRows(name, fastener, result, source, stage)),
    ...rowOf(result.stretchPreload, (value) => ({
      name: `${name}.stretch.preload`,
      kind: 'force',
      unit: 'kN',
      ...band(value, 1000),
      working: 'E · stretch / (shank length / shank area + thread length / stress area)',
      place: at,
    })),
    ...rowOf(result.stretchShare, (value) => ({
      name: `${name}.stretch.proof-share`,
      kind: 'ratio',
      unit: '',
      ...band(value),
      source,
      place: at,
    })),
  ];
}

function driveRows(drive: Drive, view: View): readonly ValueRow[] {
  const result = workOutDrive(drive, view);
  const name = `drive.${drive.name}`;
  const at = place(drive.placed);
  return [
    ...rowOf(result.ratio, (value) => ({
      name: `${name}.ratio`,
      kind: 'ratio',
      unit: '',
      nominal: toNumber(value),
      working: 'teeth',
      place: at,
    })),
    ...rowOf(result.oneTooth, (value) => ({
      name: `${name}.one-tooth`,
      kind: 'angle',
      unit: 'deg',
      nominal: toNumber(value),
      place: at,
    })),
    ...rowOf(result.length, ({ needed, low, high }) => ({
      name: `${name}.length`,
      kind: 'count',
      unit: 'pitch',
      nominal: needed,
      low: Math.min(low, high),
      high: Math.max(low, high),
      place: at,
    })),
    ...rowOf(result.marksReturn, (nominal) => ({
      name: `${name}.marks-return`,
      kind: 'count',
      unit: 'turn',
      nominal,
      working: 'turns after which every marked wheel has turned whole turns',
      place: at,
    })),
    ...rowOf(result.linksReturn, (nominal) => ({
      name: `${name}.links-return`,
      kind: 'count',
      unit: 'turn',
      nominal,
      working: 'turns after which every marked link stands at its mark again',
      place: at,
    })),
  ];
}

/** When valves open and close and how far, with the phaser where it is parked and at its other end. */
function valveRows(timing: ValveTiming): readonly ValueRow[] {
  const values = workOutTiming(timing)?.values;
  if (values === undefined) return [];
  const parked = Object.entries(TIMING_VALUES).flatMap(([word, key]) =>
    rowOf(values[key], (value) => ({
      name: `valve-timing.${timing.name}.${word}`,
      kind: 'angle',
      unit: 'deg',
      nominal: toNumber(value),
      place: place(timing.placed),
    })),
  );
  return [...parked, ...timingRows(timing)];
}

/**
 * All values of a view, in a steady order: engine, limits, fasteners, drives, valve timings. `only` asks for those of one thing, as
 * in `limit.squish`, or of the `engine`.
 */
export function valuesOf(view: View, only?: string): readonly ValueRow[] {
  const [about, figure] = only?.split('.') ?? [];
  const wanted = <thing extends Thing>(things: readonly thing[]): readonly thing[] =>
    only === undefined ? things : things.filter(({ kind, name }) => only === `${kind}.${name}`);
  return [
    ...(only === undefined || about === 'engine' ? engineRows(view, figure) : []),
    ...wanted(view.limits).flatMap((limit) => limitRows(limit, workOutLimit(limit, view), writtenExpression(limit))),
    ...wanted(view.fasteners).flatMap(fastenerRows),
    ...wanted(view.drives).flatMap((drive) => driveRows(drive, view)),
    ...wanted(view.valveTimings).flatMap(valveRows),
  ];
}
