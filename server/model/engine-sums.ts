// What comes out of the engine's own figures: displacement, compression ratio, deck clearance, squish, rod ratio, piston speed.
// Lengths in mm, volumes in mm3; a result says how it was worked out.

import { compressionRatio, deckClearance, squish } from '../mechanics/compression.ts';
import { displacement, sweptVolume } from '../mechanics/displacement.ts';
import { type Exact, ratioOf, toNumber, ZERO } from '../mechanics/exact.ts';
import {
  type Crankpin,
  type EngineLayout,
  type FiringQuestion,
  type FiringVerdict,
  judgeFiring,
} from '../mechanics/firing-order.ts';
import { divideIntervals, type Interval, middleOf, multiplyIntervals, point } from '../mechanics/interval.ts';
import { type Stack, stackInput } from '../mechanics/stack.ts';
import { dimensionOf } from '../mechanics/units.ts';
import {
  ENGINE_FIGURES,
  ENGINE_MEASURES,
  type EngineFigureName,
  engineStatement,
  isEngineFigure,
  type MeasureName,
} from './engine-figures.ts';
import { evaluationWith, workOutSum } from './expression.ts';
import { measureOf } from './measure.ts';
import { textOf } from './value-text.ts';
import type { Engine, View } from './view.ts';
import { question } from './view-questions.ts';
import type { Worked } from './worked.ts';

/** A figure of the engine as written or worked out from a part, in base units. */
export function engineMeasure(name: MeasureName, view: View): Worked | undefined {
  return measureAsked(view, name);
}

const measureAsked = question((view, name: MeasureName): Worked | undefined => {
  const value = engineStatement(view.engine, 'value', name)?.value;
  if (value === undefined || value.kind === 'by-place') return undefined;
  if (value.kind === 'expression')
    return workOutSum(value.expression, { ...evaluationWith(view, engineFigure), depth: 6 });
  const measure = measureOf(value);
  if (measure === undefined) return undefined;
  const key = `engine.${name}`;
  return {
    stack: stackInput(key, measure.interval),
    dimension: dimensionOf(measure.unit),
    unit: measure.unit,
    inputs: new Map([[key, textOf(value)]]),
  };
});

/** Whether a statement with this word is there at all, readable or not. */
function isSaid(view: View, name: string): boolean {
  return view.engine?.statements.some((statement) => statement.word === name) ?? false;
}

/** Where the sums take a measure from: the spec, or one of its measures moved while the others stay at their middles. */
type Lookup = (name: MeasureName) => Interval | undefined;

const ROWS: Readonly<Record<EngineFigureName, readonly MeasureName[]>> = {
  'swept-volume': ['bore', 'stroke'],
  displacement: ['bore', 'stroke'],
  'deck-clearance': ['block-height', 'stroke', 'rod-length', 'compression-height'],
  squish: ['block-height', 'stroke', 'rod-length', 'compression-height', 'gasket-thickness'],
  'rod-ratio': ['rod-length', 'stroke'],
  'piston-speed': ['stroke', 'redline'],
  'compression-ratio': ENGINE_MEASURES.filter((measure) => measure !== 'redline'),
};
/** Measures that an engine may be without. */
const OPTIONAL: readonly MeasureName[] = ['chamber', 'dish', 'dome', 'gasket-bore', 'gasket-thickness'];
const NOTHING: Interval = point(ZERO);
const TWO: Exact = ratioOf(2, 1) ?? ZERO;
/** Turns in a degree: the base of a speed is degrees a second. */
const TURN: Exact = ratioOf(1, 360) ?? ZERO;

function deck(of: Lookup): Interval | undefined {
  const [height, stroke, rod, compression] = [
    of('block-height'),
    of('stroke'),
    of('rod-length'),
    of('compression-height'),
  ];
  return height === undefined || stroke === undefined || rod === undefined || compression === undefined
    ? undefined
    : deckClearance(height, stroke, rod, compression);
}

/** The measures that one of the engine's values can't be without. */
export function neededFor(name: string, view: View): readonly MeasureName[] {
  const used = (isEngineFigure(name) ? ROWS[name] : []).filter((measure) => !OPTIONAL.includes(measure));
  const volume =
    name === 'compression-ratio' && !isSaid(view, 'chamber') && !isSaid(view, 'dish') ? ['chamber' as const] : [];
  return [...used, ...volume];
}

/** A size of nothing, or a rod that is not longer than the throw: nothing that is worked out from it means anything. */
function isImpossible(of: Lookup): boolean {
  const [stroke, rod] = [of('stroke'), of('rod-length')];
  const nothing = (['bore', 'stroke', 'rod-length'] as const).some((name) => (of(name)?.high.compare(ZERO) ?? 1) <= 0);
  return nothing || (stroke !== undefined && rod !== undefined && rod.high.mul(TWO).compare(stroke.low) <= 0);
}

function figureFrom(name: EngineFigureName, of: Lookup, cylinders: number | undefined): Interval | undefined {
  const [bore, stroke, rod] = [of('bore'), of('stroke'), of('rod-length')];
  switch (name) {
    case 'swept-volume':
      return bore === undefined || stroke === undefined ? undefined : sweptVolume(bore, stroke);
    case 'displacement':
      return bore === undefined || stroke === undefined || cylinders === undefined
        ? undefined
        : displacement(bore, stroke, cylinders);
    case 'deck-clearance':
      return deck(of);
    case 'squish': {
      const clearance = deck(of);
      return clearance === undefined ? undefined : squish(clearance, of('gasket-thickness') ?? NOTHING);
    }
    case 'rod-ratio':
      return rod === undefined || stroke === undefined ? undefined : divideIntervals(rod, stroke);
    case 'piston-speed': {
      const redline = of('redline');
      return redline === undefined || stroke === undefined
        ? undefined
        : multiplyIntervals(multiplyIntervals(stroke, redline), point(TWO.mul(TURN)));
    }
    case 'compression-ratio': {
      const [blockHeight, compressionHeight] = [of('block-height'), of('compression-height')];
      if (
        bore === undefined ||
        stroke === undefined ||
        blockHeight === undefined ||
        rod === undefined ||
        compressionHeight === undefined
      )
        return undefined;
      if (of('chamber') === undefined && of('dish') === undefined) return undefined;
      return compressionRatio({
        bore,
        stroke,
        deck: { blockHeight, rod, compressionHeight },
        chamber: of('chamber') ?? NOTHING,
        gasketThickness: of('gasket-thickness') ?? NOTHING,
        gasketBore: of('gasket-bore'),
        dish: of('dish'),
        dome: of('dome'),
      });
    }
  }
}

