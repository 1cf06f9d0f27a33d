// Figures of an engine that no engine can have: sizes of nothing, a rod shorter than the throw, a clearance volume of nothing.
import { type Told, told } from '../../../grammar/told.ts';
import type { Statement } from '../../../grammar/tree.ts';
import { clearanceVolume } from '../../mechanics/compression.ts';
import { compare, type Exact, ratioOf, signOf, times, toNumber, ZERO } from '../../mechanics/exact.ts';
import { type Interval, point } from '../../mechanics/interval.ts';
import { sameDimension, unitOf } from '../../mechanics/units.ts';
import { engineStatement } from '../../model/engine-figures.ts';
import { engineFigure, engineMeasure } from '../../model/engine-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { Engine, View } from '../../model/view.ts';
import type { EngineCheck, Report } from '../check.ts';
import { figure } from '../figures.ts';
import page from './impossible.md';

/** Measures that must be more than nothing, in words. */
const SIZES = {
  bore: told`A bore`,
  stroke: told`A stroke`,
  'rod-length': told`A rod`,
  redline: told`A redline`,
} as const;
const VOLUMES = {
  chamber: told`A chamber`,
  dish: told`A dish`,
  dome: told`A dome`,
  'gasket-thickness': told`A gasket`,
  'gasket-bore': told`A gasket bore`,
} as const;
const HALF: Exact = ratioOf(1, 2) ?? ZERO;
/** Mean speed of a piston at the redline in m/s that no engine comes to: race engines come to 27. Judgement; no source. */
const PISTON_SPEED = 35;

function valueSaid(engine: Engine, word: string): Extract<Statement, { kind: 'value' }> | undefined {
  return engineStatement(engine, 'value', word);
}

/** What has to be a length or a volume and is one. */
function lengthOf(name: Parameters<typeof engineMeasure>[0], view: View): Interval | undefined {
  const worked = engineMeasure(name, view);
  return worked !== undefined &&
    sameDimension(worked.unit, unitOf(name === 'chamber' || name === 'dish' || name === 'dome' ? 'cc' : 'mm'))
    ? worked.stack.interval
    : undefined;
}

function sayNothings(engine: Engine, view: View, report: Report): boolean {
  let said = false;
  const say = (word: string, message: Told): void => {
    const statement = valueSaid(engine, word);
    if (statement !== undefined) report(engine.placed, statement.value, message);
    said = true;
  };
  for (const [word, words] of Object.entries(SIZES) as [keyof typeof SIZES, Told][]) {
    const interval = engineMeasure(word, view)?.stack.interval;
    if (interval !== undefined && signOf(interval.high) <= 0) say(word, told`${words} of nothing or less can't be.`);
  }
  for (const [word, words] of Object.entries(VOLUMES) as [keyof typeof VOLUMES, Told][]) {
    const interval = engineMeasure(word, view)?.stack.interval;
    if (interval !== undefined && signOf(interval.high) < 0)
      say(word, told`${words} of less than nothing can't be. A crown that stands up into the chamber is a dome.`);
  }
  return said;
}

/** Undefined where a volume is said and can't be read. */
function clearance(engine: Engine, view: View): Interval | undefined {
  const said = (word: string): boolean => engine.statements.some((statement) => statement.word === word);
  const [bore, stroke, rod, blockHeight, compressionHeight] = (
    ['bore', 'stroke', 'rod-length', 'block-height', 'compression-height'] as const
  ).map((name) => lengthOf(name, view));
  const optional = {
    chamber: lengthOf('chamber', view),
    dish: lengthOf('dish', view),
    dome: lengthOf('dome', view),
    'gasket-bore': lengthOf('gasket-bore', view),
    'gasket-thickness': lengthOf('gasket-thickness', view),
  };
  if (
    bore === undefined ||
    stroke === undefined ||
    rod === undefined ||
    blockHeight === undefined ||
    compressionHeight === undefined
  )
    return undefined;
  if (
    Object.entries(optional).some(([word, interval]) => said(word) && interval === undefined) ||
    !(said('chamber') || said('dish'))
  )
    return undefined;
  return clearanceVolume({
    bore,
    stroke,
    deck: { blockHeight, rod, compressionHeight },
    chamber: optional.chamber ?? point(ZERO),
    gasketThickness: optional['gasket-thickness'] ?? point(ZERO),
    gasketBore: optional['gasket-bore'],
    dish: optional.dish,
    dome: optional.dome,
  });
}

/** A gasket whose hole is smaller than the bore stands into the cylinder, where the piston meets it. */
function sayGasket(engine: Engine, view: View, report: Report): void {
  const [bore, hole] = [lengthOf('bore', view), lengthOf('gasket-bore', view)];
  const statement = valueSaid(engine, 'gasket-bore');
  if (bore === undefined || hole === undefined || statement === undefined || compare(hole.high, bore.low) >= 0) return;
  report(
    engine.placed,
    statement.value,
    told`The hole of the gasket is ${figure(toNumber(hole.high).toFixed(2), 'mm')} and the bore ${figure(toNumber(bore.low).toFixed(2), 'mm')}: the gasket would stand into the cylinder. See which of the two is wrong.`,
  );
}

