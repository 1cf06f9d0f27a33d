// The order of the stages of a torque: torques rise, and an angle comes after a torque. Both start afresh after slacken and contact.
import { told } from '../../../grammar/told.ts';
import { compare, toNumber } from '../../mechanics/exact.ts';
import { lastTorqueStage, torqueOf, workOutFastener } from '../../model/fastener-sums.ts';
import { measureOf } from '../../model/measure.ts';
import type { Fastener, FastenerStage } from '../../model/view.ts';
import type { Report, ThingCheck } from '../check.ts';
import angleFirstPage from './angle-first.md';
import risingPage from './stages-not-rising.md';

function written(text: string, stage: FastenerStage): string {
  return text.slice(stage.span.start, stage.span.end).replace(/\s+/g, ' ');
}

/** With its point moved a stage comes to no more than so many times the one before. Judgement; no source. */
const MOST_RISE = 5;

/**
 * Tightened again, a joint that has settled is brought to its last stage, or a little past it; one that was left low at first, to its full load.
 * More than so many times the last stage, and beyond proof, or where no class tells more than so many times, it is a slip. Judgement; no source.
 */
const MOST_AGAIN = 1.6;
const MOST_AGAIN_UNTOLD = 4;

/** What it is tightened to again, against the torque that its stages end on. */
function sayAgain(fastener: Fastener, report: Report): void {
  const last = fastener.stages[fastener.stages.length - 1];
  const reached = last?.kind === 'torque' ? torqueOf(last.value) : undefined;
  if (last === undefined || reached === undefined || fastener.broken) return;
  const { text } = fastener.placed.section;
  for (const statement of fastener.statements) {
    if (statement.kind !== 'retorque') continue;
    const again = torqueOf(statement.stage.value);
    if (again === undefined) continue;
    const shown = text.slice(statement.stage.start, statement.stage.end).replace(/\s+/g, ' ');
    const related = [{ placed: fastener.placed, span: last.span, message: told`the last stage` }];
    const share = lastTorqueStage(workOutFastener(fastener))?.share?.nominal;
    const times = again.low / reached.high;
    if (share === undefined ? times > MOST_AGAIN_UNTOLD : times > MOST_AGAIN && share * times > 1)
      report(
        fastener.placed,
        statement.stage,
        told`${told.thing(fastener)} ends on ${written(text, last)}, and is tightened again to ${shown}, which is far more. A joint that has settled is brought to its last stage again. See whether two digits changed places or a point slipped.`,
        { severity: 'warning', related },
      );
    else if (again.high < reached.low)
      report(
        fastener.placed,
        statement.stage,
        told`${told.thing(fastener)} ends on ${written(text, last)}, and is tightened again to ${shown}, which is less: the wrench lets go before anything turns. See which of the two figures is meant.`,
        { severity: 'information', related },
      );
  }
}

export const stagesNotRising: ThingCheck<'fastener'> = {
  code: 'torque/stages-not-rising',
  severity: 'error',
  scope: 'thing',
  of: ['fastener'],
  page: risingPage,
  run(thing, _view, report) {
    let last: { readonly stage: FastenerStage; readonly high: ReturnType<typeof measureOf> } | undefined;
    for (const stage of thing.stages) {
      if (stage.kind === 'slacken' || stage.kind === 'contact' || stage.kind === 'unreadable') last = undefined;
      if (stage.kind !== 'torque' || stage.value === undefined || stage.value.kind === 'by-place') continue;
      const measure = measureOf(stage.value);
      if (measure === undefined) continue;
      if (last?.high !== undefined && compare(measure.interval.high, last.high.interval.high) <= 0) {
        const text = thing.placed.section.text;
        const same = compare(measure.interval.high, last.high.interval.high) === 0;
        const tenfold = toNumber(measure.interval.high) * 10;
        const before = toNumber(last.high.interval.high);
        const isSlip = tenfold > before && tenfold < before * MOST_RISE;
        const message = same
          ? told`${written(text, stage)} comes twice for ${told.thing(thing)}. If a second pass at the same torque is meant, it may stay; else the stages rise.`
          : isSlip
            ? told`The stages of ${told.thing(thing)} must rise: ${written(text, stage)} after ${written(text, last.stage)} is less. See whether a point slipped; if it is slackened in between, write slacken there.`
            : told`The stages of ${told.thing(thing)} must rise: ${written(text, stage)} after ${written(text, last.stage)} is less. If it is slackened in between, write slacken there.`;
        report(thing.placed, stage.span, message, {
          ...(same ? { severity: 'information' } : {}),
          related: [{ placed: thing.placed, span: last.stage.span, message: told`the stage before` }],
        });
      }
      last = { stage, high: measure };
    }
    sayAgain(thing, report);
  },
};

export const angleFirst: ThingCheck<'fastener'> = {
  code: 'torque/angle-first',
  severity: 'error',
  scope: 'thing',
  of: ['fastener'],
  page: angleFirstPage,
  run(thing, _view, report) {
    let seated = false;
    for (const stage of thing.stages) {
      if (stage.kind === 'slacken') seated = false;
      if (
        stage.kind === 'torque' ||
        stage.kind === 'contact' ||
        stage.kind === 'hand-tight' ||
        stage.kind === 'unreadable'
      )
        seated = true;
      if (stage.kind === 'next-slot' && !seated)
        report(
          thing.placed,
          stage.span,
          told`next-slot comes first for ${told.thing(thing)}: on to the next slot means nothing before the nut is tight. Put its torque before it.`,
        );
      if (stage.kind !== 'angle' || seated) continue;
      report(
        thing.placed,
        stage.span,
        told`${written(thing.placed.section.text, stage)} comes first for ${told.thing(thing)}: an angle means nothing before the bolt is seated. Put a snug torque, hand-tight or contact before it.`,
      );
      seated = true;
    }
  },
};
