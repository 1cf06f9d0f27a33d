// What the rehearsal knows of an action: what it does to the engine, what it leaves open when a job ends, what it tells of the engine.
import type { Told } from '../../grammar/told.ts';
import type { Action, Reference } from '../../grammar/tree.ts';
import { targetsOf } from '../model/action-places.ts';
import type { Step } from '../model/view.ts';
import { type Act, targetAct } from './act.ts';
import type { FastenerState } from './fastener-state.ts';
import type { PartState } from './part-state.ts';
import type { State } from './state.ts';

/**
 * Something of the engine that is otherwise after some work than before: what, and how it stands. What is not so any more is no fact;
 * `back` tells how it stands then.
 */
export type Fact = readonly [what: string, stands: Told, back?: Told];

export interface ActionRule {
  /** Carries the action out: says what is wrong with doing it here, and brings the engine to how it stands after. */
  carryOut(state: State, step: Step, action: Action): void;
  /** Says what of it is still open when the job ends. */
  atEnd?(state: State): void;
  /**
   * The same of one part, which the job has changed, or which goes on in no first build; of one fastener, which the job has changed, which
   * clamps what it has changed, or which is a plug. Each is done by itself, and again when it stands otherwise.
   */
  partAtEnd?(state: State, part: PartState): void;
  fastenerAtEnd?(state: State, fastener: FastenerState): void;
  /** What of the engine it changes. Words that share a rule tell it once. */
  facts?(state: State): readonly Fact[];
  /** What stands so since it was done, until it is taken back: its names. */
  standing?(state: State): readonly string[];
}

/** The rule of an action that another takes back. */
export type UndoneRule = ActionRule & Required<Pick<ActionRule, 'standing'>>;

/** One of the things that an action names. */
export interface Target {
  readonly step: Step;
  readonly action: Action;
  readonly reference: Reference;
  readonly name: string;
  /** The name with the feature behind it, where one is named: `block.oil-port`. */
  readonly opening: string;
  readonly part: PartState | undefined;
  readonly fastener: FastenerState | undefined;
  readonly act: Act;
}

/** A rule that does the same to each thing that the action names. */
export function onEach(doTo: (state: State, target: Target) => void, more: Omit<UndoneRule, 'carryOut'>): UndoneRule;
export function onEach(doTo: (state: State, target: Target) => void, more?: Omit<ActionRule, 'carryOut'>): ActionRule;
export function onEach(
  doTo: (state: State, target: Target) => void,
  more: Omit<ActionRule, 'carryOut'> = {},
): ActionRule {
  return {
    ...more,
    carryOut(state, step, action) {
      for (const reference of targetsOf(action, state.view)) {
        const name = reference.owner.text;
        const fastener = state.fasteners.get(name);
        const act = targetAct(step, action, reference);
        if (fastener !== undefined) {
          fastener.mentioned = true;
          fastener.last ??= act;
        }
        const opening = reference.feature === undefined ? name : `${name}.${reference.feature.text}`;
        doTo(state, { step, action, reference, name, opening, part: state.parts.get(name), fastener, act });
      }
    },
  };
}
