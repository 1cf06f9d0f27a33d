// A chain or belt is drawn tight when it is on, and all that it runs over with it. A tensioner that is let go before pushes against nothing, one
// that is set by hand is set to nothing. Common practice, no source.
import { told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import type { Drive, Part } from '../model/view.ts';
import type { Act } from './act.ts';
import type { DriveState } from './drive-state.ts';
import type { FastenerState } from './fastener-state.ts';
import { everObstructing } from './obstructions.ts';
import { anyOn, isComplete, isOff, type State, say, sayMissing } from './state.ts';
import { actionsAfter, isOf } from './to-come.ts';

type Wrap = Drive['wraps'][number];

/** The chain or belt that a tensioner draws: the one that runs over it, else the only one of its drive. */
function drawnBy({ wraps }: Drive, tensioner: string): Wrap | undefined {
  const over = wraps.find((wrap) => wrap.wheels.some((wheel) => wheel.part === tensioner));
  return over ?? (wraps.length === 1 ? wraps[0] : undefined);
}

/** What the job does before a part that is off here goes on; undefined where none goes on after this. */
function untilFitted(state: State, act: Act, name: string): readonly Action[] | undefined {
  const later = actionsAfter(state, act).map(({ action }) => action);
  const at = later.findIndex((action) => action.word === 'fit' && isOf(action, name));
  return at < 0 ? undefined : later.slice(0, at);
}

/** Says that a wheel which a chain or belt that is on runs over is not on, and goes on later; true when it is so. */
function sayWheelOff(state: State, wrap: Wrap, act: Act, tensioner: string | undefined): boolean {
  if (isOff(state, wrap.part)) return false;
  const missing = wrap.wheels.find(
    ({ part }) => part !== tensioner && isOff(state, part) && untilFitted(state, act, part) !== undefined,
  )?.part;
  if (missing === undefined) return false;
  sayMissing(
    state,
    'sequence/not-fitted-yet',
    missing,
    act,
    tensioner === undefined
      ? told`${told.named(wrap.part)} runs over ${told.named(missing)}, and the engine is turned here before that is on. Fit ${told.named(missing)} first.`
      : told`${told.named(tensioner)} draws ${told.named(wrap.part)} tight here, and ${told.named(missing)}, which it runs over, is not on yet. Fit ${told.named(missing)} first.`,
  );
  return true;
}

const ASIDE = new Set<string>(['hold-back', 'remove', 'fit']);

/** Says that a tensioner is let go before what it draws is on, or all that this runs over. */
export function sayIfLetGoEarly(state: State, name: string, act: Act): void {
  if (act.step.trial || state.saidSteps.has(act.step.name)) return;
  for (const { drive } of state.tensionerOf.get(name)) {
    const wrap = drawnBy(drive, name);
    if (wrap === undefined) continue;
    if (!isOff(state, wrap.part)) {
      if (sayWheelOff(state, wrap, act, name)) return;
      continue;
    }
    // Drawn back again before, or put aside, it is no matter.
    const before = untilFitted(state, act, wrap.part);
    const isBack = before?.some((action) => ASIDE.has(action.word) && isOf(action, name));
    if (before === undefined || isBack === true) continue;
    sayMissing(
      state,
      'sequence/not-fitted-yet',
      wrap.part,
      act,
      told`${told.named(name)} is let go here, and ${told.named(wrap.part)} is not on yet: it has nothing to push against. Fit ${told.named(wrap.part)} first, then release ${told.named(name)}.`,
    );
    return;
  }
}

/** What says of a tensioner that it is turned or shifted by hand and held by its nut. */
const BY_HAND = /eccentric|slot|adjust|shift/i;

/** Whether nothing in the spec pushes: the tensioner stands where its bolts hold it. */
function standsByItsBolts(state: State, drive: Drive): boolean {
  const held = new Set(everObstructing(state.view, 'steps'));
  return drive.tensioners.every((name) => {
    const part = state.parts.get(name);
    return part === undefined || (!part.part.heldBack && !part.wasHeld && !held.has(name));
  });
}

const saysByHand = (part: Part): boolean => BY_HAND.test(`${part.name} ${part.title ?? ''}`);

/** Says that the bolts of a tensioner come to their last stage before what it draws is on, or all that this runs over. */
export function sayIfDrawnEarly(state: State, { fastener }: FastenerState, act: Act): void {
  if (act.step.trial) return;
  for (const clamp of fastener.clamps)
    for (const each of state.tensionerOf.get(clamp.part)) {
      const part = state.parts.get(clamp.part);
      const wrap = drawnBy(each.drive, clamp.part);
      if (part === undefined || wrap === undefined || part.heldBack !== undefined || !anyOn(part)) continue;
      if (!isOff(state, wrap.part)) {
        if (sayWheelOff(state, wrap, act, clamp.part)) return;
        continue;
      }
      if (!standsByItsBolts(state, each.drive) || untilFitted(state, act, wrap.part) === undefined) continue;
      const isByHand = saysByHand(part.part);
      const isLoosened = actionsAfter(state, act).some(
        ({ action }) =>
          (action.word === 'loosen' && isOf(action, fastener.name)) ||
          (action.word === 'release' && isOf(action, clamp.part)),
      );
      if (isLoosened || (wrap.sort === 'chain' && !isByHand) || state.saidMissing.has(wrap.part) || state.unsure)
        continue;
      say(
        state,
        'sequence/tightened-early',
        act,
        told`${told.thing(fastener)} holds ${told.thing(part.part)}, and ${told.named(wrap.part)}, which that draws tight, is not on yet. Fit ${told.named(wrap.part)} first, set ${told.thing(part.part)}, then tighten.`,
        { severity: isByHand ? 'warning' : 'information' },
      );
      return;
    }
}

/** Says that the engine is turned with a chain or belt on and a wheel that it runs over still to come. */
export function sayIfWheelOff(state: State, drive: DriveState, act: Act): void {
  if (!isComplete(state, drive)) return;
  for (const wrap of drive.drive.wraps) if (sayWheelOff(state, wrap, act, undefined)) return;
}
