// How the engine stands at a step as plain figures, for the pictures: what is on, what covers what, where each wheel and link of a drive
// stands. Carried out only when somebody asks; in words it is told in standing.ts.
import { speak } from '../../grammar/spoken.ts';
import { negate, times, toNumber } from '../mechanics/exact.ts';
import { partsOfDrive } from '../model/covered.ts';
import type { Step, View } from '../model/view.ts';
import { linksOn } from './confirm.ts';
import { angleText } from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { doStep } from './each-place.ts';
import { atStep } from './in-the-middle.ts';
import { OFF, type PartState } from './part-state.ts';
import { type Plan, plansIn, plansOf, refitsOf } from './plan.ts';
import { carryOut } from './standing.ts';
import { coverOf, isComplete, partsOf, type State, turningShaft } from './state.ts';

/** How one drive stands. */
export interface DriveStands {
  readonly whole: boolean;
  /** By wheel: degrees clockwise, as seen from the front, since its marks stood as the spec says; empty where that is not known. */
  readonly turned: ReadonlyMap<string, number>;
  /** Links that the loop has moved on since its marked links stood at their marks, less whole rounds; undefined where that is not known. */
  readonly links: number | undefined;
}

export interface Stands {
  /** `at top dead centre 1 on compression`, in the language that is spoken; undefined where nobody knows. */
  readonly crank: string | undefined;
  readonly drives: ReadonlyMap<string, DriveStands>;
  /** By part: how many of its places have one on. */
  readonly on: ReadonlyMap<string, number>;
  /** By part that is on: what covers it. */
  readonly coveredBy: ReadonlyMap<string, string>;
  readonly heldBack: ReadonlySet<string>;
  readonly pinned: ReadonlySet<string>;
}

function driveStands(state: State, drive: DriveState): DriveStands {
  const whole = isComplete(state, drive);
  const { offset, linkOffset } = drive;
  const turned = new Map<string, number>();
  if (whole && offset !== undefined)
    for (const name of partsOf(state, drive)) {
      const speed = state.speeds.get(turningShaft(state, name));
      if (speed === undefined) continue;
      const onward = times(offset, speed);
      turned.set(name, toNumber(state.view.engine?.rotation === 'anticlockwise' ? negate(onward) : onward));
    }
  const on = whole && linkOffset !== undefined ? linksOn(state, drive, linkOffset.div(360))?.on : undefined;
  return { whole, turned, links: on === undefined ? undefined : toNumber(on) };
}

/** The figures of this moment. */
export function standsNow(state: State): Stands {
  return standsOf(state, state.drives.values(), state.parts.values());
}

/** The same of some drives and parts alone. */
function standsOf(state: State, drives: readonly DriveState[], parts: readonly PartState[]): Stands {
  return {
    crank: state.running.crank === undefined ? undefined : speak(angleText(state.running.crank, state.tdcOf)),
    drives: new Map(drives.map((drive) => [drive.drive.name, driveStands(state, drive)])),
    on: new Map(parts.map(({ part, on }) => [part.name, [...on].filter((each) => each !== OFF).length])),
    coveredBy: new Map(
      parts.flatMap(({ part, on }) => {
        const cover = [...on].some((each) => each !== OFF) ? coverOf(state, part.name)?.part.name : undefined;
        return cover === undefined ? [] : [[part.name, cover] as const];
      }),
    ),
    heldBack: new Set(parts.flatMap(({ part, heldBack }) => (heldBack === undefined ? [] : [part.name]))),
    pinned: new Set(parts.flatMap(({ part, pinned }) => (pinned === undefined ? [] : [part.name]))),
  };
}

export interface StepStands {
  readonly before: Stands;
  readonly after: Stands;
}

/**
 * How the engine stands before and after each step of a plan, what goes before it included. A step that is done for each of some places
 * counts when all are done, one that a job does twice the first time.
 */
export function standsInPlan(view: View, file: string, plan: Plan): ReadonlyMap<Step, StepStands> {
  const found = new Map<Step, StepStands>();
  let doing: { readonly step: Step; readonly before: Stands; after: Stands } | undefined;
  const finish = (): void => {
    if (doing !== undefined && !found.has(doing.step))
      found.set(doing.step, { before: doing.before, after: doing.after });
  };
  const bench = { view, file, refits: refitsOf(plansOf(view, file)) };
  carryOut(bench, plan, (step, statement, state) => {
    if (statement === undefined) {
      finish();
      const before = standsNow(state);
      doing = { step, before, after: before };
    } else if (doing !== undefined && statement === step.statements[step.statements.length - 1])
      doing.after = standsNow(state);
  });
  finish();
  return found;
}

/** How one drive and its parts stand after a step, in the first job of the file that does it; undefined where none does it. */
export function driveAfter(view: View, file: string, step: Step, name: string): Stands | undefined {
  const drive = view.things.get(name);
  const parts = drive?.kind === 'drive' ? partsOfDrive(drive) : [];
  for (const plan of plansIn(view, file)) {
    const found = atStep(view, plan.job ?? file, step, (state) => {
      doStep(state, step);
      return standsOf(state, state.drives.among([name]), state.parts.among(parts));
    });
    if (found !== undefined) return found;
  }
  return undefined;
}

/** How the engine stands at a step, in the first job of the file that does it, or in the one that is named; undefined where none does it. */
export function standsAt(view: View, file: string, step: Step, job?: string): StepStands | undefined {
  for (const plan of plansIn(view, file)) {
    if (job !== undefined && plan.job?.name !== job) continue;
    const found = atStep(view, plan.job ?? file, step, (state): StepStands => {
      const before = standsNow(state);
      doStep(state, step);
      return { before, after: standsNow(state) };
    });
    if (found !== undefined) return found;
  }
  return undefined;
}
