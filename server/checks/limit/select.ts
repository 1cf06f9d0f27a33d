// A limit that the parts may meet or miss: they have to be measured, or chosen by size.

import { leavesOf } from '../../../grammar/terms.ts';
import { type Told, told } from '../../../grammar/told.ts';
import type { Expression } from '../../../grammar/tree.ts';
import { ZERO } from '../../mechanics/exact.ts';
import type { Share } from '../../mechanics/stack.ts';
import { unitText } from '../../mechanics/units.ts';
import { type LimitResult, numberInUnit, shownNumber, shownUnit } from '../../model/limit-sums.ts';
import type { Limit, View } from '../../model/view.ts';
import { writtenExpression } from '../../model/written-expression.ts';
import type { ThingCheck } from '../check.ts';
import { percent } from '../figures.ts';
import { takenOfOther } from './other-part.ts';
import page from './select.md';
import { comesOut, judged } from './verdicts.ts';

/** Whether a step measures or adjusts the limit. */
export function measuredInSteps(limit: Limit, view: View): boolean {
  return view.sequences.some((sequence) =>
    sequence.steps.some((step) =>
      step.statements.some(
        (each) =>
          each.kind === 'action' &&
          (each.word === 'measure' || each.word === 'adjust') &&
          each.targets.some((target) => target.owner.text === limit.name),
      ),
    ),
  );
}

function owners(expression: Expression | undefined): readonly string[] {
  return leavesOf(expression).flatMap((leaf) => (leaf.kind === 'reference' ? [leaf.reference.owner.text] : []));
}

/** Whether a table of grades chooses by this limit, or chooses a part that it is worked out from. */
function graded(limit: Limit, view: View): boolean {
  const used = owners(limit.expression);
  return view.grades.some(
    (table) =>
      table.by?.owner.text === limit.name ||
      used.includes(table.name) ||
      (table.by !== undefined && used.includes(table.by.owner.text)),
  );
}

/** The input that brings most; where all places are alike, all places of one input together. */
function largestShare({ place, shares }: LimitResult): Share | undefined {
  if (place !== undefined) return shares[0];
  const together = new Map<string, number>();
  for (const { input, share } of shares) {
    const name = input.replace(/( \S+)? \d+$/, '');
    together.set(name, (together.get(name) ?? 0) + share);
  }
  return [...together].map(([input, share]) => ({ input, share })).sort((one, other) => other.share - one.share)[0];
}

function statistics(result: LimitResult, expression: string): Told {
  const unit = shownUnit(result);
  const places = result.bounds?.places ?? 3;
  // One more place than the bounds have, and no more: it is an estimate.
  const [low, high] = [result.statistical.low, result.statistical.high].map((value) =>
    shownNumber(numberInUnit(value, unit, result.worked.zero ?? ZERO), unit, places),
  );
  const largest = largestShare(result);
  const written = unitText(unit);
  const range = told.range(`${low}..${high}${written === '' ? '' : ` ${written}`}`, Number(low), Number(high), written);
  const most =
    largest === undefined
      ? told.nothing
      : told` ${largest.input} has the largest share of the spread, ${percent(largest.share)}.`;
  return /\b(min|max|spread)\b/.test(expression)
    ? told`By chance most engines lie at ${range}.${most}`
    : told`By root-sum-square most engines lie at ${range}.${most}`;
}

export const select: ThingCheck<'limit'> = {
  code: 'limit/select',
  severity: 'warning',
  scope: 'thing',
  of: ['limit'],
  page,
  run(thing, view, report) {
    // What is worked out from the wrong part is said as that.
    if (takenOfOther(thing, view) !== undefined) return;
    for (const { value, results } of judged(thing, view, 'select')) {
      const first = results[0];
      if (first === undefined) continue;
      const text = comesOut(thing, results);
      const seen = thing.measured || measuredInSteps(thing, view) || graded(thing, view);
      const end = seen
        ? told`It is measured or graded here, so choose the parts by that.`
        : told`Say measured and measure it, or choose the parts by size.`;
      report(
        thing.placed,
        value,
        told`${text.range} at the worst both ways, and must be ${text.bounds}: the parts may miss it. ${statistics(first, writtenExpression(thing))} ${end}`,
        seen ? { severity: 'information' } : {},
      );
    }
  },
};
