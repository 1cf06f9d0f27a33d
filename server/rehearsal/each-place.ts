// A step that is done for each of some places is carried out place by place: what a single action touches at the place in hand. Which
// places go with which is told by their number, as in limits.

import type { Statement } from '../../grammar/tree.ts';
import { placesOfFeature } from '../model/feature-places.ts';
import type { Step, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { doOne } from './actions.ts';
import type { State } from './state.ts';

/** No engine has more places that a step is done for one by one; a longer row is done in one go, so that no count can hold the editor up. */
const MOST_TURNS = 64;

/** How often a step is done: once, or once for each of its places. */
export function timesOf(step: Step, view: View): number {
  return timesAsked(view, step);
}

const timesAsked = question((view, step: Step): number => {
  const each = step.each === undefined ? undefined : view.things.get(step.each.owner.text);
  return each?.kind === 'part' ? placesOfFeature(each, step.each?.feature?.text) : 1;
});

/** Carries a step out, once or for each of its places. `after` is called after each statement, each time that it is done. */
export function doStep(state: State, step: Step, after?: (statement: Statement) => void): void {
  const times = timesOf(step, state.view);
  const atOnce = times === 1 || times > MOST_TURNS;
  for (let index = 1; index <= (atOnce ? 1 : times); index += 1) {
    state.turn = atOnce ? undefined : { index, of: times };
    for (const statement of step.statements) {
      doOne(state, step, statement, atOnce ? times : 1);
      after?.(statement);
    }
  }
  state.turn = undefined;
}
