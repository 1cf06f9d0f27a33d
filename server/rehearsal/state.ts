// The state of the engine in the head: what is on, how tight, what is held, pinned, drained, open, and where the drives stand.
// What an action does to it is in the files beside this one.
import type { Place, Reference, Span, Statement } from '../../grammar/tree.ts';
import { type Exact, ZERO } from '../mechanics/exact.ts';
import { crankshaftOf, shaftOf, speedsOf } from '../model/drive-sums.ts';
import { pairedPlaces } from '../model/feature-places.ts';
import { takesIn } from '../model/measure.ts';
import type { Drive, Fastener, Limit, Part, Step, View } from '../model/view.ts';
import type { CrankAngle } from './crank-angle.ts';
import type { Plan } from './plan.ts';
import type { Findings, RehearsalFinding } from './rehearsal-finding.ts';

/** Where something was done. */
export interface Act {
  readonly step: Step;
  readonly statement: Statement;
  /** The target in the statement, or the statement itself. */
  readonly span: Span;
}

export const OFF = 0;
export const ON = 1;
/** Taken to be on, because nothing says how the engine stands. */
export const ASSUMED = 2;

export interface PartState {
  readonly part: Part;
  /** One for each place. */
  readonly on: number[];
  readonly fittedBy: (Act | undefined)[];
  /** The part that it was mated to, when it was fitted in this job. */
  mate: string | undefined;
  removedBy: Act | undefined;
  /** It has been off in this job and was not renewed since. */
  used: boolean;
  secured: boolean;
  heldBack: Act | undefined;
  pinned: Act | undefined;
  onTrial: Act | undefined;
  /** A finding says that it is in the way, so the rehearsal goes on as if it were not. */
  lifted: boolean;
  /** A finding says that nothing holds it back, or that its pin is in. */
  saidNotHeld: boolean;
  /** The first work by hand on it: oiled, sealed, looked at. */
  handledBy: Act | undefined;
}

export const OUT = -1;
export const LOOSE = 0;
export const SNUG = 1;
/** Stage n is n + SNUG; the last is FINAL. */
export const FINAL = 10_000;

export interface FastenerState {
  readonly fastener: Fastener;
  /** One for each of its `each`, else one. */
  readonly stages: number[];
  last: Act | undefined;
  loosenedBy: Act | undefined;
  mentioned: boolean;
  used: boolean;
  secured: boolean;
  /** A finding says that it still held what came off. */
  saidHolding: boolean;
  /** How often the engine was run since it was tightened, and for how many minutes. */
  runs: number;
  ran: number;
}

export interface DriveState {
  readonly drive: Drive;
  /** Chains, belts and wheels with teeth. */
  readonly parts: readonly string[];
  /** The last work on it in this job. */
  disturbedBy: Act | undefined;
  proved: boolean;
  /** A finding says that it was confirmed before it was whole: that it is not proved is the same fault. */
  saidNotWhole: boolean;
  /** Degrees of the crankshaft turned since, both ways added up. */
  turned: Exact;
  /** Degrees of the crankshaft from where its marks agree; undefined where that is not known. */
  offset: Exact | undefined;
  /** Degrees of the crankshaft since the marked links stood at their marks; undefined where that is not known. */
  linkOffset: Exact | undefined;
  aligned: boolean;
}

