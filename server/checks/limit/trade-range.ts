// A limit far outside what the trade holds usual for its kind. Worth knowing, no more: the spec's own figures count.

import { lookUp } from '../../../grammar/look-up.ts';
import { leavesOf } from '../../../grammar/terms.ts';
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import type { Expression, Reference, Span } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { farOutside, isTradeKind, type LimitKind, tradeKindByName, tradeRange } from '../../mechanics/trade-ranges.ts';
import { factorOf, kindOf, type Unit, unitOf, unitText } from '../../mechanics/units.ts';
import { type Slip, slipOf, usualSize } from '../../mechanics/usual-sizes.ts';
import { engineMeasure } from '../../model/engine-sums.ts';
import { boundsGiven, workOutLimit } from '../../model/limit-sums.ts';
import { measureOf, plainValues } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import type { Limit, Part, View } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { figure } from '../figures.ts';
import page from './trade-range.md';

type Ends = { readonly low: number; readonly high: number };

/** Kinds that the language calls otherwise than the rule. */
const RULE_OF: Readonly<Record<string, LimitKind>> = {
  'side-clearance': 'rod-side-clearance',
  'guide-clearance': 'stem-clearance',
};
/** What the diameter of a rule by diameter is that of. */
const MEASURED_ON: Readonly<Partial<Record<LimitKind, RegExp>>> = {
  'oil-clearance': /journal|crankpin|pin|main-bore|bore|big-end/,
  'ring-gap': /bore/,
  'piston-clearance': /bore|skirt/,
};

function referencesOf(expression: Expression | undefined): readonly Reference[] {
  return leavesOf(expression).flatMap((leaf) => (leaf.kind === 'reference' ? [leaf.reference] : []));
}

function diameterAt(reference: Reference, view: View): number | undefined {
  const part = view.things.get(reference.owner.text);
  if (part?.kind !== 'part' || reference.feature === undefined) return undefined;
  const first = plainValues(part.dimensions.get(reference.feature.text)?.value)[0];
  const measure = first === undefined ? undefined : measureOf(first);
  return measure === undefined || kindOf(measure.unit) !== 'length' ? undefined : toNumber(measure.interval.nominal);
}

/** The journal's or bore's diameter in mm, where what the limit is of or worked out from says it. */
function diameterOf(limit: Limit, rule: LimitKind, view: View): number | undefined {
  const wanted = MEASURED_ON[rule];
  if (wanted === undefined) return undefined;
  const references = [limit.each, limit.of, ...referencesOf(limit.expression)].filter((each) => each !== undefined);
  const found = references
    .filter((each) => wanted.test(each.feature?.text ?? ''))
    .map((each) => diameterAt(each, view))
    .find((each) => each !== undefined);
  if (found !== undefined || rule === 'oil-clearance') return found;
  const bore = engineMeasure('bore', view);
  return bore === undefined || kindOf(bore.unit) !== 'length' ? undefined : toNumber(bore.stack.interval.nominal);
}

export const tradeRangeCheck: ThingCheck<'limit' | 'part'> = {
  code: 'limit/trade-range',
  severity: 'information',
  scope: 'thing',
  of: ['limit', 'part'],
  page,
  run(thing, view, report) {
    if (thing.kind === 'part') sayFigures(thing, report);
    if (thing.kind !== 'limit' || thing.broken || thing.within === undefined) return;
    // What the parts miss whatever they measure is said once, as that.
    if (workOutLimit(thing, view).some((result) => result.verdict === 'outside')) return;
    if (saySlip(thing, view, report) || sayLoose(thing, view, report)) return;
    sayFar(thing, view, report);
    sayLashes(thing, view, report);
  },
};

/** What a limit is usually, in base units, with what is too far from it to be meant, and its rule in words. */
interface Usual {
  readonly usual: Ends;
  readonly far: Ends;
  /** What is said to be usual. */
  readonly quoted: Ends;
  readonly said: Told;
}

function ruleOf(limit: Limit): LimitKind | undefined {
  const rule = limit.sort === undefined ? undefined : (lookUp(RULE_OF, limit.sort) ?? limit.sort);
  return rule !== undefined && isTradeKind(rule) ? rule : undefined;
}

/** By its rule three times beyond the usual is too far; a size that is told by its name has a wide range already, and twice beyond is. */
function usualOf(limit: Limit, unit: Unit, view: View): Usual | undefined {
  const rule = ruleOf(limit) ?? (limit.sort === undefined ? tradeKindByName(limit.name) : undefined);
  if (rule !== undefined) {
    const range = tradeRange(rule, diameterOf(limit, rule, view));
    if (range === undefined || kindOf(unit) !== 'length') return undefined;
    const { low, high } = range.usual;
    return {
      usual: { low: low * 0.6, high: high * 1.7 },
      far: { low: low / 3, high: high * 3 },
      quoted: range.usual,
      said: told`${limit.sort === undefined ? told.term(rule.replaceAll('-', ' ')) : sortOf(limit)}: ${low.toFixed(3)} to ${figure(high.toFixed(3), 'mm')}`,
    };
  }
  const size = usualSize(limit.sort, limit.name, (limit.of ?? limit.each)?.owner.text);
  if (size === undefined || kindOf(unit) !== kindOf(unitOf(size.unit))) return undefined;
  const factor = toNumber(factorOf(unitOf(size.unit)));
  const [low, high] = [size.low * factor, size.high * factor];
  return {
    usual: { low, high },
    far: { low: low / 2, high: high * 2 },
    quoted: { low, high },
    said: told`${told.term(size.what)}: ${String(size.low)} to ${figure(String(size.high), size.unit)}`,
  };
}

