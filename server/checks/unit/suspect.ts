// A torque that makes no sense in its own unit and good sense in another that is easily mixed up with it.
import { type Told, told } from '../../../grammar/told.ts';
import type { Span } from '../../../grammar/tree.ts';
import { unitOf, unitText } from '../../mechanics/units.ts';
import { type FastenerResult, suspectUnit, workOutFastener } from '../../model/fastener-sums.ts';
import type { Fastener } from '../../model/view.ts';
import type { Extra, Report, ThingCheck } from '../check.ts';
import { figure, percent } from '../figures.ts';
import { boltWords, writtenUnit } from '../torque/bolt-words.ts';
import { sayFarBolt, sayFarLift, sayFarPlug, sayFarRuns, sayFarTimes, sayFarTorques } from './far-from-usual.ts';
import { sayFarLimit } from './far-from-usual-limits.ts';
import { sayFarPart } from './far-from-usual-parts.ts';
import page from './suspect.md';

/** `an M8x1.25`, `a 3/8-16`. */
function oneOf(designation: string): Told {
  if (designation === '') return told`a bolt`;
  return /^(M|8|11|18)/.test(designation) ? told`an ${designation}` : told`a ${designation}`;
}

/**
 * How many degrees a bolt is turned on at most in one stage, from a torque and from where it just touches. Judgement; no source: published
 * angles stay below three quarters of a turn, and adjusting screws that are set from contact below two turns.
 */
const MOST_DEGREES = 360;
const MOST_FROM_CONTACT = 720;

/** A further angle of more than anybody turns a bolt: the point has slipped, or the unit. */
function sayTurns(fastener: Fastener, result: FastenerResult, report: Report): void {
  let most = MOST_FROM_CONTACT;
  for (const { stage, angle, torque } of result.stages) {
    if (torque !== undefined) most = MOST_DEGREES;
    else if (stage.kind === 'contact' || stage.kind === 'slacken') most = MOST_FROM_CONTACT;
    if (angle === undefined || angle <= most || stage.value === undefined) continue;
    const written = fastener.placed.section.text.slice(stage.value.start, stage.value.end).replace(/\s+/g, ' ');
    report(
      fastener.placed,
      stage.value,
      told`${written} is ${figure(String(Number((angle / 360).toFixed(1))), '')} turns: no bolt is turned on as far as that. See whether a point or the unit slipped.`,
    );
  }
}

/** Whether a stage is less than one before it that is written in the same unit. */
function fallsIn({ stages }: FastenerResult, stage: FastenerResult['stages'][number]): boolean {
  const unitOfStage = ({ stage: { value } }: typeof stage): string =>
    value === undefined || value.kind === 'by-place' || !('unit' in value) ? '' : unitText(writtenUnit(value));
  return stages
    .slice(0, stages.indexOf(stage))
    .some(
      (before) =>
        (before.torque?.nominal ?? 0) > (stage.torque?.nominal ?? 0) && unitOfStage(before) === unitOfStage(stage),
    );
}

export const suspect: ThingCheck<'part' | 'step' | 'supply' | 'valve-timing' | 'fastener' | 'limit'> = {
  code: 'unit/suspect',
  severity: 'warning',
  scope: 'thing',
  of: ['part', 'step', 'supply', 'valve-timing', 'fastener', 'limit'],
  page,
  run(thing, view, report) {
    if (thing.kind === 'part') sayFarPart(thing, view, report);
    if (thing.kind === 'limit') sayFarLimit(thing, view, report);
    if (thing.kind === 'step') sayFarRuns(thing, view, report);
    if (thing.kind === 'supply') sayFarTimes(thing, report);
    if (thing.kind === 'valve-timing') sayFarLift(thing, report);
    if (thing.kind === 'fastener') sayFarBolt(thing, report);
    if (thing.kind === 'fastener') sayFarPlug(thing, report);
    if (thing.kind !== 'fastener' || thing.broken || thing.stages.some((stage) => stage.kind === 'unreadable')) return;
    const result = workOutFastener(thing);
    sayTurns(thing, result, report);
    const found = suspectUnit(thing, result);
    const value = found?.stage.stage.value;
    // A stage that is less than the one before it is said as that.
    if (found !== undefined && fallsIn(result, found.stage)) return;
    // A torque that breaks the bolt is said itself.
    if (found === undefined && result.stages.every(({ share }) => (share?.low ?? 0) <= 1)) sayFarTorques(thing, report);
    if (found === undefined || value === undefined || !('unit' in value) || value.unit === undefined) return;
    const likely = found.suspect.likely;
    const written = thing.placed.section.text.slice(value.start, value.unit.end).replace(/\s+/g, ' ');
    const number = written.slice(0, written.length - value.unit.text.length).trim();
    // All torques of the fastener in the same unit were read wrong together.
    const same = thing.stages.flatMap((stage): Span[] => {
      const other = stage.value;
      return stage.kind === 'torque' &&
        other !== undefined &&
        'unit' in other &&
        other.unit !== undefined &&
        unitText(writtenUnit(other)) === unitText(writtenUnit(value))
        ? [other.unit]
        : [];
    });
    const fixes: Extra['fixes'] = [
      {
        title: told`Change ${value.unit.text} to ${unitText(unitOf(likely))}`,
        edits: same.map((span) => ({ placed: thing.placed, span, text: unitText(unitOf(likely)) })),
      },
    ];
    const bolt = result.strength === undefined ? oneOf(result.thread?.designation ?? '') : boltWords(result);
    report(
      thing.placed,
      value,
      told`${written} would load ${bolt} to about ${percent(found.suspect.shareAsWritten)} of its proof load; ${figure(number, unitText(unitOf(likely)))} would be ${percent(found.suspect.shareAsLikely)}. Is ${unitText(unitOf(likely))} meant? Look it up before you tighten anything.`,
      { fixes },
    );
  },
};
