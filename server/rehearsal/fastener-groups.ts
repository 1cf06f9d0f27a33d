// Which screws of a fastener an action means, and whether they can be got at.
import type { Action, Reference } from '../../grammar/tree.ts';
import type { Step } from '../model/view.ts';
import { targetAct } from './act.ts';
import { sayIfCovered } from './covers.ts';
import type { FastenerState } from './fastener-state.ts';
import { OFF } from './part-state.ts';
import { placesNow } from './places.ts';
import type { State } from './state.ts';

/** The groups (from 0) of a fastener that an action means: those of the places that are written, else those whose part is there. */
export function groupsIn(state: State, fastener: FastenerState, reference: Reference): readonly number[] {
  const { each } = fastener.fastener;
  const part = each === undefined ? undefined : state.parts.get(each);
  if (part === undefined) return [0];
  const written = placesNow(state, part.part, reference.places);
  const there = written.filter((i) => part.on[i] !== OFF);
  return there.length > 0 ? there : written;
}

/** Says that what it clamps is covered, so that nobody gets at it. */
export function sayIfOutOfReach(
  state: State,
  fastener: FastenerState,
  step: Step,
  action: Action,
  target: Reference,
  doing: string,
): void {
  const first = fastener.fastener.clamps[0]?.part;
  if (first !== undefined) sayIfCovered(state, first, targetAct(step, action, target), 'sequence/covered', doing);
}
