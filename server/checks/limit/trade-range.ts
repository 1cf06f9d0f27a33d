// A limit far outside what the trade holds usual for its kind. Worth knowing, no more: the spec's own figures count.
import { lookUp } from '../../../grammar/look-up.ts';
import { leavesOf } from '../../../grammar/terms.ts';
import type { Expression, Reference } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { farOutside, isTradeKind, type LimitKind, tradeRange } from '../../mechanics/trade-ranges.ts';
import { kindOf } from '../../mechanics/units.ts';
import { engineMeasure } from '../../model/engine-sums.ts';
import { boundsOf, workOutLimit } from '../../model/limit-sums.ts';
import { measureOf, plainValues } from '../../model/measure.ts';
import type { Limit, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import page from './trade-range.md';

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

export const tradeRangeCheck: ThingCheck = {
  code: 'limit/trade-range',
  severity: 'information',
  scope: 'thing',
  page,
  run(thing, view, report) {
    if (thing.kind !== 'limit' || thing.broken || thing.sort === undefined || thing.within === undefined) return;
    const rule = lookUp(RULE_OF, thing.sort) ?? thing.sort;
    if (!isTradeKind(rule)) return;
    const diameter = diameterOf(thing, rule, view);
    const usual = tradeRange(rule, diameter);
    // What the parts miss whatever they measure is said once, as that.
    if (usual === undefined || workOutLimit(thing, view).some((result) => result.verdict === 'outside')) return;
    for (const value of plainValues(thing.within)) {
      const bounds = boundsOf(value, { index: 1, of: 1 }, view);
      if (bounds === undefined || kindOf(bounds.unit) !== 'length') continue;
      const way = farOutside(usual, {
        low: bounds.low === undefined ? Number.NEGATIVE_INFINITY : toNumber(bounds.low),
        high: bounds.high === undefined ? Number.POSITIVE_INFINITY : toNumber(bounds.high),
      });
      if (way === undefined) continue;
      const [low, high] = [usual.usual.low, usual.usual.high].map((size) => size.toFixed(3));
      const on = diameter === undefined || MEASURED_ON[rule] === undefined ? '' : ` on ${diameter.toFixed(1)} mm`;
      const sum = on === '' ? usual.rule : `${low} to ${high} mm${on} (${usual.rule})`;
      report(
        thing.placed,
        value,
        `This is far ${way === 'small' ? 'less' : 'more'} than the trade holds usual for ${thing.sort.replaceAll('-', ' ')}: ${sum}. A rule of thumb, no limit; see whether a point or a unit slipped.`,
      );
      return;
    }
  },
};
