// What is looked at when a job ends: each action tells what is left open of it.
import { thoseThat } from '../model/those-that.ts';
import type { View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { ActionRule } from './action-rule.ts';
import { ACTION_RULES } from './actions/table.ts';
import { plugsIn } from './fasteners-left.ts';
import { stepsFitting } from './foresight.ts';
import type { GoThrough, PieceOf } from './pieces.ts';
import { assembles, type Plan } from './plan.ts';
import { clampsOn, type State } from './state.ts';
import { inOrder } from './things.ts';

/** Whether the engine is put to use when the job is done: what is held, pinned or open then is left so. On the stand it may stay. */
function isHandedOver(plan: Plan): boolean {
  const last = plan.sequences[plan.sequences.length - 1];
  return last?.phase === 'install' || last?.phase === 'run-in';
}

const RULES: ReadonlySet<ActionRule> = new Set(Object.values(ACTION_RULES));
const ENDING: readonly ActionRule[] = [...RULES].filter(({ atEnd }) => atEnd !== undefined);

/** The parts that no step of the spec fits. */
const neverFitted = thoseThat(
  (view) => view.parts,
  ({ name }, view) => stepsFitting(view, name).length === 0,
);

/** What is asked of many names is asked of all of them at once, by their names with blanks between: most often they are those of the time before. */
const asOne = (names: readonly string[]): string => names.join(' ');
const named = (names: string): readonly string[] => (names === '' ? [] : names.split(' '));

const partsInOrder = question((view, names: string): readonly string[] => inOrder(view, 'parts', named(names)));
const holding = question((view, parts: string): string =>
  asOne([...named(parts).flatMap((name) => clampsOn(view, name)), ...plugsIn(view)]),
);
const fastenersInOrder = question((view, names: string): readonly string[] => inOrder(view, 'fasteners', named(names)));

/** The fasteners of which something may be open at the end. */
function fastenersConcerned({ view, fasteners }: State, changedParts: readonly string[]): readonly string[] {
  return fastenersInOrder(view, `${asOne(fasteners.changed())} ${holding(view, asOne(changedParts))}`.trim());
}

/** Whether something is looked at when a job ends. */
const hasEnd = (plan: Plan): boolean => assembles(plan) || isHandedOver(plan);

function endPart(state: State, name: string): void {
  const part = state.parts.get(name);
  if (part !== undefined) for (const rule of RULES) rule.partAtEnd?.(state, part);
}

/**
 * Says what is left undone when a job ends: of each part and fastener that it had to do with by itself, then of the whole, rule by rule. Gives the
 * names of those parts.
 */
export function sayWhatIsLeft(state: State, goThrough: GoThrough): readonly string[] {
  if (!hasEnd(state.plan)) return [];
  const end = (pieces: readonly PieceOf[], say: (of: PieceOf) => void): void =>
    goThrough(pieces, say, () => !state.unsure);
  const changedParts = state.parts.changed();
  end(partsInOrder(state.view, asOne(changedParts)), (name) => endPart(state, name as string));
  end(fastenersConcerned(state, changedParts), (name) => {
    const fastener = state.fasteners.get(name as string);
    if (fastener !== undefined) for (const rule of RULES) rule.fastenerAtEnd?.(state, fastener);
  });
  end(ENDING, (rule) => (rule as ActionRule).atEnd?.(state));
  return changedParts;
}

/**
 * The parts of its file that no step fits and that a job has nothing to do with, either: they stand as it began. They are apart from its pieces, so
 * that a part that is declared, or called otherwise, has no job carried out again that knows nothing of it. Of a part that some step fits nothing
 * is said at the end of a job that leaves it alone.
 */
export function leftAlone(view: View, plan: Plan, file: string, handled: ReadonlySet<string>): readonly string[] {
  if (plan.begins !== 'bare' || !hasEnd(plan)) return [];
  return neverFitted(view).flatMap(({ name, placed }) => (placed.file === file && !handled.has(name) ? [name] : []));
}

/** Says what is left undone of those. */
export function sayLeftAlone(state: State, names: readonly string[]): void {
  for (const name of names) endPart(state, name);
}
