// Balance of crankshafts: bobweights, unbalance, and the inertia forces that remain. Masses in grams, lengths in mm.
// Source: rigid-body mechanics of the slider-crank.

/** Masses in grams of what hangs on one crankpin; those of the piston are for one cylinder. */
export type PinMasses = {
  readonly rods: number;
  readonly bigEnd: number;
  readonly shells: number;
  readonly oil: number;
  readonly smallEnd: number;
  readonly piston: number;
  readonly pin: number;
  readonly locks: number;
  readonly rings: number;
};

export type Bobweight = { readonly rotating: number; readonly reciprocating: number; readonly total: number };

/**
 * Bobweight of one crankpin: all that turns, and a share of what goes up and down (one half for a 90-degree vee with two rods on a pin).
 * `reciprocating` is for one cylinder. The allowance for oil is common practice. `undefined` for a negative mass or share.
 */
export function bobweight(masses: PinMasses, share: number): Bobweight | undefined {
  if (Object.values(masses).some((mass) => !(mass >= 0)) || !(share >= 0)) return undefined;
  const rotating = masses.rods * (masses.bigEnd + masses.shells) + masses.oil;
  const reciprocating = masses.smallEnd + masses.piston + masses.pin + masses.locks + masses.rings;
  return { rotating, reciprocating, total: rotating + share * masses.rods * reciprocating };
}

/** Force in N of a mass (g) that turns at a radius (mm): m·r·ω². */
export function turningForce(mass: number, radius: number, rpm: number): number {
  return mass * radius * ((rpm * Math.PI) / 30) ** 2 * 1e-6;
}

/**
 * What remains of the second-order forces of an in-line four or a flat-crank V8's bank, in N at a crank angle from cylinder 1 at top dead
 * centre: 4·m·r·ω²·(r/l)·cos 2θ, for a reciprocating mass (g) of one cylinder. A cross-plane V8's cancel.
 */
export function secondaryForceOfFour(
  mass: number,
  throwLength: number,
  rod: number,
  rpm: number,
  degrees: number,
): number {
  return 4 * turningForce(mass, throwLength, rpm) * (throwLength / rod) * Math.cos((2 * degrees * Math.PI) / 180);
}

/** The greatest difference between the heaviest and the lightest of a set; `undefined` for none. */
export function massSpread(masses: readonly number[]): number | undefined {
  return masses.length === 0 ? undefined : Math.max(...masses) - Math.min(...masses);
}
