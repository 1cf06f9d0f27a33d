// What is left undone when a job ends: parts off, fasteners not tight, things held, drained or open, timing not proved, limits not measured.
import type { Span } from '../../grammar/tree.ts';
import type { Placed } from '../model/placed.ts';
import type { Declared } from '../model/view.ts';
import { inPlaces, inWords } from './in-words.ts';
import { assembles, type Plan } from './plan.ts';
import {
  type Act,
  anyOn,
  type FastenerState,
  FINAL,
  isComplete,
  OFF,
  OUT,
  type PartState,
  pointAt,
  SNUG,
  type State,
} from './state.ts';

function nameOf(thing: Declared): Span {
  return thing.declaration.name ?? thing.declaration.wordSpan;
}

function sayAt(
  state: State,
  code: string,
  placed: Placed,
  span: Span,
  message: string,
  related: ReturnType<typeof pointAt> = [],
): void {
  state.findings.say(code, placed, span, message, { missing: true, related });
}

/** At the declaration where that is in the file, else where it was last worked on. */
function sayOf(state: State, code: string, thing: Declared, act: Act | undefined, message: string): void {
  if (thing.placed.file === state.file)
    sayAt(state, code, thing.placed, nameOf(thing), message, pointAt(act, 'last worked on here'));
  else if (act !== undefined) sayAt(state, code, act.step.placed, act.span, message);
}

/** What any sequence of the spec does with a name, whether or not this job has it. */
export interface Mentions {
  readonly fitted: ReadonlySet<string>;
  readonly measured: ReadonlySet<string>;
  /** Names of rows in tables of grades: of these one is taken. */
  readonly grades: ReadonlySet<string>;
}

/** By the step that took them off: parts that are never put back. */
type Gone = Map<Act['step'], { by: Act; readonly names: string[] }>;

function sayGone(state: State, gone: Gone): void {
  for (const { by, names } of gone.values()) {
    const [come, are, them] = names.length === 1 ? ['comes', 'is', 'it'] : ['come', 'are', 'them'];
    sayAt(
      state,
      'sequence/never-fitted',
      by.step.placed,
      by.span,
      `${inWords(names)} ${come} off here and ${are} never put back. Fit ${them} in a later step.`,
    );
  }
}

function partLeft(state: State, part: PartState, mentions: Mentions, gone: Gone): void {
  const { name } = part.part;
  if (part.part.broken) return;
  const off = [...part.on.keys()].filter((i) => part.on[i] === OFF);
  if (off.length === 0) return;
  const all = off.length === part.on.length;
  const which = all ? name : `${name} ${inPlaces(part.part, off)}`;
  if (part.removedBy !== undefined) {
    const others = gone.get(part.removedBy.step);
    if (others === undefined) gone.set(part.removedBy.step, { by: part.removedBy, names: [which] });
    else {
      others.names.push(which);
      if (part.removedBy.span.start < others.by.span.start) others.by = part.removedBy;
    }
    return;
  }
  if (state.plan.begins !== 'bare' || mentions.grades.has(name)) return;
  if (part.part.placed.file !== state.file) {
    const { handledBy } = part;
    if (all && handledBy !== undefined && !mentions.fitted.has(name))
      sayAt(
        state,
        'sequence/never-fitted',
        handledBy.step.placed,
        handledBy.span,
        `${name} is got ready or looked at here, and no step fits it. Fit it where it goes on.`,
      );
    return;
  }
  if (all && mentions.fitted.has(name)) return;
  sayAt(
    state,
    'sequence/never-fitted',
    part.part.placed,
    nameOf(part.part),
    `No step fits ${which}. Fit it where it goes on, or say starts-with if it is there from the beginning.`,
  );
}

/** Whether all that it clamps is on. */
function isThere(state: State, each: FastenerState): boolean {
  return each.fastener.clamps.every((clamp) => {
    const part = state.parts.get(clamp.part);
    return part !== undefined && anyOn(part);
  });
}

