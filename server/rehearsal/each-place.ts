// A step that is done for each of some places is carried out place by place: what a single action touches at the place in hand. Which
// places go with which is told by their number, as in limits.
import { placesOfFeature } from '../model/feature-places.ts';
import type { Step } from '../model/view.ts';
import { doOne } from './actions.ts';
import type { Groups } from './fit.ts';
import type { State } from './state.ts';

/** Carries a step out, once or for each of its places. */
export function doStep(state: State, step: Step, groups: Groups): void {
  const each = step.each === undefined ? undefined : state.view.things.get(step.each.owner.text);
  const of = each?.kind === 'part' ? placesOfFeature(each, step.each?.feature?.text) : 1;
  for (let index = 1; index <= of; index += 1) {
    state.turn = of === 1 ? undefined : { index, of };
    for (const statement of step.statements) doOne(state, step, statement, 1, groups);
  }
  state.turn = undefined;
}
