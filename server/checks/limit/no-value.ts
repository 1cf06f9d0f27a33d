// A limit that is neither worked out nor measured, or whose sum comes to nothing: nothing could ever be held against it.

import { termsOf } from '../../../grammar/terms.ts';
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import type { Expression } from '../../../grammar/tree.ts';
import { ZERO } from '../../mechanics/exact.ts';
import { evaluation } from '../../model/evaluation.ts';
import { isTooLong } from '../../model/expression.ts';
import { placesOfLimit } from '../../model/limit-places.ts';
import { workOutLimit } from '../../model/limit-sums.ts';
import { plainValues } from '../../model/measure.ts';
import { MOST_FACTORS, MOST_IN_A_SUM, MOST_LIMIT_PLACES } from '../../model/most.ts';
import { type NoValue, whyNoValue } from '../../model/no-value.ts';
import type { Limit, View } from '../../model/view.ts';
import { nameSpan, type Report, type ThingCheck } from '../check.ts';
import { rangeShown } from '../figures.ts';
import page from './no-value.md';
import { measuredInSteps } from './select.ts';

function text(limit: Limit, found: NoValue, what: Argument): Told {
  const written = limit.placed.section.text.slice(found.where.start, found.where.end).replace(/\s+/g, ' ');
  if (found.why === 'input') return told`${what} can't be worked out: ${found.name} is wanted, and ${found.lacks}.`;
  if (found.why === 'deep')
    return told`${what} can't be worked out: behind ${found.name} stand ${found.most} more limits, each worked out from the one before, and no more are followed. Write the sum of one of them out from the parts.`;
  if (found.why === 'circle') {
    const others = found.through.filter((each) => each !== limit).map((each) => told.thing(each));
    return others.length === 0
      ? told`${what} can't be worked out: its sum names itself.`
      : told`${what} can't be worked out: it rests on ${told.list(others)}, and so on itself.`;
  }
  const { divisor, isZero } = found;
  const range = rangeShown(divisor.stack.interval, divisor.unit, 3, divisor.zero ?? ZERO);
  return isZero
    ? told`${what} can't be worked out: ${written} is nothing, and nothing can be divided by that.`
    : told`${what} can't be worked out: ${written} comes out at ${range}, which may be nothing, and nothing can be divided by that.`;
}

/** The sum of a limit, and those of its bounds. */
function sumsOf(limit: Limit): readonly { readonly sum: Expression; readonly what: Argument }[] {
  const bounds = [...plainValues(limit.within), ...plainValues(limit.wearLimit)];
  return [
    ...(limit.expression === undefined ? [] : [{ sum: limit.expression, what: told.thing(limit) }]),
    ...bounds.flatMap((value) =>
      value.kind === 'open' ? [{ sum: value.value, what: told`The bound of ${told.thing(limit)}` }] : [],
    ),
  ];
}

const firstOf = (limits: readonly Limit[]): Limit | undefined =>
  [...limits].sort((one, other) => (one.name < other.name ? -1 : 1))[0];

/** An engine of its own in a spec that is built on another is a finding of its own: what it lacks the engine of the base has. */
function isOtherEngine(limit: Limit, view: View): boolean {
  return limit.placed.origin !== undefined && view.engine !== undefined && view.engine.placed.origin === undefined;
}

/** Whether a sum that came out leaves nothing to be looked for: it is made of plus, minus and times alone. */
function isPlain(sum: Expression): boolean {
  if (sum.kind === 'call') return false;
  if (sum.kind === 'negated') return isPlain(sum.operand);
  if (sum.kind !== 'binary') return true;
  const { first, further } = termsOf(sum);
  return isPlain(first) && further.every(({ operator, right }) => operator !== '/' && isPlain(right));
}

function saySums(limit: Limit, view: View, report: Report): void {
  for (const { sum, what } of sumsOf(limit)) {
    if (isTooLong(sum)) {
      report(
        limit.placed,
        nameSpan(limit.placed),
        told`${what} can't be worked out: its sum is too long. Up to ${MOST_IN_A_SUM.toLocaleString('en')} figures and names are worked out, ${MOST_FACTORS.toLocaleString('en')} of them multiplied or divided. Write parts of it as limits of their own.`,
      );
      continue;
    }
    if (sum === limit.expression && isPlain(sum) && workOutLimit(limit, view).length > 0) continue;
    for (const asked of placesOfLimit(limit, view).slice(0, MOST_LIMIT_PLACES)) {
      const found = whyNoValue(sum, evaluation(view, asked));
      // Of limits that rest on each other one is told, whichever stands first.
      if (found?.why === 'circle' && firstOf(found.through) !== limit) break;
      if (found === undefined || (found.why === 'input' && isOtherEngine(limit, view))) continue;
      report(limit.placed, found.where, text(limit, found, what), {
        missing: found.why === 'input',
        ...(found.why === 'input' && limit.measured ? { severity: 'information' } : {}),
      });
      break;
    }
  }
}

export const noValue: ThingCheck<'limit'> = {
  code: 'limit/no-value',
  severity: 'error',
  scope: 'thing',
  of: ['limit'],
  page,
  run(thing, view, report) {
    if (thing.broken) return;
    if (thing.expression !== undefined || thing.measured || measuredInSteps(thing, view)) {
      saySums(thing, view, report);
      return;
    }
    report(
      thing.placed,
      nameSpan(thing.placed),
      told`Nothing says where ${told.thing(thing)} comes from. Write = and the sum that gives it, or measured.`,
      { missing: true },
    );
  },
};
