// Preload of a fastener: from torque by nut factor or by friction, from a further angle, from stretch; and as a share of proof load.
// Torques in N·m, lengths in mm, loads in N, stresses in MPa. Units and the choice of band are settled before; suspect units are in torque-sense.ts.

import type { NutFactor } from './nut-factor.ts';
import type { Strength } from './strength.ts';
import { advance, type Thread } from './threads.ts';

/** A result with its band: `nominal` from the usual figure, `low` and `high` with everything against and for. */
export type Band = { readonly low: number; readonly nominal: number; readonly high: number };

/** A torque or a range of it, N·m. A point has all three alike. */
export type Torque = Band;

export function torquePoint(newtonMetres: number): Torque {
  return { low: newtonMetres, nominal: newtonMetres, high: newtonMetres };
}

/**
 * Preload (N) by the short form F = T / (K·d). Low is the least torque on the highest K, high the other way round.
 * `undefined` where torque, diameter or K is nothing or less.
 */
export function preloadFromTorque(torque: Torque, diameter: number, factor: NutFactor): Band | undefined {
  if (!(torque.low > 0) || !(diameter > 0) || !(factor.low > 0)) return undefined;
  const load = (newtonMetres: number, k: number): number => (newtonMetres * 1000) / (k * diameter);
  return {
    low: load(torque.low, factor.high),
    nominal: load(torque.nominal, factor.usual),
    high: load(torque.high, factor.low),
  };
}

/** Torque (N·m) for a preload (N) by the short form T = K·F·d. */
export function torqueForPreload(preload: number, diameter: number, k: number): number {
  return (k * preload * diameter) / 1000;
}

/**
 * Mean diameter (mm) on which the head or nut rubs. ISO 4014 washer face and ISO 273 medium hole where the size is listed (from memory;
 * they reproduce the published VDI table), else 1.25 d, the collar of Shigley's long form.
 */
function rubbingDiameter(thread: Pick<Thread, 'diameter' | 'family'>): number {
  const listed = thread.family === 'metric' ? HEADS.get(thread.diameter) : undefined;
  return listed === undefined ? 1.25 * thread.diameter : (listed[0] + listed[1]) / 2;
}

const HEADS: ReadonlyMap<number, readonly [washerFace: number, hole: number]> = new Map([
  [6, [8.9, 6.6]],
  [8, [11.6, 9]],
  [10, [14.6, 11]],
  [12, [16.6, 13.5]],
  [14, [19.6, 15.5]],
  [16, [22.5, 17.5]],
  [18, [25.3, 20]],
  [20, [28.2, 22]],
]);

/**
 * Torque (N·m) for a preload (N) by friction: VDI 2230-1, M = F·(0.16 P + 0.58 d2 µG + (DKm/2) µK), with one µ for thread and head unless
 * two are given. From memory of the guideline; holds all read cells of its fine-thread table within 0.6 %.
 */
export function torqueByFriction(
  preload: number,
  thread: Thread,
  inThread: number,
  underHead: number = inThread,
): number {
  return (preload * torqueArm(thread, inThread, underHead)) / 1000;
}

/** How far a stated friction coefficient still scatters either way. Common practice, no source. */
const FRICTION_SCATTER = 0.02;

/** Preload (N) from torque by a stated friction coefficient, with its scatter. `undefined` outside 0.03 to 0.6. */
export function preloadByFriction(torque: Torque, thread: Thread, friction: number): Band | undefined {
  if (!(torque.low > 0) || !(friction >= 0.03 && friction <= 0.6)) return undefined;
  const load = (newtonMetres: number, coefficient: number): number =>
    (newtonMetres * 1000) / torqueArm(thread, coefficient, coefficient);
  return {
    low: load(torque.low, friction + FRICTION_SCATTER),
    nominal: load(torque.nominal, friction),
    high: load(torque.high, Math.max(0, friction - FRICTION_SCATTER)),
  };
}

/**
 * Largest preload (N) that tightening to a part of yield allows, with the twist of the shank reckoned in: VDI 2230-1,
 * F = As·ν·Rp / √(1 + 3·[1.5·(d2/d0)·(P/(π·d2) + 1.155 µG)]²), d0 = (d2+d3)/2, ν usually 0.9. From memory of the guideline.
 */
export function tighteningLimit(
  thread: Thread,
  strength: Pick<Strength, 'yield'>,
  friction: number,
  share = 0.9,
): number {
  const mean = (thread.pitchDiameter + thread.rootDiameter) / 2;
  const twist =
    1.5 * (thread.pitchDiameter / mean) * (thread.pitch / (Math.PI * thread.pitchDiameter) + 1.155 * friction);
  return (thread.stressArea * share * strength.yield) / Math.sqrt(1 + 3 * twist ** 2);
}

