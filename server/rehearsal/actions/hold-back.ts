// What is under spring load is held back, and let go again.
import type { Act } from '../act.ts';
import { type ActionRule, onEach } from '../action-rule.ts';
import { sayIfCovered } from '../covers.ts';
import { sayLeft } from '../left.ts';
import type { PartState } from '../part-state.ts';
import { anyOn, type State, say } from '../state.ts';
import { isKnown } from '../undo.ts';

export const holdBack: ActionRule = onEach(
  (state, { name, part, act }) => {
    sayIfCovered(state, name, act, 'sequence/covered', 'hold it back');
    if (part !== undefined) part.heldBack = act;
  },
  {
    atEnd(state) {
      for (const { part, heldBack, saidNotHeld, on } of state.parts.values())
        if (heldBack !== undefined && on.some((each) => each !== 0) && !saidNotHeld)
          sayLeft(
            state,
            'sequence/still-held-back',
            heldBack.step.placed,
            heldBack.span,
            `${part.name} is held back here and never released. Release it before the engine is turned.`,
          );
    },
    facts: (state) =>
      state.parts
        .values()
        .flatMap(({ part, heldBack }) =>
          part.heldBack ? [[part.name, heldBack === undefined ? 'let go' : 'held back'] as const] : [],
        ),
  },
);

export const release: ActionRule = onEach((state, { name, part, act }) => {
  sayIfCovered(state, name, act, 'sequence/covered', 'release it');
  if (part === undefined) return;
  sayIfNotHeld(state, part, act);
  part.heldBack = undefined;
});

/** A part under spring load is let go, and nothing holds it. */
function sayIfNotHeld(state: State, part: PartState, act: Act): void {
  if (!part.part.heldBack || part.heldBack !== undefined || part.saidNotHeld || !isKnown(state)) return;
  part.saidNotHeld = true;
  if (
    state.ahead.expectedMissing.has(part.part.name) ||
    state.saidMissing.has(part.part.name) ||
    state.saidSteps.has(act.step.name)
  )
    return;
  say(
    state,
    'sequence/not-held-back',
    act,
    `${part.part.name} is let go here, and nothing holds it back: no step before says so. Say hold-back ${part.part.name} before the work that needs it.`,
    { missing: true },
  );
}

/** A chain or belt comes off a whole engine against a tensioner that pushes. A new one may come with its pin in: nothing is said of it. */
export function sayIfTensionerPushes(state: State, name: string, act: Act): void {
  if (state.plan.begins !== 'whole' || !isKnown(state)) return;
  for (const drive of state.drivesOf.get(name)) {
    if (!drive.drive.wraps.some((wrap) => wrap.part === name)) continue;
    for (const tensioner of drive.drive.tensioners) {
      const part = state.parts.get(tensioner);
      if (part === undefined || !part.part.heldBack || part.heldBack !== undefined || part.saidNotHeld) continue;
      if (!anyOn(part) || part.lifted || state.ahead.expectedMissing.has(tensioner)) continue;
      part.saidNotHeld = true;
      say(
        state,
        'sequence/not-held-back',
        act,
        `${name} comes off while ${tensioner} is not held back: it pushes against it. Say hold-back ${tensioner} before this.`,
        { missing: true },
      );
    }
  }
}
