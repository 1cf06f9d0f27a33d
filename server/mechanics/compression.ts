// Deck clearance, squish, clearance volume and compression ratio as exact ranges, and the ratio that late inlet closing leaves.
// All lengths in one unit, all volumes in its cube. Source: geometry; clearance = chamber + gasket + deck + dish − dome.

import { crankSlider, pistonTravel } from './crank-slider.ts';
import { boreArea, sweptVolume } from './displacement.ts';
import {
  type Exact,
  larger,
  minus,
  negate,
  ONE,
  over,
  PI,
  plus,
  ratioOf,
  signOf,
  smaller,
  times,
  toNumber,
  ZERO,
} from './exact.ts';
import { addIntervals, type Interval, multiplyIntervals, point, subtractIntervals } from './interval.ts';

const HALF: Exact = ratioOf(1, 2) ?? ONE;
const QUARTER_PI: Exact = times(PI, ratioOf(1, 4) ?? ONE);
const NOTHING: Interval = point(ZERO);

/** Where the deck clearance comes from: measured or stated as it is, or from the heights that make it. */
export type Deck =
  | { readonly clearance: Interval }
  | { readonly blockHeight: Interval; readonly rod: Interval; readonly compressionHeight: Interval };

/** What is around the gas at top dead centre. No gasket is a thickness of nothing, a flat head a chamber of nothing. */
export type Combustion = {
  readonly bore: Interval;
  readonly stroke: Interval;
  readonly deck: Deck;
  readonly chamber: Interval;
  readonly gasketThickness: Interval;
  /** Unsaid: as the bore. */
  readonly gasketBore?: Interval | undefined;
  readonly dish?: Interval | undefined;
  readonly dome?: Interval | undefined;
};

/** Block height − throw − rod − compression height; negative where the piston stands proud. */
export function deckClearance(
  blockHeight: Interval,
  stroke: Interval,
  rod: Interval,
  compressionHeight: Interval,
): Interval {
  const throwLength = multiplyIntervals(stroke, point(HALF));
  return [throwLength, rod, compressionHeight].reduce(subtractIntervals, blockHeight);
}

/** Deck clearance of either form of deck. */
function deckOf(deck: Deck, stroke: Interval): Interval {
  return 'clearance' in deck
    ? deck.clearance
    : deckClearance(deck.blockHeight, stroke, deck.rod, deck.compressionHeight);
}

/** Gap between the flat of the piston and the head: deck clearance and the gasket. */
export function squish(deck: Interval, gasketThickness: Interval): Interval {
  return addIntervals(deck, gasketThickness);
}

/** Volume left at top dead centre, as a plain interval (an input that occurs twice counts twice). `undefined` for a bore of nothing. */
export function clearanceVolume(parts: Combustion): Interval | undefined {
  const area = boreArea(parts.bore);
  const gasketArea = boreArea(parts.gasketBore ?? parts.bore);
  if (area === undefined || gasketArea === undefined) return undefined;
  const deck = multiplyIntervals(area, deckOf(parts.deck, parts.stroke));
  const gasket = multiplyIntervals(gasketArea, parts.gasketThickness);
  const filled = [gasket, deck, parts.dish ?? NOTHING].reduce(addIntervals, parts.chamber);
  return subtractIntervals(filled, parts.dome ?? NOTHING);
}

/**
 * (Swept + clearance) / clearance. The range is the true one: bore and stroke enter in two places and are moved together, so it is not
 * wider than parts can make it. `undefined` where the clearance volume can be nothing, or bore or stroke are.
 */
