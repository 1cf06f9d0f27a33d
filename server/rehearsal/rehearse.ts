// Carries the jobs of a spec out in the head, once for each, and gathers what goes wrong. Single actions are in files of their own.
import { type Told, told } from '../../grammar/told.ts';
import { MOST_JOBS, MOST_JOBS_BEFORE } from '../model/most.ts';
import { sameValue } from '../model/same-value.ts';
import type { Job, View } from '../model/view.ts';
import { type Kept, question } from '../model/view-questions.ts';
import { type Foresight, foresee } from './foresight.ts';
import { atOnce, newPieces, type Pieces } from './pieces.ts';
import { isTooFarDown, type Plan, plansOf } from './plan.ts';
import { eachOnce, type RehearsalFinding, type Said } from './rehearsal-finding.ts';
import { beginJob, carryOut } from './run.ts';
import type { State } from './state.ts';
import { workOf } from './step-work.ts';

const plans = question((view, file: string) => plansOf(view, file));

const plansByJob = question(
  (view, file: string): ReadonlyMap<Job | string, Plan> =>
    new Map(plans(view, file).map((plan) => [plan.job ?? file, plan])),
);

const refits = question((view, file: string) => refitsOf(plans(view, file)));

function planOf(view: View, of: Job | string): readonly [Plan | undefined, string] {
  const file = typeof of === 'string' ? of : of.placed.file;
  return [plansByJob(view, file).get(of), file];
}

/** What is known of a job beforehand, to be asked name by name: as a whole it is never as it was. */
const aheadOf = question(
  (view, of: Job | string) => {
    const [plan, file] = planOf(view, of);
    return plan === undefined ? undefined : foresee(view, plan, file, refits(view, file));
  },
  () => false,
);

type Field = keyof Omit<Foresight, 'unsure'>;

/** A job of a file by its place among them, and the name that it asks for. */
function asked(key: string): { readonly file: string; readonly place: number; readonly name: string } {
  const [place = '', name = '', file = ''] = key.split('\n');
  return { file, place: Number(place), name };
}

function aheadBy(view: View, key: string): { readonly ahead: Foresight | undefined; readonly name: string } {
  const { file, place, name } = asked(key);
  const plan = plans(view, file)[place];
  return { ahead: plan === undefined ? undefined : aheadOf(view, plan.job ?? file), name };
}

/** Whether a name is in one of the lists that are foreseen. */
function listed(field: Exclude<Field, 'measured' | 'groups' | 'screws'>): (view: View, key: string) => boolean {
  return question((view, key: string) => {
    const { ahead, name } = aheadBy(view, key);
    return ahead?.[field].has(name) === true;
  });
}

const LISTED = {
  fitted: listed('fitted'),
  connected: listed('connected'),
  everTightened: listed('everTightened'),
  adjusted: listed('adjusted'),
  renewed: listed('renewed'),
  lookedAt: listed('lookedAt'),
  expectedMissing: listed('expectedMissing'),
  tightened: listed('tightened'),
};
const measuredBy = question((view, key: string) => {
  const { ahead, name } = aheadBy(view, key);
  return ahead?.measured.get(name);
});
const togetherBy = question((view, key: string) => {
  const { ahead, name } = aheadBy(view, key);
  return ahead?.groups.get(name);
});
const screwsBy = question((view, key: string): ReadonlySet<number> => {
  const { ahead, name } = aheadBy(view, key);
  return ahead?.screws.get(name) ?? new Set();
});
const isUnsure = question((view, of: Job | string) => aheadOf(view, of)?.unsure === true);

/** What is foreseen of a job, asked name by name: what another job does with other names is no matter to it. */
function askedAhead(view: View, of: Job | string, file: string, place: number): Foresight {
  const key = (name: string): string => `${place}\n${name}\n${file}`;
  const list = (field: keyof typeof LISTED): { has(name: string): boolean } => ({
    has: (name) => LISTED[field](view, key(name)),
  });
  return {
    get unsure() {
      return isUnsure(view, of);
    },
    fitted: list('fitted'),
    connected: list('connected'),
    everTightened: list('everTightened'),
    adjusted: list('adjusted'),
    renewed: list('renewed'),
    lookedAt: list('lookedAt'),
    expectedMissing: list('expectedMissing'),
    tightened: list('tightened'),
    measured: { get: (name) => measuredBy(view, key(name)) },
    groups: { get: (name) => togetherBy(view, key(name)) },
    screws: { get: (name) => screwsBy(view, key(name)) },
  };
}

/** What goes wrong in one job; in all sequences of a file where it has no job. */
const inOneJob = question((view, of: Job | string, kept: Kept<KeptJob> | undefined): readonly RehearsalFinding[] => {
  const [plan, file] = planOf(view, of);
  if (plan === undefined) return [];
  const place = plans(view, file).findIndex((each) => (each.job ?? file) === of);
  const begin = (): State =>
    beginJob({ view, file, refits: refits(view, file), ahead: askedAhead(view, of, file, place) }, plan);
  if (kept === undefined) return carryOut(begin(), plan, atOnce);
  if (kept.of === undefined || kept.of.place !== place || !isSamePlan(kept.of.state.plan, plan))
    kept.of = { state: begin(), place, pieces: newPieces() };
  const { state, pieces } = kept.of;
  return pieces.of(state, (inPieces) => carryOut(state, plan, inPieces));
});

/** A job with what its pieces found and left, from one asking to the next. */
interface KeptJob {
  readonly state: State;
  /** The place of the job among those of its file: what is foreseen is asked for by it. */
  readonly place: number;
  readonly pieces: Pieces;
}

function isSamePlan(one: Plan, other: Plan): boolean {
  return (
    one.begins === other.begins && sameValue(one.before, other.before) && sameValue(one.sequences, other.sequences)
  );
}

/** What goes wrong in one job, or in all sequences of a file that has none. */
export function rehearseJob(view: View, of: Job | string): readonly RehearsalFinding[] {
  return inOneJob(view, of);
}

/** What goes wrong in the jobs of a file, or in its sequences where it has no job. */
export const rehearse = question((view, file: string): readonly RehearsalFinding[] =>
  eachOnce([
    ...plans(view, file)
      .slice(0, MOST_JOBS)
      .map(({ job }) => inOneJob(view, job ?? file)),
    idleSteps(view, file),
    leftOut(view, file),
  ]),
);

/** The names of sequences that jobs on a whole engine do: what they fit was on before. */
export function refitsOf(plans: readonly Plan[]): ReadonlySet<string> {
  return new Set(
    plans
      .filter((plan) => plan.begins === 'whole' && plan.job !== undefined)
      .flatMap((plan) => plan.sequences.map((sequence) => sequence.name)),
  );
}

/** Jobs that are not carried out, or not from their beginning. */
function leftOut(view: View, file: string): Said {
  const said: Said = [];
  const jobs = plans(view, file).flatMap(({ job }) => job ?? []);
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
          message: told`Nothing is done in step ${told.thing(step)}. Say what is done, or take it out.`,
          related: [],
          missing: true,
        });
    }
  }
  return said;
}
