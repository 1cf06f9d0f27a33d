// How the engine stands at a moment of a job, in words: what an action or a step changed, what is covered then, where marks and links
// stand. Carried out only when somebody asks; what is wrong is not told here.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Statement, Value } from '../../grammar/tree.ts';
import { type Exact, equal, toText, ZERO } from '../mechanics/exact.ts';
import type { Job, Step, View } from '../model/view.ts';
import { asChangedHere, type Changes, changesBetween, changeTexts, joined, snapshot } from './changes.ts';
import { linksOn } from './confirm.ts';
import { angleText, isWhole, TURN, within } from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { doStep } from './each-place.ts';
import { atStep, atSteps } from './in-the-middle.ts';
import { inWords } from './in-words.ts';
import { markStands } from './marks.ts';
import { type Plan, plansIn } from './plan.ts';
import { type Bench, begin, beginJob } from './run.ts';
import { coveredNow, isComplete, partsOf, type State } from './state.ts';

export interface Standing {
  /** Undefined for the sequences of a file without a job. */
  readonly job: Job | undefined;
  /** What is otherwise than before it. */
  readonly changes: readonly Told[];
  /** `under timing-cover: crank-sprocket, cam-sprocket`. */
  readonly covered: readonly Told[];
  /** The crankshaft, and the marks and links of each drive that is on. */
  readonly turning: readonly Told[];
}

type Moment = (step: Step, statement: Statement | undefined, state: State) => void;

/** Carries a job out and stops by at each statement, each time that it is done, and at the beginning of each step. */
export function carryOut(bench: Bench, plan: Plan, moment: Moment): void {
  const state = beginJob(bench, plan);
  for (const sequence of [...plan.before, ...plan.sequences]) {
    begin(state, sequence);
    for (const step of sequence.steps) {
      moment(step, undefined, state);
      doStep(state, step, (statement) => moment(step, statement, state));
    }
  }
}

/** Degrees as the spec writes the place of a mark: on the clock, or as an angle. */
function placeText(degrees: Exact, written: Value | undefined): string {
  const angle = within(degrees, TURN);
  const minutes = angle.mul(2);
  if (written?.kind !== 'clock' || minutes.d !== 1n) return `${toText(angle, 1).replace(/\.0$/, '')} deg`;
  const [hour, minute] = [Number(minutes.n) / 60, Number(minutes.n) % 60];
  return `${Math.floor(hour) === 0 ? 12 : Math.floor(hour)}${minute === 0 ? '' : `:${String(minute).padStart(2, '0')}`} o'clock`;
}

function marksText(state: State, drive: DriveState): Told | undefined {
  const { offset } = drive;
  if (offset === undefined) return undefined;
  const parts = partsOf(state, drive);
  const places = parts.flatMap((name) =>
    [...(state.parts.get(name)?.part.marks.values() ?? [])].flatMap((mark) => {
      const stands = markStands(state, name, mark.name);
      return stands === undefined ? [] : [told`${told.named(`${name}.${mark.name}`)} at ${placeText(stands, mark.at)}`];
    }),
  );
  const whole = isWhole(offset, TURN);
  const agree = parts.every((name) =>
    [...(state.parts.get(name)?.part.marks.values() ?? [])].every((mark) => {
      const stands = markStands(state, name, mark.name);
      const stated = markStands(state, name, mark.name, ZERO);
      return stands === undefined || stated === undefined || isWhole(stands.sub(stated), TURN);
    }),
  );
  if (whole && agree) return told`marks agree`;
  return places.length === 0 ? undefined : told`${told.list(places, ',')}`;
}

function linksText(state: State, drive: DriveState): Told | undefined {
  if (drive.linkOffset === undefined || drive.drive.markedLinks.length === 0) return undefined;
  const stand = linksOn(state, drive, drive.linkOffset.div(360));
  if (stand === undefined) return undefined;
  if (equal(stand.on, ZERO)) return told`marked links at their marks`;
  return told`marked links ${toText(stand.on, 1).replace(/\.0$/, '')} links past their marks, of ${stand.of}`;
}

/** Where marks and links of each drive that is on stand; of one drive without its name. */
function drivesText(state: State): readonly Told[] {
  const whole = state.drives.values().filter((drive) => isComplete(state, drive));
  return whole.flatMap((drive) => {
    const texts = [marksText(state, drive), linksText(state, drive)].filter((each) => each !== undefined);
    if (texts.length === 0) return [];
    const all = semicolons(texts);
    return [state.drives.size > 1 ? told`${told.named(drive.drive.name)}: ${all}` : all];
  });
}

/** Several, one after the other. */
function semicolons(texts: readonly Argument[]): Told {
  return told.row(texts.flatMap((text, i) => (i === 0 ? [text] : ['; ', text])));
}

