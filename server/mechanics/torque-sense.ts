// Whether a torque makes sense in the unit that it is written in, and if not, in which other unit it would. The sum itself is in preload.ts.

import { type Exact, toNumber } from './exact.ts';
import type { NutFactor } from './nut-factor.ts';
import { type Band, preloadFromTorque, torquePoint } from './preload.ts';
import { proofLoad, type Strength } from './strength.ts';
import type { Thread } from './threads.ts';
import { convert, type Unit, type UnitId, unitOf } from './units.ts';

export type Joint = 'structural' | 'gasketed' | 'cover' | 'plug' | 'stud';

/** The unit that makes sense, and the shares of proof load (usual figures) in the written unit and in that one. */
export type SuspectUnit = {
  readonly written: UnitId;
  readonly likely: UnitId;
  readonly shareAsWritten: number;
  readonly shareAsLikely: number;
};

/** Share of proof beyond which, even at the low end of its band, nobody means a torque. Judgement; no source. */
const NONSENSE_ABOVE = 1.25;
/** Share of proof that no final torque stays under, even at the high end of its band, by what the joint is for. Judgement; no source. */
const NONSENSE_BELOW: Readonly<Record<Exclude<Joint, 'plug'> | 'unsaid', number>> = {
  structural: 0.12,
  stud: 0.02,
  gasketed: 0.03,
  cover: 0.03,
  unsaid: 0.06,
};
/** A torque from which an angle counts brings the joint together: no structural joint is, below this. Judgement; no source. */
const NONSENSE_BEFORE_ANGLE = 0.06;
/** What good sense is there. */
const SENSE_BEFORE_ANGLE = [0.2, 0.85] as const;

/** What good sense is, as shares of proof. */
const SENSE: Readonly<Record<'structural' | 'other', readonly [from: number, to: number]>> = {
  structural: [0.4, 1.1],
  other: [0.15, 1.1],
};

/** Units that are mixed up with each one, the likeliest first: those that look alike, then those an old manual would have. */
const MIXED_UP: Readonly<Partial<Record<UnitId, readonly UnitId[]>>> = {
  'lbf.ft': ['lbf.in', 'N.m'],
  'lbf.in': ['lbf.ft', 'N.m'],
  'N.m': ['lbf.in', 'kgf.m', 'lbf.ft', 'kgf.cm'],
  'dN.m': ['N.m', 'cN.m'],
  'cN.m': ['N.m', 'dN.m'],
  'kgf.m': ['N.m', 'kgf.cm', 'lbf.ft'],
  'kgf.cm': ['kgf.m', 'N.m'],
  'ozf.in': ['lbf.in', 'lbf.ft'],
};

/** Weakest and strongest steel that a bolt without a class may be of: 4.6 and 12.9. */
const WEAKEST = { proof: 225 };
const STRONGEST = { proof: 970 };
/** A structural joint of an engine is of no weaker steel than 5.6 or so. Judgement; no source. */
const WEAKEST_STRUCTURAL = { proof: 400 };

/**
 * A torque that breaks the fastener or hardly loads it in its own unit, and loads it well in one that is easily mixed up with it.
 * `strength` may be unknown: then every class from 4.6 to 12.9 has to find it senseless, and some class sensible. For the last stage of
 * a torque, or the one that an angle follows (`beforeAngle`), of which only too little is looked at. `undefined` where the unit is not suspect, for plugs and for tapered threads, whose torque seals.
 */
export function suspectTorqueUnit(asked: {
  readonly value: Exact;
  readonly unit: Unit;
  readonly thread: Thread;
  readonly factor: NutFactor;
  readonly strength?: Pick<Strength, 'proof'> | undefined;
  readonly joint?: Joint | undefined;
  readonly beforeAngle?: boolean;
}): SuspectUnit | undefined {
  const { thread, strength, joint, beforeAngle } = asked;
  if (beforeAngle && joint !== 'structural') return undefined;
  const written = asked.unit.length === 1 ? asked.unit[0]?.unit : undefined;
  if (written === undefined || joint === 'plug' || thread.tapered) return undefined;
  const weak = strength ?? WEAKEST;
  const strong = strength ?? STRONGEST;
  const own = loadIn(asked.value, asked.unit, thread, asked.factor);
  if (own === undefined) return undefined;
  const breaks = !beforeAngle && own.low / proofLoad(thread, strong) > NONSENSE_ABOVE;
  const least = beforeAngle ? NONSENSE_BEFORE_ANGLE : NONSENSE_BELOW[joint ?? 'unsaid'];
  const idle =
    own.high / proofLoad(thread, joint === 'structural' && !beforeAngle ? (strength ?? WEAKEST_STRUCTURAL) : weak) <
    least;
  if (!breaks && !idle) return undefined;
  const [from, to] = beforeAngle ? SENSE_BEFORE_ANGLE : SENSE[joint === 'structural' ? 'structural' : 'other'];
  for (const likely of MIXED_UP[written] ?? []) {
    const meant = loadIn(asked.value, unitOf(likely), thread, asked.factor);
    if (meant === undefined) continue;
    const most = meant.nominal / proofLoad(thread, weak);
    const fewest = meant.nominal / proofLoad(thread, strong);
    if (most < from || fewest > to) continue;
    const shown = strength ?? (breaks ? strong : weak);
    const proof = proofLoad(thread, shown);
    return { written, likely, shareAsWritten: own.nominal / proof, shareAsLikely: meant.nominal / proof };
  }
  return undefined;
}

function loadIn(value: Exact, unit: Unit, thread: Thread, factor: NutFactor): Band | undefined {
  const newtonMetres = convert(value, unit, unitOf('N.m'));
  if (newtonMetres === undefined) return undefined;
  return preloadFromTorque(torquePoint(toNumber(newtonMetres)), thread.diameter, factor);
}
