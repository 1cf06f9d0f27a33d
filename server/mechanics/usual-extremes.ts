// The usual range of the least, the greatest and the spread of several values that vary by chance. A root-sum-square says nothing of
// these: the middles of four bores are alike, and the four bores are not. Here they are counted out from the normal distribution.

/** A value with its middle and the half width that nearly all lie in, taken as three standard deviations. */
export type Scattered = { readonly middle: number; readonly half: number };
type Group = Scattered & { readonly count: number };

/** What the half width of a root-sum-square holds: 99.73 % of a normal distribution lies within three standard deviations. */
const TAIL = 0.00135;
const DEVIATIONS = 3;
const STEPS = 160;
/** Beyond so many standard deviations nothing is left. */
const REACH = 7;

/** The range in which 99.73 % of all sets lie. Undefined for no values. */
export function usualExtreme(
  how: 'least' | 'greatest' | 'spread',
  values: readonly Scattered[],
): { readonly low: number; readonly high: number } | undefined {
  if (values.length === 0) return undefined;
  const groups = alike(values);
  const tops = groups.map(({ middle, half }) => middle + half * (REACH / DEVIATIONS));
  const bottoms = groups.map(({ middle, half }) => middle - half * (REACH / DEVIATIONS));
  const [top, bottom] = [Math.max(...tops), Math.min(...bottoms)];
  if (how === 'spread') {
    if (values.length === 1 || top === bottom) return { low: 0, high: 0 };
    return quantiles(0, top - bottom, (size) => shareOfSpread(groups, size));
  }
  if (how === 'greatest') return quantiles(bottom, top, (edge) => allBelow(groups, edge));
  return quantiles(bottom, top, (edge) => 1 - allAbove(groups, edge));
}

function alike(values: readonly Scattered[]): readonly Group[] {
  const groups = new Map<string, Group>();
  for (const { middle, half } of values) {
    const key = `${middle} ${half}`;
    groups.set(key, { middle, half, count: (groups.get(key)?.count ?? 0) + 1 });
  }
  return [...groups.values()];
}

/** Share of a normal distribution below a value. */
function below({ middle, half }: Scattered, edge: number): number {
  if (half === 0) return edge >= middle ? 1 : 0;
  return normalBelow(((edge - middle) / half) * DEVIATIONS);
}

function allBelow(groups: readonly Group[], edge: number): number {
  return groups.reduce((share, group) => share * below(group, edge) ** group.count, 1);
}

function allAbove(groups: readonly Group[], edge: number): number {
  return groups.reduce((share, group) => share * (1 - below(group, edge)) ** group.count, 1);
}

/** The share of sets whose spread is no more than `size`: each value in turn is the least, and all others lie within `size` above it. */
function shareOfSpread(groups: readonly Group[], size: number): number {
  let share = 0;
  for (const least of groups) {
    if (least.half === 0) {
      // Values that do not vary: any one of them stands for those that are alike.
      share += othersWithin(groups, least, least.count, least.middle, size);
      continue;
    }
    const step = (2 * REACH) / STEPS;
    for (let at = 0; at <= STEPS; at += 1) {
      const deviation = -REACH + at * step;
      const weight = (at === 0 || at === STEPS ? 1 : at % 2 === 0 ? 2 : 4) / 3;
      const edge = least.middle + (deviation * least.half) / DEVIATIONS;
      share += weight * step * least.count * density(deviation) * othersWithin(groups, least, 1, edge, size);
    }
  }
  return share;
}

function othersWithin(groups: readonly Group[], least: Group, taken: number, edge: number, size: number): number {
  let share = 1;
  for (const group of groups) {
    const count = group.count - (group === least ? taken : 0);
    if (count > 0) share *= Math.max(0, below(group, edge + size) - below(group, edge)) ** count;
  }
  return share;
}

/** The two values under and over which the tails lie. `share` rises from 0 to 1 between the two given. */
function quantiles(low: number, high: number, share: (at: number) => number): { low: number; high: number } {
  const find = (wanted: number): number => {
    let [under, above] = [low, high];
    for (let turn = 0; turn < 34; turn += 1) {
      const middle = (under + above) / 2;
      if (share(middle) < wanted) under = middle;
      else above = middle;
    }
    return (under + above) / 2;
  };
  return { low: find(TAIL), high: find(1 - TAIL) };
}

function density(deviation: number): number {
  return Math.exp(-(deviation ** 2) / 2) / Math.sqrt(2 * Math.PI);
}

/** Share of the standard normal distribution below `deviation`; Abramowitz and Stegun 26.2.17, off by less than 7.5e-8. */
function normalBelow(deviation: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(deviation));
  const series = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = density(deviation) * series;
  return deviation >= 0 ? 1 - tail : tail;
}
