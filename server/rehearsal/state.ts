// The state of the engine in the head: what is on, how tight, what is held, pinned, drained, open, and where the drives stand. All that
// a job changes is here, as plain data. What an action does to it is in the files beside this one. What is known of the spec is asked of
// the view when it is wanted.

import type { Told } from '../../grammar/told.ts';
import type { Place, Span } from '../../grammar/tree.ts';
import type { Exact } from '../mechanics/exact.ts';
import { crankshaftOf, shaftOf, speedOf } from '../model/drive-sums.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import type { Placed } from '../model/placed.ts';
import type { Drive, Fastener, Part, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { Act } from './act.ts';
import { coversOf } from './at-the-bench.ts';
import { ByName, Listed, NameList, Names } from './by-name.ts';
import { DRIVE_FIELDS, type DriveState, newDrive } from './drive-state.ts';
import { FASTENER_FIELDS, type FastenerState, newFastener } from './fastener-state.ts';
import type { Foresight } from './foresight.ts';
import { gradedPart } from './graded.ts';
import { kindOf, type Ledger, newLedger } from './ledger.ts';
import { ASSUMED, newPart, OFF, ON, PART_FIELDS, type PartState } from './part-state.ts';
import { placesIn } from './places.ts';
import type { Plan } from './plan.ts';
import type { RehearsalFinding, Said } from './rehearsal-finding.ts';
import { newRunning, type Running } from './running.ts';
import { inOrder, type Linked, newParts, newThings, type Parts, type Things } from './things.ts';

/** What was done with a name, where, and since when it is otherwise. */
export interface Adjusted {
  readonly by: Act;
  readonly changedBy: Act | undefined;
  /** Where it was measured before, and not since. */
  readonly measuredBefore: Act | undefined;
}

/** What covers a part, or one mark of it. */
export interface Covering {
  readonly cover: string;
  readonly mark: string | undefined;
}

export interface State {
  readonly ledger: Ledger;
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
  readonly parts: Parts<PartState>;
  readonly fasteners: Things<FastenerState>;
  readonly drives: Things<DriveState>;
  readonly crankshaft: string | undefined;
  /** The turns of a shaft for one of the crankshaft; undefined for one that no drive turns. */
  readonly speeds: { get(shaft: string): Exact | undefined };
  /** By part: what covers it or a mark of it. */
  readonly coveredBy: { get(part: string): readonly Covering[] };
  /** By part: the fasteners that clamp it. */
  readonly clampedBy: Linked<FastenerState>;
  /** By part: the drives whose chain, belt or wheel it is. */
  readonly drivesOf: Linked<DriveState>;
  /** By shaft: the drives that have a wheel on it. */
  readonly drivesOn: Linked<DriveState>;
  readonly tensionerOf: Linked<DriveState>;
  /** By part: the drives of which it is a wheel, smooth ones too, or a tensioner. */
  readonly drivesRound: Linked<DriveState>;
  /** Adjusted limits, and those that later work has changed. */
  readonly adjusted: Listed<Adjusted>;
  /** Limits of several places: at which they were set or measured, as written, one list for each time. */
  readonly setAt: Listed<{ readonly places: readonly (readonly Place[])[]; readonly isAdjusted: boolean }>;
  /** Where limits were measured last. */
  readonly measuredOn: ByName<Act>;
  readonly drained: Listed<Act>;
  /** By place and kind of supply: where it was filled, as long as it was not drained. */
  readonly filled: Listed<Act>;
  /** Places that were drained, or came off. */
  readonly emptied: NameList;
  /** Places that a finding says were filled twice. */
  readonly saidFilled: Names;
  readonly disconnected: Listed<Act>;
  readonly plugged: Listed<Act>;
  /** Faces and holes under tape or film. */
  readonly masked: Listed<Act>;
  /** The place in hand, counted from 1, of a step that is done for each of so many; undefined in other steps. */
  turn: { readonly index: number; readonly of: number } | undefined;
  /** Parts of which a finding says that they go where they do not belong. */
  readonly saidElsewhere: Names;
  /** Parts that go on together, of which a finding says that they go on apart. */
  readonly saidTogether: Names;
  /** Parts whose absence is a finding already, until they go on. */
  readonly saidMissing: Names;
  /** Limits that were good for a part before this job took it off, with where it came off. */
  readonly stale: Listed<Act>;
  /** Steps of which a finding says that what they fit is on already, or what they take off is gone: they are done at the wrong time. */
  readonly saidSteps: Names;
  /** Fasteners that a finding says were not tight when something was measured. */
  readonly saidEarly: Names;
  /** Shafts that stand at their marks while nothing couples them. */
  readonly atMark: Names;
  /** Shafts that were set to their marks, and turned away from them while nothing coupled them. */
  readonly setAway: ByName<Act>;
  /** Shafts that were set to where their marks do not stand, while nothing coupled them. */
  readonly setElsewhere: ByName<Act>;
  /** The cylinder that angles are told from. */
  readonly tdcOf: number;
}

/** What no part is called: under it stands what covers any. */
const ANY_PART = '';

/** By name: what covers it, and what it is linked with; of two things with one name the first counts. */
const coveringsOf = keyed(
  (view) => view.parts,
  (view, part: Part): readonly Entry<Covering>[] => {
    const covers = view.things.get(part.name) === part ? coversOf(view, part) : [];
    return [...covers, ...(covers.length === 0 ? [] : [{ name: ANY_PART, feature: undefined }])].map(
      ({ name, feature }) => [name, { cover: part.name, mark: feature }],
    );
  },
);
export const clampsOn = keyed(
  (view) => view.fasteners,
  (view, fastener: Fastener) =>
    view.things.get(fastener.name) === fastener
      ? fastener.clamps.map(({ part }): Entry<string> => [part, fastener.name])
      : [],
);

/** Chains and belts of a drive. */
const loopsOfDrive = question((_view, drive: Drive): readonly string[] => drive.wraps.map((wrap) => wrap.part));

/** Chains, belts and wheels with teeth of a drive. A smooth idler is no wheel of it; a gear is one, whether or not its teeth are told. */
const partsOfDrive = question((view, drive: Drive): readonly string[] => {
  const meshed = new Set(drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]));
  const wheels = [...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)), ...meshed];
  const toothed = wheels.filter((name) => {
    const part = view.things.get(name);
    return part?.kind === 'part' && ((part.teeth ?? 0) > 0 || part.fixedTo !== undefined || meshed.has(name));
  });
  return [...new Set([...drive.wraps.map((wrap) => wrap.part), ...toothed])];
});