/** The mean speed of the pistons at the redline in m/s, where it is more than any stands. */
export function tooFast(view: View): number | undefined {
  const speed = engineFigure('piston-speed', view)?.stack.interval;
  // In mm a second.
  const mean = speed === undefined ? 0 : toNumber(speed.low) / 1000;
  return mean > PISTON_SPEED ? mean : undefined;
}

/** The largest that a repair size makes the bore, and what that size is called. */
function largestBored(engine: Engine, view: View): { readonly size: string; readonly low: Exact } | undefined {
  const written = valueSaid(engine, 'bore')?.value;
  if (written?.kind !== 'expression' || written.expression.kind !== 'reference') return undefined;
  const { owner, feature } = written.expression.reference;
  const part = view.things.get(owner.text);
  if (part?.kind !== 'part' || feature === undefined) return undefined;
  let largest: { readonly size: string; readonly low: Exact } | undefined;
  for (const [size, statement] of part.sizes) {
    const own = statement.kind === 'size' ? (statement.body?.statements ?? []) : [];
    const dimension = own.find((each) => each.kind === 'dimension' && each.name.text === feature.text);
    const value = dimension?.kind === 'dimension' ? dimension.value : undefined;
    const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
    if (measure === undefined || !sameDimension(measure.unit, unitOf('mm'))) continue;
    if (largest === undefined || compare(measure.interval.low, largest.low) > 0)
      largest = { size, low: measure.interval.low };
  }
  return largest;
}

/** A gasket whose hole a bore that is taken out to a repair size outgrows. */
function sayGasketOfSize(engine: Engine, view: View, report: Report): void {
  const [bore, hole] = [lengthOf('bore', view), lengthOf('gasket-bore', view)];
  const statement = valueSaid(engine, 'gasket-bore');
  const bored = largestBored(engine, view);
  if (bore === undefined || hole === undefined || statement === undefined || bored === undefined) return;
  // What does not fit the bore as new is said of that.
  if (compare(hole.high, bore.low) < 0 || compare(hole.high, bored.low) >= 0) return;
  report(
    engine.placed,
    statement.value,
    told`The hole of the gasket is ${figure(toNumber(hole.high).toFixed(2), 'mm')}, and bored out to ${bored.size} the cylinder is ${figure(toNumber(bored.low).toFixed(2), 'mm')}: the gasket would stand into it. See whether that size has a gasket of its own.`,
    { severity: 'warning' },
  );
}

/** A redline at which the pistons would go faster than any. */
function sayPistonSpeed(engine: Engine, view: View, report: Report): void {
  const mean = tooFast(view);
  const statement = valueSaid(engine, 'redline');
  if (mean === undefined || statement === undefined) return;
  report(
    engine.placed,
    statement.value,
    told`At this redline the pistons go at a mean of ${figure(mean.toFixed(0), 'm/s')}, and none stands more than ${figure(String(PISTON_SPEED), 'm/s')}. See whether a point slipped, here or in the stroke.`,
  );
}

export const impossible: EngineCheck = {
  code: 'engine/impossible',
  severity: 'error',
  scope: 'engine',
  page,
  run(engine, view, report) {
    const cylinders = engineStatement(engine, 'cylinders');
    if (cylinders !== undefined && cylinders.count.value === 0)
      report(engine.placed, cylinders.count, told`An engine has at least one cylinder.`);
    if (sayNothings(engine, view, report)) return;
    const [stroke, rod] = [lengthOf('stroke', view), lengthOf('rod-length', view)];
    const rodStatement = valueSaid(engine, 'rod-length');
    const strokeStatement = valueSaid(engine, 'stroke');
    if (
      stroke !== undefined &&
      rod !== undefined &&
      rodStatement !== undefined &&
      compare(rod.high, times(stroke.low, HALF)) <= 0
    ) {
      report(
        engine.placed,
        rodStatement.value,
        told`The rod is ${figure(toNumber(rod.nominal).toFixed(2), 'mm')} and the throw of the crank ${figure((toNumber(stroke.nominal) / 2).toFixed(2), 'mm')}, half of the stroke. A rod that is not longer than the throw can't turn over.`,
        {
          related:
            strokeStatement === undefined
              ? []
              : [{ placed: engine.placed, span: strokeStatement.value, message: told`The stroke.` }],
        },
      );
      return;
    }
    sayGasket(engine, view, report);
    sayGasketOfSize(engine, view, report);
    sayPistonSpeed(engine, view, report);
    const volume = clearance(engine, view);
    if (volume === undefined || signOf(volume.high) > 0) return;
    const statement = valueSaid(engine, 'dome') ?? valueSaid(engine, 'compression-height');
    if (statement !== undefined)
      report(
        engine.placed,
        statement.value,
        told`At top dead centre ${figure((toNumber(volume.nominal) / 1000).toFixed(1), 'cc')} is left over the piston: chamber, gasket, deck and dish, less the dome. Something must be left, or the engine can't turn. See the heights and volumes again.`,
      );
  },
};
