// Carries the jobs of a spec out in the head, once for each, and gathers what goes wrong. Single actions are in files of their own.
import type { Sequence, Thing, View } from '../model/view.ts';
import { beginSequence } from './actions.ts';
import { doStep } from './each-place.ts';
import { atTheEnd, type Mentions } from './ending.ts';
import { type Groups, standsThere } from './fit.ts';
import { checkOrder } from './order.ts';
import { assembles, type Plan, plansOf } from './plan.ts';
import { newFindings, type RehearsalFinding } from './rehearsal-finding.ts';
import { sameAtTheBench } from './same-at-the-bench.ts';
import { beginOf, type State } from './state.ts';
import { isKnown, workOf } from './step-work.ts';

const kept = new WeakMap<View, readonly RehearsalFinding[]>();

/** What goes wrong in the jobs of a file, or in its sequences where it has no job. Kept for each view; a view is of one file. */
export function rehearse(view: View, file: string): readonly RehearsalFinding[] {
  const known = kept.get(view);
  if (known !== undefined) return known;
  const found = rehearseAll(view, file);
  kept.set(view, found);
  return found;
}

/**
 * Takes over what was found in an earlier view, where what changed since can't make a difference (see sameAtTheBench) and no finding
 * stands in it.
 */
export function rehearsedBefore(
  before: View,
  view: View,
  changed: readonly { readonly old: Thing; readonly now: Thing }[],
): void {
  const known = kept.get(before);
  if (known === undefined || !changed.every(({ old, now }) => sameAtTheBench(old, now))) return;
  const trees = new Set(changed.map(({ old }) => old.placed.parsed));
  const isThere = (finding: RehearsalFinding): boolean =>
    trees.has(finding.placed.parsed) || finding.related.some((each) => trees.has(each.placed.parsed));
  if (!known.some(isThere)) kept.set(view, known);
}

interface Gathered extends Mentions {
  readonly groups: Groups;
}

/** Names with what all sequences of the spec do with them, and the parts that go on together. */
function gather(view: View, plan: Plan, refits: ReadonlySet<string>): Gathered {
  const fitted = new Set<string>();
  const measured = new Set<string>();
  const groups = new Map<string, (readonly string[])[]>();
  const known = new Set<string>();
  const own = new Set(plan.sequences);
  for (const sequence of view.sequences) {
    // What a job on a whole engine takes off and puts back says nothing of a first build.
    const counts = own.has(sequence) || !refits.has(sequence.name);
    for (const step of sequence.steps) {
      const work = workOf(step);
      if (counts) {
        for (const name of work.fitted) fitted.add(name);
        for (const name of work.measured) measured.add(name);
      }
      for (const group of work.together) {
        const key = group.join(' ');
        if (known.has(key)) continue;
        known.add(key);
        for (const name of group) groups.set(name, [...(groups.get(name) ?? []), group]);
      }
    }
  }
  const grades = new Set(view.grades.flatMap((table) => table.rows.map((row) => row.name.text)));
  return { fitted, measured, groups, grades };
}

function rehearseAll(view: View, file: string): readonly RehearsalFinding[] {
  const findings = newFindings();
  const plans = plansOf(view, file);
  if (plans.length > 0) {
    const refits = new Set(
      plans
        .filter((plan) => plan.begins === 'whole' && plan.job !== undefined)
        .flatMap((plan) => plan.sequences.map((sequence) => sequence.name)),
    );
    for (const plan of plans) {
      const gathered = gather(view, plan, refits);
      checkOrder(plan.sequences, findings);
      carryOut(beginOf(view, plan, file, findings), plan, gathered);
    }
  }
  for (const sequence of view.sequences) {
    if (sequence.placed.file !== file) continue;
    for (const step of sequence.steps) {
      if (workOf(step).isEmpty)
        findings.say(
          'sequence/nothing-to-do',
          step.placed,
          step.declaration.name ?? step.declaration.wordSpan,
          `Nothing is done in step ${step.name}. Say what is done, or take it out.`,
          { missing: true },
        );
    }
  }
  return findings.list;
}

function carryOut(state: State, plan: Plan, gathered: Gathered): void {
  if ([...plan.before, ...plan.sequences].some((sequence) => !isSure(sequence, state.view))) state.unsure = true;
  lookAhead(state, plan, gathered);
  state.muted = true;
  for (const sequence of plan.before) carryOutSequence(state, sequence, gathered.groups);
  state.muted = false;
  for (const sequence of plan.sequences) carryOutSequence(state, sequence, gathered.groups);
  atTheEnd(state, gathered);
}

/** Looks ahead: parts that will be found never fitted, or not put back, at the end, so that what needs them has no finding of its own. */
function lookAhead(state: State, plan: Plan, { fitted, grades }: Mentions): void {
  const last = new Map<string, string>();
  for (const sequence of plan.sequences)
    for (const step of sequence.steps) {
      const { moved, tightened } = workOf(step);
      for (const { name, word } of moved) last.set(name, word);
      for (const name of tightened) state.tightenedInJob.add(name);
    }
  if (state.unsure || !assembles(plan)) return;
  for (const { part } of state.parts.values()) {
    const never = plan.begins === 'bare' && part.placed.file === state.file && !fitted.has(part.name);
    if ((never && !part.broken && !grades.has(part.name)) || last.get(part.name) === 'remove')
      state.expectedMissing.add(part.name);
  }
}

/** Whether all of a sequence could be read, and all that it works on is known. */
function isSure(sequence: Sequence, view: View): boolean {
  if (sequence.broken || sequence.startsWith.some((name) => view.things.get(name.text)?.kind !== 'part')) return false;
  return sequence.steps.every((step) => isKnown(step, view));
}

function carryOutSequence(state: State, sequence: Sequence, groups: Groups): void {
  beginSequence(state);
  if (state.plan.begins !== 'whole') for (const name of sequence.startsWith) standsThere(state, name.text);
  for (const step of sequence.steps) doStep(state, step, groups);
}
