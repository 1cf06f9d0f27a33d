// What still holds a part that is to come off: fasteners that nobody has loosened. Parts that lie over it are in covers.ts.

import { type Act, pointAt } from './act.ts';
import { type FastenerState, LOOSE } from './fastener-state.ts';
import { inWords } from './in-words.ts';
import type { PartState } from './part-state.ts';
import { type State, say } from './state.ts';

/** The groups of a fastener that hold these places of a part; undefined where it can't be told which do. */
function groupsAt(
  state: State,
  { fastener, stages }: FastenerState,
  part: PartState,
  places: readonly number[],
): readonly number[] | undefined {
  if (fastener.each === undefined) return [...stages.keys()];
  if (fastener.each === part.part.name) return places;
  const each = state.parts.get(fastener.each);
  return each?.on.length === part.on.length ? places : undefined;
}

/** Whether a fastener is still tight, or snug, where it holds these places. */
function isHolding(state: State, each: FastenerState, part: PartState, places: readonly number[]): boolean {
  const { fastener, stages } = each;
  // A stud stays; an engine that other sequences have begun may stand in any way.
  if (each.saidHolding || fastener.broken || fastener.joint === 'stud') return false;
  if (state.plan.begins === 'unknown' && each.last === undefined) return false;
  const groups = groupsAt(state, each, part, places);
  return groups === undefined
    ? stages.every((stage) => stage > LOOSE)
    : groups.some((i) => (stages[i] ?? LOOSE) > LOOSE);
}

/** Says that a part comes off while what holds it was never loosened; true when it does. */
export function sayIfFastened(state: State, part: PartState, places: readonly number[], act: Act): boolean {
  const holding = state.clampedBy.get(part.part.name).filter((each) => isHolding(state, each, part, places));
  const [first] = holding;
  if (first === undefined || state.unsure) return false;
  const names = inWords(holding.map(({ fastener }) => fastener.name));
  const [are, hold, them] = holding.length === 1 ? ['is', 'holds', 'it'] : ['are', 'hold', 'them'];
  say(
    state,
    'sequence/still-fastened',
    act,
    `${part.part.name} can't come off yet: ${names} still ${hold} it and ${are} not loosened before. Loosen ${them} first.`,
    { related: pointAt(first.last, 'tightened here') },
  );
  // It is taken to come out with the part: that it is not in any more is no finding of its own.
  for (const each of holding) each.saidHolding = true;
  return true;
}
