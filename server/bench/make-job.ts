// Makes the plain data of a job from a view of its spec: every step in plain words, what is ticked in it, measured and looked at.
import { spoken } from '../../grammar/spoken.ts';
import type { BuiltView } from '../model/build-view.ts';
import { statementsFor } from '../model/placed.ts';
import type { Sequence, Step, View } from '../model/view.ts';
import { drivesOfStep } from '../pictures/catalog.ts';
import { ringGaps } from '../pictures/ring-gaps.tsx';
import { waysRound } from '../pictures/way-round.tsx';
import { type Plan, plansOf } from '../rehearsal/plan.ts';
import { standsInPlan } from '../rehearsal/stands.ts';
import { engineFacts } from '../sheet/body.tsx';
import { toLayOut } from '../sheet/lay-out.tsx';
import { spaced } from '../sheet/pieces.tsx';
import { beginsText, followOnOf, named, phaseBeside } from '../sheet/plain-words.ts';
import { type TightenedBefore, tightenedBefore } from '../sheet/tightened-before.ts';
import { stepCautions } from '../sheet/usual-cautions.ts';
import type { BenchChapter, BenchJob, BenchPicture, BenchStep } from './bench-job.ts';
import { limitOf } from './job-limits.ts';
import { linesOf } from './job-lines.ts';
import { placesOfStep } from './job-places.ts';
import { standsChanges } from './stands-changes.ts';
import { gradesIn, isChosenBy, workedOn } from './worked-on.ts';

/** What the page is made from, besides the view. */
export interface JobQuestion {
  /** The address of the file whose job it is. */
  readonly file: string;
  readonly job?: string;
  /** How a record beside the spec names the file. */
  readonly use: string;
  readonly errors: number;
  /** The spec and what it uses, each as its file has it. */
  readonly texts: readonly { readonly file: string; readonly text: string }[];
}

/** The plan of a view that a page is for: the job that is named, else the first. */
function planFor(view: View, { file, job }: Pick<JobQuestion, 'file' | 'job'>): Plan | undefined {
  const plans = plansOf(view, file);
  return job === undefined ? plans[0] : plans.find((plan) => plan.job?.name === job);
}

function picturesOf(step: Step, view: View): readonly BenchPicture[] {
  const found: BenchPicture[] = [];
  const fitted = step.statements.flatMap((each) =>
    each.kind === 'action' && each.word === 'fit' ? each.targets.map((target) => target.owner.text) : [],
  );
  for (const name of drivesOfStep(step, view)) found.push({ what: 'timing-face', of: name });
  const gaps = new Set(ringGaps(view).map((gap) => gap.part));
  if (fitted.some((name) => gaps.has(name))) found.push({ what: 'ring-gaps', of: '1' });
  for (const name of new Set(fitted)) {
    const part = view.things.get(name);
    // What points to another part's feature is said in words.
    const isDrawn =
      part?.kind === 'part' &&
      waysRound(part).some((way) => way.arrow !== undefined || ['up', 'down'].includes(way.toward));
    if (isDrawn) found.push({ what: 'way-round', of: name });
  }
  if (step.statements.some((each) => each.kind === 'set' || each.kind === 'rotate') && found.length === 0)
    found.push({ what: 'engine-map' });
  found.push({ what: 'what-is-on' });
  return found;
}

function stepOf(step: Step, number: string, view: View, tight: TightenedBefore): BenchStep {
  const lines = linesOf(step, view, tight);
  return {
    name: step.name,
    number,
    title: step.title ?? spaced(step.name),
    places: placesOfStep(step, view),
    each:
      step.each === undefined
        ? undefined
        : `${named(step.each.owner.text, view)}${step.each.feature === undefined ? '' : ` ${step.each.feature.text.replace(/[-_]/g, ' ')}`}`,
    isTrial: step.trial,
    cautions: stepCautions(step, view),
    tools: step.statements.flatMap((each) => (each.kind === 'text' && each.word === 'tool' ? [each.text.value] : [])),
    lines,
    pictures: picturesOf(step, view),
  };
}

function chapterOf(sequence: Sequence, at: number, view: View, tight: TightenedBefore): BenchChapter {
  const title = sequence.title ?? spaced(sequence.name);
  return {
    name: sequence.name,
    title,
    phase: phaseBeside(sequence.phase, title),
    startsWith: sequence.startsWith.map((name) => named(name.text, view)),
    steps: sequence.steps.map((step, i) => stepOf(step, `${at + 1}.${i + 1}`, view, tight)),
  };
}

/** The job as the page shows it; undefined where the view has none of that name. */
export function benchJob(view: BuiltView, question: JobQuestion): BenchJob | undefined {
  const plan = planFor(view, question);
  if (plan === undefined) return undefined;
  const spec = view.specs[0]?.declaration;
  const said = statementsFor(spec?.body?.statements, view.variant);
  const revision = said.find((each) => each.kind === 'number' && each.word === 'revision');
  const tight = tightenedBefore(plan.sequences, view);
  const steps = plan.sequences.flatMap((sequence) => sequence.steps);
  const stands = standsInPlan(view, question.file, plan);
  const first = steps[0] === undefined ? undefined : stands.get(steps[0])?.before;
  const following = steps.flatMap((step) => stands.get(step)?.after ?? []);
  const limits = view.limits.filter((limit) => view.things.get(limit.name) === limit);
  const touched = workedOn(steps, view);
  return {
    spec: spec?.name?.text ?? '',
    title: spec?.title?.value ?? (spec?.name === undefined ? spoken`Engine build` : spaced(spec.name.text)),
    revision: revision?.kind === 'number' ? Number(revision.number.text) : undefined,
    variant: view.variant,
    job: plan.job === undefined ? undefined : { name: plan.job.name, title: plan.job.title ?? spaced(plan.job.name) },
    begins: plan.job === undefined ? '' : beginsText(plan.job, view),
    conditions: (plan.job?.conditions ?? []).map((text) => text.value),
    followOn: followOnOf(plan.job, view),
    use: question.use,
    isDraft: view.draft,
    errors: question.errors,
    engine: engineFacts(view.engine),
    layOut: toLayOut(plan.sequences, view),
    chapters: plan.sequences.map((sequence, i) => chapterOf(sequence, i, view, tight)),
    limits: limits.map((limit) => limitOf(limit, view)),
    // Only of what goes in with this work: who changes a belt is not asked for the size of the crankshaft.
    sizes: view.parts.flatMap((part) =>
      part.sizes.size === 0 || !touched.has(part.name)
        ? []
        : [{ part: part.name, title: part.title ?? spaced(part.name), sizes: [...part.sizes.keys()] }],
    ),
    grades: view.grades
      .filter((table) => gradesIn(touched, view).includes(table) || isChosenBy(table, touched, view))
      .map((table) => ({
        name: table.name,
        title: table.title ?? spaced(table.name),
        by: table.by?.owner.text,
        rows: table.rows.map((row) => row.name.text),
      })),
    texts: question.texts,
    stands: standsChanges(first === undefined ? following : [first, ...following]),
  };
}
