// What stands on the stand before the first step.
import { LOOSE, OUT } from './fastener-state.ts';
import { ASSUMED, filled, OFF } from './part-state.ts';
import type { State } from './state.ts';

/** A part stands there, with what it is bolted with as it came. */
export function standsThere(state: State, name: string): void {
  const part = state.parts.get(name);
  if (part === undefined) return;
  part.on = part.on.map((each) => (each === OFF ? ASSUMED : each));
  part.secured = filled(part.secured.length, true);
  // What a part that stands there is bolted with is as it came.
  for (const fastener of state.clampedBy.get(name))
    if (!fastener.stages.some((each) => each !== OUT)) fastener.stages = filled(fastener.stages.length, LOOSE);
}
