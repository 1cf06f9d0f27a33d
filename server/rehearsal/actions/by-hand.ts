// Work by hand on a part: oiled, cleaned, machined, looked at, sealed. On the bench it is fine, on the engine nothing may be over it.
import { type ActionRule, onEach, type Target } from '../action-rule.ts';
import { sayIfCovered } from '../covers.ts';
import { secondsOf } from '../curing.ts';
import { OFF } from '../part-state.ts';
import { placesNow } from '../places.ts';
import type { State } from '../state.ts';

/** Leaks, noise and the like are looked for from outside. */
const FROM_OUTSIDE = /leak|weep|drip|stain|noise|whine|rub|smoke|knock|temperature|heat/i;

function workOn(state: State, { action, part, name, reference, act }: Target, doing: string): void {
  if (part !== undefined) part.handledBy ??= act;
  if (part === undefined || (action.word === 'inspect' && FROM_OUTSIDE.test(action.forText?.value ?? ''))) return;
  if (placesNow(state, part.part, reference.places).every((i) => part.on[i] !== OFF))
    sayIfCovered(state, name, act, 'sequence/covered', doing);
}

const byHand = (doing: string): ActionRule => onEach((state, target) => workOn(state, target, doing));

export const clean: ActionRule = byHand('clean it');
export const lubricate: ActionRule = byHand('lubricate it');
export const machine: ActionRule = byHand('machine it');
export const inspect: ActionRule = byHand('inspect it');

export const seal: ActionRule = onEach((state, target) => {
  workOn(state, target, 'put sealant on it');
  const { action, act } = target;
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  const cure = supply?.kind === 'supply' ? secondsOf(supply.cure) : undefined;
  if (supply !== undefined && cure !== undefined)
    state.running.curing = [...state.running.curing, { supply: supply.name, by: act, left: cure, isBefore: false }];
});
