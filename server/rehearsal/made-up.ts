// What is made up on the bench: a piston on its rod, a piston and rod in their liner, a gear on a shaft that is not in yet. It goes in as
// one thing, in whatever words, and what it is joined to goes in with it.
import type { Action } from '../../grammar/tree.ts';
import type { Act } from './act.ts';
import { ASSUMED, type Joined, OFF, ON, type PartState, withAt } from './part-state.ts';
import { placesNow } from './places.ts';
import type { State } from './state.ts';

/** What a part is joined to by an action, place by place. */
export function joinedBy(state: State, action: Action, places: readonly number[]): readonly (Joined | undefined)[] {
  const reference = action.mate?.reference;
  const mate = reference === undefined ? undefined : state.parts.get(reference.owner.text);
  if (reference === undefined || mate === undefined) return places.map(() => undefined);
  const at = placesNow(state, mate.part, reference.places);
  const pairs = at.length === places.length;
  const onBench = (pairs ? undefined : at.every((i) => mate.on[i] === OFF)) ?? true;
  return places.map((_, k) => {
    const place = pairs ? at[k] : undefined;
    return { part: mate.part.name, place, onBench: place === undefined ? onBench : mate.on[place] === OFF };
  });
}

/** Whether a part that is on at a place is only joined to something on the bench, and this action takes that in. */
export function isTakenIn(part: PartState, place: number, action: Action): boolean {
  const joined = part.joined[place];
  return part.on[place] === ON && joined?.onBench === true && joined.part !== action.mate?.reference.owner.text;
}

/** What a made-up part is joined to goes in with it. */
export function takeIn(state: State, part: PartState, places: readonly number[], act: Act, depth = 0): void {
  for (const place of places) {
    const joined = part.joined[place];
    const other = joined?.onBench === true ? state.parts.get(joined.part) : undefined;
    if (other === undefined || joined === undefined || depth > 4) continue;
    const own = joined.place === undefined ? [...other.on.keys()] : [joined.place];
    const off = own.filter((i) => other.on[i] === OFF);
    other.on = withAt(other.on, off, ASSUMED);
    other.fittedBy = withAt(other.fittedBy, off, act);
    takeIn(state, other, own, act, depth + 1);
  }
}
