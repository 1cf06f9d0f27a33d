// What is looked at when a job ends: each action tells what is left open of it.
import { thoseThat } from '../model/those-that.ts';
import type { Part, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { ActionRule } from './action-rule.ts';
import { ACTION_RULES } from './actions/table.ts';
import { plugsIn } from './fasteners-left.ts';
import { stepsFitting } from './foresight.ts';
import type { GoThrough, PieceOf } from './pieces.ts';
import { assembles, type Plan, refitsIn } from './plan.ts';
import { clampsOn, type State } from './state.ts';
import { inOrder, mergedInOrder } from './things.ts';

/** Whether the engine is put to use when the job is done: what is held, pinned or open then is left so. On the stand it may stay. */
function isHandedOver(plan: Plan): boolean {
  const last = plan.sequences[plan.sequences.length - 1];
  return last?.phase === 'install' || last?.phase === 'run-in';
}

const RULES: ReadonlySet<ActionRule> = new Set(Object.values(ACTION_RULES));
const ENDING: readonly ActionRule[] = [...RULES].filter(({ atEnd }) => atEnd !== undefined);

/** Whether no first build fits a part: no step does, or only steps of jobs on a whole engine. */
function isNeverFitted(part: Part, view: View): boolean {
  const refitted = refitsIn(view, part.placed.file);
  return stepsFitting(view, part.name).every(({ sequence }) => refitted.has(sequence.name));
}

const neverFitted = thoseThat((view) => view.parts, isNeverFitted);

/** The parts of a file that no first build fits. */
const neverFittedIn = (view: View, file: string): readonly string[] =>
  neverFitted(view).flatMap((part) => (part.placed.file === file ? [part.name] : []));

/** What is asked of many names is asked of all of them at once, by their names with blanks between: most often they are those of the time before. */
const asOne = (names: readonly string[]): string => names.join(' ');
const named = (names: string): readonly string[] => (names === '' ? [] : names.split(' '));

const partsInOrder = question((view, names: string): readonly string[] => inOrder(view, 'parts', named(names)));
const holding = question((view, parts: string): string =>
  asOne([...named(parts).flatMap((name) => clampsOn(view, name)), ...plugsIn(view)]),
);
const fastenersInOrder = question((view, names: string): readonly string[] => inOrder(view, 'fasteners', named(names)));

/** The parts of which something may be open at the end. */
function partsConcerned({ view, plan, file }: State, changed: readonly string[]): readonly string[] {
  const own = partsInOrder(view, asOne(changed));
  // What no first build fits is the same for all of them.
  return plan.begins === 'bare'
    ? mergedInOrder(view, 'parts', own, partsInOrder(view, asOne(neverFittedIn(view, file))))
    : own;
}

/** The fasteners of which something may be open at the end. */
function fastenersConcerned({ view, fasteners }: State, changedParts: readonly string[]): readonly string[] {
  return fastenersInOrder(view, `${asOne(fasteners.changed())} ${holding(view, asOne(changedParts))}`.trim());
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
