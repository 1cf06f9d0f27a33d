// New ones are got ready for what was on before.
import { type ActionRule, onEach } from '../action-rule.ts';

export const renew: ActionRule = onEach((_state, { part, fastener }) => {
  if (part !== undefined) part.used = false;
  if (fastener !== undefined) fastener.used = false;
});
