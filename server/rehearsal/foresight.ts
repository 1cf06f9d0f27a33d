// What is known beforehand of the work that is still to come: which parts go on at all, which go on together, what is tightened. It
// stays the same all through a job.
import type { Reference } from '../../grammar/tree.ts';
import { screwsWritten, targetsOf } from '../model/action-places.ts';
import type { Sequence, Step, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { assembles, type Plan } from './plan.ts';
import { isKnown, workOf } from './step-work.ts';

/** By part: the sets of parts that some step fits together. */
type Groups = ReadonlyMap<string, Together>;

/** One measuring of a limit, at the places that are written. */
export interface Measuring {
  readonly step: Step;
  readonly reference: Reference;
}

/** A list of names that is asked name by name: a job hangs on the names that it asks for, and on no others. */
interface Asked {
  has(name: string): boolean;
}

/** The sets of parts that some step fits together with one. */
type Together = readonly (readonly string[])[];

export interface Foresight {
  /** Something could not be read or is not known by name: what is missing may only be unreadable. */
  readonly unsure: boolean;
  /** Names that any sequence of the spec fits or measures, whether or not this job has it. */
  readonly fitted: Asked;
  /** Of those, what no sequence fits and no bolt holds: it is only connected. */
  readonly connected: Asked;
  /** By limit: where it is measured. */
  readonly measured: { get(name: string): readonly Measuring[] | undefined };
  /** Fasteners that any sequence of the spec tightens or snugs. */
  readonly everTightened: Asked;
  /** Names that any sequence of the spec adjusts, renews or looks at. */
  readonly adjusted: Asked;
  readonly renewed: Asked;
  readonly lookedAt: Asked;
  readonly groups: { get(name: string): Together | undefined };
  /** Parts whose absence will be a finding at the end: nothing more is said of it. */
  readonly expectedMissing: Asked;
  /** Fasteners that some step of the job tightens or snugs. */
  readonly tightened: Asked;
  /** By fastener: the screws (from 0) that some step of the job tightens. */
  readonly screws: { get(name: string): ReadonlySet<number> };
}

/** A step that fits something, and its sequence. */
export interface Fitting {
  readonly sequence: string;
  readonly step: Step;
}

interface SpecWork {
  /** By name: the sequences that fit it, and those that connect it. */
  readonly fittedIn: ReadonlyMap<string, readonly string[]>;
  readonly connectedIn: ReadonlyMap<string, readonly string[]>;
  readonly measuredIn: ReadonlyMap<string, readonly (Measuring & { readonly sequence: string })[]>;
  readonly everTightened: ReadonlySet<string>;
  readonly adjusted: ReadonlySet<string>;
  readonly renewed: ReadonlySet<string>;
  readonly lookedAt: ReadonlySet<string>;
  readonly groups: Groups;
  /** By name: the steps that fit it. */
  readonly fittedBy: ReadonlyMap<string, readonly Fitting[]>;
  /** Parts that a fastener clamps. */
  readonly held: ReadonlySet<string>;
}

function enter<value>(lists: Map<string, value[]>, name: string, value: value): void {
  const list = lists.get(name);
  if (list === undefined) lists.set(name, [value]);
  else list.push(value);
}

/** Names with what all sequences of the spec do with them, and the parts that go on together. */
const workOfSpec = question((view, _all: string): SpecWork => {
  const fittedIn = new Map<string, string[]>();
  const fittedBy = new Map<string, Fitting[]>();
  const connectedIn = new Map<string, string[]>();
  const measuredIn = new Map<string, (Measuring & { readonly sequence: string })[]>();
  const everTightened = new Set<string>();
  const adjusted = new Set<string>();
  const renewed = new Set<string>();
  const lookedAt = new Set<string>();
  const groups = new Map<string, (readonly string[])[]>();
  const known = new Set<string>();
  for (const { name: sequence, steps } of view.sequences)
    for (const step of steps) {
      const work = workOf(view, step);
      for (const name of work.fitted) {
        enter(fittedIn, name, sequence);
        enter(fittedBy, name, { sequence, step });
      }
      for (const name of work.connected) enter(connectedIn, name, sequence);
      for (const reference of work.measured) enter(measuredIn, reference.owner.text, { step, reference, sequence });
      for (const name of work.tightened) everTightened.add(name);
      for (const name of work.adjusted) adjusted.add(name);
      for (const name of work.renewed) renewed.add(name);
      for (const name of work.lookedAt) lookedAt.add(name);
      for (const group of work.together) {
        const key = group.join(' ');
        if (known.has(key)) continue;
        known.add(key);
        for (const name of group) enter(groups, name, group);
      }
    }
  const held = new Set(view.fasteners.flatMap((fastener) => fastener.clamps.map((clamp) => clamp.part)));
  return { fittedIn, connectedIn, measuredIn, everTightened, adjusted, renewed, lookedAt, groups, fittedBy, held };
});

/** The steps of the spec that fit a part, as written. */
export const stepsFitting = question(
  (view, name: string): readonly Fitting[] => workOfSpec(view, '').fittedBy.get(name) ?? [],
);

/** What a job goes by of all that the spec does: what a job on a whole engine takes off and puts back says nothing of a first build. */
function gather(
  view: View,
  plan: Plan,
  refits: ReadonlySet<string>,
): Pick<
  Foresight,
  'fitted' | 'connected' | 'measured' | 'everTightened' | 'adjusted' | 'renewed' | 'lookedAt' | 'groups'
> {
  const work = workOfSpec(view, '');
  const own = new Set(plan.sequences.map(({ name }) => name));
  const counts = (sequence: string): boolean => own.has(sequence) || !refits.has(sequence);
  const isIn = (lists: ReadonlyMap<string, readonly string[]>, name: string): boolean =>
    lists.get(name)?.some(counts) === true;
  const isConnected = (name: string): boolean =>
    isIn(work.connectedIn, name) && !isIn(work.fittedIn, name) && !work.held.has(name);
  const { everTightened, adjusted, renewed, lookedAt, groups } = work;
  return {
    fitted: { has: (name) => isIn(work.fittedIn, name) || isConnected(name) },
    connected: { has: isConnected },
    measured: {
      get: (name) => {
        const all = work.measuredIn.get(name)?.filter(({ sequence }) => counts(sequence));
        return all === undefined || all.length === 0 ? undefined : all;
      },
    },
    everTightened,
    adjusted,
    renewed,
    lookedAt,
    groups,
  };
}

/** Whether all of a sequence could be read, and all that it works on is known. */
function isSure(sequence: Sequence, view: View): boolean {
  if (sequence.broken || sequence.startsWith.some((name) => view.things.get(name.text)?.kind !== 'part')) return false;
  return sequence.steps.every((step) => isKnown(step, view));
}

/** What can be told of a plan before it is carried out. `refits` are the sequences of jobs that begin with a whole engine. */
export function foresee(view: View, plan: Plan, file: string, refits: ReadonlySet<string>): Foresight {
  const gathered = gather(view, plan, refits);
  const unsure = plan.unsure || [...plan.before, ...plan.sequences].some((sequence) => !isSure(sequence, view));
  const last = new Map<string, string>();
  const tightened = new Set<string>();
  for (const sequence of plan.sequences)
    for (const step of sequence.steps) {
      const work = workOf(view, step);
      for (const { name, word } of work.moved) last.set(name, word);
      for (const name of work.tightened) tightened.add(name);
    }
  const expectedMissing = new Set<string>();
  if (!unsure && assembles(plan)) {
    const grades = gradesOf(view);
    const there = new Set(
      [...plan.before, ...plan.sequences].flatMap((sequence) => sequence.startsWith.map((name) => name.text)),
    );
    for (const part of view.parts) {
      const { name } = part;
      if (view.things.get(name) !== part) continue;
      const never =
        plan.begins === 'bare' && part.placed.file === file && !gathered.fitted.has(name) && !there.has(name);
      if ((never && !part.broken && !grades.has(name)) || last.get(name) === 'remove') expectedMissing.add(name);
    }
  }
  return {
    ...gathered,
    unsure,
    expectedMissing,
    tightened,
    screws: { get: (name) => screwsTightened(view, plan, name) },
  };
}

function screwsTightened(view: View, plan: Plan, name: string): ReadonlySet<number> {
  const fastener = view.things.get(name);
  if (fastener?.kind !== 'fastener') return NO_SCREWS;
  const doing = plan.sequences.flatMap((sequence) =>
    sequence.steps.filter((step) => workOf(view, step).tightened.includes(name)),
  );
  const actions = doing.flatMap((step) => step.statements);
  return new Set(
    actions.flatMap((action) =>
      action.kind === 'action' && action.word === 'tighten'
        ? targetsOf(action, view)
            .filter(({ owner }) => owner.text === name)
            .flatMap(({ places }) => screwsWritten(fastener, view, places))
        : [],
    ),
  );
}

const NO_SCREWS: ReadonlySet<number> = new Set();

/** Names of rows in tables of grades: of these one is taken. */
export function gradesOf(view: View): ReadonlySet<string> {
  return new Set(view.grades.flatMap((table) => table.rows.map((row) => row.name.text)));
}
