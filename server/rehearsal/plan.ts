// Which sequences a rehearsal goes through, in which order, and on what engine it begins. No action is carried out here.
import { MOST_JOBS_BEFORE } from '../model/most.ts';
import type { Job, Sequence, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';

/** One rehearsal: a job, or all sequences of a spec without one. */
export interface Plan {
  readonly job: Job | undefined;
  /** `unknown`: the engine is built by sequences of another file, and nothing says how far. */
  readonly begins: 'whole' | 'bare' | 'unknown';
  /** Carried out first without a word: what `begins after` stands on. */
  readonly before: readonly Sequence[];
  readonly sequences: readonly Sequence[];
  /** Whether any of it is assembly. Without that nothing is said of what is never fitted. */
  readonly assembles: boolean;
  /** A sequence that the job names is not known. */
  readonly unsure: boolean;
}

export const isAssembly = (sequence: Sequence): boolean => sequence.phase === 'assemble';

const PHASES = ['teardown', 'inspect', 'clean', 'machine', 'assemble', 'install', 'run-in', 'store'];

/** The sequences by phase, then as written; one without a phase counts as assembly. */
export function byPhase(sequences: readonly Sequence[]): readonly Sequence[] {
  const place = (sequence: Sequence): number => PHASES.indexOf(sequence.phase ?? 'assemble');
  return [...sequences].sort((one, other) => place(one) - place(other));
}

function plain(view: View, file: string): Plan {
  const own = byPhase(view.sequences.filter((sequence) => sequence.placed.file === file));
  const others = own.length < view.sequences.length;
  const begins = own[0]?.phase === 'teardown' ? 'whole' : others ? 'unknown' : 'bare';
  return { job: undefined, begins, before: [], sequences: own, assembles: own.some(isAssembly), unsure: false };
}

function namedIn(view: View, job: Job): readonly Sequence[] {
  return job.sequences.flatMap((name) => {
    const thing = view.things.get(name.text);
    return thing?.kind === 'sequence' ? [thing] : [];
  });
}

const byDone = question((view, _subject: 'jobs'): ReadonlyMap<string, readonly Job[]> => {
  const all = new Map<string, Job[]>();
  for (const job of view.jobs)
    for (const name of new Set(job.sequences.map(({ text }) => text))) {
      const own = all.get(name);
      if (own === undefined) all.set(name, [job]);
      else own.push(job);
    }
  return all;
});

/** The jobs in which a sequence is done, as written. */
const jobsDoing = (view: View, name: string): readonly Job[] => byDone(view, 'jobs').get(name) ?? [];

/** The job, or the plain order, in which a sequence is done, as far as that sequence. */
function upTo(view: View, name: string, asked: Job, depth: number): Pick<Plan, 'begins' | 'before'> {
  const other = jobsDoing(view, name).find((job) => job !== asked);
  const base = other === undefined ? undefined : planOf(view, other, depth + 1);
  const inOrder = base?.sequences ?? byPhase(view.sequences);
  const last = inOrder.findIndex((sequence) => sequence.name === name);
  const before = inOrder.slice(0, last + 1);
  return {
    begins: base?.begins ?? (before[0]?.phase === 'teardown' ? 'whole' : 'bare'),
    before: [...(base?.before ?? []), ...before],
  };
}

function planOf(view: View, job: Job, depth = 0): Plan {
  const sequences = namedIn(view, job);
  const unsure = sequences.length < job.sequences.length || job.broken;
  const common = { job, sequences, assembles: sequences.some(isAssembly), unsure };
  if (job.begins?.how === 'after') {
    if (
      job.begins.sequence === undefined ||
      depth >= MOST_JOBS_BEFORE ||
      view.things.get(job.begins.sequence)?.kind !== 'sequence'
    )
      return { ...common, begins: 'unknown', before: [] };
    return { ...common, ...upTo(view, job.begins.sequence, job, depth) };
  }
  const begins = job.begins?.how ?? (sequences[0]?.phase === 'teardown' ? 'whole' : 'bare');
  return { ...common, begins, before: [] };
}

/** Whether more jobs lie before a job, each beginning after the one before, than are carried out; not so for those that go in a circle. */
export function isTooFarDown(view: View, job: Job): boolean {
  const seen = new Set([job]);
  let at = job;
  for (;;) {
    const name = at.begins?.how === 'after' ? at.begins.sequence : undefined;
    const before = name === undefined ? undefined : jobsDoing(view, name).find((other) => other !== at);
    if (before === undefined || seen.has(before)) return false;
    if (seen.size > MOST_JOBS_BEFORE) return true;
    seen.add(before);
    at = before;
  }
}

/** The rehearsals of one file: its jobs that hold for the view's variant, or all its sequences. */
export function plansOf(view: View, file: string): readonly Plan[] {
  const jobs = view.jobs.filter(
    (job) =>
      job.placed.file === file &&
      (job.variants.length === 0 || view.variant === undefined || job.variants.includes(view.variant)),
  );
  if (jobs.length > 0) return jobs.map((job) => planOf(view, job));
  const own = plain(view, file);
  return own.sequences.length === 0 ? [] : [own];
}

/** The names of sequences that jobs on a whole engine do: what they fit was on before. */
export function refitsOf(plans: readonly Plan[]): ReadonlySet<string> {
  return new Set(
    plans
      .filter((plan) => plan.begins === 'whole' && plan.job !== undefined)
      .flatMap((plan) => plan.sequences.map((sequence) => sequence.name)),
  );
}

/** The rehearsals of a file, and the sequences of its jobs on a whole engine, kept. */
export const plansIn = question((view, file: string) => plansOf(view, file));
export const refitsIn = question((view, file: string) => refitsOf(plansIn(view, file)));
