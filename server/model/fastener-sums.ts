// Works out fasteners: thread, stress area, proof load, and the preload of each stage as a share of proof.
import type { Statement, Value } from '../../grammar/tree.ts';
import { exact, toNumber } from '../mechanics/exact.ts';
import { type NutFactor, nutFactorFor, statedNutFactor } from '../mechanics/nut-factor.ts';
import {
  type Band,
  preloadByFriction,
  preloadFromStretch,
  preloadFromTorque,
  shareOfProof,
  stretchFromAngle,
} from '../mechanics/preload.ts';
import { proofLoad, type Strength, strengthFromTensile, strengthOf } from '../mechanics/strength.ts';
import { parseThread, type Thread } from '../mechanics/threads.ts';
import { type Joint, type SuspectUnit, suspectTorqueUnit } from '../mechanics/torque-sense.ts';
import { folded, fromBase, kindOf } from '../mechanics/units.ts';
import { measureOf } from './measure.ts';
import type { Fastener, FastenerStage } from './view.ts';

export interface StageResult {
  readonly stage: FastenerStage;
  /** Its number, from 1. */
  readonly number: number;
  /** Torque in N·m, for a torque stage. */
  readonly torque: Band | undefined;
  /** Further angle in degrees, for an angle stage. */
  readonly angle: number | undefined;
  readonly preload: Band | undefined;
  readonly share: Band | undefined;
  /** What an angle stage adds in stretch at most, in mm. */
  readonly stretch: number | undefined;
}

export interface FastenerResult {
  readonly thread: Thread | undefined;
  readonly strength: Strength | undefined;
  /** In mm2 and N. */
  readonly proof: number | undefined;
  /** Which K was used, in words; or the friction coefficient. */
  readonly factor: NutFactor | undefined;
  readonly friction: number | undefined;
  readonly stages: readonly StageResult[];
  /** From `stretch`, where it is given with a length. */
  readonly stretchPreload: Band | undefined;
  readonly stretchShare: Band | undefined;
}

function valueSaid(fastener: Fastener, word: string): Value | undefined {
  const statement = fastener.statements.find((candidate) => candidate.word === word);
  return statement?.kind === 'value' ? statement.value : undefined;
}

function numberOf(statements: readonly Statement[], word: string): number | undefined {
  const statement = statements.find((candidate) => candidate.word === word);
  if (statement?.kind !== 'number') return undefined;
  const number = exact(statement.number.text);
  return number === undefined ? undefined : toNumber(number);
}

/** A length of the fastener in mm; undefined where it is not said or unreadable. */
export function fastenerLength(
  fastener: Fastener,
  word: 'length' | 'hole-depth' | 'stretch' | 'shank' | 'thread-length',
): Band | undefined {
  const value = valueSaid(fastener, word);
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  if (measure === undefined || kindOf(measure.unit) !== 'length') return undefined;
  return {
    low: toNumber(measure.interval.low),
    nominal: toNumber(measure.interval.nominal),
    high: toNumber(measure.interval.high),
  };
}

/** The torque of a value in N·m; undefined for anything else. */
export function torqueOf(value: Value | undefined): Band | undefined {
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  if (measure === undefined || kindOf(measure.unit) !== 'torque') return undefined;
  const inNewtonMetres = (number: typeof measure.interval.low): number => toNumber(number) / 1000;
  return {
    low: inNewtonMetres(measure.interval.low),
    nominal: inNewtonMetres(measure.interval.nominal),
    high: inNewtonMetres(measure.interval.high),
  };
}

/** The further angle of a value in degrees; undefined for anything else. */
function angleOf(value: Value | undefined): number | undefined {
  const measure = value === undefined || value.kind === 'by-place' ? undefined : measureOf(value);
  return measure === undefined || kindOf(measure.unit) !== 'angle' ? undefined : toNumber(measure.interval.nominal);
}

