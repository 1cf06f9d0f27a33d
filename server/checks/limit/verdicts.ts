// The worked-out range of a limit beside its bounds, gathered so that one value as written gives one finding. No check of its own.
import { type Argument, type ListArgument, type Told, told } from '../../../grammar/told.ts';
import type { PlainValue, Value } from '../../../grammar/tree.ts';
import { ZERO } from '../../mechanics/exact.ts';
import { type LimitResult, placeText, shownUnit, type Verdict, workOutLimit } from '../../model/limit-sums.ts';
import { valueAt } from '../../model/measure.ts';
import type { Limit, View } from '../../model/view.ts';
import { boundsShown, rangeShown } from '../figures.ts';

/** The results of one written bound that have the verdict asked for. */
export interface Judged {
  readonly value: PlainValue;
  readonly results: readonly LimitResult[];
}

function writtenFor(within: Value, result: LimitResult): PlainValue | undefined {
  const { place } = result;
  return valueAt(within, { name: place?.name, number: place?.number ?? place?.index ?? 1 });
}

/** What comes out with this verdict, by the bound that it is held against. */
export function judged(limit: Limit, view: View, verdict: Verdict): readonly Judged[] {
  const { within } = limit;
  if (within === undefined || limit.broken) return [];
  const found = new Map<PlainValue, LimitResult[]>();
  for (const result of workOutLimit(limit, view)) {
    const value = result.verdict === verdict ? writtenFor(within, result) : undefined;
    if (value !== undefined) found.set(value, [...(found.get(value) ?? []), result]);
  }
  return [...found].map(([value, results]) => ({ value, results }));
}

/** `main-oil-clearance comes out at 0.010..0.050 mm` for each place that differs, and the bounds. */
export function comesOut(
  limit: Limit,
  results: readonly LimitResult[],
): { readonly range: Told; readonly bounds: Argument } {
  const first = results[0];
  const places = first?.bounds?.places ?? 3;
  const range = results.slice(0, 3).map((result): Argument => {
    const place = placeText(result.place);
    const shown = rangeShown(result.worked.stack.interval, shownUnit(result), places, result.worked.zero ?? ZERO);
    return place === '' ? shown : told`${shown} at ${told.place(place)}`;
  });
  return {
    range:
      results.length > 3
        ? told`${told.thing(limit)} comes out at ${told.list(range, ',')} and likewise at ${results.length - 3} more places`
        : told`${told.thing(limit)} comes out at ${told.list(range, ',')}`,
    bounds: first?.bounds === undefined ? '' : boundsShown(first.bounds),
  };
}

/** `block.bore 80.700..80.718 mm, piston.skirt 80.660..80.670 mm`. */
export function inputsShown(results: readonly LimitResult[]): ListArgument {
  const inputs = results[0]?.worked.inputs ?? new Map<string, string>();
  return told.list(
    [...inputs].slice(0, 6).map(([name, text]) => `${name} ${text}`),
    ',',
  );
}
