// How figures are said in messages: ranges in the unit of the spec, loads in kN, shares in percent, torques rounded as a wrench is set.
import { type Argument, type QuantityArgument, type RangeArgument, told } from '../../grammar/told.ts';
import { type Exact, exact, toNumber } from '../mechanics/exact.ts';
import type { Band } from '../mechanics/preload.ts';
import { convert, type Unit, unitOf, unitText } from '../mechanics/units.ts';
import { shownNumber } from '../model/limit-sums.ts';

/** A figure with its unit behind it. */
export function figure(number: string, unit: string): QuantityArgument {
  return told.quantity(unit === '' ? number : `${number} ${unit}`, Number(number), unit);
}

/** `0.020..0.060 mm` from base units; one figure where both ends come out alike. `zero` as in `Worked`; none for a difference. */
export function rangeShown(
  value: { readonly low: Exact | number; readonly high: Exact | number },
  unit: Unit,
  places: number,
  zero?: Exact,
): QuantityArgument | RangeArgument {
  const [low, high] = [shownNumber(value.low, unit, places, zero), shownNumber(value.high, unit, places, zero)];
  const written = unitText(unit);
  if (low === high) return figure(low, written);
  return told.range(`${low}..${high}${written === '' ? '' : ` ${written}`}`, Number(low), Number(high), written);
}

export interface BoundsToShow {
  readonly low: Exact | undefined;
  readonly high: Exact | undefined;
  readonly unit: Unit;
  readonly places: number;
  readonly zero?: Exact;
}

/** Bounds of which one may be open: `0.020..0.060 mm`, `at least 0.20 mm`. */
export function boundsShown(bounds: BoundsToShow): Argument {
  const { low, high, unit, places, zero } = bounds;
  if (low !== undefined && high !== undefined) return rangeShown({ low, high }, unit, places, zero);
  const edge = edgeShown(bounds);
  if (edge === undefined) return '';
  const only = edge.kind === 'quantity' ? edge.value : undefined;
  return low === undefined
    ? told.range(told`at most ${edge}`, undefined, only, edge.unit)
    : told.range(told`at least ${edge}`, only, undefined, edge.unit);
}

/** The one bound that is not open, the lower where both are there: `0.20 mm`. */
export function edgeShown({
  low,
  high,
  unit,
  places,
  zero,
}: BoundsToShow): QuantityArgument | RangeArgument | undefined {
  const edge = low ?? high;
  return edge === undefined ? undefined : rangeShown({ low: edge, high: edge }, unit, places, zero);
}

/** `16.7 kN` from newtons. */
export function load(newtons: number): QuantityArgument {
  return figure((newtons / 1000).toFixed(1), 'kN');
}

/** `15.0 to 18.8 kN` from newtons. */
export function loadBand(band: Band): RangeArgument {
  const low = (band.low / 1000).toFixed(1);
  const high = load(band.high);
  return told.range(told`${low} to ${high}`, Number(low), high.value, 'kN');
}

/** `79 %`. */
export function percent(share: number): QuantityArgument {
  return figure(String(Math.round(share * 100)), '%');
}

/** `71 to 88 %`. */
export function percentBand(band: Band): QuantityArgument | RangeArgument {
  const [low, high] = [Math.round(band.low * 100), percent(band.high)];
  return low === high.value ? percent(band.low) : told.range(told`${String(low)} to ${high}`, low, high.value, '%');
}

/** A torque (N·m) in a unit, to two figures or a whole number: `47 N.m`, `8.5 lbf.ft`. */
export function torqueShown(newtonMetres: number, unit: Unit): QuantityArgument {
  const value = exact(newtonMetres.toFixed(6));
  const converted = value === undefined ? undefined : convert(value, unitOf('N.m'), unit);
  const number = converted === undefined ? newtonMetres : toNumber(converted);
  return figure(
    number < 10 ? number.toFixed(1) : String(Math.round(number)),
    converted === undefined ? 'N.m' : unitText(unit),
  );
}
