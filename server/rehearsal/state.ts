// The state of the engine in the head: what is on, how tight, what is held, pinned, drained, open, and where the drives stand. All that
// a job changes is here, as plain data. What an action does to it is in the files beside this one.

import type { Told } from '../../grammar/told.ts';
import type { Place, Span } from '../../grammar/tree.ts';
import type { Exact } from '../mechanics/exact.ts';
import { crankshaftOf, shaftOf, speedsOf } from '../model/drive-sums.ts';
import type { Placed } from '../model/placed.ts';
import { isA } from '../model/trade-names.ts';
import type { View } from '../model/view.ts';
import type { Act } from './act.ts';
import { coversOf } from './at-the-bench.ts';
import { type DriveState, newDrive } from './drive-state.ts';
import { type FastenerState, newFastener } from './fastener-state.ts';
import type { Foresight } from './foresight.ts';
import { gradedPart, gradesAlone } from './graded.ts';
import { ASSUMED, newPart, OFF, ON, type PartState } from './part-state.ts';
import { placesIn } from './places.ts';
import type { Plan } from './plan.ts';
import type { RehearsalFinding, Said } from './rehearsal-finding.ts';
import { newRunning, type Running } from './running.ts';
import { type Linked, newThings, type Things } from './things.ts';

/** What was done with a name, where, and since when it is otherwise. */
export interface Adjusted {
  readonly by: Act;
  readonly changedBy: Act | undefined;
}

export interface State {
  readonly view: View;
  readonly plan: Plan;
  readonly file: string;
  /** Takes what is said. */
  findings: Said;
  /** Nothing is said while this is set. */
  muted: boolean;
  /** What is known of the work that is still to come. */
  readonly ahead: Foresight;
  /** Something could not be read or is not known by name: what is missing may only be unreadable. */
  readonly unsure: boolean;
  /** Where the crankshaft stands, and what the engine has in it. */
  readonly running: Running;
  readonly parts: Things<PartState>;
  readonly fasteners: Things<FastenerState>;
  readonly drives: Things<DriveState>;
  readonly crankshaft: string | undefined;
  readonly speeds: ReadonlyMap<string, Exact>;
  /** By part: what covers it or a mark of it. */
  readonly coveredBy: ReadonlyMap<string, readonly { readonly cover: string; readonly mark: string | undefined }[]>;
  /** By part: the fasteners that clamp it. */
  readonly clampedBy: Linked<FastenerState>;
  /** By part: the drives whose chain, belt or wheel it is. */
  readonly drivesOf: Linked<DriveState>;
  readonly tensionerOf: Linked<DriveState>;
  /** Adjusted limits, and those that later work has changed. */
  readonly adjusted: Map<string, Adjusted>;
  /** Limits of several places: at which they were set or measured, as written, one list for each time. */
  readonly setAt: Map<string, { readonly places: readonly (readonly Place[])[]; readonly isAdjusted: boolean }>;
  /** Where limits were measured last. */
  readonly measuredOn: Map<string, Act>;
  readonly drained: Map<string, Act>;
  /** By place and kind of supply: where it was filled, as long as it was not drained. */
  readonly filled: Map<string, Act>;
  /** Places that were drained, or came off. */
  readonly emptied: Set<string>;
  /** Places that a finding says were filled twice. */
  readonly saidFilled: Set<string>;
  readonly disconnected: Map<string, Act>;
  readonly plugged: Map<string, Act>;
  /** Faces and holes under tape or film. */
  readonly masked: Map<string, Act>;
  /** The place in hand, counted from 1, of a step that is done for each of so many; undefined in other steps. */
  turn: { readonly index: number; readonly of: number } | undefined;
  /** Parts of which a finding says that they go where they do not belong. */
  readonly saidElsewhere: Set<string>;
  /** Parts that go on together, of which a finding says that they go on apart. */
  readonly saidTogether: Set<string>;
  /** Parts whose absence is a finding already, until they go on. */
  readonly saidMissing: Set<string>;
  /** Limits that were good for a part before this job took it off, with where it came off. */
  readonly stale: Map<string, Act>;
  /** Steps of which a finding says that what they fit is on already, or what they take off is gone: they are done at the wrong time. */
  readonly saidSteps: Set<string>;
  /** Fasteners that a finding says were not tight when something was measured. */
  readonly saidEarly: Set<string>;
  /** Shafts that stand at their marks while nothing couples them. */
  readonly atMark: Set<string>;
  /** The screws that some step of the job tightens, by fastener, as they are asked for. */
  readonly everTightened: Map<FastenerState, ReadonlySet<number>>;
  /** Shafts that were set to their marks, and turned away from them while nothing coupled them. */
  readonly setAway: Map<string, Act>;
  /** Fasteners that hold a wheel on a turning shaft, or a cap over it, with those. */
  readonly holdsTurning: readonly { readonly fastener: string; readonly turning: readonly string[] }[];
  /** The cylinder that angles are told from. */
  readonly tdcOf: number;
}