export function compressionRatio(parts: Combustion): Interval | undefined {
  if (signOf(parts.bore.low) <= 0 || signOf(parts.stroke.low) <= 0) return undefined;
  const deck = deckPartsOf(parts.deck);
  // Of everything but the bore the ratio rises or falls all the way; of the bore it may do either, so both ends are tried.
  const at = (way: 'low' | 'high' | 'nominal', bore: Exact): Exact | undefined => {
    const against = way === 'nominal' ? 'nominal' : way === 'low' ? 'high' : 'low';
    return ratioAt({
      bore,
      stroke: parts.stroke[way],
      chamber: parts.chamber[against],
      gasketThickness: parts.gasketThickness[against],
      gasketBore:
        parts.gasketBore === undefined ? bore : gasketEnd(parts.gasketBore, parts.gasketThickness[against], against),
      dish: (parts.dish ?? NOTHING)[against],
      dome: (parts.dome ?? NOTHING)[way],
      above: deck.above[against],
      below: deck.below[way],
      withThrow: deck.withThrow,
    });
  };
  const nominal = at('nominal', parts.bore.nominal);
  const figures: readonly Interval[] = Object.values(parts).flatMap((part: Interval | Deck | undefined) =>
    part === undefined ? [] : 'low' in part ? [part] : Object.values<Interval>(part),
  );
  // Without a tolerance anywhere, its ends are the nominal itself.
  if (nominal !== undefined && figures.every((each) => each.low.equals(each.nominal) && each.high.equals(each.nominal)))
    return { low: nominal, high: nominal, nominal };
  const low = pair(at('low', parts.bore.low), at('low', parts.bore.high), smaller);
  const high = pair(at('high', parts.bore.low), at('high', parts.bore.high), larger);
  return low === undefined || high === undefined || nominal === undefined ? undefined : { low, high, nominal };
}

/**
 * The ratio from where the inlet valve closes, so many degrees after bottom dead centre, with nominal sizes; 0 gives the plain ratio.
 * `undefined` where the crank cannot turn, the rod is unknown, or the valve closes beyond the stroke (180 or more either way).
 */
export function effectiveCompressionRatio(
  parts: Combustion,
  rod: number,
  closesAfterBottom: number,
): number | undefined {
  const clearance = clearanceVolume(parts);
  const swept = sweptVolume(parts.bore, parts.stroke);
  const stroke = toNumber(parts.stroke.nominal);
  const crank = crankSlider(stroke, rod);
  if (clearance === undefined || swept === undefined || crank === undefined || signOf(clearance.nominal) <= 0)
    return undefined;
  if (!(Math.abs(closesAfterBottom) < 180)) return undefined;
  const left = pistonTravel(crank, 180 + closesAfterBottom) / stroke;
  return 1 + (toNumber(swept.nominal) * left) / toNumber(clearance.nominal);
}

type Sizes = Readonly<
  Record<'bore' | 'stroke' | 'chamber' | 'gasketThickness' | 'gasketBore' | 'dish' | 'dome' | 'above' | 'below', Exact>
> & { readonly withThrow: boolean };

function ratioAt(sizes: Sizes): Exact | undefined {
  const area = times(QUARTER_PI, times(sizes.bore, sizes.bore));
  const gasket = times(times(QUARTER_PI, times(sizes.gasketBore, sizes.gasketBore)), sizes.gasketThickness);
  const heights = minus(sizes.above, sizes.below);
  const deck = sizes.withThrow ? minus(heights, times(sizes.stroke, HALF)) : heights;
  const clearance = [gasket, sizes.dish, times(area, deck), negate(sizes.dome)].reduce(plus, sizes.chamber);
  if (signOf(clearance) <= 0) return undefined;
  const share = over(times(area, sizes.stroke), clearance);
  return share === undefined ? undefined : plus(ONE, share);
}

function deckPartsOf(deck: Deck): { readonly above: Interval; readonly below: Interval; readonly withThrow: boolean } {
  if ('clearance' in deck) return { above: deck.clearance, below: NOTHING, withThrow: false };
  return { above: deck.blockHeight, below: addIntervals(deck.rod, deck.compressionHeight), withThrow: true };
}

/** The end of the gasket bore that works the same way as the end of its thickness: a wider bore holds more only where there is thickness. */
function gasketEnd(bore: Interval, thickness: Exact, way: 'low' | 'high' | 'nominal'): Exact {
  if (way === 'nominal' || signOf(thickness) >= 0) return bore[way];
  return way === 'low' ? bore.high : bore.low;
}

function pair(
  first: Exact | undefined,
  second: Exact | undefined,
  pick: (first: Exact, second: Exact) => Exact,
): Exact | undefined {
  return first === undefined || second === undefined ? undefined : pick(first, second);
}
