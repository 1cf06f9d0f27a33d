// Gaskets that stay where they are when what they seal comes off: pressed once, they do not seal again.

import { told } from '../../grammar/told.ts';
import { isA } from '../model/trade-names.ts';
import { type Act, pointAt } from './act.ts';
import { OFF, type PartState } from './part-state.ts';
import { type State, say } from './state.ts';

/** Single-use gaskets that are clamped with a part, or named after it, and are on. */
function gasketsOf(state: State, part: PartState): readonly PartState[] {
  const { name } = part.part;
  const named = [`${name}-gasket`, `${name}-base-gasket`].flatMap((each) => state.parts.get(each) ?? []);
  const clamped = state.clampedBy
    .get(name)
    .flatMap(({ fastener }) => fastener.clamps.flatMap((clamp) => state.parts.get(clamp.part) ?? []));
  return [...new Set([...named, ...clamped])].filter(
    (each) =>
      each !== part && each.part.singleUse && isA(each.part, 'gasket', 'washer') && each.on.some((at) => at !== OFF),
  );
}

/** A part comes off: the gaskets that stay have been pressed. `withIt` are the names that come off in the same action. */
export function gasketsPressed(state: State, part: PartState, withIt: ReadonlySet<string>, act: Act): void {
  if (part.onTrial !== undefined || act.step.trial || isA(part.part, 'gasket', 'washer')) return;
  // A cover that is lifted after the first run of a build, to look at the valve gear, goes back on its new gasket.
  if (/cover$/i.test(part.part.name) && state.running.hasRun) return;
  for (const gasket of gasketsOf(state, part))
    if (!withIt.has(gasket.part.name) && gasket.onTrial === undefined) gasket.pressedBy ??= act;
}

/** A part goes back on: says that a gasket under it was pressed before and is not new. */
export function sayIfPressed(state: State, part: PartState, act: Act): void {
  if (act.step.trial) return;
  for (const gasket of gasketsOf(state, part)) {
    const by = gasket.pressedBy;
    if (by === undefined) continue;
    if (state.unsure) return;
    gasket.pressedBy = undefined;
    if (gasket.used.some((each) => each)) continue;
    say(
      state,
      'sequence/not-renewed',
      act,
      told`${told.thing(gasket.part)} is single-use and was kept when ${told.thing(part.part)} came off in step ${told.thing(by.step)}: pressed once, it does not seal again. Take it off and renew it before this.`,
      { related: pointAt(by, told`${told.thing(part.part)} came off here`) },
    );
  }
}
