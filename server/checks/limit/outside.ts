// A limit that the parts miss whatever their tolerances do.
import { type Argument, type Told, told } from '../../../grammar/told.ts';
import { ZERO } from '../../mechanics/exact.ts';
import { shownUnit, workOutLimit } from '../../model/limit-sums.ts';
import type { Limit, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import type { ThingCheck } from '../check.ts';
import { rangeShown } from '../figures.ts';
import { restsOnMissed } from './design-differs.ts';
import { sayMachined } from './machined-to-size.ts';
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
  if (out === undefined || (out.worked.toMeasure && restsOnMissed(limit, view))) return undefined;
  return new Set(out.worked.inputs.keys());
}

/** Whether one limit is worked out from the engine's figures alone, and the other from all of these and more: one wrong figure throws both out. */
function isWithin(one: ReadonlySet<string>, other: ReadonlySet<string>): boolean {
  return (
    one.size > 0 && one.size < other.size && [...one].every((name) => name.startsWith('engine.') && other.has(name))
  );
}

/** Limits that are missed and rest on the same figures. */
interface Missed {
  readonly on: ReadonlySet<string>;
  readonly limits: readonly Limit[];
}

/** Those that are missed, by the figures that they rest on. Only asked for where one is. */
const allMissed = question((view, _subject: 'limits'): ReadonlyMap<string, Missed> => {
  const found = new Map<string, { on: ReadonlySet<string>; limits: Limit[] }>();
  for (const limit of view.limits) {
    const on = missedBy(limit, view);
    if (on === undefined) continue;
    const key = keyOf(on);
    const same = found.get(key);
    if (same === undefined) found.set(key, { on, limits: [limit] });
    else same.limits.push(limit);
  }
  return found;
});

const keyOf = (names: ReadonlySet<string>): string => [...names].sort().join(' ');

/** Of the figures that a limit rests on, whether another one that is missed rests on fewer: it is said there. */
const restOnOthers = question((view, key: string): boolean => {
  const own = allMissed(view, 'limits').get(key)?.on;
  return own !== undefined && [...allMissed(view, 'limits').values()].some(({ on }) => isWithin(on, own));
});

/** The limits that rest on the same figures of the engine, and on more, and are missed too. */
const restingOn = question((view, key: string): readonly Limit[] => {
  const own = allMissed(view, 'limits').get(key)?.on;
  if (own === undefined || ![...own].every((name) => name.startsWith('engine.'))) return [];
  return [...allMissed(view, 'limits').values()].flatMap(({ on, limits }) => (isWithin(own, on) ? limits : []));
});

export const outside: ThingCheck<'limit' | 'step'> = {
  code: 'limit/outside',
  severity: 'error',
  scope: 'thing',
  of: ['limit', 'step'],
  page,
  run(thing, view, report) {
    if (thing.kind === 'step') sayMachined(thing, view, report);
    if (thing.kind !== 'limit') return;
    const own = missedBy(thing, view);
    const key = own === undefined ? undefined : keyOf(own);
    if (key === undefined || restOnOthers(view, key)) return;
    const more = restingOn(view, key);
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
        told`${text.range}, whatever the parts measure, and must be ${text.bounds}.${miss} Worked out from ${inputsShown(results)}.`,
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