/** Works a fastener out as far as its figures go. */
export function workOutFastener(fastener: Fastener): FastenerResult {
  const thread = fastener.thread === undefined ? undefined : parseThread(fastener.thread);
  const strength = thread === undefined ? undefined : strengthFor(fastener, thread);
  const proof = thread === undefined || strength === undefined ? undefined : proofLoad(thread, strength);
  const friction = numberOf(fastener.statements, 'friction');
  const stated = numberOf(fastener.statements, 'nut-factor');
  const factor =
    friction !== undefined
      ? undefined
      : stated !== undefined
        ? statedNutFactor(stated)
        : nutFactorFor(surfaceOf(fastener), fittedOf(fastener));
  const stages = fastener.stages.map((stage, i): StageResult => {
    const torque = torqueOf(stage.value);
    const angle = angleOf(stage.value);
    const preload =
      thread === undefined || torque === undefined || thread.tapered
        ? undefined
        : friction !== undefined
          ? preloadByFriction(torque, thread, friction)
          : factor === undefined
            ? undefined
            : preloadFromTorque(torque, thread.diameter, factor);
    const share = preload === undefined || proof === undefined ? undefined : shareOfProof(preload, proof);
    const stretch = thread === undefined || angle === undefined ? undefined : stretchFromAngle(thread, angle);
    return { stage, number: i + 1, torque, angle, preload, share, stretch };
  });
  const length = fastenerLength(fastener, 'length');
  const stretch = fastenerLength(fastener, 'stretch');
  const stretchPreload =
    thread === undefined || length === undefined || stretch === undefined
      ? undefined
      : preloadFromStretch(stretch, length.nominal, thread, {
          shank: fastenerLength(fastener, 'shank')?.nominal,
          threaded: fastenerLength(fastener, 'thread-length')?.nominal,
        });
  const stretchShare =
    stretchPreload === undefined || proof === undefined ? undefined : shareOfProof(stretchPreload, proof);
  return { thread, strength, proof, factor, friction, stages, stretchPreload, stretchShare };
}

function strengthFor(fastener: Fastener, thread: Thread): Strength | undefined {
  const tensile = valueSaid(fastener, 'tensile');
  if (tensile !== undefined && tensile.kind !== 'by-place') {
    const measure = measureOf(tensile);
    // Base units of a pressure are MPa.
    return measure === undefined || kindOf(measure.unit) !== 'pressure'
      ? undefined
      : strengthFromTensile(toNumber(measure.interval.low));
  }
  return fastener.strengthClass === undefined ? undefined : strengthOf(fastener.strengthClass, thread.diameter);
}

/** The stage that a fastener ends on, where that is a torque that no angle follows and nothing lets go again. */
export function lastTorqueStage(result: FastenerResult): StageResult | undefined {
  const last = result.stages[result.stages.length - 1];
  return last?.torque === undefined ? undefined : last;
}

/** The torque from which an angle counts, where one stands right before it. */
function stageBeforeAngle(result: FastenerResult): StageResult | undefined {
  const angle = result.stages.findIndex((stage) => stage.angle !== undefined);
  const before = result.stages[angle - 1];
  return before?.torque === undefined ? undefined : before;
}

/** The unit that the last torque, or the one before an angle, is suspected to be meant in; undefined where its own makes sense, or the same is printed in two units. */
export function suspectUnit(
  fastener: Fastener,
  result: FastenerResult,
): { readonly stage: StageResult; readonly suspect: SuspectUnit } | undefined {
  const last = lastTorqueStage(result);
  const stage = last ?? stageBeforeAngle(result);
  const value = stage?.stage.value;
  if (
    stage === undefined ||
    result.thread === undefined ||
    value === undefined ||
    value.kind === 'by-place' ||
    ('restated' in value && value.restated !== undefined)
  )
    return undefined;
  const measure = measureOf(value);
  const factor = result.factor ?? factorFrom(stage, result.thread);
  if (measure === undefined || factor === undefined) return undefined;
  const suspect = suspectTorqueUnit({
    value: fromBase(measure.interval.nominal, measure.unit),
    unit: folded(measure.unit),
    thread: result.thread,
    factor,
    strength: result.strength,
    joint: JOINTS.find((joint) => joint === fastener.joint),
    beforeAngle: last === undefined,
  });
  return suspect === undefined ? undefined : { stage, suspect };
}

/** The K that a friction coefficient comes to on this thread. */
function factorFrom(stage: StageResult, thread: Thread): NutFactor | undefined {
  if (stage.torque === undefined || stage.preload === undefined) return undefined;
  return statedNutFactor((stage.torque.nominal * 1000) / (stage.preload.nominal * thread.diameter));
}

const JOINTS: readonly Joint[] = ['structural', 'gasketed', 'cover', 'plug', 'stud'];
const SURFACES = ['black', 'zinc', 'phosphate', 'cadmium'] as const;
const FITTINGS = ['dry', 'oiled', 'moly', 'threadlocker', 'sealant'] as const;

function surfaceOf(fastener: Fastener): (typeof SURFACES)[number] | undefined {
  return SURFACES.find((surface) => surface === fastener.surface);
}

function fittedOf(fastener: Fastener): (typeof FITTINGS)[number] | undefined {
  return FITTINGS.find((fitted) => fitted === fastener.fitted);
}