function pushTo<value>(map: Map<string, value[]>, key: string, value: value): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else list.push(value);
}

/** The fasteners that clamp something fixed to a shaft that a drive turns, or a cap that the crankshaft runs in. */
function holdersOf(view: View, speeds: ReadonlyMap<string, Exact>): State['holdsTurning'] {
  return view.fasteners.flatMap((fastener) => {
    if (view.things.get(fastener.name) !== fastener) return [];
    const turning = fastener.clamps.flatMap((clamp) => {
      const part = view.things.get(clamp.part);
      if (part?.kind !== 'part') return [];
      const isFixed = part.fixedTo !== undefined && speeds.has(shaftOf(view, clamp.part));
      return isFixed || isA(clamp.part, 'main-cap', 'rod-cap') ? [clamp.part] : [];
    });
    return turning.length === 0 ? [] : [{ fastener: fastener.name, turning }];
  });
}

/** The engine as a plan begins. */
export function beginOf(view: View, plan: Plan, file: string, ahead: Foresight): State {
  const at = plan.begins === 'whole' ? ON : plan.begins === 'unknown' ? ASSUMED : OFF;
  const parts = newThings<PartState>();
  const coveredBy = new Map<string, { cover: string; mark: string | undefined }[]>();
  for (const part of view.parts) {
    // Of two with one name the first counts.
    if (view.things.get(part.name) !== part) continue;
    parts.enter(part.name, newPart(part, at));
    for (const each of coversOf(view, part)) pushTo(coveredBy, each.name, { cover: part.name, mark: each.feature });
  }
  for (const grades of gradesAlone(view))
    if (ahead.fitted.has(grades.name)) parts.enter(grades.name, newPart(gradedPart(view, grades), at, true));
  const fasteners = newThings<FastenerState>();
  const clampedBy = fasteners.link();
  for (const fastener of view.fasteners) {
    if (view.things.get(fastener.name) !== fastener) continue;
    fasteners.enter(fastener.name, newFastener(fastener, view, at !== OFF));
    for (const clamp of fastener.clamps) clampedBy.enter(clamp.part, fastener.name);
  }
  const drives = newThings<DriveState>();
  const drivesOf = drives.link();
  const tensionerOf = drives.link();
  for (const drive of view.drives) {
    const wheels = [
      ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
      ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
    ];
    const meshed = new Set(drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]));
    // A smooth idler is no wheel of the drive; a gear is one, whether or not its teeth are told.
    const toothed = wheels.filter((name) => {
      const part = view.things.get(name);
      return part?.kind === 'part' && ((part.teeth ?? 0) > 0 || part.fixedTo !== undefined || meshed.has(name));
    });
    const own = [...new Set([...drive.wraps.map((wrap) => wrap.part), ...toothed])];
    drives.enter(drive.name, newDrive(drive, own));
    for (const name of own) drivesOf.enter(name, drive.name);
    for (const name of drive.tensioners) tensionerOf.enter(name, drive.name);
  }
  const speeds = view.drives.length === 0 ? new Map<string, Exact>() : (speedsOf(view)?.speeds ?? new Map());
  return {
    view,
    plan,
    file,
    findings: [],
    muted: false,
    ahead,
    unsure: ahead.unsure,
    running: newRunning(view, at !== OFF),
    parts: parts.things,
    fasteners: fasteners.things,
    drives: drives.things,
    coveredBy,
    clampedBy: clampedBy.linked,
    drivesOf: drivesOf.linked,
    tensionerOf: tensionerOf.linked,
    crankshaft: crankshaftOf(view),
    speeds,
    adjusted: new Map<string, Adjusted>(),
    setAt: new Map(),
    measuredOn: new Map<string, Act>(),
    drained: new Map<string, Act>(),
    filled: new Map<string, Act>(),
    emptied: new Set<string>(),
    saidFilled: new Set<string>(),
    saidEarly: new Set<string>(),
    saidSteps: new Set<string>(),
    disconnected: new Map<string, Act>(),
    plugged: new Map<string, Act>(),
    masked: new Map<string, Act>(),
    saidElsewhere: new Set<string>(),
    saidTogether: new Set<string>(),
    saidMissing: new Set<string>(),
    stale: new Map<string, Act>(),
    turn: undefined,
    atMark: new Set<string>(),
    everTightened: new Map(),
    setAway: new Map<string, Act>(),
    holdsTurning: holdersOf(view, speeds),
    tdcOf: view.drives.find((drive) => drive.marksAgree !== undefined)?.marksAgree?.cylinder ?? 1,
  };
}

