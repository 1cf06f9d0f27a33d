// What tightening a bolt comes to, stage by stage, in words: for the hover, and for the line above a fastener.

import { textOf } from '../../grammar/told.ts';
import { load, loadBand, percentBand } from '../checks/figures.ts';
import { boltWords, factorWords } from '../checks/torque/bolt-words.ts';
import { type FastenerResult, type StageResult, workOutFastener } from '../model/fastener-sums.ts';
import type { Fastener } from '../model/view.ts';

function written(fastener: Fastener, stage: StageResult): string {
  const { start, end } = stage.stage.span;
  return fastener.placed.section.text.slice(start, end).replace(/\s+/g, ' ');
}

function degrees(angle: number): string {
  return `${Number(angle.toFixed(1))} degrees`;
}

function lineOf(fastener: Fastener, result: FastenerResult, stage: StageResult): string {
  if (stage.angle !== undefined)
    return fastener.singleUse
      ? `then ${degrees(stage.angle)}: past yield as meant`
      : `then ${degrees(stage.angle)}: the angle stretches it further, and tells more than any torque`;
  const said = `stage ${stage.number}, ${written(fastener, stage)}`;
  if (stage.preload === undefined) return said;
  const share = stage.share === undefined ? '' : `, ${textOf(percentBand(stage.share))} of its proof load`;
  const next = result.stages.slice(stage.number).find((each) => each.stage.kind !== 'torque');
  const joins = next?.angle === undefined ? '' : ', before its angle';
  return `${said}: pulls ${textOf(loadBand(stage.preload))}${share}${joins}`;
}

/** A line for each stage of a fastener, under one that says what it is reckoned for. Empty where nothing is reckoned. */
export function stageLines(fastener: Fastener): readonly string[] {
  const result = workOutFastener(fastener);
  const reckoned = result.stages.some((stage) => stage.preload !== undefined);
  if (!reckoned && !result.stages.some((stage) => stage.angle !== undefined)) return [];
  const proof = result.proof === undefined ? '' : `, proof load ${textOf(load(result.proof))}`;
  const how = reckoned ? `, reckoned with ${factorWords(result).text}` : '';
  return [`${boltWords(result).text}${proof}${how}`, ...result.stages.map((stage) => lineOf(fastener, result, stage))];
}

/** The degrees that follow the last torque of a fastener; nothing where it ends on a torque. */
export function angleAfter(fastener: Fastener): number | undefined {
  const { stages } = workOutFastener(fastener);
  const last = stages.findLastIndex((stage) => stage.torque !== undefined);
  const turns = stages.slice(last + 1).flatMap((stage) => stage.angle ?? []);
  return turns.length === 0 ? undefined : turns.reduce((sum, each) => sum + each, 0);
}
