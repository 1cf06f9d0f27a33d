// Carries the jobs of a spec out in the head, once for each, and gathers what goes wrong. Single actions are in files of their own.
import type { Job, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { foresee } from './foresight.ts';
import { type Plan, plansOf } from './plan.ts';
import { eachOnce, type RehearsalFinding, type Said } from './rehearsal-finding.ts';
import { carryOut } from './run.ts';
import { workOf } from './step-work.ts';

const plans = question((view, file: string) => plansOf(view, file));

const refits = question((view, file: string) => refitsOf(plans(view, file)));

function planOf(view: View, of: Job | string): readonly [Plan | undefined, string] {
  const file = typeof of === 'string' ? of : of.placed.file;
  return [plans(view, file).find((each) => (each.job ?? file) === of), file];
}

/** What is known of a job beforehand. It looks at the steps of all sequences; most of what changes in them is no matter here. */
const aheadOf = question((view, of: Job | string) => {
  const [plan, file] = planOf(view, of);
  return plan === undefined ? undefined : foresee(view, plan, file, refits(view, file));
});

/** What goes wrong in one job; in all sequences of a file where it has no job. */
const inOneJob = question((view, of: Job | string): readonly RehearsalFinding[] => {
  const [plan, file] = planOf(view, of);
  const ahead = aheadOf(view, of);
  if (plan === undefined || ahead === undefined) return [];
  return carryOut({ view, file, refits: refits(view, file), ahead }, plan);
});

/** What goes wrong in the jobs of a file, or in its sequences where it has no job. */
export const rehearse = question((view, file: string): readonly RehearsalFinding[] =>
  eachOnce([...plans(view, file).map(({ job }) => inOneJob(view, job ?? file)), idleSteps(view, file)]),
);

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
      if (workOf(view, step).isEmpty)
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