/** A bound that would be usual with its point moved or in another unit; true when one was said. */
function saySlip(limit: Limit, view: View, report: Report): boolean {
  for (const value of plainValues(limit.within)) {
    const bounds = boundsGiven(value, limit, { index: 1, of: 1 }, view);
    const edges = [bounds?.low, bounds?.high].flatMap((edge) => (edge === undefined ? [] : [toNumber(edge)]));
    const found = bounds === undefined ? undefined : usualOf(limit, bounds.unit, view);
    if (bounds === undefined || found === undefined || edges.length === 0 || edges.some((edge) => edge <= 0)) continue;
    const written = bounds.unit.length === 1 ? bounds.unit[0]?.unit : undefined;
    const ends = { low: Math.min(...edges), high: Math.max(...edges) };
    const slip = slipOf(ends, found.usual, found.far, written, found.quoted);
    if (slip === undefined) continue;
    saySlipOf(limit.placed, value, bounds.unit, slip, found.said, report);
    return true;
  }
  return false;
}

function saySlipOf(placed: Placed, value: Span, unit: Unit, slip: Slip, said: Told, report: Report): void {
  const text = placed.section.text
    .slice(value.start, value.end)
    .replace(/\s*\([^)]*\)$/, '')
    .replace(/\s+/g, ' ');
  const meant =
    slip.unit === undefined
      ? told`See whether the point slipped.`
      : told`Is ${text.replace(unitText(unit), slip.unit)} meant?`;
  const times = slip.factor < 1 ? told`${round(1 / slip.factor)} times what` : shareOf(slip.factor);
  report(
    placed,
    value,
    told`${text} is about ${times} the trade holds usual for ${said}. ${meant} A rule of thumb, no limit.`,
  );
}

/** So many times as far apart as the parts may lie at all, a bound holds nothing. Judgement; no source. */
const LOOSE = 4;

/** The spread of what a limit keeps within bounds, allowed to be far wider than those: it could never be exceeded. True when that was said. */
function sayLoose({ expression, within, placed }: Limit, view: View, report: Report): boolean {
  if (expression?.kind !== 'call' || expression.name.text !== 'spread' || within?.kind !== 'open') return false;
  const [of] = referencesOf(expression);
  const limit = view.things.get(of?.owner.text ?? '');
  const most = within.side === 'at-most' && within.value.kind === 'quantity' ? measureOf(within.value) : undefined;
  const [value] = limit?.kind === 'limit' ? plainValues(limit.within) : [];
  const bounds = value === undefined || value.kind === 'open' ? undefined : measureOf(value);
  if (
    limit?.kind !== 'limit' ||
    most === undefined ||
    bounds === undefined ||
    kindOf(most.unit) !== kindOf(bounds.unit)
  )
    return false;
  const width = toNumber(bounds.interval.high) - toNumber(bounds.interval.low);
  if (width <= 0 || toNumber(most.interval.nominal) < LOOSE * width) return false;
  const text = (span: Span, by: Placed): string => by.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
  report(
    placed,
    within.value,
    told`Each ${told.thing(limit)} lies within ${text(value ?? within, limit.placed)}, so that no two differ by as much as ${text(within.value, placed)}. See whether a point or a unit slipped.`,
  );
  return true;
}

const INLET = /(^|-)(inlet|intake)(?=-|$)/;

/** The bounds of a limit at its places of a name, or at all. */
function endsAt(limit: Limit, name: string | undefined, view: View): Ends | undefined {
  const { within } = limit;
  const value =
    name === undefined
      ? plainValues(within)[0]
      : within?.kind === 'by-place'
        ? within.entries.find((each) => each.places.some((place) => place.name?.text === name))?.value
        : undefined;
  const bounds = value === undefined ? undefined : boundsGiven(value, limit, { index: 1, of: 1 }, view);
  return bounds?.low === undefined || bounds.high === undefined || kindOf(bounds.unit) !== 'length'
    ? undefined
    : { low: toNumber(bounds.low), high: toNumber(bounds.high) };
}

