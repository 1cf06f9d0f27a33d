// What is known beforehand of the work that is still to come: which parts go on at all, which go on together, what is tightened. It
// stays the same all through a job.
import type { Action } from '../../grammar/tree.ts';
import { screwsWritten, targetsOf } from '../model/action-places.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import type { WrittenPlace } from '../model/measure.ts';
import type { TradeKind } from '../model/trade-names.ts';
import type { Grades, Part, Sequence, Step, View } from '../model/view.ts';
import { byName, question } from '../model/view-questions.ts';
import { clampedIn } from './at-the-bench.ts';
import { holdersOfKinds } from './holders.ts';
import type { Plan } from './plan.ts';
import { type Doing, isKnown, type StepWork, stepsIn, workOf } from './step-work.ts';

/** One measuring of a limit, at the places that are written. */
export interface Measuring {
  readonly step: Step;
  readonly places: readonly WrittenPlace[];
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
  /** Whether a step of the job behind one fits a part; so it is for one that is no step of the job. */
  isFittedBehind(step: Step, name: string): boolean;
  /** Fasteners that some step of the job tightens or snugs. */
  readonly tightened: Asked;
  /** Parts that those clamp. */
  readonly held: Asked;
  /** By fastener: the screws (from 0) that some step of the job tightens. */
  readonly screws: { get(name: string): ReadonlySet<number> };
  /** Of the fasteners that some step of the job tightens, those that clamp a part of one of some kinds. One that none does is a finding at the end. */
  holders(kinds: readonly TradeKind[]): readonly string[];
}

/** What a step says of a name, by what it does with it. */
interface StepTells {
  readonly fitted: object;
  readonly connected: object;
  readonly measured: { readonly places: readonly WrittenPlace[] };
  readonly tightened: object;
  readonly adjusted: object;
  readonly renewed: object;
  readonly lookedAt: object;
  readonly moved: { readonly word: 'fit' | 'remove' };
  readonly together: { readonly group: readonly string[] };
  readonly mated: { readonly mate: string };
  readonly matedWith: { readonly name: string };
  readonly drained: object;
  readonly bled: object;
  readonly sealed: object;
  readonly oiled: object;
  readonly filled: { readonly action: Action };
}

type Tells = { readonly [does in keyof StepTells]: readonly (readonly [name: string, tells: StepTells[does]])[] };

const NOTHING_MORE = {};
const named = (names: readonly string[]): readonly (readonly [string, object])[] =>
  names.map((name) => [name, NOTHING_MORE] as const);

/** All that a step says of names. */
const tellsOf = (work: StepWork): Tells => ({
  fitted: named(work.fitted),
  connected: named(work.connected),
  measured: work.measured.map(({ name, places }) => [name, { places }]),
  tightened: named(work.tightened),
  adjusted: named(work.adjusted),
  renewed: named(work.renewed),
  lookedAt: named(work.lookedAt),
  moved: work.moved.map(({ name, word }) => [name, { word }]),
  together: work.together.flatMap((group) => group.map((name) => [name, { group }] as const)),
  mated: work.mated.map(({ name, mate }) => [name, { mate }]),
  matedWith: work.mated.map(({ name, mate }) => [mate, { name }]),
  drained: named(work.drained),
  bled: named(work.bled),
  sealed: named(work.sealed),
  oiled: named(work.oiled),
  filled: work.filled.flatMap((action) =>
    [...new Set(action.targets.map(({ owner }) => owner.text))].map((name) => [name, { action }] as const),
  ),
});

const stepsTelling = keyed(stepsIn, (view, { sequence, step }) =>
  Object.entries(tellsOf(workOf(view, step))).flatMap(([does, tells]) =>
    (tells as Tells['fitted']).map(([name, told]): Entry<Doing> => [`${does} ${name}`, { sequence, step, ...told }]),
  ),
);

/** By name: the steps of the spec that do something of a kind with it, in the order written, with what is written of it. */
function stepsBy<does extends keyof StepTells>(
  does: does,
): (view: View, name: string) => readonly (Doing & StepTells[does])[] {
  return (view, name) => stepsTelling(view, `${does} ${name}`) as readonly (Doing & StepTells[does])[];
}

/** The steps of the spec that fit a part, as written. */
export const stepsFitting = stepsBy('fitted');
const stepsConnecting = stepsBy('connected');
export const stepsMeasuring = stepsBy('measured');
const stepsTightening = stepsBy('tightened');
const stepsAdjusting = stepsBy('adjusted');
const stepsRenewing = stepsBy('renewed');
export const stepsLookingAt = stepsBy('lookedAt');
const stepsMoving = stepsBy('moved');
const stepsJoining = stepsBy('together');
/** The steps that fit a part to another, by either. */
export const stepsMating = stepsBy('mated');
export const stepsMatingWith = stepsBy('matedWith');
export const stepsDraining = stepsBy('drained');
export const stepsBleeding = stepsBy('bled');
export const stepsSealing = stepsBy('sealed');
export const stepsOiling = stepsBy('oiled');
/** What the steps of the spec fill into a place. */
export const stepsFilling = stepsBy('filled');

const sequencesStartingWith = keyed(
  (view) => view.sequences,
  (_view, sequence: Sequence) => sequence.startsWith.map((name): Entry<Sequence> => [name.text, sequence]),
);

const rowsOfGrades = keyed(
  (view) => view.grades,
  (_view, table: Grades) => table.rows.map(({ name }): Entry<Grades> => [name.text, table]),
);

