// Measured values that their limit does not hold: outside, worn, or a slip of the pen. One value gives one of the three.
import { leavesOf } from '../../../grammar/terms.ts';
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import type { Value } from '../../../grammar/tree.ts';
import { compare, equal, toNumber, ZERO } from '../../mechanics/exact.ts';
import { factorOf, kindOf, unitOf, unitText } from '../../mechanics/units.ts';
import { engineStatement } from '../../model/engine-figures.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { type LimitResult, workOutLimit } from '../../model/limit-sums.ts';
import { type Bounds, measureOf } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Limit, View } from '../../model/view.ts';
import { type DeclarationCheck, type Extra, nameSpan, type Report } from '../check.ts';
import { boundsShown, edgeShown, rangeShown } from '../figures.ts';
import { comesOut, inputsShown } from '../limit/verdicts.ts';
import { concerns } from '../name/unknown.ts';
import { change, inWords } from '../support.ts';
import { type FittedSize, fittedSizes, withFittedSizes } from './fitted-sizes.ts';
import { loggedOutside } from './logged.ts';
import {
  entryText,
  heldAt,
  type Judged,
  meantBy,
  measurementsIn,
  missOf,
  placesLeft,
  recordStatements,
} from './measurements.ts';
import outsidePage from './outside.md';
import slipPage from './slip.md';
import { type WorkedOut, workedOutFrom } from './worked-out.ts';
import wornPage from './worn.md';
import { wronglyGraded } from './wrong-grade.ts';

/** The measured values that have a standing, the last of each place. */
function standing(placed: Placed, view: View, wanted: Judged['standing']): readonly Judged[] {
  if (!concerns(placed, view)) return [];
  return measurementsIn(placed, view).filter((each) => each.standing === wanted && !each.again);
}

/** `crank-end-play 0.41 mm`, with its place. */
function shown(placed: Placed, { limit, entry, value, measure }: Judged): Told {
  const place = entryText(placed, entry);
  const written = placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
  const was =
    place === ''
      ? told`${told.thing(limit)} was measured as ${written}`
      : told`${told.thing(limit)} ${told.place(place)} was measured as ${written}`;
  // Several diameters at one place, held against a limit for how far they differ.
  const read = measureOf(value);
  return read === undefined || value.kind !== 'range' || equal(read.interval.high, measure.interval.high)
    ? was
    : told`${was}, which differ by ${rangeShown(measure.interval, measure.unit, measure.places, ZERO)}`;
}

function pointAt({ limit }: Judged): NonNullable<Extra['related']> {
  const span = limit.within ?? limit.wearLimit ?? limit.declaration.name ?? limit.declaration.wordSpan;
  return [{ placed: limit.placed, span, message: told`The limit of ${told.thing(limit)}.` }];
}

/** `lie within 0.05..0.20 mm`, `be at least 2.1 mm`. */
function lieWithin(bounds: Bounds): Told {
  const isOpen = bounds.low === undefined || bounds.high === undefined;
  return isOpen ? told`be ${boundsShown(bounds)}` : told`lie within ${boundsShown(bounds)}`;
}

function wearEdge({ wear }: Judged): Argument | undefined {
  return wear === undefined ? undefined : edgeShown({ ...wear, low: wear.high === undefined ? wear.low : undefined });
}

function sayOutside(placed: Placed, judged: Judged, report: Report): void {
  const { bounds, measure, value } = judged;
  const miss = missOf(judged);
  const wear = wearEdge(judged);
  const must = bounds === undefined ? told.nothing : told` It must ${lieWithin(bounds)}.`;
  const missed =
    miss === undefined || bounds === undefined
      ? undefined
      : rangeShown(
          { low: miss.by, high: miss.by },
          bounds.unit.length === 0 ? measure.unit : bounds.unit,
          Math.max(bounds.places, measure.places),
          ZERO,
        );
  const by =
    missed === undefined
      ? told.nothing
      : miss?.small === true
        ? told` It is ${missed} too small.`
        : told` It is ${missed} too large.`;
  const past = wear === undefined ? told.nothing : told` The wear limit is ${wear}.`;
  report(
    placed,
    value,
    told`${shown(placed, judged)}.${must}${by}${past} Find out why, put it right and write what is measured then.`,
    { related: pointAt(judged) },
  );
}

function isWrong({ standing: how }: Judged): boolean {
  return how === 'outside' || how === 'slip' || how === 'wrong-kind';
}

/** A limit that a size brings out of bounds, in words; measured, it contradicts what was fitted and no more. */
interface OutOfSize {
  readonly limit: Limit;
  readonly said: Told;
  readonly isMeasured: boolean;
}

