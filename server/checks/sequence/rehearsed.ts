// The findings of the rehearsal, one check for each code. What is found is in server/rehearsal; pages and severities are here.
import type { Severity } from '../../model/finding.ts';
import { rehearse, rehearsing, rehearsingAll } from '../../rehearsal/rehearse.ts';
import type { SpecCheck } from '../check.ts';
import backwardsPage from './backwards.md';
import circlePage from './circle.md';
import coveredPage from './covered.md';
import disturbedPage from './disturbed.md';
import filledTwicePage from './filled-twice.md';
import fittedDryPage from './fitted-dry.md';
import fittedTwicePage from './fitted-twice.md';
import heldFastPage from './held-fast.md';
import leftOpenPage from './left-open.md';
import linksMovedPage from './links-moved.md';
import looseWhenRotatedPage from './loose-when-rotated.md';
import machinedLatePage from './machined-late.md';
import markHiddenPage from './mark-hidden.md';
import measuredEarlyPage from './measured-early.md';
import measuredLatePage from './measured-late.md';
import neverFittedPage from './never-fitted.md';
import neverTightenedPage from './never-tightened.md';
import notACyclePage from './not-a-cycle.md';
import notAdjustedPage from './not-adjusted.md';
import notAlignedPage from './not-aligned.md';
import notBledPage from './not-bled.md';
import notCleanedPage from './not-cleaned.md';
import notDrainedPage from './not-drained.md';
import notFittedYetPage from './not-fitted-yet.md';
import notHeldBackPage from './not-held-back.md';
import notInTimePage from './not-in-time.md';
import notMeasuredPage from './not-measured.md';
import notRenewedPage from './not-renewed.md';
import notRetorquedPage from './not-retorqued.md';
import notSecuredPage from './not-secured.md';
import notTimedPage from './not-timed.md';
import nothingToDoPage from './nothing-to-do.md';
import nothingToUndoPage from './nothing-to-undo.md';
import onOrderPage from './on-order.md';
import orderPage from './order.md';
import outOfTurnPage from './out-of-turn.md';
import primedEarlyPage from './primed-early.md';
import ranDryPage from './ran-dry.md';
import retorqueHeatPage from './retorque-heat.md';
import rotatedWhileHeldBackPage from './rotated-while-held-back.md';
import rotatedWhilePinnedPage from './rotated-while-pinned.md';
import runUnreadyPage from './run-unready.md';
import runsOutPage from './runs-out.md';
import sealedLatePage from './sealed-late.md';
import skinnedOverPage from './skinned-over.md';
import stageLeftPage from './stage-left.md';
import stillFastenedPage from './still-fastened.md';
import stillHeldBackPage from './still-held-back.md';
import stillMaskedPage from './still-masked.md';
import stillPinnedPage from './still-pinned.md';
import tightenedAgainPage from './tightened-again.md';
import tightenedEarlyPage from './tightened-early.md';
import timingNotProvedPage from './timing-not-proved.md';
import togetherPage from './together.md';
import tooEarlyPage from './too-early.md';
import tooManyJobsPage from './too-many-jobs.md';
import valveContactPage from './valve-contact.md';
import wrongPlacePage from './wrong-place.md';

/** A check that hands on what the rehearsal finds under its code in the file under check. */
function rehearsed(code: string, severity: Severity, page: string): SpecCheck {
  return {
    code,
    severity,
    scope: 'spec',
    page,
    run({ view, file, report }) {
      for (const finding of rehearse(view, file.file)) {
        if (finding.code === code && finding.placed.file === file.file)
          report(finding.placed, finding.span, finding.message, {
            related: finding.related,
            missing: finding.missing,
            ...(finding.severity === undefined ? {} : { severity: finding.severity }),
          });
      }
    },
  };
}