/** What is under what now. */
export function coveredText(state: State): readonly Told[] {
  const under = new Map<string, string[]>();
  for (const [name, cover] of coveredNow(state)) {
    const others = under.get(cover);
    if (others === undefined) under.set(cover, [name]);
    else others.push(name);
  }
  return [...under].map(([cover, names]) => told`under ${told.named(cover)}: ${inWords(names)}`);
}

function crankText(state: State): readonly Told[] {
  return state.running.crank === undefined
    ? []
    : [told`${state.crankshaft ?? 'crankshaft'} ${angleText(state.running.crank, state.tdcOf)}`];
}

/** The crankshaft, and the marks and links of each drive that is on. */
export function turningText(state: State): readonly Told[] {
  return [...crankText(state), ...drivesText(state)];
}

/** How the engine stands at one moment, whatever was changed: what is covered, where shafts, marks and links stand, what is to be proved. */
export interface StandsNow {
  readonly covered: readonly Told[];
  readonly turning: readonly Told[];
  readonly toProve: readonly string[];
}

export function standsNow(state: State): StandsNow {
  return {
    covered: coveredText(state),
    turning: [...crankText(state), ...drivesText(state)],
    toProve: state.drives
      .values()
      .flatMap((each) => (each.disturbedBy !== undefined && !each.proved ? [each.drive.name] : [])),
  };
}

type Stands = Omit<Standing, 'job'>;

function standsAfter(state: State, step: Step, changes: readonly Changes[]): Stands {
  return {
    changes: changeTexts(joined(changes), state, step),
    covered: coveredText(state),
    turning: turningText(state),
  };
}

function afterWhole(state: State, step: Step): Stands {
  const changes: Changes[] = [];
  const here = asChangedHere(state);
  let before = snapshot(here);
  doStep(state, step, () => {
    const now = snapshot(here);
    changes.push(changesBetween(before, now));
    before = now;
  });
  return standsAfter(state, step, changes);
}

/** Looks at the engine right before the statement and right after it, each time that the step does it. */
function afterOne(state: State, step: Step, statement: Statement): Stands | undefined {
  const { statements } = step;
  const place = statements.indexOf(statement);
  const previous = statements[(place + statements.length - 1) % statements.length];
  const changes: Changes[] = [];
  const here = asChangedHere(state);
  let before = place === 0 ? snapshot(here) : undefined;
  let stands: Stands | undefined;
  doStep(state, step, (each) => {
    if (each !== statement && each !== previous) return;
    const now = snapshot(here);
    if (each === statement && before !== undefined) {
      changes.push(changesBetween(before, now));
      const { turn } = state;
      if (turn === undefined || turn.index === turn.of) stands = standsAfter(state, step, changes);
    }
    before = now;
  });
  return stands;
}

/**
 * How the engine stands after one statement of a step, or after all of it, in each job of the file that does the step; empty where none
 * does. A step is known by its declaration, so one of another reading of the same file will not be found.
 */
export function standingAfter(view: View, file: string, of: Step, after: Statement | undefined): readonly Standing[] {
  return plansIn(view, file).flatMap((plan) => {
    // A job may do a step twice: the first time is told.
    if (![...plan.before, ...plan.sequences].some((sequence) => sequence.steps.includes(of))) return [];
    const found = atStep(view, plan.job ?? file, of, (state) => {
      const stands = after === undefined ? afterWhole(state, of) : afterOne(state, of, after);
      return stands === undefined ? undefined : { job: plan.job, ...stands };
    });
    return found === undefined ? [] : [found];
  });
}

/** Where marks and links stand after each `rotate` of the steps that are wanted, in every job that does it; the crankshaft alone where no drive is on. */
export function afterTurns(
  view: View,
  file: string,
  wanted: (step: Step) => boolean,
): readonly { readonly step: Step; readonly statement: Statement; readonly text: Told }[] {
  const found: { step: Step; statement: Statement; text: Told }[] = [];
  for (const plan of plansIn(view, file)) {
    const steps = new Set<object>(
      [...plan.before, ...plan.sequences].flatMap(({ steps: all }) =>
        all.filter((step) => step.statements.some((each) => each.kind === 'rotate') && wanted(step)),
      ),
    );
    if (steps.size === 0) continue;
    atSteps(
      view,
      plan.job ?? file,
      (step) => steps.has(step),
      (state, step) => {
        const doing = new Map<Statement, { text: Told }>();
        doStep(state, step, (statement) => {
          if (statement.kind !== 'rotate') return;
          const drives = drivesText(state);
          const text = semicolons(drives.length > 0 ? drives : crankText(state));
          const known = doing.get(statement);
          // Of a step that is done for each place, the last time counts.
          if (known !== undefined) known.text = text;
          else if (text.text !== '') {
            const told = { step, statement, text };
            doing.set(statement, told);
            found.push(told);
          }
        });
      },
    );
  }
  return found;
}
