// In which order rings go onto a piston: the lowest first, so that none is drawn over one that is on. Common practice, no source.
import { told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import { isA } from '../model/trade-names.ts';
import { type Act, pointAt } from './act.ts';
import { ON, type PartState } from './part-state.ts';
import { type State, say } from './state.ts';

/** From the top down. */
const GROOVES: readonly RegExp[] = [
  /(?:^|-)(?:top|first|1st|1)(?:-|$)/i,
  /(?:^|-)(?:second|2nd|2)(?:-|$)/i,
  /(?:^|-)oil(?:-|$)/i,
];

/** The groove of a ring by its name, from the top down; -1 where the name does not tell. */
const grooveOf = (name: string): number => (isA(name, 'ring') ? GROOVES.findIndex((words) => words.test(name)) : -1);

/** Says that a ring goes onto a piston under one that is on; in one list of rings that may only be the order of the words. */
export function sayIfRingUnder(
  state: State,
  { part }: PartState,
  places: readonly number[],
  action: Action,
  act: Act,
): void {
  const groove = grooveOf(part.name);
  const piston = action.mate?.reference.owner.text;
  if (groove < 1 || piston === undefined || !isA(piston, 'piston')) return;
  const names = action.targets.map(({ owner }) => owner.text);
  const isAbove = (name: string): boolean => {
    const its = grooveOf(name);
    return its >= 0 && its < groove;
  };
  const on = state.parts
    .ofKind('ring')
    .find(
      (each) =>
        isAbove(each.part.name) && each.mate === piston && !each.lifted && places.some((i) => each.on[i] === ON),
    );
  const listed = names.slice(0, names.indexOf(part.name)).find(isAbove);
  const above = on?.part.name ?? listed;
  const key = `${act.step.name} rings`;
  if (above === undefined || state.saidSteps.has(key) || state.unsure) return;
  state.saidSteps.add(key);
  say(
    state,
    'sequence/out-of-turn',
    act,
    told`${told.thing(part)} goes onto ${told.named(piston, 'part')} after ${told.named(above)}, which sits above it: it would be drawn over that. Rings go on from the lowest up.`,
    {
      related: pointAt(
        on?.fittedBy.find((by) => by !== undefined),
        told`${told.named(above)} goes on here`,
      ),
      ...(on === undefined ? { severity: 'information' as const } : {}),
    },
  );
}