export const rehearsedChecks: readonly SpecCheck[] = [
  // The first of them has the jobs carried out, for all.
  { ...rehearsed('sequence/never-fitted', 'error', neverFittedPage), ahead: rehearsingAll, again: rehearsing },
  rehearsed('sequence/filled-twice', 'warning', filledTwicePage),
  rehearsed('sequence/fitted-twice', 'error', fittedTwicePage),
  rehearsed('sequence/wrong-place', 'error', wrongPlacePage),
  rehearsed('sequence/not-fitted-yet', 'error', notFittedYetPage),
  rehearsed('sequence/covered', 'error', coveredPage),
  rehearsed('sequence/mark-hidden', 'error', markHiddenPage),
  rehearsed('sequence/never-tightened', 'error', neverTightenedPage),
  rehearsed('sequence/stage-left', 'error', stageLeftPage),
  rehearsed('sequence/tightened-early', 'error', tightenedEarlyPage),
  rehearsed('sequence/still-fastened', 'error', stillFastenedPage),
  rehearsed('sequence/still-held-back', 'error', stillHeldBackPage),
  rehearsed('sequence/rotated-while-held-back', 'error', rotatedWhileHeldBackPage),
  rehearsed('sequence/still-pinned', 'error', stillPinnedPage),
  rehearsed('sequence/still-masked', 'error', stillMaskedPage),
  rehearsed('sequence/rotated-while-pinned', 'error', rotatedWhilePinnedPage),
  rehearsed('sequence/loose-when-rotated', 'warning', looseWhenRotatedPage),
  rehearsed('sequence/not-held-back', 'warning', notHeldBackPage),
  rehearsed('sequence/not-in-time', 'error', notInTimePage),
  rehearsed('sequence/not-a-cycle', 'warning', notACyclePage),
  rehearsed('sequence/links-moved', 'error', linksMovedPage),
  rehearsed('sequence/timing-not-proved', 'error', timingNotProvedPage),
  rehearsed('sequence/together', 'error', togetherPage),
  rehearsed('sequence/valve-contact', 'warning', valveContactPage),
  rehearsed('sequence/order', 'error', orderPage),
  rehearsed('sequence/circle', 'error', circlePage),
  rehearsed('sequence/not-measured', 'warning', notMeasuredPage),
  rehearsed('sequence/measured-early', 'warning', measuredEarlyPage),
  rehearsed('sequence/measured-late', 'error', measuredLatePage),
  rehearsed('sequence/ran-dry', 'error', ranDryPage),
  rehearsed('sequence/not-retorqued', 'warning', notRetorquedPage),
  rehearsed('sequence/not-renewed', 'error', notRenewedPage),
  rehearsed('sequence/not-secured', 'error', notSecuredPage),
  rehearsed('sequence/left-open', 'error', leftOpenPage),
  rehearsed('sequence/disturbed', 'warning', disturbedPage),
  rehearsed('sequence/too-early', 'warning', tooEarlyPage),
  rehearsed('sequence/nothing-to-undo', 'warning', nothingToUndoPage),
  rehearsed('sequence/on-order', 'warning', onOrderPage),
  rehearsed('sequence/held-fast', 'warning', heldFastPage),
  rehearsed('sequence/out-of-turn', 'warning', outOfTurnPage),
  rehearsed('sequence/machined-late', 'error', machinedLatePage),
  rehearsed('sequence/not-cleaned', 'warning', notCleanedPage),
  rehearsed('sequence/not-adjusted', 'information', notAdjustedPage),
  rehearsed('sequence/not-drained', 'warning', notDrainedPage),
  rehearsed('sequence/primed-early', 'warning', primedEarlyPage),
  rehearsed('sequence/retorque-heat', 'warning', retorqueHeatPage),
  rehearsed('sequence/run-unready', 'warning', runUnreadyPage),
  rehearsed('sequence/runs-out', 'error', runsOutPage),
  rehearsed('sequence/sealed-late', 'warning', sealedLatePage),
  rehearsed('sequence/skinned-over', 'warning', skinnedOverPage),
  rehearsed('sequence/tightened-again', 'warning', tightenedAgainPage),
  rehearsed('sequence/backwards', 'warning', backwardsPage),
  rehearsed('sequence/not-timed', 'warning', notTimedPage),
  rehearsed('sequence/not-aligned', 'information', notAlignedPage),
  rehearsed('sequence/not-bled', 'warning', notBledPage),
  rehearsed('sequence/fitted-dry', 'warning', fittedDryPage),
  rehearsed('sequence/too-many-jobs', 'warning', tooManyJobsPage),
  rehearsed('sequence/nothing-to-do', 'information', nothingToDoPage),
];