export function anyOn(state: PartState, written: readonly Place[] = []): boolean {
  if (written.length === 0) return state.on.some((each) => each !== OFF);
  return placesIn(state.part, written).some((i) => state.on[i] !== OFF);
}

export function allOn(state: PartState): boolean {
  return state.on.every((each) => each !== OFF);
}

/** The cover that keeps a part, or a mark of it, from being reached or seen. */
export function coverOf(state: State, part: string, mark?: string): PartState | undefined {
  for (const each of state.coveredBy.get(part) ?? []) {
    if (each.cover === part || (each.mark !== undefined && each.mark !== mark)) continue;
    const cover = state.parts.get(each.cover);
    if (cover !== undefined && !cover.lifted && allOn(cover)) return cover;
  }
  return undefined;
}

/** Whether all wheels with teeth and all chains and belts of a drive are on. */
export function isComplete(state: State, drive: DriveState): boolean {
  return (
    drive.parts.length > 0 &&
    drive.parts.every((name) => {
      const part = state.parts.get(name);
      return part !== undefined && anyOn(part);
    })
  );
}

/** The part that a shaft name stands for, by what it is fixed to. */
export function turningShaft(state: State, name: string): string {
  return shaftOf(state.view, name);
}

/** Says once that something can't be done because a part is not there. */
export function sayMissing(state: State, code: string, part: string, act: Act, message: Told): void {
  if (state.unsure || state.saidMissing.has(part) || state.ahead.expectedMissing.has(part)) return;
  if (!state.muted) state.saidMissing.add(part);
  say(state, code, act, message);
}

/** Says of a step once that it is done at the wrong time: what is on already, gone or covered in it is one fault. */
export function sayOfStep(
  state: State,
  code: string,
  act: Act,
  message: Told,
  related: RehearsalFinding['related'],
): void {
  const { name } = act.step;
  if (state.saidSteps.has(name)) return;
  if (!state.muted) state.saidSteps.add(name);
  say(state, code, act, message, { related });
}

/** What else may be said of a finding. */
export interface Extra {
  readonly related?: RehearsalFinding['related'];
  readonly missing?: boolean;
  readonly severity?: RehearsalFinding['severity'];
}

export function say(state: State, code: string, act: Act, message: Told, extra?: Extra, span: Span = act.span): void {
  if (!state.muted) sayAt(state, code, act.step.placed, span, message, extra);
}

/** Says something at a place in a declaration. */
export function sayAt(state: State, code: string, placed: Placed, span: Span, message: Told, extra: Extra = {}): void {
  const { related = [], missing = false, severity } = extra;
  state.findings.push({
    code,
    placed,
    span,
    message,
    related,
    missing,
    ...(severity === undefined ? {} : { severity }),
  });
}