function fastenerLeft(state: State, each: FastenerState): void {
  const { fastener } = each;
  if (fastener.broken) return;
  const lowest = each.stages.reduce((low, stage) => Math.min(low, stage), FINAL);
  const clamped = fastener.clamps.map((clamp) => state.parts.get(clamp.part));
  if (!isThere(state, each)) return;
  if (lowest === FINAL) {
    if (fastener.securedBy !== undefined && !each.secured && each.last !== undefined)
      sayAt(
        state,
        'sequence/not-secured',
        each.last.step.placed,
        each.last.span,
        `${fastener.name} is tightened here and never secured: it has a ${fastener.securedBy.replace('-', ' ')}. Say secure ${fastener.name} after it.`,
      );
    return;
  }
  if (lowest > SNUG && each.last !== undefined) {
    const done = lowest - SNUG;
    sayAt(
      state,
      'sequence/stage-left',
      each.last.step.placed,
      each.last.span,
      `${fastener.name} stops at stage ${done} of ${fastener.stages.length}. Tighten it to the last stage.`,
    );
    return;
  }
  if (!each.mentioned && fastener.clamps.length === 0) return;
  if (fastener.stages.length === 0 && fastener.joint === 'stud') return;
  if (each.loosenedBy !== undefined) {
    if (state.saidEarly.has(fastener.name)) return;
    const { step, span } = each.loosenedBy;
    sayAt(
      state,
      'sequence/never-tightened',
      step.placed,
      span,
      `${fastener.name} ${each.loosenedBy.statement.word === 'loosen' ? 'is loosened' : 'comes out'} here and never tightened again.`,
    );
    return;
  }
  const fitted = clamped
    .map((part) => part?.fittedBy.find((act) => act !== undefined))
    .find((act) => act !== undefined);
  if (!each.mentioned && fitted === undefined) return;
  const partly = each.stages.some((stage) => stage === FINAL)
    ? 'not all tightened'
    : lowest === OUT
      ? 'never tightened'
      : 'snug only and never tightened';
  sayOf(
    state,
    'sequence/never-tightened',
    fastener,
    each.last ?? fitted,
    `${fastener.name} is ${partly}. Tighten it in a step, to its last stage.`,
  );
}

/** A fastener that was never tightened when the engine is run, said once and then taken as tight. Later stages may come after a warm-up. */
export function looseAtRun(state: State, act: Act): void {
  if (state.muted || state.unsure || act.step.trial) return;
  for (const fastener of state.fasteners.values()) {
    if (fastener.stages.every((stage) => stage > SNUG)) continue;
    fastenerLeft(state, fastener);
    if (!isThere(state, fastener)) continue;
    fastener.stages.fill(FINAL);
    fastener.secured = true;
  }
}

function drivesLeft(state: State): void {
  for (const each of state.drives.values()) {
    if (
      each.disturbedBy === undefined ||
      each.proved ||
      each.saidNotWhole ||
      each.drive.broken ||
      !isComplete(state, each)
    )
      continue;
    // A tensioner that is still held back is the finding; the proof comes after it.
    if (each.drive.tensioners.some((name) => state.parts.get(name)?.heldBack !== undefined)) continue;
    const turns = state.view.engine?.cycle === 'two-stroke' ? 'one turn' : 'two turns';
    sayOf(
      state,
      'sequence/timing-not-proved',
      each.drive,
      each.disturbedBy,
      `The timing is never proved after the last work on ${each.drive.name}. Turn the crankshaft ${turns} by hand, then confirm ${each.drive.name} by marks.`,
    );
  }
}

function limitsLeft(state: State, mentions: Mentions): void {
  for (const limit of state.view.limits) {
    if (
      state.plan.begins !== 'bare' ||
      !limit.measured ||
      limit.broken ||
      limit.placed.file !== state.file ||
      mentions.measured.has(limit.name)
    )
      continue;
    const of = (limit.of ?? limit.each)?.owner.text;
    const part = of === undefined ? undefined : state.parts.get(of);
    if (part !== undefined && !anyOn(part)) continue;
    sayAt(
      state,
      'sequence/not-measured',
      limit.placed,
      nameOf(limit),
      `No step measures ${limit.name}. Say measure ${limit.name} while it can be reached.`,
    );
  }
}

/** Minutes of running after which a fastener is tightened again; undefined where that is no matter of this job. */
function minutesBefore(after: string | undefined): number | undefined {
  if (after === undefined || /\b(km|mi|miles?|kilomet\w+)\b/i.test(after)) return undefined;
  const told = /(\d+)?\s*(hours?|h|min|minutes?)\b/i.exec(after);
  if (told !== null) return Number(told[1] ?? 1) * (/^h/i.test(told[2] ?? '') ? 60 : 1);
  return /\b(run|start|warm|heat|hot)/i.test(after) ? 0 : undefined;
}

/** Fasteners that are to be tightened again after a run that this job has, and are not. */
function retorqueLeft(state: State): void {
  for (const { fastener, last, runs, ran } of state.fasteners.values()) {
    const again = fastener.statements.find((each) => each.kind === 'retorque');
    if (again?.kind !== 'retorque' || last === undefined || runs === 0 || last.statement.word !== 'tighten') continue;
    const after = again.after?.value;
    const minutes = minutesBefore(after);
    if (minutes === undefined || ran < minutes) continue;
    sayAt(
      state,
      'sequence/not-retorqued',
      last.step.placed,
      last.span,
      `${fastener.name} is tightened here and has to be tightened again after ${after}. The engine is run, and no step does it: say tighten ${fastener.name} after the run.`,
      [{ placed: fastener.placed, span: again, message: 'to be tightened again' }],
    );
  }
}

