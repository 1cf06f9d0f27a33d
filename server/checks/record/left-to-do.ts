// What of the work a record does not have yet: which steps of which job, and which measurements. Nothing is reported here.

import { type Among, among, nearestAmong } from '../../../grammar/nearest.ts';
import type { Done, Measured, Signed, Statement } from '../../../grammar/tree.ts';
import { deepEqual } from '../../model/deep-equal.ts';
import { type Asked, allPlaces } from '../../model/feature-places.ts';
import { type Entry, keyed } from '../../model/keyed.ts';
import { takesIn } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import { namesIn } from '../../model/statements.ts';
import { thoseThat } from '../../model/those-that.ts';
import type { Limit, Sequence, Step, View } from '../../model/view.ts';
import { type Memo, question } from '../../model/view-questions.ts';
import { byPhase, type Plan, plansIn } from '../../rehearsal/plan.ts';
import { stepsCalled } from '../../rehearsal/step-work.ts';
import { placesLeft, recordStatements } from './measurements.ts';

/** A step of the work, with the sequence that it stands in. */
export interface WorkStep {
  readonly step: Step;
  readonly sequence: Sequence;
}

export interface LeftToDo {
  /** All steps of the work, in order; empty where it can't be told which work it is. */
  readonly work: readonly WorkStep[];
  readonly steps: readonly WorkStep[];
  /** Limits to measure, with the places that have no value; none for a limit of one place. */
  readonly limits: readonly { readonly limit: Limit; readonly places: readonly Asked[] }[];
}

export function doneIn(statements: readonly Statement[], word: 'done' | 'deviation'): readonly Done[] {
  return statements.filter((each): each is Done => each.kind === 'done' && each.word === word);
}

export function signedIn(statements: readonly Statement[]): Signed | undefined {
  return statements.find((each): each is Signed => each.kind === 'signed');
}

const variantNames = question((_view, spec: Placed) =>
  namesIn(spec.declaration.body?.statements ?? [], 'variants').map((name) => name.text),
);

/** The variants of the spec, where the record does not say which of them the engine is. */
export function variantUnsaid(placed: Placed, view: View & { readonly specs: readonly Placed[] }): readonly string[] {
  if (view.variant === undefined) return [];
  if (namesIn(placed.declaration.body?.statements ?? [], 'variant').length > 0) return [];
  for (const spec of view.specs) {
    const names = variantNames(view, spec);
    if (names.length > 0) return names;
  }
  return [];
}

function stepsOf({ sequences }: Pick<Plan, 'sequences'>): readonly WorkStep[] {
  return sequences.flatMap((sequence) => sequence.steps.map((step) => ({ step, sequence })));
}

/** The places of a step that is done for each of something. */
function placesOfStep(step: Step, view: View): ReturnType<typeof allPlaces> {
  const part = step.each === undefined ? undefined : view.things.get(step.each.owner.text);
  if (part?.kind !== 'part') return [];
  const all = allPlaces(part, step.each?.feature?.text);
  const written = step.each?.places ?? [];
  return written.length === 0 ? all : all.filter((place) => written.some((each) => takesIn(each, place)));
}

function isDone(step: Step, own: readonly Done[], view: View): boolean {
  if (own.length === 0) return false;
  const places = own.some((each) => each.step.places.length === 0) ? [] : placesOfStep(step, view);
  return places.every((place) => own.some((each) => each.step.places.some((written) => takesIn(written, place))));
}

/** A job, or all sequences, with its steps. */
interface Work {
  readonly plan: Plan;
  readonly steps: readonly WorkStep[];
  readonly names: ReadonlySet<string>;
}

/** Every job of the specs, or their sequences. */
const allPlans = question((view, _subject: 'works'): readonly Plan[] => {
  const files = new Set([...view.jobs, ...view.sequences].map((thing) => thing.placed.file));
  return [...files].flatMap((file) => plansIn(view, file));
});

const workOfPlan = question((_view, plan: Plan): Work => {
  const steps = stepsOf(plan);
  return { plan, steps, names: new Set(steps.map(({ step }) => step.name)) };
});

/** By the name of a step: the work in which it is done. */
const plansDoing = keyed(
  (view) => allPlans(view, 'works'),
  (view, plan: Plan) => [...workOfPlan(view, plan).names].map((name): Entry<Plan> => [name, plan]),
);

/** What a record may be of: every job of the specs, or their sequences, with its steps. */
export function worksIn(view: View): readonly Work[] {
  return allPlans(view, 'works').map((plan) => workOfPlan(view, plan));
}

/** The work that a record is of: of the jobs that hold all that it has done, the one with the least. All sequences where none does. */
export function workOf(
  done: ReadonlySet<string>,
  view: View,
): { readonly work: readonly WorkStep[]; readonly job: boolean } {
  const plans = allPlans(view, 'works');
  const [only] = plans;
  if (only !== undefined && plans.length === 1)
    return { work: workOfPlan(view, only).steps, job: only.job !== undefined };
  if (done.size === 0 && plans.length > 0) return { work: [], job: true };
  const names = [...done];
  const holding = plansDoing(view, names[0] ?? '')
    .map((plan) => workOfPlan(view, plan))
    .filter((work) => names.every((name) => work.names.has(name)))
    .sort((one, other) => one.steps.length - other.steps.length)[0];
  if (holding !== undefined) return { work: holding.steps, job: holding.plan.job !== undefined };
  return { work: stepsOf({ sequences: byPhase(view.sequences) }), job: false };
}

