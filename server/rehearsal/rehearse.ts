// Carries the jobs of a spec out in the head, once for each, and gathers what goes wrong. After an edit only those pieces of the
// work are carried out again that it can matter to. Single actions are in files of their own.
import type { View } from '../model/view.ts';
import { type Plan, plansOf } from './plan.ts';
import { eachOnce, type RehearsalFinding, type Said } from './rehearsal-finding.ts';
import { type Change, type Changes, type Run, runAgain, runOf, saidIn, samePlan } from './run.ts';
import { sameAtTheBench, sameInItsPlace } from './same-at-the-bench.ts';
import type { State } from './state.ts';
import { workOf } from './step-work.ts';

interface Rehearsed {
  readonly file: string;
  readonly runs: readonly Run[];
  idle: Said;
  findings: readonly RehearsalFinding[];
}

const kept = new WeakMap<View, Rehearsed>();

/** What goes wrong in the jobs of a file, or in its sequences where it has no job. Kept for each view; a view is of one file. */
export function rehearse(view: View, file: string): readonly RehearsalFinding[] {
  const known = kept.get(view);
  if (known !== undefined) return known.findings;
  const rehearsed = rehearseAll(view, file);
  kept.set(view, rehearsed);
  return rehearsed.findings;
}

/**
 * Takes over what was found in an earlier view, which is good no more, and carries out again what an edit can have changed. Does nothing
 * where it can have changed more than what stands in steps, parts and fasteners.
 */
export function rehearsedBefore(before: View, view: View, changes: readonly Change[]): void {
  const known = kept.get(before);
  kept.delete(before);
  if (known === undefined) return;
  const changed: Changes = { things: [], others: [], steps: [] };
  for (const { old, now } of changes) {
    if (old.kind === 'step' && now.kind === 'step') changed.steps.push({ old, now });
    else if (sameAtTheBench(old, now)) changed.things.push({ old, now });
    else if (sameInItsPlace(old, now)) changed.others.push({ old, now });
    else return;
  }
  if (rehearseAgain(known, view, changed)) kept.set(view, known);
}

function gather({ runs, idle }: Pick<Rehearsed, 'runs' | 'idle'>): readonly RehearsalFinding[] {
  return eachOnce([...runs.flatMap(saidIn), idle]);
}

/** The names of sequences that jobs on a whole engine do: what they fit was on before. */
function refitsOf(plans: readonly Plan[]): ReadonlySet<string> {
  return new Set(
    plans
      .filter((plan) => plan.begins === 'whole' && plan.job !== undefined)
      .flatMap((plan) => plan.sequences.map((sequence) => sequence.name)),
  );
}

/** `watch` is for tests: it is called after each piece of the work. */
export function rehearseAll(view: View, file: string, watch?: (state: State) => void): Rehearsed {
  const plans = plansOf(view, file);
  const refits = refitsOf(plans);
  const runs = plans.map((plan) => runOf({ view, file, refits }, plan, watch));
  const idle = idleSteps(view, file);
  return { file, runs, idle, findings: gather({ runs, idle }) };
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

/** Brings what is kept up to date; false where everything has to be carried out anew. */
function rehearseAgain(rehearsed: Rehearsed, view: View, changes: Changes): boolean {
  const { file, runs } = rehearsed;
  const plans = plansOf(view, file);
  if (plans.length !== runs.length || !runs.every(({ plan }, i) => samePlan(plan, plans[i]))) return false;
  const bench = { view, file, refits: refitsOf(plans) };
  for (const [i, run] of runs.entries()) runAgain(run, bench, plans[i] ?? run.plan, changes);
  if (rehearsed.idle.length > 0 || changes.steps.some(({ now }) => workOf(now).isEmpty))
    rehearsed.idle = idleSteps(view, file);
  rehearsed.findings = gather(rehearsed);
  return true;
}
