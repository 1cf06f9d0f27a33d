// The places of a job that are ticked one by one: of a step that is done place by place, or of an action on one part.
import type { Action } from '../../grammar/tree.ts';
import { allPlaces } from '../model/feature-places.ts';
import { takesIn } from '../model/measure.ts';
import type { Part, Step, View } from '../model/view.ts';

/** More places than these are not ticked one by one. */
const MOST_PLACES = 24;

function placesOfPart(
  part: Part,
  feature: string | undefined,
  only: readonly Parameters<typeof takesIn>[0][],
): readonly string[] {
  const all = allPlaces(part, feature);
  const own = only.length === 0 ? all : all.filter((place) => only.some((written) => takesIn(written, place)));
  if (own.length < 2 || own.length > MOST_PLACES) return [];
  return own.map(({ name, number }) => {
    const isAlone = name !== undefined && all.filter((other) => other.name === name).length === 1;
    return name === undefined ? String(number) : isAlone ? name : `${name} ${number}`;
  });
}

export function placesOfStep(step: Step, view: View): readonly string[] {
  const part = step.each === undefined ? undefined : view.things.get(step.each.owner.text);
  return part?.kind !== 'part' ? [] : placesOfPart(part, step.each?.feature?.text, step.each?.places ?? []);
}

/** An action on one part with several places is ticked at each, unless its step is done place by place. */
export function placesOfAction(action: Action, step: Step, view: View): readonly string[] {
  const [target] = action.targets;
  if (step.each !== undefined || target === undefined || action.targets.length > 1 || action.word === 'tighten')
    return [];
  const part = view.things.get(target.owner.text);
  return part?.kind !== 'part' ? [] : placesOfPart(part, target.feature?.text, target.places);
}
