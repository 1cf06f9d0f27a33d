// What comes out of the engine's own figures: displacement, compression ratio, deck clearance, squish, rod ratio, piston speed.
// Lengths in mm, volumes in mm3; a result says how it was worked out.
import type { Statement } from '../../grammar/tree.ts';
import { compressionRatio, deckClearance, squish } from '../mechanics/compression.ts';
import { displacement, sweptVolume } from '../mechanics/displacement.ts';
import { divideIntervals, type Interval, multiplyIntervals, point } from '../mechanics/interval.ts';
import { type Exact, ratioOf, toNumber, ZERO } from '../mechanics/exact.ts';
import { type Stack, stackInput } from '../mechanics/stack.ts';
import { dimensionOf, type Unit, unitOf } from '../mechanics/units.ts';
import { type Crankpin, type EngineLayout, type FiringQuestion, type FiringVerdict, judgeFiring } from '../mechanics/firing-order.ts';
import { evaluation, textOf, type Worked, workOut } from './expression.ts';
import { measureOf } from './measure.ts';
import type { Engine, View } from './view.ts';

/** The engine values that a limit may use, with how each is worked out. */
export const ENGINE_FIGURES: Readonly<Record<string, { readonly unit: Unit; readonly working: string }>> = {
  displacement: { unit: unitOf('cc'), working: 'π/4 · bore² · stroke · cylinders' },
  'swept-volume': { unit: unitOf('cc'), working: 'π/4 · bore² · stroke' },
  'compression-ratio': { unit: [], working: '1 + swept-volume / (chamber + gasket + deck + dish − dome)' },
  'deck-clearance': { unit: unitOf('mm'), working: 'block-height − stroke / 2 − rod-length − compression-height' },
  squish: { unit: unitOf('mm'), working: 'deck-clearance + gasket-thickness' },
  'rod-ratio': { unit: [], working: 'rod-length / stroke' },
  'piston-speed': { unit: [{ unit: 'm', power: 1 }, { unit: 's', power: -1 }], working: '2 · stroke · redline' },
};

const MEASURES = ['bore', 'stroke', 'rod-length', 'block-height', 'compression-height', 'chamber', 'dish', 'dome', 'gasket-bore', 'gasket-thickness', 'redline'] as const;
type MeasureName = (typeof MEASURES)[number];

/** The statement of the engine with this word that could be read. */
export function engineStatement<kind extends Statement['kind']>(engine: Engine | undefined, kind: kind, word?: string): Extract<Statement, { kind: kind }> | undefined {
  return engine?.statements.find((statement): statement is Extract<Statement, { kind: kind }> => statement.kind === kind && (word === undefined || statement.word === word));
}

/** A figure of the engine as written or worked out from a part, in base units. */
export function engineMeasure(name: MeasureName, view: View): Worked | undefined {
  const value = engineStatement(view.engine, 'value', name)?.value;
  if (value === undefined || value.kind === 'by-place') return undefined;
  if (value.kind === 'expression') return workOut(value.expression, { ...evaluation(view), depth: 6 });
  const measure = measureOf(value);
  if (measure === undefined) return undefined;
  const key = `engine.${name}`;
  return { stack: stackInput(key, measure.interval), dimension: dimensionOf(measure.unit), unit: measure.unit, inputs: new Map([[key, textOf(value)]]) };
}

/** Whether a statement with this word is there at all, readable or not. */
function isSaid(view: View, name: string): boolean {
  return view.engine?.statements.some((statement) => statement.word === name) ?? false;
}

function interval(name: MeasureName, view: View): Interval | undefined {
  return engineMeasure(name, view)?.stack.interval;
}

/** Undefined where it is said but can't be read: then nothing may be worked out with it. */
function optional(name: MeasureName, view: View): Interval | undefined | 'unreadable' {
  if (!isSaid(view, name)) return undefined;
  return interval(name, view) ?? 'unreadable';
}

function result(value: Interval | undefined, figure: string, used: readonly MeasureName[], view: View): Worked | undefined {
  const row = ENGINE_FIGURES[figure];
  if (value === undefined || row === undefined) return undefined;
  const inputs = new Map(used.flatMap((name) => [...(engineMeasure(name, view)?.inputs ?? [])]));
  return { stack: engineStack(figure, value), dimension: dimensionOf(row.unit), unit: row.unit, inputs };
}

/** An engine value enters a sum as one input: what makes it up is worked out within it. */
function engineStack(figure: string, value: Interval): Stack {
  return stackInput(`engine.${figure}`, value);
}

const TWO: Exact = ratioOf(2, 1) ?? ZERO;

