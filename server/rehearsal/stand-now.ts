// All of how the engine stands at one moment of a job, for the view that follows the cursor: what changed last, what is held, pinned, shut,
// loose, covered, and what is still to prove. Carried out only when somebody asks; nothing is judged here.
import { type Told, told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Job, Step, View } from '../model/view.ts';
import { ACTION_RULES } from './actions/table.ts';
import {
  asChangedHere,
  type Changes,
  changesBetween,
  changeTexts,
  IS_TIGHT,
  joined,
  type Snapshot,
  snapshot,
  stageText,
} from './changes.ts';
import { doStep } from './each-place.ts';
import { type FastenerState, FINAL, OUT } from './fastener-state.ts';
import { atStep } from './in-the-middle.ts';
import { inNumbers } from './in-words.ts';
import { type Plan, plansIn } from './plan.ts';
import { coveredText, turningText } from './standing.ts';
import { type Stands, standsNow } from './stands.ts';
import type { State } from './state.ts';

/** A moment of a job: behind a statement, or at the beginning of a step. */
export interface Moment {
  readonly step: Step;
  readonly statement: Statement | undefined;
}

export interface StandNow {
  /** Undefined for the sequences of a file without a job. */
  readonly job: Job | undefined;
  /** What the last action changed, in words. */
  readonly changes: readonly Told[];
  /** What stands so since an action, until it is taken back: held back, pinned, plugged. The names, by the word of the action. */
  readonly standing: ReadonlyMap<string, readonly string[]>;
  /** Bolts that are in and not tight, with how they stand: loose, snug, at which stage. */
  readonly notTight: readonly { readonly name: string; readonly how: Told }[];
  /** `under timing-cover: crank-sprocket`. */
  readonly covered: readonly Told[];
  /** Drives whose timing is to be proved again. */
  readonly unproved: readonly string[];
  /** Limits that were adjusted, and that later work changed. */
  readonly unsettled: readonly string[];
  /** The crankshaft, and the marks and links of each drive that is on. */
  readonly turning: readonly Told[];
  /** The same in figures, for the pictures. */
  readonly stands: Stands;
}

/** The actions of a job one can stop at, in the order of the work, each once; a step without one stands for itself. */
const STOPS: ReadonlySet<string> = new Set(['action', 'rotate', 'set', 'confirm', 'run', 'crank', 'wait']);

/** The plans of a file that have work in them. */
export function plansWithWork(view: View, file: string): readonly Plan[] {
  return plansIn(view, file).filter((plan) => plan.sequences.some((sequence) => sequence.steps.length > 0));
}

/** The moments of a plan, in the order of the work. */
export function momentsOf(plan: Plan): readonly Moment[] {
  return plan.sequences.flatMap((sequence) =>
    sequence.steps.flatMap((step): readonly Moment[] => {
      const stops = step.statements.filter((each) => STOPS.has(each.kind));
      return stops.length === 0 ? [{ step, statement: undefined }] : stops.map((statement) => ({ step, statement }));
    }),
  );
}

function boltText({ fastener, stages }: FastenerState): Told | undefined {
  const open = stages.flatMap((stage, i) => (stage === OUT || stage === FINAL ? [] : [{ stage, number: i + 1 }]));
  if (open.length === 0) return undefined;
  const texts = new Map<string, { readonly how: Told; readonly numbers: number[] }>();
  for (const { stage, number } of open) {
    const how = stageText(stage, Math.max(1, fastener.stages.length));
    const known = texts.get(how.text);
    if (known !== undefined) known.numbers.push(number);
    else if (how !== IS_TIGHT) texts.set(how.text, { how, numbers: [number] });
  }
  const said = [...texts.values()].map(({ how, numbers }) =>
    numbers.length === stages.length ? how : told`${inNumbers(numbers)} ${how}`,
  );
  return said.length === 0 ? undefined : told`${told.list(said, ',')}`;
}

function standNow(state: State, changes: readonly Told[]): StandNow {
  return {
    job: state.plan.job,
    changes,
    standing: new Map(
      Object.entries(ACTION_RULES).flatMap(([word, { standing }]) => {
        const names = standing?.(state) ?? [];
        return names.length === 0 ? [] : [[word, names] as const];
      }),
    ),
    notTight: [...state.fasteners.values()].flatMap((each) => {
      const how = boltText(each);
      return how === undefined ? [] : [{ name: each.fastener.name, how }];
    }),
    covered: coveredText(state),
    unproved: [...state.drives.values()].flatMap(({ drive, disturbedBy, proved }) =>
      disturbedBy !== undefined && !proved ? [drive.name] : [],
    ),
    unsettled: [...state.adjusted].flatMap(([name, { changedBy }]) => (changedBy === undefined ? [] : [name])),
    turning: turningText(state),
    stands: standsNow(state),
  };
}

/**
 * How the engine stands at a moment of a plan: behind the statement, all places done, the first time that the job does it; at the
 * beginning of the step where there is no statement. Undefined where the plan does not do the step.
 */
export function standAt(
  view: View,
  file: string,
  plan: Plan,
  { step: of, statement: at }: Moment,
): StandNow | undefined {
  return atStep(view, plan.job ?? file, of, (state) => {
    if (at === undefined) return standNow(state, []);
    const changes: Changes[] = [];
    const here = asChangedHere(state);
    const { statements } = of;
    /** Each place is done in turn: behind the last statement stands the first. */
    const comesNext = (statement: Statement | undefined): boolean =>
      statements[statement === undefined ? 0 : (statements.indexOf(statement) + 1) % statements.length] === at;
    let before: Snapshot | undefined = comesNext(undefined) ? snapshot(here) : undefined;
    let found: StandNow | undefined;
    doStep(state, of, (statement) => {
      if (statement === at) {
        const now = snapshot(here);
        if (before !== undefined) changes.push(changesBetween(before, now));
        before = now;
        found = standNow(state, changeTexts(joined(changes), state, of));
      } else if (comesNext(statement)) before = snapshot(here);
    });
    return found;
  });
}
