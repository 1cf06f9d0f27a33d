// A structural joint whose bolt ends up hardly loaded: it works loose, or the bolt breaks by fatigue.
import { told } from '../../../grammar/told.ts';
import { proofLoad } from '../../mechanics/strength.ts';
import { lastTorqueStage, suspectUnit, torqueOf, workOutFastener } from '../../model/fastener-sums.ts';
import type { Fastener } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import { figure, percentBand, torqueShown } from '../figures.ts';
import { boltWords, factorWords, writtenUnit } from './bolt-words.ts';
import page from './low-preload.md';

/** Share of proof that a structural joint should reach at the top of its band. Judgement below the common 60 to 90 %; no source. */
const LEAST_SHARE = 0.35;
const USUAL_SHARE = 0.75;

/** A bolt by stretch alone that is hardly stretched: a tenth of what is meant. */
function sayStretch(fastener: Fastener, report: Report): void {
  const stretch = fastener.statements.find((each) => each.word === 'stretch');
  const result = workOutFastener(fastener);
  const { stretchShare } = result;
  if (stretch?.kind !== 'value' || stretchShare === undefined || stretchShare.high >= LEAST_SHARE) return;
  report(
    fastener.placed,
    stretch.value,
    told`So little stretch brings ${boltWords(result)} to ${percentBand(stretchShare)} of its proof load. A joint by stretch usually has 60 to 90 %. See whether a point slipped.`,
  );
}

/** Stress, in MPa, that no structural joint stays under, whatever its bolts are of. Judgement; no source. */
const LEAST_STRESS = 40;

/** A bolt whose torque hardly loads it, of whatever class: one without a class, or one of which nothing says what it goes into. */
function sayIdle(fastener: Fastener, report: Report): void {
  const result = workOutFastener(fastener);
  const last = lastTorqueStage(result);
  const isJudged = result.strength !== undefined && (fastener.into === 'steel' || fastener.into === 'iron');
  if (last?.preload === undefined || result.thread === undefined || isJudged) return;
  const stress = last.preload.high / proofLoad(result.thread, { proof: 1 });
  if (stress >= LEAST_STRESS || suspectUnit(fastener, result) !== undefined) return;
  report(
    fastener.placed,
    last.stage.span,
    told`This loads the bolt to ${figure(stress.toPrecision(2), 'MPa')} at most, and no structural joint holds with less than ${figure(String(LEAST_STRESS), 'MPa')}, whatever its class. See whether a point or a unit slipped.`,
  );
}

export const lowPreload: ThingCheck<'fastener'> = {
  code: 'torque/low-preload',
  severity: 'warning',
  scope: 'thing',
  of: ['fastener'],
  page,
  run(thing, _view, report) {
    if (thing.broken || thing.joint !== 'structural') return;
    if (thing.stages.every(({ kind }) => kind === 'torque')) sayIdle(thing, report);
    if (thing.into !== 'steel' && thing.into !== 'iron') return;
    sayStretch(thing, report);
    if (
      thing.stages.some((stage) => stage.kind === 'angle' || stage.kind === 'unreadable') ||
      thing.statements.some((each) => each.word === 'stretch')
    )
      return;
    const result = workOutFastener(thing);
    const last = lastTorqueStage(result);
    const retorques = thing.statements.flatMap((each) => (each.kind === 'retorque' ? [each.stage.value] : []));
    if (last?.share === undefined || last.torque === undefined || suspectUnit(thing, result) !== undefined) return;
    // What is tightened further later on ends up higher than this.
    if (retorques.some((value) => (torqueOf(value)?.nominal ?? Number.POSITIVE_INFINITY) > (last.torque?.nominal ?? 0)))
      return;
    if (last.share.high >= LEAST_SHARE) return;
    const right = torqueShown((last.torque.nominal * USUAL_SHARE) / last.share.nominal, writtenUnit(last.stage.value));
    report(
      thing.placed,
      last.stage.span,
      told`This brings ${boltWords(result)} to ${percentBand(last.share)} of its proof load, reckoned with ${factorWords(result)}. A structural joint into ${thing.into} usually has 60 to 90 %: about ${right} would be 75 %. Look the torque up again.`,
    );
  },
};