/** The limits that are measured in a step, by name. */
const measuredInStep = question((_view, step: Step): readonly string[] => [
  ...new Set(
    step.statements.flatMap((each) =>
      each.kind === 'action' && each.word === 'measure' ? each.targets.map((target) => target.owner.text) : [],
    ),
  ),
]);

/** The steps of the work in which limits are measured, by the name of the limit. */
function stepsByLimit(work: readonly WorkStep[], view: View): ReadonlyMap<string, readonly Step[]> {
  const all = new Map<string, Step[]>();
  for (const { step } of work)
    for (const name of measuredInStep(view, step)) {
      const own = all.get(name);
      if (own === undefined) all.set(name, [step]);
      else own.push(step);
    }
  return all;
}

function namesOf(words: Iterable<string>, memo: Memo<Among>): Among {
  memo.of = among(words, memo.of);
  return memo.of;
}
const sameNames = (before: Among, now: Among): boolean => deepEqual(before.words, now.words);

/** The names of all steps that stand in sequences, and of all limits. */
const allSteps = question((view, _subject: 'steps', memo: Memo<Among> = { of: undefined }) => {
  const names: string[] = [];
  for (const { steps } of view.sequences) for (const { name } of steps) names.push(name);
  return namesOf(names, memo);
}, sameNames);
const allLimits = question(
  (view, _subject: 'limits', memo: Memo<Among> = { of: undefined }) =>
    namesOf(
      view.limits.map((limit) => limit.name),
      memo,
    ),
  sameNames,
);

const limitsCalled = keyed(
  (view) => view.limits,
  (_view, limit: Limit): readonly Entry<Limit>[] => [[limit.name, limit]],
);
const isStep = (view: View, name: string): boolean => stepsCalled(view, name).length > 0;
const isLimit = (view: View, name: string): boolean => limitsCalled(view, name).length > 0;

/**
 * The name of a step or a limit that a record means: one that its spec does not have is taken for the nearest that it has, and found
 * elsewhere.
 */
const stepMeant = question((view, name: string): string =>
  isStep(view, name) ? name : (nearestAmong(name, allSteps(view, 'steps')) ?? name),
);
const limitMeant = question((view, name: string): string =>
  isLimit(view, name) ? name : (nearestAmong(name, allLimits(view, 'limits')) ?? name),
);

const limitsToMeasure = thoseThat(
  (view) => view.limits,
  ({ measured, broken }) => measured && !broken,
);

/** Statements by the name of the thing that they are about, as written. */
function byName<statement>(statements: readonly statement[], nameOf: (statement: statement) => string) {
  const all = new Map<string, statement[]>();
  for (const each of statements) {
    const own = all.get(nameOf(each));
    if (own === undefined) all.set(nameOf(each), [each]);
    else own.push(each);
  }
  return all;
}

/** What a record does not have, in the view of its variant. A step with a deviation is answered, and what is measured in it alone. */
export function leftToDo(placed: Placed, view: View): LeftToDo {
  return left(view, placed);
}

const left = question((view, placed: Placed): LeftToDo => {
  const statements = recordStatements(placed, view);
  const done = byName(doneIn(statements, 'done'), (each) => each.step.owner.text);
  const deviations = new Set(doneIn(statements, 'deviation').map((each) => stepMeant(view, each.step.owner.text)));
  const known = new Set([...done.keys()].filter((name) => isStep(view, name)));
  const misspelt = new Set([...done.keys()].filter((name) => !known.has(name)).map((name) => stepMeant(view, name)));
  const { work, job } = workOf(known, view);
  const steps = work.filter(
    ({ step }) =>
      !deviations.has(step.name) && !misspelt.has(step.name) && !isDone(step, done.get(step.name) ?? [], view),
  );
  const measured = byName(
    statements.filter((each): each is Measured => each.kind === 'measured'),
    (each) => each.limit.owner.text,
  );
  const misread = new Set(
    [...measured.keys()].filter((name) => !isLimit(view, name)).map((name) => limitMeant(view, name)),
  );
  const measuring = stepsByLimit(work, view);
  const limits = limitsToMeasure(view).flatMap((limit) => {
    if (misread.has(limit.name)) return [];
    const by = measuring.get(limit.name) ?? [];
    if (job && by.length === 0) return [];
    if (by.length > 0 && by.every((step) => deviations.has(step.name) && !known.has(step.name))) return [];
    const places = placesLeft(limit, measured.get(limit.name) ?? [], view);
    return places.length === 0 ? [] : [{ limit, places: limit.each === undefined ? [] : places }];
  });
  return { work, steps, limits };
});