export interface State {
  readonly view: View;
  readonly plan: Plan;
  readonly file: string;
  readonly findings: Findings;
  /** Nothing is said while this is set. */
  muted: boolean;
  /** Something could not be read or is not known by name: what is missing may only be unreadable. */
  unsure: boolean;
  readonly parts: Map<string, PartState>;
  readonly fasteners: Map<string, FastenerState>;
  readonly drives: Map<string, DriveState>;
  readonly crankshaft: string | undefined;
  readonly speeds: ReadonlyMap<string, Exact>;
  /** By part: what covers it or a mark of it. */
  readonly coveredBy: ReadonlyMap<string, readonly { readonly cover: PartState; readonly mark: string | undefined }[]>;
  /** By part: the fasteners that clamp it. */
  readonly clampedBy: ReadonlyMap<string, readonly FastenerState[]>;
  /** By part: the drives whose chain, belt or wheel it is. */
  readonly drivesOf: ReadonlyMap<string, readonly DriveState[]>;
  readonly tensionerOf: ReadonlyMap<string, readonly DriveState[]>;
  /** Adjusted limits, and those that later work has changed. */
  readonly adjusted: Map<string, { readonly limit: Limit; readonly by: Act; changedBy: Act | undefined }>;
  readonly drained: Map<string, Act>;
  /** By place and kind of supply: where it was filled, as long as it was not drained. */
  readonly filled: Map<string, Act>;
  /** Places that were drained, or came off. */
  readonly emptied: Set<string>;
  /** Places that a finding says were filled twice. */
  readonly saidFilled: Set<string>;
  readonly disconnected: Map<string, Act>;
  readonly plugged: Map<string, Act>;
  /** Sealed in this sequence or the one before and not yet cured: seconds that are still to wait, and whether a sequence has begun since. */
  readonly curing: { readonly supply: string; readonly by: Act; left: number; isBefore: boolean }[];
  /** The place in hand, counted from 1, of a step that is done for each of so many; undefined in other steps. */
  turn: { readonly index: number; readonly of: number } | undefined;
  saidOnOrder: boolean;
  readonly saidTogether: Set<readonly string[]>;
  /** Parts whose absence will be a finding at the end: nothing more is said of it. */
  readonly expectedMissing: Set<string>;
  /** Parts whose absence is a finding already, until they go on. */
  readonly saidMissing: Set<string>;
  /** Fasteners that some step of the job tightens or snugs. */
  readonly tightenedInJob: Set<string>;
  /** Limits that were good for a part before this job took it off, with where it came off. */
  readonly stale: Map<string, Act>;
  /** Steps of which a finding says that what they fit is on already, or what they take off is gone: they are done at the wrong time. */
  readonly saidSteps: Set<string>;
  /** Fasteners that a finding says were not tight when something was measured. */
  readonly saidEarly: Set<string>;
  hasRun: boolean;
  oiled: boolean;
  cooled: boolean;
  primed: boolean;
  /** Where the crankshaft stands, told from top dead centre of `tdcOf`; undefined where nobody knows. */
  crank: CrankAngle | undefined;
  /** Shafts that stand at their marks while nothing couples them. */
  readonly atMark: Set<string>;
  /** Fasteners that hold a wheel on a turning shaft, or a cap over it, with those. */
  readonly holdsTurning: readonly { readonly fastener: FastenerState; readonly turning: readonly PartState[] }[];
  /** The cylinder that angles are told from. */
  readonly tdcOf: number;
}

function pushTo<value>(map: Map<string, value[]>, key: string, value: value): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else list.push(value);
}

/** How many of its `each` a fastener has, and 1 without one. */
function groupsOf(fastener: Fastener, view: View): number {
  const each = fastener.each === undefined ? undefined : view.things.get(fastener.each);
  return each?.kind === 'part' ? Math.max(1, each.count) : 1;
}

/** Caps that the crankshaft runs in. */
const BEARING_CAP = /(^|-)(main|rod|connecting-rod|big-end|bearing)-cap$/i;

/** The fasteners that clamp something fixed to a shaft that a drive turns, or a cap that the crankshaft runs in. */
function holdersOf(
  view: View,
  fasteners: Iterable<FastenerState>,
  parts: ReadonlyMap<string, PartState>,
  speeds: ReadonlyMap<string, Exact>,
): State['holdsTurning'] {
  return [...fasteners].flatMap((fastener) => {
    const turning = fastener.fastener.clamps.flatMap((clamp) => {
      const part = parts.get(clamp.part);
      if (part === undefined) return [];
      const isFixed = part.part.fixedTo !== undefined && speeds.has(shaftOf(view, clamp.part));
      return isFixed || BEARING_CAP.test(clamp.part) ? [part] : [];
    });
    return turning.length === 0 ? [] : [{ fastener, turning }];
  });
}