/** Least preload where the greatest is known and a way of tightening scatters by a factor (VDI 2230 αA, 1.4 to 1.8 for a torque wrench). */
export function leastPreload(greatest: number, tighteningFactor: number): number {
  return greatest / tighteningFactor;
}

/**
 * Torque (N·m) by the long form for a square-cornered view of the thread: Shigley ch. 8,
 * T = F·(dm/2·(tan λ + f sec α)/(1 − f tan λ sec α) + 0.625 fc d), α 30°. Mean diameter dm is between major and root diameter.
 */
export function torqueLongForm(preload: number, thread: Thread, friction: number, collar: number = friction): number {
  const mean = (thread.diameter + rootForLongForm(thread)) / 2;
  const lead = thread.pitch / (Math.PI * mean);
  const slope = friction / Math.cos(Math.PI / 6);
  return (preload * ((mean / 2) * ((lead + slope) / (1 - lead * slope)) + 0.625 * collar * thread.diameter)) / 1000;
}

/** Preload as a share of proof load: 0.75 is 75 %. */
export function shareOfProof(preload: Band, proof: number): Band | undefined {
  if (!(proof > 0)) return undefined;
  return { low: preload.low / proof, nominal: preload.nominal / proof, high: preload.high / proof };
}

/** Modulus of steel, MPa: 205 to 210 GPa. From memory of handbooks. */
const STEEL_MODULUS: Band = { low: 205000, nominal: 207500, high: 210000 };

/**
 * Preload (N) from a measured stretch over the stretched length: F = E·δ / (L₁/A₁ + L₂/A₂), shank and thread one behind the other, as
 * springs in a row are reckoned (Hooke). `shank` is the diameter of the shank and `threaded` the length of the thread, mm. Where either is
 * not known it is a band from all thread, with its stress area, to all shank, with that of its diameter, by default the thread's.
 * `undefined` where stretch or length is nothing or less, or the thread longer than the whole.
 */
export function preloadFromStretch(
  stretch: { readonly low: number; readonly high: number },
  length: number,
  thread: Pick<Thread, 'stressArea' | 'diameter'>,
  known: { readonly shank?: number | undefined; readonly threaded?: number | undefined } = {},
): Band | undefined {
  const { shank = thread.diameter, threaded } = known;
  if (!(stretch.low > 0) || !(length > 0) || !(thread.stressArea > 0) || !(shank > 0)) return undefined;
  if (threaded !== undefined && !(threaded >= 0 && threaded <= length)) return undefined;
  const area = (Math.PI / 4) * shank ** 2;
  const load = (modulus: number, by: number, inThread: number): number =>
    (modulus * by) / ((length - inThread) / area + inThread / thread.stressArea);
  const isKnown = known.shank !== undefined && threaded !== undefined;
  const ends = isKnown ? [threaded] : [0, threaded ?? length, length];
  const soft = (modulus: number, by: number): readonly number[] => ends.map((inThread) => load(modulus, by, inThread));
  const low = Math.min(...soft(STEEL_MODULUS.low, stretch.low));
  const high = Math.max(...soft(STEEL_MODULUS.high, stretch.high));
  const middle = soft(STEEL_MODULUS.nominal, (stretch.low + stretch.high) / 2);
  return { low, nominal: (Math.min(...middle) + Math.max(...middle)) / 2, high };
}

/** Most that a further angle can stretch the bolt, mm: pitch·angle/360, were the joint quite stiff. */
export function stretchFromAngle(thread: Pick<Thread, 'pitch'>, degrees: number): number {
  return advance(thread, degrees);
}

/** Most preload (N) that a further angle can add over a stretched length, were the joint quite stiff and the bolt still elastic. */
export function preloadFromAngleAtMost(thread: Thread, degrees: number, length: number): number | undefined {
  const stretch = stretchFromAngle(thread, degrees);
  return preloadFromStretch({ low: stretch, high: stretch }, length, thread, {
    threaded: length,
    shank: thread.diameter,
  })?.high;
}

/** Torque at the bolt with an extension in line beyond the wrench's square: set·(longer/wrench). `undefined` for a length of nothing or less. */
export function torqueWithExtension(set: number, wrenchLength: number, wholeLength: number): number | undefined {
  return wrenchLength > 0 && wholeLength > 0 ? (set * wholeLength) / wrenchLength : undefined;
}

function torqueArm(thread: Thread, inThread: number, underHead: number): number {
  return 0.16 * thread.pitch + 0.58 * thread.pitchDiameter * inThread + (rubbingDiameter(thread) / 2) * underHead;
}

/** Shigley takes the root by ASME B1.1's rounded d - 1.299038/n for dr, as in his Table 8-2. */
function rootForLongForm(thread: Thread): number {
  return thread.diameter - 1.299038 * thread.pitch;
}
