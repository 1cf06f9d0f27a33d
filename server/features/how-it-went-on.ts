// How an engine went together, as the sequences that build it tell: when each part went on, onto what, and with what. No trial counts.
import type { Action } from '../../grammar/tree.ts';
import { targetsOf } from '../model/action-places.ts';
import type { Part, Sequence, Step, View } from '../model/view.ts';

/** An action of the build, in the order of the work. */
export interface BuildAction {
  readonly action: Action;
  readonly step: Step;
  readonly sequence: Sequence;
}

/** A part that goes on, when and onto what. */
export interface Fit {
  /** Later ones are larger; of the parts of one action the later named too. */
  readonly order: number;
  readonly name: string;
  readonly mate: string | undefined;
  readonly step: Step;
  readonly sequence: Sequence;
  readonly action: Action;
}

export interface Build {
  readonly view: View;
  readonly fits: readonly Fit[];
  readonly actions: readonly BuildAction[];
  /** The last time that a part went on; -1 for one that no step fits, as what stands on the stand. */
  readonly last: (name: string) => number;
  readonly fitsOf: (name: string) => readonly Fit[];
  /** What a part goes onto or into, at any of its places. */
  readonly mates: (name: string) => readonly string[];
  readonly part: (name: string) => Part | undefined;
  /** Parts that were built into another before that went on, those that are built into them among them. */
  readonly inside: (name: string) => readonly string[];
}

/** The actions of some sequences, in the order of the work. */
function actionsOf(sequences: readonly Sequence[]): readonly BuildAction[] {
  return sequences.flatMap((sequence) =>
    sequence.steps.flatMap((step) =>
      step.statements.flatMap((action) => (action.kind === 'action' ? [{ action, step, sequence }] : [])),
    ),
  );
}

/** Of what is fitted more than once onto one thing the last time counts. */
function fitsIn(actions: readonly BuildAction[], view: View): readonly Fit[] {
  const found = new Map<string, Fit>();
  for (const [i, { action, step, sequence }] of actions.entries()) {
    if (action.word !== 'fit' || step.trial) continue;
    const targets = targetsOf(action, view);
    for (const [j, { owner }] of targets.entries()) {
      const mate = action.mate?.reference.owner.text;
      const fit = { order: i + j / (targets.length + 1), name: owner.text, mate, step, sequence, action };
      found.set(`${owner.text} ${mate ?? ''}`, fit);
    }
  }
  return [...found.values()].sort((one, other) => one.order - other.order);
}

export function buildOf(sequences: readonly Sequence[], view: View): Build {
  const actions = actionsOf(sequences);
  const fits = fitsIn(actions, view);
  const byName = new Map<string, Fit[]>();
  const byMate = new Map<string, Fit[]>();
  const enter = (map: Map<string, Fit[]>, key: string, fit: Fit): void => {
    const list = map.get(key);
    if (list === undefined) map.set(key, [fit]);
    else list.push(fit);
  };
  for (const fit of fits) {
    enter(byName, fit.name, fit);
    if (fit.mate !== undefined) enter(byMate, fit.mate, fit);
  }
  const fitsOf = (name: string): readonly Fit[] => byName.get(name) ?? [];
  const last = (name: string): number => fitsOf(name).at(-1)?.order ?? -1;
  const inside = (name: string): readonly string[] => {
    const found = new Set([name]);
    for (const each of found) for (const fit of byMate.get(each) ?? []) if (fit.order < last(each)) found.add(fit.name);
    found.delete(name);
    return [...found];
  };
  return {
    view,
    fits,
    actions,
    last,
    fitsOf,
    mates: (name) => [...new Set(fitsOf(name).flatMap(({ mate }) => mate ?? []))],
    part: (name) => {
      const thing = view.things.get(name);
      return thing?.kind === 'part' ? thing : undefined;
    },
    inside,
  };
}
