// Carries the jobs of a spec out in the head, once for each, and gathers what goes wrong. Single actions are in files of their own.
import { type Told, told } from '../../grammar/told.ts';
import { deepEqual } from '../model/deep-equal.ts';
import { MOST_JOBS, MOST_JOBS_BEFORE } from '../model/most.ts';
import { isOnce, noteDiffering } from '../model/questions.ts';
import type { Job, Sequence, Step, View } from '../model/view.ts';
import { firstOf, type Memo, question } from '../model/view-questions.ts';
import { leftAlone, sayLeftAlone } from './ending.ts';
import { foresee, isUnsure } from './foresight.ts';
import { checkOrder } from './order.ts';
import { type Otherwise, otherwise, withoutWhatFollows } from './otherwise.ts';
import { type GoThrough, inGoes, type JobPieces, newJobPieces } from './pieces.ts';
import { isTooFarDown, type Plan, plansIn, refitsIn } from './plan.ts';
import { eachOnce, joined, type RehearsalFinding, type Said } from './rehearsal-finding.ts';
import { carryOut } from './run.ts';
import { beginOf, type State } from './state.ts';
import { workOf } from './step-work.ts';

const plansByJob = question(
  (view, file: string): ReadonlyMap<Job | string, Plan> =>
    new Map(plansIn(view, file).map((plan) => [plan.job ?? file, plan])),
);

function planOf(view: View, of: Job | string): readonly [Plan | undefined, string] {
  const file = typeof of === 'string' ? of : of.placed.file;
  return [plansByJob(view, file).get(of), file];
}

const isJobUnsure = question((view, of: Job | string): boolean => {
  const [plan] = planOf(view, of);
  return plan === undefined || isUnsure(view, plan);
});

/** Where the steps of a job stand in another order than they say. */
const orderIn = question((view, of: Job | string) => {
  const [plan] = planOf(view, of);
  return plan === undefined ? [] : checkOrder(plan.sequences);
});

/** One job carried out, or all sequences of a file where it has no job: what goes wrong, and the job itself to be gone through again. */
const oneJob = question(
  carriedOut,
  (before, now) =>
    before.run === now.run && deepEqual(before.handled, now.handled) && deepEqual(before.findings, now.findings),
);

/** The parts that a job has to do with; undefined where it looks at all parts itself. */
const handledIn = question((view, of: Job | string): ReadonlySet<string> | undefined => {
  const { handled } = oneJob(view, of);
  return handled === undefined ? undefined : new Set(handled);
});

/**
 * What is left undone at the end of a job of parts that it has nothing to do with. Where the job is also carried out otherwise, that is held against
 * the rest of what goes wrong in it, and is said there.
 */
const leftAloneIn = question((view, of: Job | string): readonly RehearsalFinding[] => {
  const [plan, file] = planOf(view, of);
  const handled = handledIn(view, of);
  const names = plan === undefined || handled === undefined ? [] : leftAlone(view, plan, file, handled);
  const ahead = names.length === 0 || isJobUnsure(view, of) ? undefined : oneJob(view, of).memo.of?.state.ahead;
  if (plan === undefined || ahead === undefined) return [];
  const state = beginOf(view, plan, file, ahead);
  sayLeftAlone(state, names);
  return joined(state.findings);
});

/** What goes wrong in one job. How it was carried out is no answer: it is only looked at where somebody stands in the middle of it. */
const inOneJob = question((view, of: Job | string): readonly RehearsalFinding[] => {
  const { findings } = oneJob(view, of);
  const others = leftAloneIn(view, of);
  return others.length === 0 ? findings : [...findings, ...others];
});

/** A job as it was carried out for its findings; undefined where there is none. Not to be asked for by what is cached. */
export function doneJob(view: View, of: Job | string): CachedJob | undefined {
  return oneJob(view, of).memo.of;
}

function carriedOut(view: View, of: Job | string, memo: Memo<CachedJob> = { of: undefined }): OneJob {
  const [plan, file] = planOf(view, of);
  if (plan === undefined) return { findings: [], handled: undefined, run: 0, memo };
  // Where it is memo, each variant has a job of its own, and takes from the first, piece by piece, what is the same there.
  if (!isOnce()) noteDiffering();
  const first = firstOf(view);
  const model = first === undefined ? undefined : oneJob(first, of).memo.of;
  const order = orderIn(view, of);
  const instead = otherwise(view, plan, of, order);
  const begin = (by: Plan): CachedJob => {
    const isPlanUnsure = (): boolean => isJobUnsure(view, of);
    const ahead = foresee(view, by, file, () => refitsIn(view, file), isPlanUnsure);
    return { state: beginOf(view, by, file, ahead), pieces: newJobPieces(), others: new Map(), runs: 0, handled: [] };
  };
  const done = (job: CachedJob, like: CachedJob | undefined): readonly RehearsalFinding[] => {
    const { state, pieces } = job;
    const isSame = like !== undefined && isSamePlan(like.state.plan, state.plan);
    const work = (goThrough: GoThrough): void => {
      job.handled = carryOut(state, state.plan, goThrough, instead.length > 0);
    };
    return joined(pieces.of(state, work, isSame ? like.pieces : undefined));
  };
  // Cached for the piece that has something to say and asks.
  isJobUnsure(view, of);
  if (memo.of === undefined || !isSamePlan(memo.of.state.plan, plan)) memo.of = begin(plan);
  memo.of.runs += 1;
  const { others, runs } = memo.of;
  let found = done(memo.of, model);
  const tried = found.length === 0 ? [] : instead;
  for (const key of others.keys()) if (!tried.some((other) => other.key === key)) others.delete(key);
  for (const other of tried) {
    const known = others.get(other.key);
    const job = known !== undefined && isSamePlan(known.state.plan, other.plan) ? known : begin(other.plan);
    others.set(other.key, job);
    found = withoutWhatFollows(found, done(job, model?.others.get(other.key)), other.because);
  }
  const handled = instead.length > 0 ? undefined : memo.of.handled;
  return { findings: [...order, ...found], handled, run: runs, memo };
}