/** Whether the bounds of a limit are those of the standard size itself, and move with the size that was fitted. */
function movesAlong(limit: Limit, result: LimitResult, view: View, sized: View): boolean {
  const asked = result.place ?? placesOfLimit(limit, view)[0];
  const { bounds } = asked === undefined ? { bounds: undefined } : heldAt(limit, asked, view, sized);
  const { interval } = result.worked.stack;
  return (
    bounds?.low !== undefined &&
    bounds.high !== undefined &&
    compare(interval.low, bounds.low) >= 0 &&
    compare(interval.high, bounds.high) <= 0
  );
}

/** Limits that the repair sizes of a record bring out of bounds, each with the size that does it. */
function outOfSize(placed: Placed, view: View): ReadonlyMap<FittedSize, readonly OutOfSize[]> {
  const statements = recordStatements(placed, view);
  const sizes = fittedSizes(statements, view);
  const found = new Map<FittedSize, OutOfSize[]>();
  if (sizes.length === 0) return found;
  const sized = withFittedSizes(view, sizes);
  const measured = measurementsIn(placed, view);
  const fitted = new Set(statements.flatMap((each) => (each.kind === 'record-fitted' ? [each.part.owner.text] : [])));
  for (const limit of view.limits) {
    if (limit.expression === undefined || limit.broken) continue;
    // What was measured outside is said where it is written.
    if (measured.some((each) => each.limit === limit && !each.again && isWrong(each))) continue;
    const out = workOutLimit(limit, sized).filter(
      (result) => result.verdict === 'outside' && !movesAlong(limit, result, view, sized),
    );
    const first = out[0];
    if (first === undefined || workOutLimit(limit, view).some((result) => result.verdict === 'outside')) continue;
    const inputs = [...first.worked.inputs.keys()].map((name) => name.split('.')[0]);
    const size = sizes.findLast(({ part }) => inputs.includes(part.name));
    if (size === undefined) continue;
    const text = comesOut(limit, out);
    const isMeasured = measured.some((each) => each.limit === limit && !each.again);
    // Where the record leaves open what else went in, what was measured everywhere counts more than what is worked out.
    const isTold = inputs.every((name) => {
      const part = name === undefined ? undefined : view.things.get(name);
      return part?.kind !== 'part' || part.sizes.size === 0 || fitted.has(part.name);
    });
    if (isMeasured && !isTold && placesLeft(limit, statements, view).length === 0) continue;
    const said = isMeasured
      ? told`${text.range} and must be ${text.bounds}, though it was measured otherwise: one of the two is not what went in`
      : told`${text.range} and must be ${text.bounds}`;
    found.set(size, [...(found.get(size) ?? []), { limit, said, isMeasured }]);
  }
  return found;
}

/** Whether a limit is out because of a grade that is told to be the wrong one. */
function restsOnWrongGrade(placed: Placed, { limit, results }: WorkedOut, view: View): boolean {
  if (!results.some(({ verdict }) => verdict === 'outside')) return false;
  const wrong = wronglyGraded(placed, view);
  return leavesOf(limit.expression).some(
    (leaf) => leaf.kind === 'reference' && leaf.reference.feature !== undefined && wrong.has(leaf.reference.owner.text),
  );
}

/** Says a limit that what was measured brings out of bounds, at the value that lies furthest from the others. */
function sayWorkedOut(placed: Placed, { limit, results, from }: WorkedOut, report: Report): void {
  const out = results.filter((result) => result.verdict === 'outside');
  const at = furthest(from);
  if (out.length === 0 || at === undefined || from.some(isWrong)) return;
  const text = comesOut(limit, out);
  report(
    placed,
    at.value,
    told`With what was measured ${text.range}, and must be ${text.bounds}. Worked out from ${inputsShown(out)}.`,
    {
      related: [
        {
          placed: limit.placed,
          span: limit.within ?? nameSpan(limit.placed),
          message: told`The limit of ${told.thing(limit)}.`,
        },
      ],
    },
  );
}

/** Of several values the one furthest from their mean; of one or two the later. */
function furthest(values: readonly Judged[]): Judged | undefined {
  const sizes = values.map(({ measure }) => toNumber(measure.interval.nominal));
  const mean = sizes.reduce((sum, size) => sum + size, 0) / Math.max(1, sizes.length);
  let [found, away] = [values[values.length - 1], -1];
  for (const [i, value] of values.entries()) {
    const off = Math.abs((sizes[i] ?? mean) - mean);
    if (values.length > 2 && off > away * (1 + 1e-9)) [found, away] = [value, off];
  }
  return found;
}

