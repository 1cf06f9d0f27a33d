// What tightening a bolt comes to, stage by stage, in words: for the hover, and for the line above a fastener.

import { type Told, told } from '../../grammar/told.ts';
import { load, loadBand, percentBand } from '../checks/figures.ts';
import { boltWords, factorWords } from '../checks/torque/bolt-words.ts';
import { type FastenerResult, type StageResult, workOutFastener } from '../model/fastener-sums.ts';
import type { Fastener } from '../model/view.ts';

function written(fastener: Fastener, stage: StageResult): string {
  const { start, end } = stage.stage.span;
  return fastener.placed.section.text.slice(start, end).replace(/\s+/g, ' ');
}

function lineOf(fastener: Fastener, result: FastenerResult, stage: StageResult): Told {
  if (stage.angle !== undefined) {
    const angle = String(Number(stage.angle.toFixed(1)));
    return fastener.singleUse
      ? told`then ${angle} degrees: past yield as meant`
      : told`then ${angle} degrees: the angle stretches it further, and tells more than any torque`;
  }
  const said = told`stage ${stage.number}, ${written(fastener, stage)}`;
  if (stage.preload === undefined) return said;
  const pulls = told`${said}: pulls ${loadBand(stage.preload)}`;
  const shared = stage.share === undefined ? pulls : told`${pulls}, ${percentBand(stage.share)} of its proof load`;
  const next = result.stages.slice(stage.number).find((each) => each.stage.kind !== 'torque');
  return next?.angle === undefined ? shared : told`${shared}, before its angle`;
}

/** A line for each stage of a fastener, under one that says what it is reckoned for. Empty where nothing is reckoned. */
export function stageLines(fastener: Fastener): readonly Told[] {
  const result = workOutFastener(fastener);
  const reckoned = result.stages.some((stage) => stage.preload !== undefined);
  if (!reckoned && !result.stages.some((stage) => stage.angle !== undefined)) return [];
  const bolt = boltWords(result);
  const loaded = result.proof === undefined ? bolt : told`${bolt}, proof load ${load(result.proof)}`;
  return [
    !reckoned
      ? loaded
      : result.friction === undefined
        ? told`${loaded}, reckoned with a nut factor ${factorWords(result)}`
        : told`${loaded}, reckoned with ${factorWords(result)}`,
    ...result.stages.map((stage) => lineOf(fastener, result, stage)),
  ];
}

/** The degrees that follow the last torque of a fastener; nothing where it ends on a torque. */
export function angleAfter(fastener: Fastener): number | undefined {
  const { stages } = workOutFastener(fastener);
  const last = stages.findLastIndex((stage) => stage.torque !== undefined);
  const turns = stages.slice(last + 1).flatMap((stage) => stage.angle ?? []);
  return turns.length === 0 ? undefined : turns.reduce((sum, each) => sum + each, 0);
}
