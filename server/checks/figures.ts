// How figures are written in messages: ranges in the unit of the spec, loads in kN, shares in percent, torques rounded as a wrench is set.
import { type Exact, exact, toNumber } from '../mechanics/exact.ts';
import type { Band } from '../mechanics/preload.ts';
import { convert, type Unit, unitOf, unitText } from '../mechanics/units.ts';
import { shownNumber } from '../model/limit-sums.ts';

/** `0.020..0.060 mm` from base units; one figure where both ends come out alike. `zero` as in `Worked`; none for a difference. */
export function rangeShown(
  value: { readonly low: Exact | number; readonly high: Exact | number },
  unit: Unit,
  places: number,
  zero?: Exact,
): string {
  const [low, high] = [shownNumber(value.low, unit, places, zero), shownNumber(value.high, unit, places, zero)];
  const written = unitText(unit);
  return `${low === high ? low : `${low}..${high}`}${written === '' ? '' : ` ${written}`}`;
}

/** Bounds of which one may be open: `0.020..0.060 mm`, `at least 0.20 mm`. */
export function boundsShown(bounds: {
  readonly low: Exact | undefined;
  readonly high: Exact | undefined;
  readonly unit: Unit;
  readonly places: number;
  readonly zero?: Exact;
}): string {
  const { low, high, unit, places, zero } = bounds;
  if (low !== undefined && high !== undefined) return rangeShown({ low, high }, unit, places, zero);
  const edge = low ?? high;
  return edge === undefined
    ? ''
    : `at ${low === undefined ? 'most' : 'least'} ${rangeShown({ low: edge, high: edge }, unit, places, zero)}`;
}

/** `16.7 kN` from newtons. */
export function load(newtons: number): string {
  return `${(newtons / 1000).toFixed(1)} kN`;
}

/** `15.0 to 18.8 kN` from newtons. */
export function loadBand(band: Band): string {
  return `${(band.low / 1000).toFixed(1)} to ${load(band.high)}`;
}

/** `79 %`. */
export function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

/** `71 to 88 %`. */
export function percentBand(band: Band): string {
  return Math.round(band.low * 100) === Math.round(band.high * 100)
    ? percent(band.low)
    : `${Math.round(band.low * 100)} to ${percent(band.high)}`;
}

/** A torque (N·m) in a unit, to two figures or a whole number: `47 N.m`, `8.5 lbf.ft`. */
export function torqueShown(newtonMetres: number, unit: Unit): string {
  const value = exact(newtonMetres.toFixed(6));
  const converted = value === undefined ? undefined : convert(value, unitOf('N.m'), unit);
  const number = converted === undefined ? newtonMetres : toNumber(converted);
  return `${number < 10 ? number.toFixed(1) : Math.round(number)} ${converted === undefined ? 'N.m' : unitText(unit)}`;
}
