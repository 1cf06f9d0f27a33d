// Sealant takes its time: what was put on and has not cured when the engine is filled or run.
import type { Value } from '../../grammar/tree.ts';
import { toNumber } from '../mechanics/exact.ts';
import { measureOf } from '../model/measure.ts';
import { type Act, pointAt } from './act.ts';
import { type State, say } from './state.ts';

/** A time in seconds. */
export function secondsOf(value: Value | undefined): number | undefined {
  if (value === undefined || value.kind === 'by-place') return undefined;
  const measure = measureOf(value);
  return measure === undefined ? undefined : toNumber(measure.interval.high);
}

/** Time passes. */
export function wait(state: State, seconds: number | undefined): void {
  const { running } = state;
  running.curing = running.curing.map((each) => ({ ...each, left: each.left - (seconds ?? each.left) }));
}

/**
 * A sequence begins. What was sealed in the last one may still be wet; after a whole sequence in between it has cured. Common practice,
 * no source: nobody says how long the engine stood.
 */
export function beginSequence(state: State): void {
  if (state.running.curing.length === 0) return;
  const wet = state.running.curing.filter((each) => !each.isBefore);
  state.running.curing = wet.map((each) => ({ ...each, isBefore: true }));
}

/** Says that what was sealed is still wet. */
export function sayTooEarly(state: State, act: Act, doing: string): void {
  const wet = state.running.curing.find((each) => each.left > 0);
  if (wet === undefined || state.unsure) return;
  const minutes = Math.round(wet.left / 60);
  say(
    state,
    'sequence/too-early',
    act,
    `${wet.supply} from step ${wet.by.step.name} has not cured: ${minutes < 120 ? `${minutes} min` : `${Math.round(minutes / 6) / 10} h`} more before the engine is ${doing}. Put a wait before this.`,
    { related: pointAt(wet.by, 'sealed here') },
  );
  state.running.curing = [];
}