/** Most things are there once: a short list is made far sooner than an array of numbers of one size. */
function filled(count: number, value: number): number[] {
  return count === 1 ? [value] : new Array<number>(count).fill(value);
}

/** Parts that a cooling system with water has, and no other. */
const COOLED = /water-?pump|coolant-pump|thermostat|radiator/i;

/** The engine as a plan begins. */
export function beginOf(view: View, plan: Plan, file: string, findings: Findings): State {
  const at = plan.begins === 'whole' ? ON : plan.begins === 'unknown' ? ASSUMED : OFF;
  const parts = new Map<string, PartState>();
  const coveredBy = new Map<string, { cover: PartState; mark: string | undefined }[]>();
  for (const part of view.parts) {
    // Of two with one name the first counts.
    if (view.things.get(part.name) !== part) continue;
    const state: PartState = {
      part,
      on: filled(part.count, at),
      fittedBy: [],
      mate: undefined,
      removedBy: undefined,
      used: false,
      secured: at !== OFF,
      heldBack: undefined,
      pinned: undefined,
      onTrial: undefined,
      lifted: false,
      saidNotHeld: false,
      handledBy: undefined,
    };
    parts.set(part.name, state);
    for (const cover of part.covers) pushTo(coveredBy, cover.part, { cover: state, mark: cover.mark });
  }
  const fasteners = new Map<string, FastenerState>();
  const clampedBy = new Map<string, FastenerState[]>();
  for (const fastener of view.fasteners) {
    if (view.things.get(fastener.name) !== fastener) continue;
    const state: FastenerState = {
      fastener,
      stages: filled(groupsOf(fastener, view), at === OFF ? OUT : FINAL),
      last: undefined,
      loosenedBy: undefined,
      mentioned: false,
      used: false,
      secured: at !== OFF,
      saidHolding: false,
      runs: 0,
      ran: 0,
    };
    fasteners.set(fastener.name, state);
    for (const clamp of fastener.clamps) pushTo(clampedBy, clamp.part, state);
  }
  const drives = new Map<string, DriveState>();
  const drivesOf = new Map<string, DriveState[]>();
  const tensionerOf = new Map<string, DriveState[]>();
  for (const drive of view.drives) {
    const wheels = [
      ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
      ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
    ];
    const toothed = wheels.filter((name) => (parts.get(name)?.part.teeth ?? 0) > 0);
    const state: DriveState = {
      drive,
      parts: [...new Set([...drive.wraps.map((wrap) => wrap.part), ...toothed])],
      disturbedBy: undefined,
      proved: false,
      saidNotWhole: false,
      turned: ZERO,
      offset: undefined,
      linkOffset: undefined,
      aligned: false,
    };
    drives.set(drive.name, state);
    for (const name of state.parts) pushTo(drivesOf, name, state);
    for (const name of drive.tensioners) pushTo(tensionerOf, name, state);
  }
  const speeds = view.drives.length === 0 ? new Map<string, Exact>() : (speedsOf(view)?.speeds ?? new Map());
  return {
    view,
    plan,
    file,
    findings,
    muted: false,
    unsure: plan.unsure,
    parts,
    fasteners,
    drives,
    coveredBy,
    clampedBy,
    drivesOf,
    tensionerOf,
    crankshaft: crankshaftOf(view),
    speeds,
    adjusted: new Map(),
    drained: new Map(),
    filled: new Map(),
    emptied: new Set(),
    saidFilled: new Set(),
    saidEarly: new Set(),
    saidSteps: new Set(),
    hasRun: false,
    disconnected: new Map(),
    plugged: new Map(),
    saidTogether: new Set(),
    expectedMissing: new Set(),
    saidMissing: new Set(),
    tightenedInJob: new Set(),
    stale: new Map(),
    curing: [],
    turn: undefined,
    saidOnOrder: false,
    oiled: at !== OFF,
    cooled: at !== OFF || !view.parts.some((part) => COOLED.test(part.name)),
    primed: at !== OFF || !view.parts.some((part) => /oil[-_]?pump/i.test(part.name)),
    crank: undefined,
    atMark: new Set(),
    holdsTurning: holdersOf(view, fasteners.values(), parts, speeds),
    tdcOf: view.drives.find((drive) => drive.marksAgree !== undefined)?.marksAgree?.cylinder ?? 1,
  };
}

