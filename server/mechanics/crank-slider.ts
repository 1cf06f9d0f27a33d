// Piston position, speed and acceleration from throw, rod and crank angle, without shortcuts for small angles. Lengths in any one unit;
// degrees from top dead centre. The pin is on the cylinder's axis: an offset bore or pin is not reckoned.
// Source: geometry of the slider-crank, x = r(1 − cos θ) + l − √(l² − r² sin² θ).

export type CrankSlider = { readonly throw: number; readonly rod: number };

/** `undefined` where the rod is not longer than the throw, or either is nothing: such a crank cannot turn. */
export function crankSlider(stroke: number, rod: number): CrankSlider | undefined {
  return stroke > 0 && Number.isFinite(rod) && rod > stroke / 2 ? { throw: stroke / 2, rod } : undefined;
}

/** How far the piston has come down from top dead centre, in the unit of the throw. */
export function pistonTravel(crank: CrankSlider, degrees: number): number {
  const angle = radians(degrees);
  const across = crank.throw * Math.sin(angle);
  // The second term is l − √(l² − across²), in a form that loses no figures near the dead centres.
  return (
    crank.throw * 2 * Math.sin(angle / 2) ** 2 + across ** 2 / (crank.rod + Math.sqrt(crank.rod ** 2 - across ** 2))
  );
}

/** Speed away from top dead centre, in the unit of the throw a second; negative on the way up. */
export function pistonVelocity(crank: CrankSlider, degrees: number, rpm: number): number {
  const angle = radians(degrees);
  const slender = crank.rod / crank.throw;
  const turning = (rpm * Math.PI) / 30;
  return (
    crank.throw * turning * Math.sin(angle) * (1 + Math.cos(angle) / Math.sqrt(slender ** 2 - Math.sin(angle) ** 2))
  );
}

/** Acceleration away from top dead centre, in the unit of the throw a second squared. At the top it is rω²(1 + r/l). */
export function pistonAcceleration(crank: CrankSlider, degrees: number, rpm: number): number {
  const angle = radians(degrees);
  const slender = crank.rod / crank.throw;
  const turning = (rpm * Math.PI) / 30;
  const root = Math.sqrt(slender ** 2 - Math.sin(angle) ** 2);
  const bend = Math.cos(2 * angle) / root + (Math.sin(2 * angle) / 2) ** 2 / root ** 3;
  return crank.throw * turning ** 2 * (Math.cos(angle) + bend);
}

/** The greatest speed on the way down and the angle at which it is reached, to a millionth of a degree. */
export function peakPistonVelocity(
  crank: CrankSlider,
  rpm: number,
): { readonly degrees: number; readonly velocity: number } {
  let [low, high] = [0, 180];
  while (high - low > 1e-7) {
    const middle = (low + high) / 2;
    if (pistonAcceleration(crank, middle, Math.abs(rpm) || 1) > 0) low = middle;
    else high = middle;
  }
  const degrees = (low + high) / 2;
  return { degrees, velocity: pistonVelocity(crank, degrees, rpm) };
}

/** Mean piston speed in the unit of the stroke a second: two strokes a turn. */
export function meanPistonSpeed(stroke: number, rpm: number): number {
  return (2 * stroke * rpm) / 60;
}

/** Rod length over stroke; `undefined` for no stroke. */
export function rodRatio(rod: number, stroke: number): number | undefined {
  return stroke > 0 ? rod / stroke : undefined;
}

/** The crank angle after top dead centre, 0 to 180, at which the piston has come down so far; `undefined` outside the stroke. */
export function angleAtTravel(crank: CrankSlider, travel: number): number | undefined {
  if (!(travel >= 0 && travel <= 2 * crank.throw)) return undefined;
  let [low, high] = [0, 180];
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (pistonTravel(crank, middle) < travel) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function radians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}