/** Whether a name is a row in a table of grades: of those one is taken. */
export const isGrade = (view: View, name: string): boolean => rowsOfGrades(view, name).length > 0;

/** Each group once, in the order in which they are met. */
function groupsOf(view: View, name: string): Together | undefined {
  const groups = new Map(stepsJoining(view, name).map(({ group }) => [group.join(' '), group]));
  return groups.size === 0 ? undefined : [...groups.values()];
}

/** What a job goes by of all that the spec does: what a job on a whole engine takes off and puts back says nothing of a first build. */
function gather(
  view: View,
  plan: Plan,
  refits: () => ReadonlySet<string>,
): Pick<
  Foresight,
  'fitted' | 'connected' | 'measured' | 'everTightened' | 'adjusted' | 'renewed' | 'lookedAt' | 'groups'
> {
  const own = new Set(plan.sequences.map(({ name }) => name));
  const counts = ({ sequence }: Doing): boolean => own.has(sequence.name) || !refits().has(sequence.name);
  const isFitted = (name: string): boolean => stepsFitting(view, name).some(counts);
  const isConnected = (name: string): boolean =>
    stepsConnecting(view, name).some(counts) && !isFitted(name) && clampedIn(view, name).length === 0;
  const asked = (steps: (view: View, name: string) => readonly Doing[]): Asked => ({
    has: byName(view, (name) => steps(view, name).length > 0),
  });
  return {
    fitted: { has: byName(view, (name) => isFitted(name) || isConnected(name)) },
    connected: { has: isConnected },
    measured: {
      get: byName(view, (name) => {
        const all = stepsMeasuring(view, name).filter(counts);
        return all.length === 0 ? undefined : all;
      }),
    },
    everTightened: asked(stepsTightening),
    adjusted: asked(stepsAdjusting),
    renewed: asked(stepsRenewing),
    lookedAt: asked(stepsLookingAt),
    groups: { get: (name) => groupsOf(view, name) },
  };
}

/** Whether all of a sequence could be read, and all that it works on is known. */
const isSure = question((view, sequence: Sequence): boolean => {
  if (sequence.broken || sequence.startsWith.some((name) => view.things.get(name.text)?.kind !== 'part')) return false;
  // All of them are asked, so that one that is not known has the others not asked anew when it is.
  return sequence.steps.filter((step) => !isKnown(view, step)).length === 0;
});

/** Whether something of a plan could not be read, or is not known by name. */
export function isUnsure(view: View, plan: Plan): boolean {
  return plan.unsure || [...plan.before, ...plan.sequences].filter((sequence) => !isSure(view, sequence)).length > 0;
}

/**
 * What can be told of a plan before it is carried out, worked out when it is asked for. `refits` are the sequences of jobs that begin with
 * a whole engine.
 */
export function foresee(
  view: View,
  plan: Plan,
  file: string,
  refits: () => ReadonlySet<string>,
  isPlanUnsure = (): boolean => isUnsure(view, plan),
): Foresight {
  const gathered = gather(view, plan, refits);
  const own = ({ sequence }: Doing): boolean => plan.sequences.includes(sequence);
  const isTightened = byName(view, (name) => stepsTightening(view, name).some(own));
  const holdersOf = byName(view, (kinds) => holdersOfKinds(view, kinds.split(' ') as TradeKind[]).filter(isTightened));
  const inTurn = byName(view, (_all) => plan.sequences.flatMap(({ steps }) => steps.map(({ name }) => name)));
  // Asked by names: a step that comes between two others changes nothing of which comes first.
  const fittedBehind = byName(view, (key) => {
    const [own = '', name = ''] = key.split(' ');
    const steps = inTurn('all');
    const at = steps.indexOf(own);
    return at < 0 || stepsFitting(view, name).some(({ step }) => steps.lastIndexOf(step.name) > at);
  });
  const comesOffLast = (name: string): boolean => {
    const moves = stepsMoving(view, name);
    const last = plan.sequences.findLast((each) => moves.some(({ sequence }) => sequence === each));
    return moves.findLast(({ sequence }) => sequence === last)?.word === 'remove';
  };
  const isThere = (name: string): boolean =>
    sequencesStartingWith(view, name).some((each) => plan.sequences.includes(each) || plan.before.includes(each));
  const isNeverFitted = (name: string, part: Part): boolean =>
    plan.begins === 'bare' &&
    part.placed.file === file &&
    !gathered.fitted.has(name) &&
    !isThere(name) &&
    !part.broken &&
    !isGrade(view, name);
  return {
    ...gathered,
    get unsure() {
      return isPlanUnsure();
    },
    expectedMissing: {
      has: byName(view, (name) => {
        const part = view.things.get(name);
        if (part?.kind !== 'part' || !plan.assembles) return false;
        return (isNeverFitted(name, part) || comesOffLast(name)) && !isPlanUnsure();
      }),
    },
    isFittedBehind: (step, name) => fittedBehind(`${step.name} ${name}`),
    tightened: { has: isTightened },
    held: { has: byName(view, (part) => clampedIn(view, part).some(({ name }) => isTightened(name))) },
    screws: { get: byName(view, (name) => screwsTightened(view, stepsTightening(view, name).filter(own), name)) },
    holders: (kinds) => holdersOf(kinds.join(' ')),
  };
}

function screwsTightened(view: View, doing: readonly Doing[], name: string): ReadonlySet<number> {
  const fastener = view.things.get(name);
  if (fastener?.kind !== 'fastener') return NO_SCREWS;
  const actions = doing.flatMap(({ step }) => step.statements);
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
