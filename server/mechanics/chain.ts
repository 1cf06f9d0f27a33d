// Chains and toothed belts over two wheels: pitch diameter, length, centre distance, and how many links lie between two marks.
// Lengths in pitches unless said. Sources: geometry; ANSI B29.1 appendix, Shigley and Machinery's Handbook for the usual formula (from memory,
// also read on one page); pitch diameters equal ISO 606 Annex A.

/** Pitch diameter of a sprocket over the chain's pitch: 1 / sin(180°/z). `undefined` for fewer than 3 teeth. */
export function sprocketDiameter(teeth: number): number | undefined {
  return countsAsTeeth(teeth) ? 1 / Math.sin(Math.PI / teeth) : undefined;
}

/** By how much the chain's speed varies over one tooth, as a share of the highest: 1 − cos(180°/z). */
export function chordalVariation(teeth: number): number | undefined {
  return countsAsTeeth(teeth) ? 1 - Math.cos(Math.PI / teeth) : undefined;
}

/** The usual formula: 2C + (N1+N2)/2 + (N2−N1)²/(4π²C). Up to 0.006 pitch short of the geometry for engine drives. */
export function chainLengthByFormula(first: number, second: number, centre: number): number | undefined {
  if (!countsAsTeeth(first) || !countsAsTeeth(second) || !(centre > 0)) return undefined;
  return 2 * centre + (first + second) / 2 + (second - first) ** 2 / (4 * Math.PI ** 2 * centre);
}

/** The formula the other way: centre distance for so many links; `undefined` where they do not go round. */
export function centreByFormula(first: number, second: number, links: number): number | undefined {
  if (!countsAsTeeth(first) || !countsAsTeeth(second)) return undefined;
  const free = links - (first + second) / 2;
  const under = free ** 2 - 8 * ((second - first) / (2 * Math.PI)) ** 2;
  return free > 0 && under >= 0 ? (free + Math.sqrt(under)) / 4 : undefined;
}

/**
 * Taut length round two sprockets by geometry, in pitches: straight runs between the true pitch circles, and z/360° of a link for each degree in
 * contact. `undefined` where the centre distance does not clear the wheels' difference.
 */
export function chainLength(first: number, second: number, centre: number): number | undefined {
  const runs = tangents(first, second, centre, sprocketDiameter);
  if (runs === undefined) return undefined;
  const wrap = runs.tilt / Math.PI;
  return 2 * runs.span + second * (0.5 + wrap) + first * (0.5 - wrap);
}

/** Taut length of a toothed belt, in its pitches, pitch radii z/2π: 2√(C²−(R−r)²) + π(R+r) + 2(R−r)·asin((R−r)/C). */
export function beltLength(first: number, second: number, centre: number): number | undefined {
  const runs = tangents(first, second, centre, beltDiameter);
  if (runs === undefined) return undefined;
  const [small, large] = [first / (2 * Math.PI), second / (2 * Math.PI)];
  return 2 * runs.span + Math.PI * (small + large) + 2 * (large - small) * runs.tilt;
}

/** Centre distance at which so many links are taut, to a millionth of a pitch; `undefined` where they do not reach round or are beyond 10 000 pitches. */
export function centreFor(kind: 'chain' | 'belt', first: number, second: number, links: number): number | undefined {
  const length = kind === 'chain' ? chainLength : beltLength;
  const diameter = kind === 'chain' ? sprocketDiameter : beltDiameter;
  const [one, other] = [diameter(first), diameter(second)];
  if (one === undefined || other === undefined || !(links <= 10000)) return undefined;
  // The least centre distance leaves the pitch circles apart; the wheels have to clear one another anyway.
  let [low, high] = [(one + other) / 2, links];
  const shortest = length(first, second, low);
  if (shortest === undefined || shortest > links) return undefined;
  while (high - low > 1e-7) {
    const middle = (low + high) / 2;
    if ((length(first, second, middle) ?? Number.POSITIVE_INFINITY) < links) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** A chain with an odd number of links needs a cranked link, and a pattern of marked or inner links that does not come out even. */
export function oddLinks(links: number): boolean {
  return Math.abs(links % 2) === 1;
}

/** Links or teeth of a loop over two wheels held against the taut length, in pitches: `spare` is negative where it does not reach round. */
export function loopFit(
  kind: 'chain' | 'belt',
  first: number,
  second: number,
  centre: number,
  links: number,
): { readonly needed: number; readonly spare: number } | undefined {
  const needed = kind === 'chain' ? chainLength(first, second, centre) : beltLength(first, second, centre);
  return needed === undefined ? undefined : { needed, spare: links - needed };
}

/** Two wheels, the direction from the first to the second (degrees clockwise from 12 o'clock, seen from the front), and a mark on each likewise. */
export type MarkedPair = {
  readonly kind: 'chain' | 'belt';
  readonly first: number;
  readonly second: number;
  readonly centre: number;
  readonly direction: number;
  readonly firstMark: number;
  readonly secondMark: number;
  readonly links: number;
};

/**
 * Links from the first wheel's mark clockwise along the loop to the second's: at least with that side taut, at most with all slack in it.
 * `undefined` where a mark stands where the loop is not on its wheel, or the loop does not reach round by more than half a link.
 */
export function linksBetweenMarks(pair: MarkedPair): { readonly least: number; readonly most: number } | undefined {
  const runs = tangents(pair.first, pair.second, pair.centre, pair.kind === 'chain' ? sprocketDiameter : beltDiameter);
  if (runs === undefined) return undefined;
  const tilt = (runs.tilt * 180) / Math.PI;
  // Clockwise round the loop: on to the first wheel at +90 + tilt from the direction, off it at 270 − tilt; on to the second at −90 − tilt.
  const firstWrap = 180 - 2 * tilt;
  const secondWrap = 180 + 2 * tilt;
  const onFirst = turn(pair.firstMark - (pair.direction + 90 + tilt));
  const onSecond = turn(pair.secondMark - (pair.direction - 90 - tilt));
  if (onFirst > firstWrap + 1e-9 || onSecond > secondWrap + 1e-9) return undefined;
  const forward = ((firstWrap - onFirst) * pair.first) / 360 + runs.span + (onSecond * pair.second) / 360;
  const backward = ((secondWrap - onSecond) * pair.second) / 360 + runs.span + (onFirst * pair.first) / 360;
  const most = pair.links - backward;
  return most < forward - 0.5 ? undefined : { least: Math.min(forward, most), most: Math.max(forward, most) };
}

type Tangents = { readonly span: number; readonly tilt: number };

/** Straight run and its tilt (radians, positive where the second wheel is the larger) between two pitch circles. */
function tangents(
  first: number,
  second: number,
  centre: number,
  diameter: (teeth: number) => number | undefined,
): Tangents | undefined {
  const [one, other] = [diameter(first), diameter(second)];
  if (one === undefined || other === undefined || !(centre > 0) || !Number.isFinite(centre)) return undefined;
  const step = (other - one) / 2;
  if (Math.abs(step) >= centre) return undefined;
  return { span: Math.sqrt(centre ** 2 - step ** 2), tilt: Math.asin(step / centre) };
}

function beltDiameter(teeth: number): number | undefined {
  return countsAsTeeth(teeth) ? teeth / Math.PI : undefined;
}

function countsAsTeeth(teeth: number): boolean {
  return Number.isInteger(teeth) && teeth >= 3;
}

function turn(degrees: number): number {
  const rest = ((degrees % 360) + 360) % 360;
  return rest > 360 - 1e-9 ? 0 : rest;
}
