// What is looked at when a job ends: each action tells what is left open of it.
import type { Part } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { ActionRule } from './action-rule.ts';
import { ACTION_RULES } from './actions/table.ts';
import { plugsIn } from './fasteners-left.ts';
import { stepsFitting } from './foresight.ts';
import type { GoThrough, PieceOf } from './pieces.ts';
import { assembles, type Plan, refitsIn } from './plan.ts';
import { clampsOn, type State } from './state.ts';
import { inOrder } from './things.ts';

/** Whether the engine is put to use when the job is done: what is held, pinned or open then is left so. On the stand it may stay. */
function isHandedOver(plan: Plan): boolean {
  const last = plan.sequences[plan.sequences.length - 1];
  return last?.phase === 'install' || last?.phase === 'run-in';
}

const RULES: ReadonlySet<ActionRule> = new Set(Object.values(ACTION_RULES));
const ENDING: readonly ActionRule[] = [...RULES].filter(({ atEnd }) => atEnd !== undefined);

/** Whether no first build fits a part: no step does, or only steps of jobs on a whole engine. */
const isNeverFitted = question((view, part: Part): boolean => {
  const refitted = refitsIn(view, part.placed.file);
  return stepsFitting(view, part.name).every(({ sequence }) => refitted.has(sequence.name));
});

/** The parts of a file that no first build fits. */
const neverFitted = question((view, file: string): readonly string[] =>
  view.parts.flatMap((part) => (part.placed.file === file && isNeverFitted(view, part) ? [part.name] : [])),
);

/** The parts of which something may be open at the end. */
function partsConcerned({ view, plan, file }: State, changed: readonly string[]): readonly string[] {
  const first = plan.begins === 'bare' ? neverFitted(view, file) : [];
  return inOrder(view, 'parts', [...changed, ...first]);
}

/** The fasteners of which something may be open at the end. */
function fastenersConcerned({ view, fasteners }: State, changedParts: readonly string[]): readonly string[] {
  const holding = changedParts.flatMap((name) => clampsOn(view, name));
  return inOrder(view, 'fasteners', [...fasteners.changed(), ...holding, ...plugsIn(view, 'fasteners')]);
}

/** Says what is left undone when a job ends: of each part and fastener by itself, then of the whole, rule by rule. */
export function sayWhatIsLeft(state: State, goThrough: GoThrough): void {
  if (!assembles(state.plan) && !isHandedOver(state.plan)) return;
  const end = (pieces: readonly PieceOf[], say: (of: PieceOf) => void): void =>
    goThrough(pieces, say, () => !state.unsure);
  const changedParts = state.parts.changed();
  end(partsConcerned(state, changedParts), (name) => {
    const part = state.parts.get(name as string);
    if (part !== undefined) for (const rule of RULES) rule.partAtEnd?.(state, part);
  });
  end(fastenersConcerned(state, changedParts), (name) => {
    const fastener = state.fasteners.get(name as string);
    if (fastener !== undefined) for (const rule of RULES) rule.fastenerAtEnd?.(state, fastener);
  });
  end(ENDING, (rule) => (rule as ActionRule).atEnd?.(state));
}
