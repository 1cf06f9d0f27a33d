// A limit that the parts miss whatever their tolerances do.
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import { ZERO } from '../../mechanics/exact.ts';
import { shownUnit, workOutLimit } from '../../model/limit-sums.ts';
import type { Limit, View } from '../../model/view.ts';
import type { ThingCheck } from '../check.ts';
import { rangeShown } from '../figures.ts';
import page from './outside.md';
import { comesOut, inputsShown, judged } from './verdicts.ts';

function nearest(by: Argument, isSmall: boolean): Told {
  return isSmall
    ? told` The nearest that they come is ${by} too small.`
    : told` The nearest that they come is ${by} too large.`;
}

/** What a limit that the parts miss is worked out from; undefined for one that they do not miss. */
function missedBy(limit: Limit, view: View): ReadonlySet<string> | undefined {
  if (limit.broken || limit.expression === undefined) return undefined;
  const out = workOutLimit(limit, view).find((result) => result.verdict === 'outside');
  return out === undefined ? undefined : new Set(out.worked.inputs.keys());
}

/** Whether one limit is worked out from the engine's figures alone, and the other from all of these and more: one wrong figure throws both out. */
function isWithin(one: ReadonlySet<string>, other: ReadonlySet<string>): boolean {
  return (
    one.size > 0 && one.size < other.size && [...one].every((name) => name.startsWith('engine.') && other.has(name))
  );
}

/** Whether another limit that is missed has the wrong figure in fewer: it is said there. */
function restsOnOther(limit: Limit, view: View): boolean {
  const own = missedBy(limit, view);
  return (
    own !== undefined &&
    view.limits.some((other) => {
      const fewer = other === limit ? undefined : missedBy(other, view);
      return fewer !== undefined && isWithin(fewer, own);
    })
  );
}

/** The limits that rest on the same figures and are missed too. */
function resting(limit: Limit, view: View): readonly Limit[] {
  const own = missedBy(limit, view);
  if (own === undefined || ![...own].every((name) => name.startsWith('engine.'))) return [];
  return view.limits.filter((other) => {
    const all = other === limit ? undefined : missedBy(other, view);
    return all !== undefined && isWithin(own, all);
  });
}

export const outside: ThingCheck = {
  code: 'limit/outside',
  severity: 'error',
  scope: 'thing',
  page,
  run(thing, view, report) {
    if (thing.kind !== 'limit') return;
    if (restsOnOther(thing, view)) return;
    const more = resting(thing, view);
    for (const { value, results } of judged(thing, view, 'outside')) {
      const first = results[0];
      if (first?.bounds === undefined) continue;
      const { low, high, unit, places } = first.bounds;
      const { interval } = first.worked.stack;
      const under = low !== undefined && interval.high.compare(low) < 0;
      const by = under ? low.sub(interval.high) : high === undefined ? undefined : interval.low.sub(high);
      const text = comesOut(thing, results);
      const miss =
        by === undefined
          ? told.nothing
          : nearest(
              rangeShown({ low: by, high: by }, unit.length === 0 ? shownUnit(first) : unit, places, ZERO),
              under,
            );
      report(
        thing.placed,
        value,
        told`${text.range}, whatever the parts measure, and must lie within ${text.bounds}.${miss} Worked out from ${inputsShown(results)}.`,
        {
          related: more.slice(0, 4).map((limit) => ({
            placed: limit.placed,
            span: limit.within ?? limit.declaration.wordSpan,
            message: told`${told.thing(limit)} is out too, and rests on the same figures.`,
          })),
        },
      );
    }
  },
};
