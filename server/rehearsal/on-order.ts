// Work stops where the first thing that has not come is needed.
import { told } from '../../grammar/told.ts';
import type { Fastener, Part } from '../model/view.ts';
import type { Act } from './act.ts';
import { type State, say } from './state.ts';

/** Says where it stops, once. */
export function sayIfOnOrder(state: State, thing: Part | Fastener, act: Act): void {
  if (!thing.onOrder || state.running.saidOnOrder) return;
  state.running.saidOnOrder = true;
  say(
    state,
    'sequence/on-order',
    act,
    told`${told.thing(thing)} has not come yet: work stops at step ${told.thing(act.step)}. Take the on-order line out when it is there.`,
    {
      related: [
        {
          placed: thing.placed,
          span: thing.declaration.name ?? thing.declaration.wordSpan,
          message: told`said to be on order`,
        },
      ],
    },
  );
}
