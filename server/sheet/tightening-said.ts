// What is said of a fastener where it is tightened: its stages in both units, those that it has had, and what else belongs to it. Text alone.

import { spoken } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { Retorque } from '../../grammar/tree.ts';
import type { Fastener, FastenerStage } from '../model/view.ts';
import { bothUnits } from './figures.ts';

/** A stage in words. */
function stageText(stage: FastenerStage): string {
  if (stage.kind === 'slacken') return spoken`slacken off again`;
  if (stage.kind === 'hand-tight') return spoken`hand-tight`;
  if (stage.kind === 'contact') return spoken`until it seats`;
  if (stage.kind === 'tight') return spoken`tight (no figure is given)`;
  if (stage.kind === 'next-slot') return spoken`on until the next slot meets the hole, never back`;
  return stage.kind === 'angle' ? spoken`${bothUnits(stage.value)} further` : bothUnits(stage.value);
}

/** How tight it is made again. */
function howAgain({ stage }: Retorque): string {
  return stage.value === undefined ? spoken`${told.term(stage.kind.replace('-', ' '))}` : bothUnits(stage.value);
}

/** How it is tightened again, and when. */
function retorqueText(retorque: Retorque): string {
  const how = howAgain(retorque);
  return retorque.after === undefined ? how : spoken`${how}, after ${retorque.after.value}`;
}

/** A stage of tightening again: what is set on the wrench, and behind it when. */
function stageAgain(retorque: Retorque, number: number): SaidStage {
  const [how, text] = [howAgain(retorque), retorqueText(retorque)];
  const behind = text.startsWith(how) ? text.slice(how.length) : '';
  return { number, text, ...(behind === '' ? {} : { behind }), when: 'now' };
}

export interface SaidStage {
  readonly number: number;
  readonly text: string;
  /** The end of the text that is no figure: when it is tightened again. */
  readonly behind?: string;
  /** `had`: in an earlier step. `later`: not in this step. */
  readonly when: 'now' | 'had' | 'later';
}

export interface SaidTightening {
  readonly stages: readonly SaidStage[];
  readonly remarks: readonly string[];
  /** It is tightened again, as its `retorque` says. */
  readonly isAgain: boolean;
}

/** Which stages a fastener has had when a step comes to it, and whether it is tightened again. */
export interface Tightened {
  readonly before: number;
  readonly isAgain: boolean;
}

/** The thread that leans the other way is said wherever a wrench is put on it. */
function leaning(fastener: Fastener): readonly string[] {
  return fastener.thread?.includes('left-hand') === true ? [spoken`LEFT-HAND THREAD: tightens anticlockwise`] : [];
}

/** What is said where a fastener is tightened up to a stage, or to its last. */
export function saidTightening(fastener: Fastener, upTo: number | undefined, tightened: Tightened): SaidTightening {
  const retorques = fastener.statements.filter((each) => each.kind === 'retorque');
  if (tightened.isAgain && retorques.length > 0)
    return {
      stages: retorques.map((each, i) => stageAgain(each, i + 1)),
      remarks: [...leaning(fastener), spoken`tightened again: the same ones, not new ones`],
      isAgain: true,
    };
  const { before } = tightened;
  const last = fastener.stages.length;
  const to = upTo ?? last;
  const isFirst = before === 0;
  const isLast = to >= last;
  const stages = fastener.stages.map((stage, i): SaidStage => {
    const number = i + 1;
    return { number, text: stageText(stage), when: number <= before ? 'had' : number <= to ? 'now' : 'later' };
  });
  const { drawUp } = fastener;
  const remarks = [
    ...leaning(fastener),
    ...(drawUp === undefined || !isFirst
      ? []
      : [
          drawUp.with === undefined
            ? spoken`first pull up to ${bothUnits(drawUp.value)}, and slacken`
            : spoken`first pull up to ${bothUnits(drawUp.value)} with ${drawUp.with}, and slacken`,
        ]),
    ...(fastener.singleUse && isFirst ? [spoken`use new ones`] : []),
    ...fastener.statements.flatMap((each) => {
      if (each.kind === 'reuse' && isFirst) return [spoken`may go in again up to ${bothUnits(each.length)} long`];
      if (each.kind === 'retorque' && isLast) return [spoken`again later: ${retorqueText(each)}`];
      return each.kind === 'value' && each.word === 'stretch' && isLast
        ? [spoken`to a stretch of ${bothUnits(each.value)}`]
        : [];
    }),
    ...(isLast && fastener.securedBy !== undefined
      ? [spoken`then secured by ${told.term(fastener.securedBy.replace('-', ' '))}`]
      : []),
  ];
  return { stages, remarks, isAgain: false };
}
