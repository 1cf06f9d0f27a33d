// What of the work a record does not have yet: which steps of which job, and which measurements. Nothing is reported here.

import { type Among, among, nearestAmong } from '../../../grammar/nearest.ts';
import type { Done, Measured, Signed, Statement } from '../../../grammar/tree.ts';
import { type Asked, allPlaces } from '../../model/feature-places.ts';
import { takesIn } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import { namesIn } from '../../model/statements.ts';
import type { Limit, Sequence, Step, View } from '../../model/view.ts';
import { question } from '../../model/view-questions.ts';
import { byPhase, type Plan, plansOf } from '../../rehearsal/plan.ts';
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

/** What a record may be of: every job of the specs, or their sequences, with its steps. */
export function worksIn(view: View): readonly { readonly plan: Plan; readonly steps: readonly WorkStep[] }[] {
  const files = new Set([...view.jobs, ...view.sequences].map((thing) => thing.placed.file));
  return [...files].flatMap((file) => plansOf(view, file)).map((plan) => ({ plan, steps: stepsOf(plan) }));
}

/** The work that a record is of: of the jobs that hold all that it has done, the one with the least. All sequences where none does. */
export function workOf(
  done: ReadonlySet<string>,
  view: View,
): { readonly work: readonly WorkStep[]; readonly job: boolean } {
  const plans = worksIn(view);
  const [only] = plans;
  if (only !== undefined && plans.length === 1) return { work: only.steps, job: only.plan.job !== undefined };
  if (done.size === 0 && plans.length > 0) return { work: [], job: true };
  const holding = plans
    .filter(({ steps }) => {
      const names = new Set(steps.map(({ step }) => step.name));
      return [...done].every((name) => names.has(name));
    })
    .sort((one, other) => one.steps.length - other.steps.length)[0];
  if (holding !== undefined) return { work: holding.steps, job: holding.plan.job !== undefined };
  return { work: stepsOf({ sequences: byPhase(view.sequences) }), job: false };
}

/** The steps of the work in which limits are measured, by the name of the limit. */
function stepsByLimit(work: readonly WorkStep[]): ReadonlyMap<string, readonly Step[]> {
  const all = new Map<string, Step[]>();
  for (const { step } of work) {
    const names = step.statements.flatMap((each) =>
      each.kind === 'action' && each.word === 'measure' ? each.targets.map((target) => target.owner.text) : [],
    );
    for (const name of new Set(names)) {
      const own = all.get(name);
      if (own === undefined) all.set(name, [step]);
      else own.push(step);
    }
  }
  return all;
}

/** Names that a record gives and its spec does not have are taken for the nearest that it has: they are found elsewhere. */
function meant(names: readonly string[], known: ReadonlySet<string>, near: Among): ReadonlySet<string> {
  return new Set([...new Set(names)].map((name) => (known.has(name) ? name : (nearestAmong(name, near) ?? name))));
}

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
  const statements = recordStatements(placed, view.variant);
  const nearSteps = among(view.sequences.flatMap((sequence) => sequence.steps.map((step) => step.name)));
  const nearLimits = among(view.limits.map((limit) => limit.name));
  const [stepNames, limitNames] = [new Set(nearSteps.words), new Set(nearLimits.words)];
  const done = byName(doneIn(statements, 'done'), (each) => each.step.owner.text);
  const deviations = meant(
    doneIn(statements, 'deviation').map((each) => each.step.owner.text),
    stepNames,
    nearSteps,
  );
  const misspelt = meant(
    [...done.keys()].filter((name) => !stepNames.has(name)),
    stepNames,
    nearSteps,
  );
  const known = new Set([...done.keys()].filter((name) => stepNames.has(name)));
  const { work, job } = workOf(known, view);
  const steps = work.filter(
    ({ step }) =>
      !deviations.has(step.name) && !misspelt.has(step.name) && !isDone(step, done.get(step.name) ?? [], view),
  );
  const measured = byName(
    statements.filter((each): each is Measured => each.kind === 'measured'),
    (each) => each.limit.owner.text,
  );
  const misread = meant(
    [...measured.keys()].filter((name) => !limitNames.has(name)),
    limitNames,
    nearLimits,
  );
  const measuring = stepsByLimit(work);
  const limits = view.limits.flatMap((limit) => {
    if (!limit.measured || limit.broken || misread.has(limit.name)) return [];
    const by = measuring.get(limit.name) ?? [];
    if (job && by.length === 0) return [];
    if (by.length > 0 && by.every((step) => deviations.has(step.name) && !known.has(step.name))) return [];
    const places = placesLeft(limit, measured.get(limit.name) ?? [], view);
    return places.length === 0 ? [] : [{ limit, places: limit.each === undefined ? [] : places }];
  });
  return { work, steps, limits };
}
