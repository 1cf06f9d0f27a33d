// Carries the jobs of a spec out in the head, once for each, and gathers what goes wrong. Single actions are in files of their own.
import type { View } from '../model/view.ts';
import { type Plan, plansOf } from './plan.ts';
import { eachOnce, type RehearsalFinding, type Said } from './rehearsal-finding.ts';
import { carryOut } from './run.ts';
import { workOf } from './step-work.ts';

const kept = new WeakMap<View, readonly RehearsalFinding[]>();

/** What goes wrong in the jobs of a file, or in its sequences where it has no job. Kept for each view; a view is of one file. */
export function rehearse(view: View, file: string): readonly RehearsalFinding[] {
  const known = kept.get(view);
  if (known !== undefined) return known;
  const plans = plansOf(view, file);
  const refits = refitsOf(plans);
  const found = eachOnce([...plans.map((plan) => carryOut({ view, file, refits }, plan)), idleSteps(view, file)]);
  kept.set(view, found);
  return found;
}

/** The names of sequences that jobs on a whole engine do: what they fit was on before. */
export function refitsOf(plans: readonly Plan[]): ReadonlySet<string> {
  return new Set(
    plans
      .filter((plan) => plan.begins === 'whole' && plan.job !== undefined)
      .flatMap((plan) => plan.sequences.map((sequence) => sequence.name)),
  );
}

function idleSteps(view: View, file: string): Said {
  const said: Said = [];
  for (const sequence of view.sequences) {
    if (sequence.placed.file !== file) continue;
    for (const step of sequence.steps) {
      if (workOf(step).isEmpty)
        said.push({
          code: 'sequence/nothing-to-do',
          placed: step.placed,
          span: step.declaration.name ?? step.declaration.wordSpan,
          message: `Nothing is done in step ${step.name}. Say what is done, or take it out.`,
          related: [],
          missing: true,
        });
    }
  }
  return said;
}