export const recordOutside: DeclarationCheck = {
  code: 'record/outside',
  severity: 'error',
  scope: 'declaration',
  words: ['record'],
  page: outsidePage,
  run(placed, view, report) {
    for (const judged of standing(placed, view, 'outside')) sayOutside(placed, judged, report);
    for (const judged of standing(placed, view, 'wrong-kind')) {
      const unit = judged.bounds?.unit ?? judged.wear?.unit ?? [];
      report(
        placed,
        judged.value,
        unit.length === 0
          ? told`${shown(placed, judged)}, and its limit is a plain figure: they can't be held against each other.`
          : told`${shown(placed, judged)}, and its limit is in ${unitText(unit)}: they can't be held against each other.`,
        { related: pointAt(judged) },
      );
    }
    if (!concerns(placed, view)) return;
    for (const { reading, limit, bounds } of loggedOutside(placed, view)) {
      const text = placed.section.text.slice(reading.value.start, reading.value.end).replace(/\s+/g, ' ');
      report(
        placed,
        reading.value,
        told`${told.thing(limit)} was read as ${text}. It must ${lieWithin(bounds)}. Find out why before the engine is run on.`,
        {
          related: [
            {
              placed: limit.placed,
              span: limit.within ?? limit.declaration.wordSpan,
              message: told`The limit of ${told.thing(limit)}.`,
            },
          ],
        },
      );
    }
    const bySize = outOfSize(placed, view);
    const saidBySize = new Set([...bySize.values()].flatMap((found) => found.map(({ limit }) => limit)));
    for (const each of workedOutFrom(placed, view))
      if (!saidBySize.has(each.limit) && !restsOnWrongGrade(placed, each, view)) sayWorkedOut(placed, each, report);
    for (const [{ statement, part, size }, found] of bySize) {
      const texts = found.map(({ said }) => said);
      const more = texts.length > 1 ? told`, and ${inWords(texts.slice(1, 4))}` : told.nothing;
      report(
        placed,
        statement.size ?? statement,
        told`With ${told.thing(part)} ${told.named(size.name.text)} and what else went in, ${texts[0] ?? ''}${more}. Fit what goes with this size, and write its size too.`,
        {
          related: [
            {
              placed: part.placed,
              span: size.name,
              message: told`${told.named(size.name.text)} of ${told.thing(part)}.`,
            },
          ],
          ...(found.every(({ isMeasured }) => isMeasured) ? { severity: 'warning' } : {}),
        },
      );
    }
  },
};

export const recordSlip: DeclarationCheck = {
  code: 'record/slip',
  severity: 'warning',
  scope: 'declaration',
  words: ['record'],
  page: slipPage,
  run(placed, view, report) {
    if (concerns(placed, view)) sayFar(placed, view, report);
    for (const judged of standing(placed, view, 'slip')) {
      const { bounds, slip, value } = judged;
      const meant = meantBy(judged);
      const off =
        slip === '10'
          ? told`a tenth of what fits`
          : slip === '1/10'
            ? told`ten times what fits`
            : told`off by the 25.4 between millimetre and inch`;
      const is = slip === '10' || slip === '1/10' ? told`Is the point one place off` : told`Is the unit another`;
      report(
        placed,
        value,
        told`${shown(placed, judged)}, and must ${bounds === undefined ? told`be another` : lieWithin(bounds)}: ${off}. ${is}${meant === undefined ? told.nothing : told`, and ${meant} meant`}? If not, it is outside.`,
        {
          related: pointAt(judged),
          fixes: meant === undefined ? [] : [change(placed, { start: value.start, end: endOfValue(judged) }, meant)],
        },
      );
    }
  },
};

