// What the engine has in it is drained, filled and primed.
import { type Told, told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { measureOf } from '../../model/measure.ts';
import { isA } from '../../model/trade-names.ts';
import type { View } from '../../model/view.ts';
import { type Act, pointAt } from '../act.ts';
import { type ActionRule, onEach, type UndoneRule } from '../action-rule.ts';
import { sayTooEarly } from '../curing.ts';
import {
  fluidOf,
  isByItself,
  isFilledWith,
  letsOut,
  sayIfItRunsOut,
  sayIfItSprays,
  sayIfPrimedEarly,
  sayIfPrimedLate,
} from '../fluids.ts';
import { stepsDraining, stepsFilling } from '../foresight.ts';
import { sayLeft } from '../left.ts';
import type { PartState } from '../part-state.ts';
import { anyOn, type State, say, sayMissing } from '../state.ts';
import { isKnown } from '../undo.ts';
import { airIn } from './bleed.ts';

export const drain: UndoneRule = onEach(
  (state, { name, part, act }) => {
    if (part?.removedBy !== undefined && !anyOn(part))
      say(
        state,
        'sequence/not-fitted-yet',
        act,
        told`${told.named(name)} is not on here, so it can't be drained: it came off in step ${told.thing(part.removedBy.step)}. Drain it before it comes off.`,
        { related: pointAt(part.removedBy, told`it came off here`) },
      );
    else state.drained.set(name, act);
    airIn(state, name);
    emptied(state, name, true);
  },
  {
    atEnd(state) {
      for (const [name, act] of state.drained)
        if (!state.saidFilled.has(name))
          sayLeft(
            state,
            'sequence/left-open',
            act.step.placed,
            act.span,
            told`${told.named(name)} is drained here and never filled again.`,
          );
    },
    standing: (state) => [...state.drained.keys()],
    facts: (state) =>
      [...state.drained.keys()].map((name) => [`${name}, drained`, told`drained`, told`filled`] as const),
  },
);

export const fill: ActionRule = onEach(
  (state, { action, name, opening, part, act }) => {
    const isApart = isByItself(name);
    if (!isApart) sayTooEarly(state, act, told`filled`);
    sayIfPlugged(state, opening, act, told`filled`);
    if (!sayIfFilledNowhere(state, name, part, act)) sayIfItRunsOut(state, action, name, act);
    sayIfFull(state, action, name, act);
    state.drained.delete(name);
    if (isOf(state, action, 'coolant')) state.running.cooled = true;
    if (!isApart && (action.with === undefined || isOil(state, action.with.owner.text))) state.running.oiled = true;
  },
  { facts: (state) => [['oil', state.running.oiled ? told`in` : told`not in`]] },
);

/** What is primed with fuel, and no part of the oil system. */
const FUEL = /fuel|carb|inject|lift-pump/i;

export const prime: ActionRule = onEach(
  (state, { action, name, opening, part, act }) => {
    if (FUEL.test(name)) return;
    sayIfPlugged(state, opening, act, told`primed`);
    const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
    // A pump may be packed with grease before it goes on.
    const isPacked = supply?.kind === 'supply' && (supply.sort === 'grease' || supply.sort === 'lubricant');
    // Oil is poured into a turbocharger or a filter from a can: no pump draws it.
    const isPoured =
      supply?.kind === 'supply' && supply.sort === 'oil' && isA(name, 'turbo', 'oil-filter', 'oil-cooler');
    if (!isPacked && !isPoured && !sayIfPrimedEarly(state, act)) {
      sayIfPrimedLate(state, act);
      sayIfItSprays(state, act);
    }
    state.running.primed = true;
    if (part !== undefined) part.hasAir = false;
  },
  { facts: (state) => [['the oil system', state.running.primed ? told`primed` : told`not primed`]] },
);

/** Says that an opening is plugged. */
function sayIfPlugged(state: State, opening: string, act: Act, done: Told): void {
  const by = state.plugged.get(opening);
  if (by === undefined || state.unsure) return;
  say(
    state,
    'sequence/covered',
    act,
    told`${told.named(opening)} can't be ${done}: it was plugged in step ${told.thing(by.step)}. Say unplug ${told.named(opening)} first.`,
    { related: pointAt(by, told`plugged here`) },
  );
  state.plugged.delete(opening);
}

/** Says that what is filled is not on, where this job fits it and bolts hold it; true when it is not on. */
function sayIfFilledNowhere(state: State, name: string, part: PartState | undefined, act: Act): boolean {
  if (part === undefined || anyOn(part)) return false;
  if (state.clampedBy.get(name).length > 0 && state.ahead.fitted.has(name))
    sayMissing(
      state,
      'sequence/not-fitted-yet',
      name,
      act,
      told`${told.named(name)} can't be filled yet: it is not on. Fit it first.`,
    );
  return true;
}

/** Whether what is filled in is of a kind, or may be. */
function isOf(state: State, action: Action, kind: string): boolean {
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  return supply?.kind !== 'supply' || supply.sort === undefined || supply.sort === kind;
}

/** A supply that does not say what it is may be oil. */
function isOil(state: State, name: string): boolean {
  const supply = state.view.things.get(name);
  return supply?.kind !== 'supply' || supply.sort === undefined || supply.sort === 'oil';
}

function amountOf(action: Action): number | undefined {
  const { amount } = action;
  if (amount === undefined || amount.kind === 'by-place') return undefined;
  const measure = measureOf(amount);
  return measure === undefined ? undefined : toNumber(measure.interval.nominal ?? measure.interval.high);
}

/** What the spec has to say of a place that is filled: the largest charge, and whether any step drains it. */
function toldOf(view: View, name: string): { readonly charge: number; readonly isDrained: boolean } {
  const charges = stepsFilling(view, name).map(({ action }) => amountOf(action) ?? 0);
  return { charge: Math.max(0, ...charges), isDrained: stepsDraining(view, name).length > 0 };
}

/** Whether something that was emptied in this job may have let out what a place holds: all but what is filled with another fluid. */
function mayBeDrainedElsewhere(state: State, action: Action, name: string): boolean {
  const fluid = fluidOf(state, action);
  if (fluid === undefined) return true;
  const other = fluid === 'oil' ? 'coolant' : 'oil';
  const mayLetOut = (each: string): boolean =>
    state.parts.get(each)?.removedBy === undefined
      ? each === name || isFilledWith(state, each, fluid) || !isFilledWith(state, each, other)
      : letsOut(each, fluid);
  return [...state.emptied].some(mayLetOut);
}

/** A whole charge goes in where one is already. Topping up is less than half of it. */
function sayIfFull(state: State, action: Action, name: string, act: Act): void {
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  const key = `${name} ${supply?.kind === 'supply' ? (supply.sort ?? supply.name) : ''}`;
  const before = state.filled.get(key);
  const isFull =
    before === undefined ? state.plan.begins === 'whole' && !state.emptied.has(name) : state.running.hasRun;
  state.filled.set(key, act);
  const amount = amountOf(action);
  if (!isFull || !isKnown(state) || amount === undefined) return;
  const { charge } = toldOf(state.view, name);
  const isDrained = toldOf(state.view, name).isDrained || !mayBeDrainedElsewhere(state, action, name);
  // On a whole engine it may be drained somewhere else than it is filled.
  if ((before === undefined && !isDrained) || amount * 2 < charge) return;
  state.saidFilled.add(name);
  say(
    state,
    'sequence/filled-twice',
    act,
    before === undefined
      ? told`${told.named(name)} is filled here and was never drained in this job: what was in it is in it still. Drain it first.`
      : told`${told.named(name)} is filled here, and was filled in step ${told.thing(before.step)} and not drained since. Drain it first, or leave one of the two out.`,
    { related: pointAt(before, told`filled here`) },
  );
}

/** Nothing is in it any more. What is drained where nothing was filled in may be anything. */
export function emptied(state: State, name: string, isDrained: boolean): void {
  const own = [...state.filled.keys()].flatMap((key) => (key.startsWith(`${name} `) ? [key] : []));
  for (const key of own) state.filled.delete(key);
  if (isDrained && own.length === 0) state.filled.clear();
  state.emptied.add(name);
}
