// What has to be on a part when it goes in: oil, sealant. A part that says so (`fitted oiled`) is looked at when the engine is next turned.
import { told } from '../../grammar/told.ts';
import type { Act } from './act.ts';
import { OFF, type PartState } from './part-state.ts';
import { type State, say, sayAt } from './state.ts';

/** What an action puts on a part. */
export function putOn(part: PartState, what: 'oiled' | 'sealant'): void {
  part.wet.add(what);
}

/** A part goes on: where it says that sealant has to be on its joint, it is on it or on what it goes onto. */
export function sayIfUnsealed(state: State, part: PartState, mate: string | undefined, act: Act): void {
  if (part.part.fitted !== 'sealant' || act.step.trial || state.unsure) return;
  if (part.wet.has('sealant') || (mate !== undefined && state.parts.get(mate)?.wet.has('sealant') === true)) return;
  say(
    state,
    'sequence/fitted-dry',
    act,
    told`${told.thing(part.part)} goes on with sealant on its joint, and no step before puts any on. Say seal ${told.thing(part.part)} before this.`,
    { missing: true },
  );
}

/** The engine is turned, or the job ends: what had to be oiled and is not. */
export function sayIfNotOiled(state: State): void {
  if (state.unsure) return;
  for (const part of state.parts.values()) {
    const by = part.fittedBy.find((each) => each !== undefined);
    if (part.part.fitted !== 'oiled' || by === undefined || by.step.trial || part.wet.has('oiled')) continue;
    if (part.on.every((each) => each === OFF)) continue;
    part.wet.add('oiled');
    if (state.muted) continue;
    sayAt(
      state,
      'sequence/fitted-dry',
      by.step.placed,
      by.span,
      told`${told.thing(part.part)} goes in oiled, and no step oils it before the engine is turned. Say lubricate ${told.thing(part.part)} where it goes in.`,
      { missing: true },
    );
  }
}