const byMember = (
  members: (view: View, drive: Drive) => readonly string[],
): ((view: View, name: string) => readonly string[]) =>
  keyed(
    (view) => view.drives,
    (view, drive: Drive) =>
      view.things.get(drive.name) === drive
        ? members(view, drive).map((name): Entry<string> => [name, drive.name])
        : [],
  );
const drivesWith = byMember(partsOfDrive);
const drivesOnShaft = byMember((view, drive) => [
  ...new Set(partsOfDrive(view, drive).map((name) => shaftOf(view, name))),
]);
const drivesTensionedBy = byMember((_view, drive) => drive.tensioners);

/** All that the bolts of a drive hold: its wheels, with teeth or without, and its tensioners. */
export const heldOfDrive = question((_view, drive: Drive): readonly string[] => [
  ...new Set([
    ...drive.wraps.flatMap((wrap) => wrap.wheels.map((wheel) => wheel.part)),
    ...drive.meshes.flatMap((mesh) => [mesh.first, mesh.second]),
    ...drive.tensioners,
  ]),
]);
const drivesHolding = byMember(heldOfDrive);

const cylinderOfAngles = question(
  (view, _all: 'drives'): number =>
    view.drives.find((drive) => drive.marksAgree !== undefined)?.marksAgree?.cylinder ?? 1,
);

/** How things stand as a job begins, by name; undefined where there is none of that name. */
const partsAt = (at: typeof OFF | typeof ON | typeof ASSUMED): ((view: View, name: string) => PartState | undefined) =>
  question((view, name: string) => {
    const part = view.things.get(name);
    if (part?.kind === 'grades') return newPart(gradedPart(view, part), at, true);
    return part?.kind === 'part' ? newPart(part, at) : undefined;
  });
const PARTS_AT = { [OFF]: partsAt(OFF), [ON]: partsAt(ON), [ASSUMED]: partsAt(ASSUMED) };

const fastenersAt = (isIn: boolean): ((view: View, name: string) => FastenerState | undefined) =>
  question((view, name: string) => {
    const fastener = view.things.get(name);
    return fastener?.kind === 'fastener' ? newFastener(fastener, view, isIn) : undefined;
  });
const fastenerIn = fastenersAt(true);
const fastenerOut = fastenersAt(false);

const driveAtRest = question((view, name: string): DriveState | undefined => {
  const drive = view.things.get(name);
  return drive?.kind === 'drive' ? newDrive(drive) : undefined;
});

const PARTS = kindOf(PART_FIELDS);
const FASTENERS = kindOf(FASTENER_FIELDS);
const DRIVES = kindOf(DRIVE_FIELDS);

