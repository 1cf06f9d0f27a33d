// One job carried out, piece by piece, and carried out again after an edit where that can matter.
import type { Sequence, Step, Thing, View } from '../model/view.ts';
import { beginSequence } from './actions.ts';
import { doStep } from './each-place.ts';
import { endings } from './ending.ts';
import { standsThere } from './fit.ts';
import { foresee } from './foresight.ts';
import { carryOutAgain, carryOutAll, type Piece } from './journal.ts';
import { checkOrder } from './order.ts';
import type { Plan } from './plan.ts';
import { joined, type RehearsalFinding, type Said } from './rehearsal-finding.ts';
import { beginOf, type State } from './state.ts';
import { sameWork } from './step-work.ts';

/** A piece of a job: a sequence begins, a step is done, or something is looked at when all is done. */
interface Work extends Piece {
  readonly at: number;
  /** The step that is done in it. */
  step: Step | undefined;
  readonly carryOut: (step: Step | undefined) => void;
  readonly muted: boolean;
}

/** One job, carried out. */
export interface Run {
  plan: Plan;
  readonly state: State;
  readonly work: readonly Work[];
  /** What is said, by the number of the piece. */
  readonly said: Map<number, Said>;
  order: Said;
}

/** A thing before an edit and after it. */
export interface Change {
  readonly old: Thing;
  readonly now: Thing;
}

interface StepChange {
  readonly old: Step;
  readonly now: Step;
}

/** What an edit changed: things that are the same at the bench, those that are the same in their place, and steps of any job. */
export interface Changes {
  readonly things: Change[];
  readonly others: Change[];
  readonly steps: StepChange[];
}

/** What a job is carried out on. `refits` are the sequences of jobs that begin with a whole engine. */
interface Bench {
  readonly view: View;
  readonly file: string;
  readonly refits: ReadonlySet<string>;
}

/** Carries a job out. `watch` is for tests: it is called after each piece. */
export function runOf({ view, file, refits }: Bench, plan: Plan, watch?: (state: State) => void): Run {
  const state = beginOf(view, plan, file, []);
  state.ahead.take(foresee(view, plan, file, refits));
  const run: Run = { plan, state, work: workOn(state, plan), said: new Map(), order: checkOrder(plan.sequences) };
  carryOutAll(
    state.journal,
    run.work,
    (work) => carryOut(run, work),
    watch === undefined ? undefined : () => watch(state),
  );
  return run;
}

/** What is said of a job, each fault once. */
export function saidIn({ said, order }: Run): readonly (readonly RehearsalFinding[])[] {
  if (said.size === 0) return [order];
  const places = [...said.keys()].sort((one, other) => one - other);
  return [order, joined(places.flatMap((at) => said.get(at) ?? []))];
}

function carryOut({ state, said }: Run, work: Work): void {
  const now: Said = [];
  state.findings = now;
  state.muted = work.muted;
  work.carryOut(work.step);
  if (now.length > 0) said.set(work.at, now);
  else said.delete(work.at);
}

function workOn(state: State, plan: Plan): readonly Work[] {
  const work: Work[] = [];
  const piece = (muted: boolean, step: Step | undefined, done: Work['carryOut']): void => {
    work.push({ at: work.length, step, carryOut: done, muted, touched: [], scanned: 0 });
  };
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
  const inSequence = (sequence: Sequence, muted: boolean): void => {
    piece(muted, undefined, begins(sequence));
    for (const step of sequence.steps) piece(muted, step, done);
  };
  for (const sequence of plan.before) inSequence(sequence, true);
  for (const sequence of plan.sequences) inSequence(sequence, false);
  for (const ending of endings(state)) piece(false, undefined, ending);
  return work;
}

/** Whether two plans do the same sequences, step for step. */
export function samePlan(one: Plan, other: Plan | undefined): boolean {
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

/** Brings a job up to date after an edit. */
export function runAgain(
  run: Run,
  { view, file, refits }: Bench,
  plan: Plan,
  { things, others, steps }: Changes,
): void {
  const { state, work, said } = run;
  run.plan = plan;
  state.plan = plan;
  state.view = view;
  for (const { now } of [...things, ...others]) replaceThing(state, now);
  const trees = new Set([...things, ...others].map(({ old }) => old.placed.parsed));
  const isAbout = ({ placed, related }: RehearsalFinding): boolean =>
    trees.has(placed.parsed) || related.some((each) => trees.has(each.placed.parsed));
  const first = new Set<number>();
  const own = takeSteps(work, plan, first);
  if (trees.size > 0) for (const [at, each] of said) if (each.some(isAbout)) first.add(at);
  for (const { now } of others)
    for (const at of (now.kind === 'part' ? state.parts : state.fasteners).lookedAtBy(now.name, work)) first.add(at);
  const changed = [...steps, ...own];
  const isSameWork = others.length === 0 && changed.every(({ old, now }) => sameWork(old, now));
  const ahead =
    changed.length + others.length === 0
      ? []
      : state.ahead.take(isSameWork ? undefined : foresee(view, plan, file, refits));
  carryOutAgain(state.journal, work, first, ahead, (each) => carryOut(run, each));
  if (run.order.length > 0 || own.some(({ old, now }) => old.after.length + now.after.length > 0))
    run.order = checkOrder(plan.sequences);
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

/** Puts the new reading of a part or fastener in the place of the old one. */
function replaceThing(state: State, now: Thing): void {
  if (now.kind === 'part') {
    const part = state.parts.get(now.name);
    if (part !== undefined) part.part = now;
  } else if (now.kind === 'fastener') {
    const fastener = state.fasteners.get(now.name);
    if (fastener !== undefined) fastener.fastener = now;
  }
}