const THE_ONLY_ONE: readonly number[] = [0];

/** The numbers (from 0) of the places that are written, all of them where none is. */
export function placesIn(part: Part, written: readonly Place[]): readonly number[] {
  if (written.length === 0 && part.count === 1) return THE_ONLY_ONE;
  const found: number[] = [];
  let i = 0;
  for (const group of part.places) {
    for (let number = 1; number <= group.count; number += 1, i += 1) {
      if (written.length === 0 || written.some((place) => takesIn(place, { name: group.name, number }))) found.push(i);
    }
  }
  return found;
}

/**
 * The numbers (from 0) of the places that an action means here: those that are written, and of them those that go with the place in hand.
 * A part whose places do not pair with it is meant as a whole, each time.
 */
export function placesNow({ turn }: State, part: Part, written: readonly Place[]): readonly number[] {
  const all = placesIn(part, written);
  if (turn === undefined || all.length < 2 || written.some((place) => place.from !== undefined)) return all;
  let first = 0;
  const groups = part.places.map(({ count }) => {
    first += count;
    return all.filter((i) => i >= first - count && i < first);
  });
  const named = groups.filter((group) => group.length > 0);
  // Upper and lower shells, four of each, go with four rods number by number.
  const lists = named.length > 1 && named.every((group) => group.length === turn.of) ? named : [all];
  const paired = lists.flatMap((list) => pairedPlaces(turn, list.length).flatMap((number) => list[number - 1] ?? []));
  return paired.length === 0 ? all : paired;
}

/** `upper 3`, `left`, `4`, or nothing for a part of which there is one. */
export function placeName(part: Part, index: number): string {
  let i = index;
  for (const group of part.places) {
    if (i < group.count)
      return [group.name, group.count > 1 ? String(i + 1) : undefined].filter((each) => each !== undefined).join(' ');
    i -= group.count;
  }
  return '';
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
  return state.coveredBy
    .get(part)
    ?.find(
      (each) =>
        (each.mark === undefined || each.mark === mark) &&
        each.cover.part.name !== part &&
        !each.cover.lifted &&
        allOn(each.cover),
    )?.cover;
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
export function sayMissing(state: State, code: string, part: string, act: Act, message: string): void {
  if (state.unsure || state.saidMissing.has(part) || state.expectedMissing.has(part)) return;
  if (!state.muted) state.saidMissing.add(part);
  say(state, code, act, message);
}

/** Says of a step once that it is done at the wrong time: what is on already, gone or covered in it is one fault. */
export function sayOfStep(
  state: State,
  code: string,
  act: Act,
  message: string,
  related: RehearsalFinding['related'],
): void {
  const { name } = act.step;
  if (state.saidSteps.has(name)) return;
  if (!state.muted) state.saidSteps.add(name);
  say(state, code, act, message, { related });
}

export function say(
  state: State,
  code: string,
  act: Act,
  message: string,
  extra?: Parameters<Findings['say']>[4],
  span: Span = act.span,
): void {
  if (!state.muted) state.findings.say(code, act.step.placed, span, message, extra);
}

/** Points at where something was done, if it was in this job. */
export function pointAt(act: Act | undefined, message: string): RehearsalFinding['related'] {
  return act === undefined ? [] : [{ placed: act.step.placed, span: act.span, message }];
}

export function targetAct(step: Step, statement: Statement, reference: Reference): Act {
  return { step, statement, span: { start: reference.start, end: reference.end } };
}