/** The engine as a plan begins. */
export function beginOf(view: View, plan: Plan, file: string, ahead: Foresight): State {
  const at = plan.begins === 'whole' ? ON : plan.begins === 'unknown' ? ASSUMED : OFF;
  const ledger = newLedger();
  const partAt = (_view: View, name: string): PartState | undefined =>
    view.things.get(name)?.kind === 'grades' && !ahead.fitted.has(name) ? undefined : PARTS_AT[at](view, name);
  const parts = newParts(ledger, view, partAt, PARTS);
  const fasteners = newThings(ledger, view, 'fasteners', at === OFF ? fastenerOut : fastenerIn, FASTENERS);
  const drives = newThings(ledger, view, 'drives', driveAtRest, DRIVES);
  return {
    ledger,
    view,
    plan,
    file,
    findings: [],
    muted: false,
    ahead,
    get unsure() {
      return ahead.unsure;
    },
    running: newRunning(ledger, view, at !== OFF),
    parts,
    fasteners,
    drives,
    coveredBy: { get: (name) => coveringsOf(view, name) },
    clampedBy: { get: (name) => fasteners.among(clampsOn(view, name)) },
    drivesOf: { get: (name) => drives.among(drivesWith(view, name)) },
    drivesOn: { get: (shaft) => drives.among(drivesOnShaft(view, shaft)) },
    tensionerOf: { get: (name) => drives.among(drivesTensionedBy(view, name)) },
    drivesRound: { get: (name) => drives.among(drivesHolding(view, name)) },
    get crankshaft() {
      return crankshaftOf(view);
    },
    speeds: { get: (shaft) => speedOf(view, shaft) },
    adjusted: new Listed(ledger),
    setAt: new Listed(ledger),
    measuredOn: new ByName(ledger),
    drained: new Listed(ledger),
    filled: new Listed(ledger),
    emptied: new NameList(ledger),
    saidFilled: new Names(ledger),
    saidEarly: new Names(ledger),
    saidSteps: new Names(ledger),
    disconnected: new Listed(ledger),
    plugged: new Listed(ledger),
    masked: new Listed(ledger),
    saidElsewhere: new Names(ledger),
    saidTogether: new Names(ledger),
    saidMissing: new Names(ledger),
    stale: new Listed(ledger),
    turn: undefined,
    atMark: new Names(ledger),
    setAway: new ByName(ledger),
    setElsewhere: new ByName(ledger),
    get tdcOf() {
      return cylinderOfAngles(view, 'drives');
    },
  };
}

export function anyOn(state: PartState, written: readonly Place[] = []): boolean {
  if (written.length === 0) return state.on.some((each) => each !== OFF);
  return placesIn(state.part, written).some((i) => state.on[i] !== OFF);
}

/** Whether a part that is known is on nowhere. */
export function isOff(state: State, name: string): boolean {
  const part = state.parts.get(name);
  return part !== undefined && !anyOn(part);
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

/** What covers each part that is covered now and on, by their names, as written. Nobody may change what is looked at. */
export function coveredNow({ view, parts, coveredBy }: State): readonly (readonly [part: string, cover: string])[] {
  const all = [...new Set((coveredBy.get(ANY_PART) ?? []).map(({ cover }) => cover))];
  const covers = parts.seen(all).filter((each) => !each.lifted && allOn(each));
  const there = new Set(covers.map(({ part }) => part.name));
  const under = covers.flatMap(({ part }) => coversOf(view, part).map(({ name }) => name));
  return parts.seen(inOrder(view, 'parts', under)).flatMap((each) => {
    const { name } = each.part;
    const by = anyOn(each)
      ? coveredBy.get(name)?.find(({ cover, mark }) => cover !== name && mark === undefined && there.has(cover))
      : undefined;
    return by === undefined ? [] : [[name, by.cover] as const];
  });
}

/** Chains, belts and wheels with teeth of a drive. */
export const partsOf = (state: State, { drive }: DriveState): readonly string[] => partsOfDrive(state.view, drive);

/** Whether all wheels with teeth and all chains and belts of a drive are on. */
export function isComplete(state: State, drive: DriveState): boolean {
  const isOn = (name: string): boolean => {
    const part = state.parts.get(name);
    return part !== undefined && anyOn(part);
  };
  // What runs over the wheels first: where that is off, it is no matter which wheels there are.
  if (!loopsOfDrive(state.view, drive.drive).every(isOn)) return false;
  const parts = partsOf(state, drive);
  return parts.length > 0 && parts.every(isOn);
}

/** The part that a shaft name stands for, by what it is fixed to. */
export function turningShaft(state: State, name: string): string {
  return shaftOf(state.view, name);
}

/** Says once that something can't be done because a part is not there. */
export function sayMissing(state: State, code: string, part: string, act: Act, message: Told): void {
  if (state.saidMissing.has(part) || state.ahead.expectedMissing.has(part) || state.unsure) return;
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