/** Limits that the job has made uncertain: at the place where the part went back. */
function staleLeft(state: State): void {
  for (const [name, removed] of state.stale) {
    const limit = state.view.things.get(name);
    if (limit?.kind !== 'limit') continue;
    const part = state.parts.get((limit.of ?? limit.each)?.owner.text ?? '');
    const fitted = part?.fittedBy.find((act) => act !== undefined);
    if (part === undefined || fitted === undefined || !anyOn(part)) continue;
    sayAt(
      state,
      'sequence/not-measured',
      fitted.step.placed,
      fitted.span,
      `${part.part.name} came off in step ${removed.step.name} and goes back here, and ${name} is not measured after. Say measure ${name} while it can be reached.`,
      pointAt(removed, 'it came off here'),
    );
  }
}

function openLeft(state: State): void {
  for (const [name, act] of state.drained)
    if (!state.saidFilled.has(name))
      sayAt(state, 'sequence/left-open', act.step.placed, act.span, `${name} is drained here and never filled again.`);
  for (const [name, act] of state.disconnected)
    sayAt(
      state,
      'sequence/left-open',
      act.step.placed,
      act.span,
      `${name} is disconnected here and never connected again.`,
    );
  for (const [name, act] of state.plugged)
    sayAt(state, 'sequence/left-open', act.step.placed, act.span, `${name} is plugged here and never unplugged.`);
}

/** Whether the engine is put to use when the job is done: what is held, pinned or open then is left so. On the stand it may stay. */
function isHandedOver(plan: Plan): boolean {
  const last = plan.sequences[plan.sequences.length - 1];
  return last?.phase === 'install' || last?.phase === 'run-in';
}

/** Shafts that one action pins and none unpins. */
function stillPinned(state: State, parts: readonly PartState[]): void {
  const by = parts[0]?.pinned;
  if (by === undefined) return;
  const names = parts.map(({ part }) => part.name);
  const [are, pin, comes] = names.length === 1 ? ['is', 'the pin', 'comes'] : ['are', 'the pins', 'come'];
  sayAt(
    state,
    'sequence/still-pinned',
    by.step.placed,
    by.span,
    `${inWords(names)} ${are} pinned here and ${pin} never ${comes} out. Say unpin ${names.join(', ')} before the engine is turned.`,
  );
}

/** Says what is left at the end of a job. Silent where something could not be read. */
export function atTheEnd(state: State, mentions: Mentions): void {
  const assembled = assembles(state.plan);
  if (state.unsure || (!assembled && !isHandedOver(state.plan))) return;
  const gone: Gone = new Map();
  const pinnedIn = new Map<Act['statement'], readonly PartState[]>();
  for (const part of state.parts.values()) {
    const { name } = part.part;
    if (assembled) partLeft(state, part, mentions, gone);
    if (part.heldBack !== undefined && anyOn(part) && !part.saidNotHeld)
      sayAt(
        state,
        'sequence/still-held-back',
        part.heldBack.step.placed,
        part.heldBack.span,
        `${name} is held back here and never released. Release it before the engine is turned.`,
      );
    if (part.pinned !== undefined)
      pinnedIn.set(part.pinned.statement, [...(pinnedIn.get(part.pinned.statement) ?? []), part]);
    const fitted = part.fittedBy.find((act) => act !== undefined);
    if (part.part.securedBy !== undefined && !part.secured && fitted !== undefined && anyOn(part))
      sayAt(
        state,
        'sequence/not-secured',
        fitted.step.placed,
        fitted.span,
        `${name} goes on here and is never secured: it has a ${part.part.securedBy.replace('-', ' ')}. Say secure ${name} after it.`,
      );
    if (part.onTrial !== undefined && anyOn(part))
      sayAt(
        state,
        'sequence/left-open',
        part.onTrial.step.placed,
        part.onTrial.span,
        `${name} goes on for a trial here and never comes off again.`,
      );
  }
  sayGone(state, gone);
  for (const parts of pinnedIn.values()) stillPinned(state, parts);
  for (const fastener of state.fasteners.values()) fastenerLeft(state, fastener);
  retorqueLeft(state);
  drivesLeft(state);
  if (assembled) limitsLeft(state, mentions);
  staleLeft(state);
  openLeft(state);
  for (const { limit, by, changedBy } of state.adjusted.values()) {
    if (changedBy !== undefined)
      sayAt(
        state,
        'sequence/disturbed',
        changedBy.step.placed,
        changedBy.span,
        `${limit.name} was adjusted in step ${by.step.name}, and this changes it. Adjust it again afterwards.`,
        pointAt(by, 'adjusted here'),
      );
  }
}
