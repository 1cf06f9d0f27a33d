// A torque or a stretch that loads the fastener beyond its proof load, where nothing says that it is meant.
import { told } from '../../../grammar/told.ts';
import type { Span } from '../../../grammar/tree.ts';
import type { Band } from '../../mechanics/preload.ts';
import { proofLoad } from '../../mechanics/strength.ts';
import {
  type FastenerResult,
  lastTorqueStage,
  type StageResult,
  suspectUnit,
  workOutFastener,
} from '../../model/fastener-sums.ts';
import { isA } from '../../model/trade-names.ts';
import type { Fastener } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { figure, load, loadBand, percentBand, torqueShown } from '../figures.ts';
import { boltWords, factorWords, writtenUnit } from './bolt-words.ts';
import page from './over-proof.md';

/** The share of proof that a torque is offered for instead: the middle of what structural joints have. */
const USUAL_SHARE = 0.75;
const MEANT = told`If it is meant to be stretched for good, say single-use.`;

function saidAs(fastener: Fastener, span: Span): string {
  return fastener.placed.section.text
    .slice(span.start, span.end)
    .replace(/\s*\([^)]*\)$/, '')
    .replace(/\s+/g, ' ');
}

function sayTorque(fastener: Fastener, result: FastenerResult, stage: StageResult, share: Band, report: Report): void {
  if (stage.preload === undefined || stage.torque === undefined || result.proof === undefined) return;
  const written = saidAs(fastener, stage.stage.span);
  const right = torqueShown((stage.torque.nominal * USUAL_SHARE) / share.nominal, writtenUnit(stage.stage.value));
  const sum = told`${written} loads ${boltWords(result)} to ${loadBand(stage.preload)}, reckoned with ${factorWords(result)}. Its proof load is ${load(result.proof)}, so that is ${percentBand(share)} of it`;
  if (share.low > 1)
    report(
      fastener.placed,
      stage.stage.span,
      result.stages.some((each) => each.angle !== undefined)
        ? told`${sum}: it stretches for good or breaks before its angle is turned. The torque before an angle only brings the joint together.`
        : told`${sum}: it stretches for good or breaks. About ${right} would be 75 %. ${MEANT}`,
    );
  else
    report(fastener.placed, stage.stage.span, told`${sum}: with little friction the bolt may stretch for good.`, {
      severity: 'information',
    });
}

/** Single-use says that a bolt may be stretched for good; by torque alone nobody knows how far. */
function sayMeant(fastener: Fastener, result: FastenerResult, stage: StageResult, share: Band, report: Report): void {
  if (stage.preload === undefined || result.proof === undefined) return;
  report(
    fastener.placed,
    stage.stage.span,
    told`${saidAs(fastener, stage.stage.span)} loads ${boltWords(result)} to ${loadBand(stage.preload)}, ${percentBand(share)} of its proof load. A bolt that is stretched for good is turned by an angle: by torque alone nobody knows how far it goes. See whether an angle is meant.`,
    { severity: 'information' },
  );
}

/** Stress in MPa of the thread that no plug, switch or sensor is tightened to: its torque makes it tight, and holds nothing. Judgement; no source. */
const MOST_OF_A_PLUG = 280;
/** In mm: what is smaller is a screw that bleeds or jets, and is tightened by its size. */
const LEAST_PLUG = 8;

/** A plug that is tightened like a bolt that holds something. */
function sayPlug(fastener: Fastener, result: FastenerResult, report: Report): boolean {
  const last = lastTorqueStage(result);
  if (fastener.joint !== 'plug' || last?.preload === undefined || result.thread === undefined) return false;
  if (result.thread.diameter < LEAST_PLUG || isA(fastener, 'sensor')) return false;
  // What is beyond proof is told as that.
  if ((last.share?.low ?? 0) > 1 && !fastener.singleUse) return false;
  const stress = last.preload.nominal / proofLoad(result.thread, { proof: 1 });
  if (stress <= MOST_OF_A_PLUG) return false;
  const written = saidAs(fastener, last.stage.span);
  report(
    fastener.placed,
    last.stage.span,
    told`${written} loads the thread of ${told.thing(fastener)} to about ${figure(stress.toPrecision(2), 'MPa')}. A plug is tightened until it is tight, and hardly to half of that: its thread strips, or that of what it sits in. See whether a digit or a point slipped.`,
    { severity: 'warning' },
  );
  return true;
}

export const overProof: ThingCheck<'fastener'> = {
  code: 'torque/over-proof',
  severity: 'error',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, _view, report) {
    if (thing.broken || thing.stages.some((stage) => stage.kind === 'unreadable')) return;
    const result = workOutFastener(thing);
    if (sayPlug(thing, result, report) || result.proof === undefined) return;
    // A torque from which an angle counts only brings the joint together: stretching is left to the angle, single-use or not.
    if (thing.stages.some((stage) => stage.kind === 'angle')) {
      const before = result.stages.find(({ stage }, i) => {
        const next = result.stages.slice(i + 1).find((each) => each.stage.kind !== 'torque');
        return stage.kind === 'torque' && next?.stage.kind === 'angle' && (result.stages[i]?.share?.low ?? 0) > 1;
      });
      if (before?.share !== undefined) sayTorque(thing, result, before, before.share, report);
      return;
    }
    if (thing.singleUse) {
      const meant = result.stages.find(({ share }) => (share?.nominal ?? 0) > 1);
      if (meant?.share !== undefined) sayMeant(thing, result, meant, meant.share, report);
      return;
    }
    if (result.stretchShare !== undefined && result.stretchPreload !== undefined) {
      const statement = thing.statements.find((each) => each.word === 'stretch');
      if (result.stretchShare.low > 1 && statement?.kind === 'value') {
        report(
          thing.placed,
          statement.value,
          told`Stretched by ${saidAs(thing, statement.value)} over its length, ${boltWords(result)} carries ${loadBand(result.stretchPreload)}. Its proof load is ${load(result.proof)}, so that is ${percentBand(result.stretchShare)} of it. ${MEANT}`,
        );
      }
      return;
    }
    if (suspectUnit(thing, result) !== undefined) return;
    const loaded = result.stages.flatMap((stage) => (stage.share === undefined ? [] : [{ stage, share: stage.share }]));
    // Where proof is only reckoned from the tensile strength, the high end has to pass what is reckoned as yield before it is worth a word.
    const worthAWord = result.strength?.assumed === undefined ? 1 : result.strength.yield / result.strength.proof;
    const beyond = loaded.find(({ share }) => share.low > 1) ?? loaded.find(({ share }) => share.high > worthAWord);
    if (beyond !== undefined) sayTorque(thing, result, beyond.stage, beyond.share, report);
  },
};
