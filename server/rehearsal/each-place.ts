// A step that is done for each of some places is carried out place by place: what a single action touches at the place in hand. Which
// places go with which is told by their number, as in limits.
import { placesOfFeature } from '../model/feature-places.ts';
import type { Step } from '../model/view.ts';
import { doOne } from './actions.ts';
import type { State } from './state.ts';

/** No engine has more places that a step is done for one by one; a longer row is done in one go, so that no count can hold the editor up. */
const MOST_TURNS = 64;

/** Carries a step out, once or for each of its places. */
export function doStep(state: State, step: Step): void {
  const each = step.each === undefined ? undefined : state.view.things.get(step.each.owner.text);
  const of = each?.kind === 'part' ? placesOfFeature(each, step.each?.feature?.text) : 1;
  if (of === 1 || of > MOST_TURNS) {
    for (const statement of step.statements) doOne(state, step, statement, of);
    return;
  }
  for (let index = 1; index <= of; index += 1) {
    state.turn = { index, of };
    for (const statement of step.statements) doOne(state, step, statement, 1);
  }
  state.turn = undefined;
}