/** Lashes of which the exhaust, which gets hotter, has the smaller. Common practice, no source. */
function sayLashes(limit: Limit, view: View, report: Report): void {
  if (limit.sort !== 'valve-lash' || limit.within === undefined) return;
  const hasBoth = limit.within.kind === 'by-place';
  const partner = hasBoth ? limit : view.things.get(limit.name.replace(INLET, '$1exhaust'));
  if (partner?.kind !== 'limit' || partner.sort !== 'valve-lash' || (!hasBoth && !INLET.test(limit.name))) return;
  const inlet = hasBoth
    ? (endsAt(limit, 'inlet', view) ?? endsAt(limit, 'intake', view))
    : endsAt(limit, undefined, view);
  const exhaust = endsAt(partner, hasBoth ? 'exhaust' : undefined, view);
  if (inlet === undefined || exhaust === undefined) return;
  if (inlet.low <= exhaust.high) {
    sayLashesApart(limit, partner, inlet, exhaust, report);
    return;
  }
  report(
    limit.placed,
    limit.within,
    told`The inlet valves have more lash here than the exhaust valves, which get hotter and usually have as much or more. See whether two figures changed places, or a digit.`,
    partner === limit || partner.within === undefined
      ? {}
      : {
          related: [
            { placed: partner.placed, span: partner.within, message: told`${told.thing(partner)} is told here` },
          ],
        },
  );
}

/** So many times the other no lash of one engine is. Judgement; no source. */
const LASHES_APART = 5;

/** Lashes of which one is many times the other: a point that slipped in one of the two. */
function sayLashesApart(limit: Limit, partner: Limit, inlet: Ends, exhaust: Ends, report: Report): void {
  if (limit.within === undefined || inlet.high <= 0 || exhaust.low <= LASHES_APART * inlet.high) return;
  report(
    limit.placed,
    limit.within,
    told`The exhaust valves have ${(exhaust.high / inlet.high).toPrecision(2)} times the lash of the inlet valves here. See whether a point slipped in one of the two.`,
    partner === limit || partner.within === undefined
      ? {}
      : {
          related: [
            { placed: partner.placed, span: partner.within, message: told`${told.thing(partner)} is told here` },
          ],
        },
  );
}

/** The figures of a part that have a usual size by their name and its: the pressure at which an oil pump's relief valve opens. */
function sayFigures(part: Part, report: Report): void {
  for (const [name, { value: written }] of part.figures) {
    const size = usualSize(undefined, `${part.name}-${name}`);
    if (size === undefined) continue;
    const factor = toNumber(factorOf(unitOf(size.unit)));
    const usual = { low: size.low * factor, high: size.high * factor };
    for (const value of plainValues(written)) {
      const measure = measureOf(value);
      if (measure === undefined || kindOf(measure.unit) !== kindOf(unitOf(size.unit))) continue;
      const ends = { low: toNumber(measure.interval.low), high: toNumber(measure.interval.high) };
      const unit = measure.unit.length === 1 ? measure.unit[0]?.unit : undefined;
      const slip = slipOf(ends, usual, { low: usual.low / 2, high: usual.high * 2 }, unit);
      if (slip === undefined) continue;
      const said = told`${told.term(size.what)}: ${String(size.low)} to ${figure(String(size.high), size.unit)}`;
      saySlipOf(part.placed, value, measure.unit, slip, said, report);
      return;
    }
  }
}

function round(factor: number): string {
  return String(Number(factor.toPrecision(3)));
}

function shareOf(factor: number): Told {
  return factor === 10
    ? told`a tenth of what`
    : factor === 100
      ? told`a hundredth of what`
      : factor === 1000
        ? told`a thousandth of what`
        : told`a ${round(factor)}th of what`;
}

/** What a limit's kind is called: `oil clearance`. */
function sortOf(limit: Limit): Argument {
  return told.term(limit.sort?.replaceAll('-', ' ') ?? '');
}

/** A bound that lies beyond all that was looked at. */
function sayFar(limit: Limit, view: View, report: Report): void {
  const rule = ruleOf(limit);
  if (rule === undefined) return;
  const diameter = diameterOf(limit, rule, view);
  const usual = tradeRange(rule, diameter);
  if (usual === undefined) return;
  for (const value of plainValues(limit.within)) {
    const bounds = boundsGiven(value, limit, { index: 1, of: 1 }, view);
    if (bounds === undefined || kindOf(bounds.unit) !== 'length') continue;
    const way = farOutside(usual, {
      low: bounds.low === undefined ? Number.NEGATIVE_INFINITY : toNumber(bounds.low),
      high: bounds.high === undefined ? Number.POSITIVE_INFINITY : toNumber(bounds.high),
    });
    if (way === undefined) continue;
    const [low, high] = [usual.usual.low.toFixed(3), usual.usual.high.toFixed(3)];
    const said = told.term(usual.rule);
    const sum =
      diameter === undefined || MEASURED_ON[rule] === undefined
        ? said
        : told`${low} to ${figure(high, 'mm')} on ${figure(diameter.toFixed(1), 'mm')} (${said})`;
    report(
      limit.placed,
      value,
      way === 'small'
        ? told`This is far less than the trade holds usual for ${sortOf(limit)}: ${sum}. A rule of thumb, no limit; see whether a point or a unit slipped.`
        : told`This is far more than the trade holds usual for ${sortOf(limit)}: ${sum}. A rule of thumb, no limit; see whether a point or a unit slipped.`,
    );
    return;
  }
}
