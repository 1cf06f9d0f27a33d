// Tightening again: after a run, hot or cold as the spec says, and never a bolt that an angle has stretched.

import { type QuantityArgument, told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import type { View } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import { goesByAngle, retorqueOf } from './at-the-bench.ts';
import { type FastenerState, FINAL, wasRunSince } from './fastener-state.ts';
import { type State, say } from './state.ts';

const HOUR = 3600;
/** No engine is cold after less. */
const STILL_WARM = HOUR / 2;

interface When {
  /** Seconds that the engine has to stand before; 0 where it only has to be cold. */
  readonly cold: number | undefined;
  readonly hot: boolean;
  /** Minutes that it has to be run before. */
  readonly ran: number;
}

/** When a fastener is to be tightened again, as its text says: `first run, 4 h cold`; undefined where that is no matter of this job. */
export function whenAgain(after: string | undefined): When | undefined {
  if (after === undefined || /\b(km|mi|miles?|kilomet\w+)\b/i.test(after)) return undefined;
  const parts = after.split(/,|;|\band\b|\bthen\b/i);
  const cold = parts.find((part) => /\bcold\b|\bcool/i.test(part));
  const isHot = cold === undefined && /\b(hot|warm)\b/i.test(after);
  const running = parts.filter((part) => part !== cold).join(' ');
  const told = /(\d+(?:\.\d+)?)?\s*\b(hours?|h|min|minutes?)\b/i.exec(running);
  if (told === null && cold === undefined && !/\b(run|start|warm|heat|hot)/i.test(after)) return undefined;
  return {
    cold: cold === undefined ? undefined : secondsIn(cold),
    hot: isHot,
    ran: told === null ? 0 : Number(told[1] ?? 1) * (/^h/i.test(told[2] ?? '') ? 60 : 1),
  };
}

function secondsIn(text: string): number {
  const told = /(\d+(?:\.\d+)?)\s*(hours?|h|min|minutes?)\b/i.exec(text);
  return told === null ? 0 : Number(told[1]) * (/^h/i.test(told[2] ?? '') ? HOUR : 60);
}

export function afterOf(view: View, { fastener }: FastenerState): string | undefined {
  return retorqueOf(view, fastener)?.after?.value;
}

const hours = (seconds: number): QuantityArgument => {
  const many = Math.round((seconds / HOUR) * 10) / 10;
  return told.quantity(`${many} h`, many, 'h');
};

/** Says that a bolt is tightened again hot where the spec says cold, or the other way round. */
export function sayIfAtWrongHeat(state: State, each: FastenerState, act: Act): void {
  const { hotFor } = state.running;
  if (hotFor === undefined || !wasRunSince(each, state.running)) return;
  const after = afterOf(state.view, each);
  const when = whenAgain(after);
  if (when === undefined) return;
  const { name } = each.fastener;
  const isTooHot = when.cold !== undefined && (hotFor < when.cold || hotFor < STILL_WARM);
  const isTooCold = when.hot && hotFor >= 2 * HOUR && Number.isFinite(hotFor);
  if ((!isTooHot && !isTooCold) || state.unsure) return;
  if (isTooHot)
    say(
      state,
      'sequence/retorque-heat',
      act,
      told`${told.named(name)} is to be tightened again after ${after ?? ''}, and ${hotFor === 0 ? told`the engine has just been run` : told`the engine has stood ${hours(hotFor)}`}. ${when.cold === 0 ? told`Say wait until it is cold, 4 h for instance, before this.` : told`Say wait ${hours(when.cold)} before this.`}`,
      { related: pointAt(each.last, told`tightened here`) },
    );
  else
    say(
      state,
      'sequence/retorque-heat',
      act,
      told`${told.named(name)} is to be tightened again after ${after ?? ''}, and the engine has stood ${hours(hotFor)}: it is cold. Tighten it straight after the run.`,
      { related: pointAt(each.last, told`tightened here`) },
    );
}

/** Says that a bolt which an angle has brought to its end is turned through its stages once more. */
export function sayIfStretchedTwice(
  state: State,
  each: FastenerState,
  action: Action,
  groups: readonly number[],
  act: Act,
): void {
  const { fastener, stages, last } = each;
  if (action.word !== 'tighten' || fastener.broken || last === undefined) return;
  if (!goesByAngle(state.view, fastener) || last.step === act.step) return;
  if (!groups.every((i) => stages[i] === FINAL)) return;
  if (
    (wasRunSince(each, state.running) && afterOf(state.view, each) !== undefined) ||
    state.saidSteps.has(act.step.name)
  )
    return;
  if (state.unsure) return;
  say(
    state,
    'sequence/tightened-again',
    act,
    told`${told.thing(fastener)} is at its last stage since step ${told.thing(last.step)}: tightened by angle once more it is stretched further. Leave one of the two out, or loosen it and start afresh.`,
    { related: pointAt(last, told`tightened to its last stage here`) },
  );
}
