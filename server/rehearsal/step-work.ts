// What a step works on, told from its own text alone, so that it is gone through once and not before every rehearsal.
import type { Action } from '../../grammar/tree.ts';
import { isPlaceOf } from '../model/action-places.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { asWritten, type WrittenPlace } from '../model/measure.ts';
import type { Sequence, Step, View } from '../model/view.ts';
import { type Memo, question } from '../model/view-questions.ts';

export interface StepWork {
  /** What has to be known by name for the step to be carried out, with the action that names it and the target before it. */
  readonly named: readonly { readonly name: string; readonly word: string; readonly before: string | undefined }[];
  readonly fitted: readonly string[];
  readonly connected: readonly string[];
  /** Limits that are measured, with the places that are written. */
  readonly measured: readonly { readonly name: string; readonly places: readonly WrittenPlace[] }[];
  readonly tightened: readonly string[];
  readonly adjusted: readonly string[];
  readonly renewed: readonly string[];
  /** Measured or inspected. */
  readonly lookedAt: readonly string[];
  /** Where something is filled in, and drained. */
  readonly filled: readonly Action[];
  readonly drained: readonly string[];
  readonly bled: readonly string[];
  /** What is pinned or held back. */
  readonly obstructing: readonly string[];
  /** Parts that are fitted or removed, in the order of work. */
  readonly moved: readonly { readonly name: string; readonly word: 'fit' | 'remove' }[];
  /** Parts that go on together. */
  readonly together: readonly (readonly string[])[];
  /** Parts that are fitted, with what they are fitted to. */
  readonly mated: readonly { readonly name: string; readonly mate: string }[];
  /** What sealant or the like is put on. */
  readonly sealed: readonly string[];
  /** What oil, grease or paste is put on. */
  readonly oiled: readonly string[];
  /** All of it could be read. */
  readonly isRead: boolean;
  /** Nothing is done in it. */
  readonly isEmpty: boolean;
}

const NO_WORK = new Set(['after', 'allow', 'per', 'trial']);

export const workOf = question((_view, step: Step) => gather(step));

/** A step, and its sequence. */
export interface Doing {
  readonly sequence: Sequence;
  readonly step: Step;
}

/** The steps of all sequences, in the order written: each stays the same as long as its step does. */
const allSteps = question((view, _all: 'steps', memo: Memo<ReadonlyMap<Step, Doing>> = { of: undefined }) => {
  const before = memo.of;
  const now = new Map<Step, Doing>();
  for (const sequence of view.sequences)
    for (const step of sequence.steps) {
      const known = before?.get(step);
      now.set(step, known?.sequence === sequence ? known : { sequence, step });
    }
  memo.of = now;
  return [...now.values()];
});
export const stepsIn = (view: View): readonly Doing[] => allSteps(view, 'steps');

/** By name: the steps that are called so. */
export const stepsCalled = keyed(stepsIn, (_view, doing): readonly Entry<Doing>[] => [[doing.step.name, doing]]);

/** The targets of an action, each with the one before it that has places written. */
function namedBy({ word, targets }: Action): StepWork['named'] {
  let before: string | undefined;
  return targets.map(({ owner, places }) => {
    const named = { name: owner.text, word, before };
    if (places.length > 0) before = owner.text;
    return named;
  });
}

function gather(step: Step): StepWork {
  const actions = step.statements.filter((statement): statement is Action => statement.kind === 'action');
  const namesIn = (words: readonly string[]): readonly string[] =>
    actions.flatMap((action) => (words.includes(action.word) ? action.targets.map(({ owner }) => owner.text) : []));
  return {
    named: actions.flatMap(namedBy),
    fitted: namesIn(['fit']),
    connected: namesIn(['connect']),
    measured: actions.flatMap(({ word, targets }) =>
      word === 'measure'
        ? targets.map(({ owner, places }) => ({ name: owner.text, places: places.map(asWritten) }))
        : [],
    ),
    tightened: namesIn(['tighten', 'snug']),
    adjusted: namesIn(['adjust']),
    renewed: namesIn(['renew']),
    lookedAt: namesIn(['measure', 'inspect']),
    filled: actions.filter((action) => action.word === 'fill'),
    drained: namesIn(['drain']),
    bled: namesIn(['bleed']),
    obstructing: namesIn(['pin', 'hold-back']),
    moved: actions.flatMap(({ word, targets }) =>
      word === 'fit' || word === 'remove' ? targets.map(({ owner }) => ({ name: owner.text, word })) : [],
    ),
    together: actions
      .filter((action) => action.word === 'fit' && action.together && action.targets.length > 1)
      .map((action) => action.targets.map(({ owner }) => owner.text)),
    mated: actions.flatMap(({ word, targets, mate }) =>
      word === 'fit' && mate !== undefined
        ? targets.map(({ owner }) => ({ name: owner.text, mate: mate.reference.owner.text }))
        : [],
    ),
    sealed: namesIn(['seal']),
    oiled: namesIn(['lubricate']),
    isRead: !step.broken && step.statements.every((statement) => statement.kind !== 'broken'),
    isEmpty:
      !step.broken && (step.declaration.body?.statements ?? []).every((statement) => NO_WORK.has(statement.word)),
  };
}

/** Whether all that the step works on is known, and of the right kind. */
export const isKnown = question((view, step: Step): boolean => {
  const { isRead, named } = workOf(view, step);
  return (
    isRead &&
    named.every(
      ({ name, word, before }) => fits(word, name, view) || (before !== undefined && isPlaceOf(view, before, name)),
    )
  );
});

function fits(word: string, name: string, view: View): boolean {
  const kind = view.things.get(name)?.kind;
  if (word === 'fit' || word === 'remove') return kind === 'part' || kind === 'grades';
  if (word === 'tighten' || word === 'snug' || word === 'loosen') return kind === 'fastener';
  return kind !== undefined || name === 'engine';
}
