// What is looked at when a job ends: each action tells what is left open of it.
import { thoseThat } from '../model/those-that.ts';
import type { Part, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { ActionRule } from './action-rule.ts';
import { ACTION_RULES } from './actions/table.ts';
import { plugsIn } from './fasteners-left.ts';
import { stepsFitting } from './foresight.ts';
import type { GoThrough, PieceOf } from './pieces.ts';
import { type Plan, refitsIn } from './plan.ts';
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
function isNeverFitted(part: Part, view: View): boolean {
  const refitted = refitsIn(view, part.placed.file);
  return stepsFitting(view, part.name).every(({ sequence }) => refitted.has(sequence.name));
}

const neverFitted = thoseThat((view) => view.parts, isNeverFitted);

/** The parts of a file that no first build fits: of a job that begins bare they are looked at, whether or not it has to do with them. */
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

/** The fasteners of which something may be open at the end. */
function fastenersConcerned({ view, fasteners }: State, changedParts: readonly string[]): readonly string[] {
  return fastenersInOrder(view, `${asOne(fasteners.changed())} ${holding(view, asOne(changedParts))}`.trim());
}

/** Whether something is looked at when a job ends. */
const hasEnd = (plan: Plan): boolean => plan.assembles || isHandedOver(plan);

function endPart(state: State, name: string): void {
  const part = state.parts.get(name);
  if (part !== undefined) for (const rule of RULES) rule.partAtEnd?.(state, part);
}

/**
 * Says what is left undone when a job ends: of each part and fastener that it had to do with by itself, then of the whole, rule by rule. Gives the
 * names of those parts. `looksAtAll`: also of the parts that no first build fits; else those are looked at apart (`leftAlone`).
 */
export function sayWhatIsLeft(state: State, goThrough: GoThrough, looksAtAll: boolean): readonly string[] {
  const { view, plan, file } = state;
  if (!hasEnd(plan)) return [];
  const end = (pieces: readonly PieceOf[], say: (of: PieceOf) => void): void =>
    goThrough(pieces, say, () => !state.unsure);
  const changedParts = state.parts.changed();
  const others = looksAtAll && plan.begins === 'bare' ? neverFittedIn(view, file) : [];
  end(partsInOrder(view, asOne([...changedParts, ...others])), (name) => endPart(state, name as string));
  end(fastenersConcerned(state, changedParts), (name) => {
    const fastener = state.fasteners.get(name as string);
    if (fastener !== undefined) for (const rule of RULES) rule.fastenerAtEnd?.(state, fastener);
  });
  end(ENDING, (rule) => (rule as ActionRule).atEnd?.(state));
  return changedParts;
}

/**
 * The parts of its file that no first build fits and that a job has nothing to do with, either: they stand as it began. They are apart from its
 * pieces, so that a part that is declared, or called otherwise, has no job carried out again that knows nothing of it.
 */
export function leftAlone(view: View, plan: Plan, file: string, handled: ReadonlySet<string>): readonly string[] {
  if (plan.begins !== 'bare' || !hasEnd(plan)) return [];
  return neverFittedIn(view, file).filter((name) => !handled.has(name));
}

/** Says what is left undone of those. */
export function sayLeftAlone(state: State, names: readonly string[]): void {
  for (const name of names) endPart(state, name);
}
