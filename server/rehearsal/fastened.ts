// What still holds a part that is to come off: fasteners that nobody has loosened. Parts that lie over it are in covers.ts.

import { told } from '../../grammar/told.ts';
import { type Act, pointAt } from './act.ts';
import { type FastenerState, LOOSE } from './fastener-state.ts';
import { inWords } from './in-words.ts';
import type { PartState } from './part-state.ts';
import { eachOf, isOne, screwsAt, screwsName } from './screws.ts';
import { type State, say } from './state.ts';

/** The screws of a fastener that hold these places of a part; undefined where it can't be told which do. */
function screwsHolding(
  state: State,
  each: FastenerState,
  part: PartState,
  places: readonly number[],
): readonly number[] | undefined {
  if (each.fastener.each === part.part.name || eachOf(state, each)?.on.length === part.on.length)
    return screwsAt(each, places);
  if (each.fastener.each !== undefined) return undefined;
  return places.length === part.on.length ? [...each.stages.keys()] : undefined;
}

/** The screws that are still tight, or snug, where they hold these places. */
function holdingAt(state: State, each: FastenerState, part: PartState, places: readonly number[]): readonly number[] {
  const { fastener, stages } = each;
  // A stud stays; an engine that other sequences have begun may stand in any way.
  if (each.saidHolding || fastener.broken || fastener.joint === 'stud') return [];
  if (state.plan.begins === 'unknown' && each.last === undefined) return [];
  const screws = screwsHolding(state, each, part, places);
  const all = [...stages.keys()];
  if (screws === undefined) return stages.every((stage) => stage > LOOSE) ? all : [];
  return screws.filter((i) => (stages[i] ?? LOOSE) > LOOSE);
}

/** Says that a part comes off while what holds it was never loosened; true when it does. */
export function sayIfFastened(state: State, part: PartState, places: readonly number[], act: Act): boolean {
  const holding = state.clampedBy.get(part.part.name).flatMap((each) => {
    const screws = holdingAt(state, each, part, places);
    return screws.length === 0 ? [] : [{ each, screws }];
  });
  const first = holding[0]?.each;
  if (first === undefined || state.unsure) return false;
  const names = inWords(holding.map(({ each, screws }) => screwsName(state, each, screws)));
  const isSingle = holding.length === 1 && holding.every(({ each, screws }) => isOne(state, each, screws));
  say(
    state,
    'sequence/still-fastened',
    act,
    isSingle
      ? told`${told.thing(part.part)} can't come off yet: ${names} still holds it and is not loosened before. Loosen it first.`
      : told`${told.thing(part.part)} can't come off yet: ${names} still hold it and are not loosened before. Loosen them first.`,
    { related: pointAt(first.last, told`tightened here`) },
  );
  // It is taken to come out with the part: that it is not in any more is no finding of its own.
  for (const { each } of holding) each.saidHolding = true;
  return true;
}