/** One of the engine's values, by its name in the language; undefined where an input is missing, unreadable or impossible. */
export function engineFigure(name: string, view: View): Worked | undefined {
  return figureAsked(view, name);
}

const figureAsked = question((view, name: string): Worked | undefined => {
  const measure = ENGINE_MEASURES.find((candidate) => candidate === name);
  if (measure !== undefined) return engineMeasure(measure, view);
  if (!isEngineFigure(name)) return undefined;
  const [row, used] = [ENGINE_FIGURES[name], ROWS[name]];
  const measures = new Map(
    used.flatMap((each) => {
      const worked = engineMeasure(each, view);
      return worked === undefined ? [] : [[each, worked] as const];
    }),
  );
  if (used.some((each) => !measures.has(each) && (!OPTIONAL.includes(each) || isSaid(view, each)))) return undefined;
  if (isImpossible((each) => measures.get(each)?.stack.interval)) return undefined;
  const cylinders = view.engine?.cylinders;
  const value = figureFrom(name, (each) => measures.get(each)?.stack.interval, cylinders);
  if (value === undefined) return undefined;
  const weights = new Map<string, Exact>();
  for (const [each, worked] of measures)
    addWeights(weights, worked.stack, (moved) =>
      figureFrom(name, (other) => (other === each ? point(moved) : pointOf(measures.get(other)?.stack)), cylinders),
    );
  const stack: Stack = {
    interval: value,
    middle: middleOf(value),
    weights,
    linear: false,
    // Worked out from the engine's figures as a whole, so that it is one thing wherever a sum names it.
    tree: { op: 'input', key: `engine.${name}`, ends: value },
  };
  return {
    stack,
    dimension: dimensionOf(row.unit),
    unit: row.unit,
    inputs: new Map([...measures.values()].flatMap((worked) => [...worked.inputs])),
  };
});

function pointOf(stack: Stack | undefined): Interval | undefined {
  return stack === undefined ? undefined : point(stack.middle);
}

/** How far the result moves, to each side, with what makes up one measure: the measure's own shares, scaled by how steeply the result follows it. */
function addWeights(weights: Map<string, Exact>, measure: Stack, at: (moved: Exact) => Interval | undefined): void {
  const { low, high } = measure.interval;
  if (low.equals(high)) return;
  const [first, last] = [at(low)?.nominal, at(high)?.nominal];
  if (first === undefined || last === undefined) return;
  const slope = last.sub(first).div(high.sub(low));
  for (const [key, half] of measure.weights) weights.set(key, slope.mul(half).add(weights.get(key) ?? ZERO));
}

/** The layout as the sums know it; undefined where it is not said, or the angle of a vee is missing. */
export function engineLayout(engine: Engine | undefined): EngineLayout | undefined {
  const cylinders = engineStatement(engine, 'cylinders');
  switch (cylinders?.layout?.word) {
    case 'inline':
      return { kind: 'inline' };
    case 'flat':
      return { kind: 'flat' };
    case 'radial':
      return { kind: 'radial' };
    case 'vee': {
      const angle = cylinders.angle === undefined ? undefined : measureOf(cylinders.angle);
      return angle === undefined ? undefined : { kind: 'vee', angle: toNumber(angle.interval.nominal) };
    }
    default:
      return undefined;
  }
}

/** The crank and the order of an engine as one question; undefined where a piece of it is missing or unreadable. */
export function firingQuestion(engine: Engine | undefined): FiringQuestion | undefined {
  const layout = engineLayout(engine);
  const order = engineStatement(engine, 'firing-order')?.order.map((cylinder) => cylinder.value);
  if (engine === undefined || layout === undefined || order === undefined || engine.cylinders === undefined)
    return undefined;
  const crankpins: Crankpin[] = [];
  const left: number[] = [];
  for (const statement of engine.statements) {
    if (statement.kind === 'broken' && (statement.word === 'crankpin' || statement.word === 'bank')) return undefined;
    if (statement.kind === 'bank' && statement.side.word === 'left')
      left.push(...statement.cylinders.map((cylinder) => cylinder.value));
    if (statement.kind !== 'crankpin') continue;
    const angle = measureOf(statement.angle);
    if (angle === undefined) return undefined;
    crankpins.push({
      cylinders: statement.cylinders.map((cylinder) => cylinder.value),
      angle: toNumber(angle.interval.nominal),
    });
  }
  return {
    cylinders: engine.cylinders,
    layout,
    cycle: engine.cycle === 'two-stroke' ? 360 : 720,
    crankpins,
    order,
    ...(left.length > 0 ? { leftBank: left } : {}),
  };
}

/** Whether the crank allows the firing order, and at what intervals it fires. */
export function firingVerdict(engine: Engine | undefined): FiringVerdict | undefined {
  const question = firingQuestion(engine);
  return question === undefined ? undefined : judgeFiring(question);
}
