// Pins, tabs, wire and staking are put in.
import { targetAct } from '../act.ts';
import type { ActionRule } from '../action-rule.ts';
import { sayLeft } from '../left.ts';
import { OFF } from '../part-state.ts';
import { placesNow } from '../places.ts';
import { anyOn, sayMissing } from '../state.ts';

export const secure: ActionRule = {
  carryOut(state, step, action) {
    for (const target of action.targets) {
      const fastener = state.fasteners.get(target.owner.text);
      if (fastener !== undefined) {
        fastener.secured = true;
        continue;
      }
      const part = state.parts.get(target.owner.text);
      if (part === undefined) continue;
      if (placesNow(state, part.part, target.places).every((i) => part.on[i] === OFF))
        sayMissing(
          state,
          'sequence/not-fitted-yet',
          part.part.name,
          targetAct(step, action, target),
          `${part.part.name} is not on yet, so it can't be secured. Fit it first.`,
        );
      part.secured = true;
    }
  },
  atEnd(state) {
    for (const part of state.parts.values()) {
      const fitted = part.fittedBy.find((act) => act !== undefined);
      if (part.part.securedBy === undefined || part.secured || fitted === undefined || !anyOn(part)) continue;
      sayLeft(
        state,
        'sequence/not-secured',
        fitted.step.placed,
        fitted.span,
        `${part.part.name} goes on here and is never secured: it has a ${part.part.securedBy.replace('-', ' ')}. Say secure ${part.part.name} after it.`,
      );
    }
  },
  facts: (state) =>
    state.parts
      .values()
      .flatMap(({ part, secured }) =>
        part.securedBy === undefined ? [] : [[`${part.name}  `, secured ? 'secured' : 'not secured'] as const],
      ),
};