interface OneJob {
  readonly findings: readonly RehearsalFinding[];
  /** The names of the parts that stand otherwise at its end; undefined where it looks at all parts itself. */
  readonly handled: readonly string[] | undefined;
  /** Which time it was carried out: who takes pieces from it looks again. */
  readonly run: number;
  readonly memo: Memo<CachedJob>;
}

/** A job with what its pieces found and left, from one asking to the next. */
interface CachedJob {
  readonly state: State;
  readonly pieces: JobPieces;
  /** The same job as it would be without one of its faults. */
  readonly others: Map<Otherwise['key'], CachedJob>;
  /** How often it was carried out. */
  runs: number;
  /** The names of the parts that stood otherwise at its end. */
  handled: readonly string[];
}

function isSamePlan(one: Plan, other: Plan): boolean {
  return (
    one.begins === other.begins &&
    one.assembles === other.assembles &&
    deepEqual(one.before, other.before) &&
    deepEqual(one.sequences, other.sequences)
  );
}

/** What goes wrong in one job, or in all sequences of a file that has none. */
export function rehearseJob(view: View, of: Job | string): readonly RehearsalFinding[] {
  return inOneJob(view, of);
}

/** What goes wrong in the jobs of a file, or in its sequences where it has no job. */
export const rehearse = question((view, file: string): readonly RehearsalFinding[] =>
  eachOnce([
    ...plansIn(view, file)
      .slice(0, MOST_JOBS)
      .map(({ job }) => inOneJob(view, job ?? file)),
    sayIdle(view, file),
    leftOut(view, file),
  ]),
);

/** Carries the jobs of a file out in goes, so that what goes wrong in them is known when it is asked for. */
export function* rehearsing(view: View, file: string): Generator<void, void> {
  const plans = plansIn(view, file).slice(0, MOST_JOBS);
  yield;
  for (const { job } of plans) {
    yield* inGoes(() => void inOneJob(view, job ?? file));
    yield;
  }
}

/** The same the first time, when each step is looked at too. */
export function* rehearsingAll(view: View, file: string): Generator<void, void> {
  for (const { steps, placed } of view.sequences)
    if (placed.file === file)
      for (const step of steps) {
        workOf(view, step);
        yield;
      }
  for (const { job } of plansIn(view, file).slice(0, MOST_JOBS)) {
    isJobUnsure(view, job ?? file);
    yield;
    orderIn(view, job ?? file);
    yield;
  }
  yield* rehearsing(view, file);
}

/** Jobs that are not carried out, or not from their beginning. */
function leftOut(view: View, file: string): Said {
  const said: Said = [];
  const jobs = plansIn(view, file).flatMap(({ job }) => job ?? []);
  const say = (job: Job, message: Told): void => {
    const { placed, declaration } = job;
    const span = declaration.name ?? declaration.wordSpan;
    said.push({ code: 'sequence/too-many-jobs', placed, span, message, related: [], missing: false });
  };
  const first = jobs[MOST_JOBS];
  if (first !== undefined)
    say(
      first,
      told`${jobs.length} jobs are too many to rehearse: the first ${MOST_JOBS} are, ${told.thing(first)} and all behind it are not. Put some of them into a file of their own that uses this one.`,
    );
  const deep = jobs.slice(0, MOST_JOBS).find((job) => isTooFarDown(view, job));
  if (deep !== undefined)
    say(
      deep,
      told`${told.thing(deep)} begins after a row of more than ${MOST_JOBS_BEFORE} jobs, each after the one before: how the engine stands by then is not followed so far. Say begins bare or begins whole in one of them.`,
    );
  return said;
}

/** The steps of a sequence in which nothing is done. */
const idleSteps = question((view, { steps }: Sequence): readonly Step[] =>
  steps.filter((step) => workOf(view, step).isEmpty),
);

function sayIdle(view: View, file: string): Said {
  return view.sequences.flatMap((sequence) =>
    sequence.placed.file === file
      ? idleSteps(view, sequence).map((step) => ({
          code: 'sequence/nothing-to-do',
          placed: step.placed,
          span: step.declaration.name ?? step.declaration.wordSpan,
          message: told`Nothing is done in step ${told.thing(step)}. Say what is done, or take it out.`,
          related: [],
          missing: true,
        }))
      : [],
  );
}