/** Readings without a limit of their own, and how long an engine had run, that no engine comes to. Judgement; no source. */
function sayFar(placed: Placed, view: View, report: Report): void {
  const statements = recordStatements(placed, view);
  const ends = (
    value: Value | undefined,
    kind: string,
  ): { readonly low: number; readonly high: number } | undefined => {
    const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
    return measure === undefined || kindOf(measure.unit) !== kind
      ? undefined
      : { low: toNumber(measure.interval.low), high: toNumber(measure.interval.high) };
  };
  const text = (value: Value): string => placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
  const redline = engineStatement(view.engine, 'value', 'redline')?.value;
  const most = ends(redline, 'speed');
  const engineText = (value: Value): string =>
    view.engine?.placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ') ?? '';
  for (const judged of measurementsIn(placed, view)) {
    if (judged.again || isWrong(judged) || judged.bounds?.high !== undefined) continue;
    const read = ends(judged.value, 'pressure');
    if (read === undefined || !OIL_PRESSURE.test(judged.limit.name) || read.low <= HIGHEST_OIL) continue;
    report(
      placed,
      judged.value,
      told`${shown(placed, judged)}, which no engine comes to. See whether a point or a unit slipped.`,
      { related: pointAt(judged) },
    );
  }
  for (const each of statements) {
    if (each.kind !== 'log') continue;
    for (const { name, value } of each.readings) {
      if (view.things.get(name.text)?.kind === 'limit') continue;
      const [heat, pressure] = [ends(value, 'temperature'), ends(value, 'pressure')];
      const hottest = WATER.test(name.text) ? HOTTEST_WATER : HOTTEST;
      const isHot = heat !== undefined && FLUID.test(name.text) && (heat.low > hottest || heat.high < COLDEST);
      const isHigh = pressure !== undefined && /oil/i.test(name.text) && pressure.low > HIGHEST_OIL;
      const turns = ends(value, 'speed');
      if (turns !== undefined && redline !== undefined && most !== undefined && turns.low > PAST_REDLINE * most.high)
        report(
          placed,
          value,
          told`${told.named(name.text)} was read as ${text(value)}, and the redline of the engine is ${engineText(redline)}. See whether a digit or a point slipped.`,
        );
      const isLow =
        pressure !== undefined &&
        /^oil-?pressure$/i.test(name.text) &&
        pressure.high < LEAST_OIL &&
        each.readings.some((other) => (ends(other.value, 'speed')?.low ?? 0) > 0);
      if (isLow)
        report(
          placed,
          value,
          told`${told.named(name.text)} was read as ${text(value)} with the engine turning, which is hardly any. Stop it and find out why, or see whether a point slipped.`,
        );
      if (isHot || isHigh)
        report(
          placed,
          value,
          told`${told.named(name.text)} was read as ${text(value)}, which no engine comes to. See whether a point or a unit slipped.`,
        );
    }
  }
  const said = (word: string): Value | undefined => {
    const found = statements.find((each) => each.kind === 'value' && each.word === word);
    return found?.kind === 'value' ? found.value : undefined;
  };
  const [hours, distance] = [said('running-hours'), said('distance')];
  const [time, way] = [ends(hours, 'time'), ends(distance, 'distance')];
  if (hours !== undefined && time !== undefined && time.low > MOST_RUNNING)
    report(placed, hours, told`No engine has run for ${text(hours)}. See whether a point or a unit slipped.`);
  else if (distance !== undefined && hours !== undefined && time !== undefined && way !== undefined && time.low > 0) {
    const perHour = (way.low / time.low) * 3600;
    const factor = toNumber(factorOf(unitOf('km')));
    const speed = perHour / factor;
    if (speed > FASTEST || speed < SLOWEST)
      report(
        placed,
        distance,
        told`${text(distance)} in ${text(hours)} is a mean of ${speed.toPrecision(2)} km an hour. See whether a point or a unit slipped in one of the two.`,
      );
  }
}

/** In base units: kelvin, megapascal, seconds. */
const FLUID = /coolant|water|oil/i;
const HOTTEST = 273.15 + 200;
/** Under the cap's pressure a mixture for any climate boils before. Judgement; no source. */
const WATER = /coolant|water/i;
const HOTTEST_WATER = 273.15 + 130;
const COLDEST = 273.15 - 60;
const HIGHEST_OIL = 1.6;
/** Less than the least that a hot engine idles with. */
const LEAST_OIL = 0.04;
const OIL_PRESSURE = /(?:^|-)oil-pressure(?:-|$)/i;
/** So many times its redline no engine is turned. */
const PAST_REDLINE = 1.25;
const MOST_RUNNING = 150_000 * 3600;
/** Mean km an hour, at work and standing. */
const FASTEST = 200;
const SLOWEST = 0.5;

/** Where the number and its unit end, before what is restated in brackets. */
function endOfValue({ value }: Judged): number {
  return value.kind === 'quantity' ? (value.unit?.end ?? value.number.end) : value.end;
}

export const recordWorn: DeclarationCheck = {
  code: 'record/worn',
  severity: 'warning',
  scope: 'declaration',
  words: ['record'],
  page: wornPage,
  run(placed, view, report) {
    for (const judged of standing(placed, view, 'worn')) {
      const { bounds, value } = judged;
      const range = bounds === undefined ? told.nothing : boundsShown(bounds);
      report(
        placed,
        value,
        told`${shown(placed, judged)}: outside the new range ${range}, and inside the wear limit ${wearEdge(judged) ?? ''}. It may run on, and will not last as new.`,
        { related: pointAt(judged) },
      );
    }
  },
};
