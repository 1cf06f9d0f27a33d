// What is under spring load is held back, and let go again.
import { told } from '../../../grammar/told.ts';
import type { Act } from '../act.ts';
import { type ActionRule, onEach, type UndoneRule } from '../action-rule.ts';
import { sayIfCovered } from '../covers.ts';
import { sayLeft } from '../left.ts';
import type { PartState } from '../part-state.ts';
import { proofUndone } from '../proof.ts';
import { anyOn, type State, say } from '../state.ts';
import { sayIfLetGoEarly } from '../tension.ts';
import { isKnown } from '../undo.ts';

export const holdBack: UndoneRule = onEach(
  (state, { name, part, act }) => {
    sayIfCovered(state, name, act, 'sequence/covered', told`hold it back`);
    if (part === undefined) return;
    proofUndone(state, name, act);
    part.heldBack = act;
    part.wasHeld = true;
  },
  {
    partAtEnd(state, { part, heldBack, saidNotHeld, on }) {
      if (heldBack !== undefined && on.some((each) => each !== 0) && !saidNotHeld)
        sayLeft(
          state,
          'sequence/still-held-back',
          heldBack.step.placed,
          heldBack.span,
          told`${told.thing(part)} is held back here and never released. Release it before the engine is turned.`,
        );
    },
    atEnd: neverLetGo,
    standing: (state) =>
      state.parts.values().flatMap(({ part, heldBack }) => (heldBack === undefined ? [] : [part.name])),
    facts: (state) =>
      state.parts
        .values()
        .flatMap(({ part, heldBack }) =>
          part.heldBack ? [[part.name, heldBack === undefined ? told`let go` : told`held back`] as const] : [],
        ),
  },
);

export const release: ActionRule = onEach((state, { name, part, act }) => {
  sayIfCovered(state, name, act, 'sequence/covered', told`release it`);
  if (part === undefined) return;
  if (!sayIfNotHeld(state, part, act)) sayIfLetGoEarly(state, name, act);
  part.heldBack = undefined;
  part.wasHeld = true;
});

/** A part under spring load is let go, and nothing holds it; true where that is said. */
function sayIfNotHeld(state: State, part: PartState, act: Act): boolean {
  if (!part.part.heldBack || part.heldBack !== undefined || part.saidNotHeld || !isKnown(state)) return false;
  part.saidNotHeld = true;
  if (
    state.ahead.expectedMissing.has(part.part.name) ||
    state.saidMissing.has(part.part.name) ||
    state.saidSteps.has(act.step.name)
  )
    return false;
  say(
    state,
    'sequence/not-held-back',
    act,
    told`${told.thing(part.part)} is let go here, and nothing holds it back: no step before says so. Say hold-back ${told.thing(part.part)} before the work that needs it.`,
    { missing: true },
  );
  return true;
}

/** A chain or belt comes off a whole engine against a tensioner that pushes. A new one may come with its pin in: nothing is said of it. */
export function sayIfTensionerPushes(state: State, name: string, act: Act): void {
  if (state.plan.begins !== 'whole') return;
  for (const drive of state.drivesOf.get(name)) {
    if (!drive.drive.wraps.some((wrap) => wrap.part === name)) continue;
    for (const tensioner of drive.drive.tensioners) {
      const part = state.parts.get(tensioner);
      if (part === undefined || !part.part.heldBack || part.heldBack !== undefined || part.saidNotHeld) continue;
      if (!anyOn(part) || part.lifted || state.ahead.expectedMissing.has(tensioner)) continue;
      if (!isKnown(state)) return;
      part.saidNotHeld = true;
      say(
        state,
        'sequence/not-held-back',
        act,
        told`${told.named(name)} comes off while ${told.named(tensioner)} is not held back: it pushes against it. Say hold-back ${told.named(tensioner)} before this.`,
        { missing: true },
      );
    }
  }
}

/** A tensioner that goes on in a first build with its chain or belt, and that nobody holds back or lets go: new ones come held back. */
function neverLetGo(state: State): void {
  if (state.plan.begins !== 'bare') return;
  for (const { drive } of state.drives.values())
    for (const name of drive.tensioners) {
      const part = state.parts.get(name);
      const by = part?.fittedBy.find((each) => each !== undefined);
      if (part === undefined || by === undefined || !part.part.heldBack || part.wasHeld || part.saidNotHeld) continue;
      if (!anyOn(part) || !drive.wraps.some((wrap) => isOn(state, wrap.part))) continue;
      sayLeft(
        state,
        'sequence/still-held-back',
        by.step.placed,
        by.span,
        told`${told.named(name)} goes on here and is never let go: a new one comes held back, and then does not push. Say hold-back ${told.named(name)} before the chain or belt goes on, and release ${told.named(name)} after it.`,
      );
    }
}

function isOn(state: State, name: string): boolean {
  const part = state.parts.get(name);
  return part !== undefined && anyOn(part);
}