/** One of the engine's values, by its name in the language; undefined where an input is missing or impossible. */
export function engineFigure(name: string, view: View): Worked | undefined {
  const stroke = interval('stroke', view);
  const bore = interval('bore', view);
  switch (name) {
    case 'swept-volume':
      return bore === undefined || stroke === undefined ? undefined : result(sweptVolume(bore, stroke), name, ['bore', 'stroke'], view);
    case 'displacement': {
      const cylinders = view.engine?.cylinders;
      return bore === undefined || stroke === undefined || cylinders === undefined ? undefined : result(displacement(bore, stroke, cylinders), name, ['bore', 'stroke'], view);
    }
    case 'deck-clearance':
      return result(deck(view), name, ['block-height', 'stroke', 'rod-length', 'compression-height'], view);
    case 'squish': {
      const clearance = deck(view);
      const gasket = optional('gasket-thickness', view);
      if (clearance === undefined || gasket === 'unreadable') return undefined;
      return result(squish(clearance, gasket ?? point(ZERO)), name, ['block-height', 'stroke', 'rod-length', 'compression-height', 'gasket-thickness'], view);
    }
    case 'rod-ratio': {
      const rod = interval('rod-length', view);
      return rod === undefined || stroke === undefined ? undefined : result(divideIntervals(rod, stroke), name, ['rod-length', 'stroke'], view);
    }
    case 'piston-speed': {
      const redline = interval('redline', view);
      if (redline === undefined || stroke === undefined) return undefined;
      // The base of a speed is an angle a second in degrees: turns a second are it over 360.
      const turns = multiplyIntervals(redline, point(ratioOf(1, 360) ?? ZERO));
      return result(multiplyIntervals(multiplyIntervals(stroke, turns), point(TWO)), name, ['stroke', 'redline'], view);
    }
    case 'compression-ratio': {
      const [chamber, dish, dome] = [optional('chamber', view), optional('dish', view), optional('dome', view)];
      const [gasketBore, gasketThickness] = [optional('gasket-bore', view), optional('gasket-thickness', view)];
      const [blockHeight, rod, compressionHeight] = [interval('block-height', view), interval('rod-length', view), interval('compression-height', view)];
      if (bore === undefined || stroke === undefined || blockHeight === undefined || rod === undefined || compressionHeight === undefined) return undefined;
      if (chamber === undefined && dish === undefined) return undefined;
      if (chamber === 'unreadable' || dish === 'unreadable' || dome === 'unreadable' || gasketBore === 'unreadable' || gasketThickness === 'unreadable') return undefined;
      const ratio = compressionRatio({
        bore, stroke, deck: { blockHeight, rod, compressionHeight }, chamber: chamber ?? point(ZERO), gasketThickness: gasketThickness ?? point(ZERO), gasketBore, dish, dome,
      });
      return result(ratio, name, MEASURES.filter((measure) => measure !== 'redline'), view);
    }
    default: {
      const measure = MEASURES.find((candidate) => candidate === name);
      return measure === undefined ? undefined : engineMeasure(measure, view);
    }
  }
}

function deck(view: View): Interval | undefined {
  const [height, stroke, rod, compression] = [interval('block-height', view), interval('stroke', view), interval('rod-length', view), interval('compression-height', view)];
  return height === undefined || stroke === undefined || rod === undefined || compression === undefined ? undefined : deckClearance(height, stroke, rod, compression);
}

/** The layout as the sums know it; undefined where it is not said, or the angle of a vee is missing. */
export function engineLayout(engine: Engine | undefined): EngineLayout | undefined {
  const cylinders = engineStatement(engine, 'cylinders');
  switch (cylinders?.layout?.word) {
    case 'inline': return { kind: 'inline' };
    case 'flat': return { kind: 'flat' };
    case 'radial': return { kind: 'radial' };
    case 'vee': {
      const angle = cylinders.angle === undefined ? undefined : measureOf(cylinders.angle);
      return angle === undefined ? undefined : { kind: 'vee', angle: toNumber(angle.interval.nominal) };
    }
    default: return undefined;
  }
}

/** The crank and the order of an engine as one question; undefined where a piece of it is missing or unreadable. */
export function firingQuestion(engine: Engine | undefined): FiringQuestion | undefined {
  const layout = engineLayout(engine);
  const order = engineStatement(engine, 'firing-order')?.order.map((cylinder) => cylinder.value);
  if (engine === undefined || layout === undefined || order === undefined || engine.cylinders === undefined) return undefined;
  const crankpins: Crankpin[] = [];
  const left: number[] = [];
  for (const statement of engine.statements) {
    if (statement.kind === 'broken' && (statement.word === 'crankpin' || statement.word === 'bank')) return undefined;
    if (statement.kind === 'bank' && statement.side.word === 'left') left.push(...statement.cylinders.map((cylinder) => cylinder.value));
    if (statement.kind !== 'crankpin') continue;
    const angle = measureOf(statement.angle);
    if (angle === undefined) return undefined;
    crankpins.push({ cylinders: statement.cylinders.map((cylinder) => cylinder.value), angle: toNumber(angle.interval.nominal) });
  }
  return { cylinders: engine.cylinders, layout, cycle: engine.cycle === 'two-stroke' ? 360 : 720, crankpins, order, ...(left.length > 0 ? { leftBank: left } : {}) };
}

/** Whether the crank allows the firing order, and at what intervals it fires. */
export function firingVerdict(engine: Engine | undefined): FiringVerdict | undefined {
  const question = firingQuestion(engine);
  return question === undefined ? undefined : judgeFiring(question);
}
