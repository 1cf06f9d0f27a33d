// Sealant takes its time: it has to be closed before it skins over, and has to cure before the engine is filled or run.
import { type QuantityArgument, type Told, told } from '../../grammar/told.ts';
import type { Value } from '../../grammar/tree.ts';
import { toNumber } from '../mechanics/exact.ts';
import { measureOf } from '../model/measure.ts';
import type { Supply } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import { ON } from './part-state.ts';
import type { Sealed } from './running.ts';
import { type State, say } from './state.ts';

/** A time in seconds. */
export function secondsOf(value: Value | undefined): number | undefined {
  if (value === undefined || value.kind === 'by-place') return undefined;
  const measure = measureOf(value);
  return measure === undefined ? undefined : toNumber(measure.interval.high);
}

/** Sealant is put on a part or a fastener. */
export function putOn(state: State, supply: Supply, on: string, by: Act): void {
  const part = state.parts.get(on);
  const isClosed = part === undefined || part.on.every((each) => each === ON);
  const closeWithin = supply.statements.find((each) => each.kind === 'value' && each.word === 'close-within');
  const openFor = closeWithin?.kind === 'value' && !isClosed ? secondsOf(closeWithin.value) : undefined;
  const left = secondsOf(supply.cure) ?? 0;
  if (left === 0 && openFor === undefined) return;
  state.running.sealed = [
    ...state.running.sealed.filter((each) => each.on !== on),
    { supply: supply.name, on, by, openFor, left, isClosed, sequences: 0 },
  ];
}

/** Time passes; where nobody says how much, it is enough. */
export function wait(state: State, seconds: number | undefined): void {
  const { running } = state;
  if (running.hotFor !== undefined) running.hotFor = seconds === undefined ? Infinity : running.hotFor + seconds;
  if (running.sealed.length === 0) return;
  running.sealed = running.sealed.map((each) => ({
    ...each,
    left: each.isClosed ? each.left - (seconds ?? each.left) : each.left,
    openFor: each.openFor === undefined ? undefined : each.openFor - (seconds ?? 0),
  }));
}

/** A part goes on: joints that it closes, its own and that of what it goes onto, have to be wet still. */
export function close(state: State, name: string, mate: string | undefined, act: Act): void {
  const { running } = state;
  if (running.sealed.length === 0) return;
  running.sealed = running.sealed.map((each) => {
    if (each.isClosed || (each.on !== name && each.on !== mate)) return each;
    if (each.openFor !== undefined && each.openFor < 0) sayDry(state, each, name, act);
    return { ...each, isClosed: true, openFor: undefined };
  });
}

function sayDry(state: State, { supply, on, by, openFor }: Sealed, name: string, act: Act): void {
  if (state.unsure) return;
  const within = state.view.things.get(supply);
  const statement = within?.statements.find((each) => each.kind === 'value' && each.word === 'close-within');
  const allowed = (statement?.kind === 'value' ? secondsOf(statement.value) : undefined) ?? 0;
  say(
    state,
    'sequence/skinned-over',
    act,
    told`${told.named(supply)} went on ${on} in step ${told.thing(by.step)} and has to be closed within ${timeText(allowed)}; ${timeText(allowed - (openFor ?? 0))} have passed when ${told.named(name)} goes on. Wait before it is put on, or put it on anew.`,
    { related: pointAt(by, told`${told.named(supply)} goes on here`) },
  );
}

/** What was on a part went with it. */
export function sealantGone(state: State, name: string): void {
  const { running } = state;
  if (running.sealed.length > 0) running.sealed = running.sealed.filter((each) => each.on !== name);
}

/** A sequence begins. */
export function beginSequence(state: State): void {
  const { running } = state;
  if (running.sealed.length > 0)
    running.sealed = running.sealed.map((each) => ({ ...each, sequences: each.sequences + 1 }));
}

function timeText(seconds: number): QuantityArgument {
  const minutes = Math.round(seconds / 60);
  const hours = Math.round(minutes / 6) / 10;
  return minutes < 120 ? told.quantity(`${minutes} min`, minutes, 'min') : told.quantity(`${hours} h`, hours, 'h');
}

/**
 * Says that what was sealed is still wet, as far as the spec says. With a whole sequence in between that is information: nobody says how
 * long the engine stood. Common practice, no source.
 */
export function sayTooEarly(state: State, act: Act, doing: Told): void {
  const wet = state.running.sealed.filter((each) => each.isClosed && each.left > 0);
  const [first] = [...wet].sort((one, other) => one.sequences - other.sequences || other.left - one.left);
  if (first === undefined || state.unsure) return;
  const isLongAgo = first.sequences > 1;
  say(
    state,
    'sequence/too-early',
    act,
    isLongAgo
      ? told`${told.named(first.supply)} from step ${told.thing(first.by.step)} takes ${timeText(first.left)} to cure before the engine is ${doing}, and no wait says so. Say how long it stands: put a wait before this.`
      : told`${told.named(first.supply)} from step ${told.thing(first.by.step)} has not cured: ${timeText(first.left)} more before the engine is ${doing}. Put a wait before this.`,
    { related: pointAt(first.by, told`sealed here`), ...(isLongAgo ? { severity: 'information' as const } : {}) },
  );
  state.running.sealed = [];
}
