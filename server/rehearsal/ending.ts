// What is looked at when a job ends: each action tells what is left open of it.
import type { ActionRule } from './action-rule.ts';
import { ACTION_RULES } from './actions/table.ts';
import type { InPieces } from './pieces.ts';
import { assembles, type Plan } from './plan.ts';
import type { State } from './state.ts';

/** Whether the engine is put to use when the job is done: what is held, pinned or open then is left so. On the stand it may stay. */
function isHandedOver(plan: Plan): boolean {
  const last = plan.sequences[plan.sequences.length - 1];
  return last?.phase === 'install' || last?.phase === 'run-in';
}

const RULES: ReadonlySet<ActionRule> = new Set(Object.values(ACTION_RULES).filter(({ atEnd }) => atEnd !== undefined));

/** Says what is left undone when a job ends, rule by rule. */
export function sayWhatIsLeft(state: State, inPieces: InPieces): void {
  if (!assembles(state.plan) && !isHandedOver(state.plan)) return;
  for (const rule of RULES)
    inPieces(rule, () => {
      const said = state.findings.length;
      rule.atEnd?.(state);
      if (state.findings.length > said && state.unsure) state.findings.length = said;
    });
}
