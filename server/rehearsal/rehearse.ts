// Carries the jobs of a spec out in the head, once for each, and gathers what goes wrong. After an edit of steps only those pieces of
// the work are carried out again that it can matter to. Single actions are in files of their own.
import type { Sequence, Step, Thing, View } from '../model/view.ts';
import { beginSequence } from './actions.ts';
import { doStep } from './each-place.ts';
import { endings } from './ending.ts';
import { standsThere } from './fit.ts';
import { foresee } from './foresight.ts';
import { carryOutAgain, carryOutAll, type Piece } from './journal.ts';
import { checkOrder } from './order.ts';
import { type Plan, plansOf } from './plan.ts';
import { eachOnce, type RehearsalFinding, type Said } from './rehearsal-finding.ts';
import { sameAtTheBench } from './same-at-the-bench.ts';
import { beginOf, type State } from './state.ts';
import { sameWork, workOf } from './step-work.ts';

/** A piece of a job: a sequence begins, a step is done, or something is looked at when all is done. */
interface Work extends Piece {
  /** The step that is done in it. */
  step: Step | undefined;
  readonly carryOut: (step: Step | undefined) => void;
  readonly muted: boolean;
  said: Said;
}

/** One job, carried out. */
interface Run {
  plan: Plan;
  readonly state: State;
  readonly work: readonly Work[];
  order: Said;
}

interface Rehearsed {
  readonly file: string;
  readonly runs: readonly Run[];
  idle: Said;
  findings: readonly RehearsalFinding[];
}

/** A thing before an edit and after it. */
interface Change {
  readonly old: Thing;
  readonly now: Thing;
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
 * where it can have changed more than steps and figures.
 */
export function rehearsedBefore(before: View, view: View, changes: readonly Change[]): void {
  const known = kept.get(before);
  kept.delete(before);
  if (known === undefined) return;
  const others = changes.filter(({ old, now }) => old.kind !== 'step' || now.kind !== 'step');
  if (others.every(({ old, now }) => sameAtTheBench(old, now)) && rehearseAgain(known, view, others))
    kept.set(view, known);
}

function gather({ runs, idle }: Pick<Rehearsed, 'runs' | 'idle'>): readonly RehearsalFinding[] {
  return eachOnce([
    ...runs.flatMap(({ order, work }) => [order, ...work.flatMap(({ said }) => (said.length === 0 ? [] : [said]))]),
    idle,
  ]);
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
  const runs = plans.map((plan): Run => {
    const state = beginOf(view, plan, file, []);
    state.ahead.take(foresee(view, plan, file, refits));
    const work = workOn(state, plan);
    carryOutAll(
      state.journal,
      work,
      (each) => carryOut(state, each),
      watch === undefined ? undefined : () => watch(state),
    );
    return { plan, state, work, order: checkOrder(plan.sequences) };
  });
  const idle = idleSteps(view, file);
  return { file, runs, idle, findings: gather({ runs, idle }) };
}

function carryOut(state: State, work: Work): void {
  const said: Said = [];
  state.findings = said;
  state.muted = work.muted;
  work.carryOut(work.step);
  work.said = said;
}

function workOn(state: State, plan: Plan): readonly Work[] {
  const piece = (muted: boolean, step: Step | undefined, carryOut: Work['carryOut']): Work => ({
    step,
    carryOut,
    muted,
    said: [],
    touched: [],
    scanned: 0,
  });
  const begins = (sequence: Sequence): (() => void) => {
    const there = plan.begins === 'whole' ? [] : sequence.startsWith.map((name) => name.text);
    return () => {
      beginSequence(state);
      for (const name of there) standsThere(state, name);
    };
  };
  const done: Work['carryOut'] = (step) => {
    if (step !== undefined) doStep(state, step);
  };
  const inSequence = (sequence: Sequence, muted: boolean): readonly Work[] => [
    piece(muted, undefined, begins(sequence)),
    ...sequence.steps.map((step) => piece(muted, step, done)),
  ];
  return [
    ...plan.before.flatMap((sequence) => inSequence(sequence, true)),
    ...plan.sequences.flatMap((sequence) => inSequence(sequence, false)),
    ...endings(state).map((ending) => piece(false, undefined, ending)),
  ];
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

/** Whether two plans do the same sequences, step for step. */
function samePlan(one: Plan, other: Plan | undefined): boolean {
  const same = (some: readonly Sequence[], others: readonly Sequence[]): boolean =>
    some.length === others.length &&
    some.every((each, i) => each.name === others[i]?.name && each.steps.length === others[i]?.steps.length);
  return (
    other !== undefined &&
    one.begins === other.begins &&
    one.unsure === other.unsure &&
    one.job?.name === other.job?.name &&
    same(one.before, other.before) &&
    same(one.sequences, other.sequences)
  );
}

/** Brings what is kept up to date; false where everything has to be carried out anew. */
function rehearseAgain(rehearsed: Rehearsed, view: View, changes: readonly Change[]): boolean {
  const { file, runs } = rehearsed;
  const plans = plansOf(view, file);
  if (plans.length !== runs.length || !runs.every(({ plan }, i) => samePlan(plan, plans[i]))) return false;
  const refits = refitsOf(plans);
  const trees = new Set(changes.map(({ old }) => old.placed.parsed));
  const isAbout = ({ placed, related }: RehearsalFinding): boolean =>
    trees.has(placed.parsed) || related.some((each) => trees.has(each.placed.parsed));
  for (const [i, run] of runs.entries()) {
    const plan = plans[i] ?? run.plan;
    const { state, work } = run;
    run.plan = plan;
    state.plan = plan;
    state.view = view;
    for (const { now } of changes) replaceThing(state, now);
    const first = new Set<number>();
    const steps = takeSteps(work, plan, first);
    for (const [at, each] of work.entries()) if (each.said.length > 0 && each.said.some(isAbout)) first.add(at);
    const isSameWork = steps.every(({ old, now }) => sameWork(old, now));
    const ahead =
      steps.length === 0 ? [] : state.ahead.take(isSameWork ? undefined : foresee(view, plan, file, refits));
    carryOutAgain(state.journal, work, first, ahead, (each) => carryOut(state, each));
    if (run.order.length > 0 || steps.some(({ old, now }) => old.after.length + now.after.length > 0))
      run.order = checkOrder(plan.sequences);
  }
  rehearsed.idle = idleSteps(view, file);
  rehearsed.findings = gather(rehearsed);
  return true;
}

/** Gives each piece of the work the step as it is read now; which are another than before goes into `first`. */
function takeSteps(
  work: readonly Work[],
  plan: Plan,
  first: Set<number>,
): readonly { readonly old: Step; readonly now: Step }[] {
  const changed: { old: Step; now: Step }[] = [];
  let at = 0;
  for (const sequence of [...plan.before, ...plan.sequences]) {
    // The sequence itself begins.
    at += 1;
    for (const now of sequence.steps) {
      const piece = work[at];
      const old = piece?.step;
      if (piece !== undefined && old !== undefined && old !== now) {
        piece.step = now;
        first.add(at);
        changed.push({ old, now });
      }
      at += 1;
    }
  }
  return changed;
}

/** Puts the new reading of a part or fastener, which is the same at the bench, in the place of the old one. */
function replaceThing(state: State, now: Thing): void {
  if (now.kind === 'part') {
    const part = state.parts.get(now.name);
    if (part !== undefined) part.part = now;
  } else if (now.kind === 'fastener') {
    const fastener = state.fasteners.get(now.name);
    if (fastener !== undefined) fastener.fastener = now;
  }
}
