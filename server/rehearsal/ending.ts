// What is left undone when a job ends: parts off, fasteners not tight, things held, drained or open, timing not proved, limits not measured.
import type { Span } from '../../grammar/tree.ts';
import type { Placed } from '../model/placed.ts';
import type { Declared, Limit } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import { type FastenerState, FINAL, OUT, SNUG } from './fastener-state.ts';
import { gradesOf } from './foresight.ts';
import { inPlaces, inWords } from './in-words.ts';
import { OFF, type PartState } from './part-state.ts';
import { assembles, type Plan } from './plan.ts';
import { anyOn, isComplete, type State, sayAt } from './state.ts';

function nameOf(thing: Declared): Span {
  return thing.declaration.name ?? thing.declaration.wordSpan;
}

function sayLeft(
  state: State,
  code: string,
  placed: Placed,
  span: Span,
  message: string,
  related: ReturnType<typeof pointAt> = [],
): void {
  sayAt(state, code, placed, span, message, { missing: true, related });
}

/** Says of one of the things that share an act what `tell` says of all of them. */
function sayShared(
  state: State,
  code: string,
  act: Act,
  name: string,
  by: object,
  tell: (names: readonly string[]) => string,
): void {
  const { placed } = act.step;
  state.findings.push({
    code,
    placed,
    span: act.span,
    message: tell([name]),
    related: [],
    missing: true,
    share: { by, name, tell },
  });
}

/** At the declaration where that is in the file, else where it was last worked on. */
function sayOf(state: State, code: string, thing: Declared, act: Act | undefined, message: string): void {
  if (thing.placed.file === state.file)
    sayLeft(state, code, thing.placed, nameOf(thing), message, pointAt(act, 'last worked on here'));
  else if (act !== undefined) sayLeft(state, code, act.step.placed, act.span, message);
}

/** The places of a part that are off when all is done; none of one that could not be read. */
function placesOff({ part, on }: PartState): readonly number[] {
  return part.broken || !on.includes(OFF) ? [] : [...on.keys()].filter((i) => on[i] === OFF);
}

/** A part that came off and is off still; one finding for all that one step took off. */
function sayGone(state: State, part: PartState, by: Act, off: readonly number[]): void {
  const tell = (names: readonly string[]): string => {
    const [come, are, them] = names.length === 1 ? ['comes', 'is', 'it'] : ['come', 'are', 'them'];
    return `${inWords(names)} ${come} off here and ${are} never put back. Fit ${them} in a later step.`;
  };
  sayShared(state, 'sequence/never-fitted', by, nameWith(part, off), by.step, tell);
}

/** A part, with the places that are meant where it is not all of them. */
function nameWith({ part, on }: PartState, places: readonly number[]): string {
  return places.length === on.length ? part.name : `${part.name} ${inPlaces(part, places)}`;
}

function partLeft(state: State, part: PartState): void {
  const { name } = part.part;
  const off = placesOff(part);
  if (off.length > 0 && part.removedBy !== undefined) sayGone(state, part, part.removedBy, off);
  if (off.length === 0 || part.removedBy !== undefined || state.plan.begins !== 'bare') return;
  if (gradesOf(state.view).has(name)) return;
  const all = off.length === part.on.length;
  if (part.part.placed.file !== state.file) {
    const { handledBy } = part;
    if (all && handledBy !== undefined && !state.ahead.fitted.has(name))
      sayLeft(
        state,
        'sequence/never-fitted',
        handledBy.step.placed,
        handledBy.span,
        `${name} is got ready or looked at here, and no step fits it. Fit it where it goes on.`,
      );
    return;
  }
  if (all && state.ahead.fitted.has(name)) return;
  sayLeft(
    state,
    'sequence/never-fitted',
    part.part.placed,
    nameOf(part.part),
    `No step fits ${nameWith(part, off)}. Fit it where it goes on, or say starts-with if it is there from the beginning.`,
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
      sayLeft(
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
    sayLeft(
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
    sayLeft(
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

/** Limits that a first build has to measure, of this file. */
function toMeasure({ view, plan, file }: State): readonly Limit[] {
  if (plan.begins !== 'bare') return [];
  return view.limits.filter((limit) => limit.measured && !limit.broken && limit.placed.file === file);
}

function limitLeft(state: State, limit: Limit): void {
  if (state.ahead.measured.has(limit.name)) return;
  const of = (limit.of ?? limit.each)?.owner.text;
  const part = of === undefined ? undefined : state.parts.get(of);
  if (part !== undefined && !anyOn(part)) return;
  sayLeft(
    state,
    'sequence/not-measured',
    limit.placed,
    nameOf(limit),
    `No step measures ${limit.name}. Say measure ${limit.name} while it can be reached.`,
  );
}

/** Minutes of running after which a fastener is tightened again; undefined where that is no matter of this job. */
function minutesBefore(after: string | undefined): number | undefined {
  if (after === undefined || /\b(km|mi|miles?|kilomet\w+)\b/i.test(after)) return undefined;
  const told = /(\d+)?\s*(hours?|h|min|minutes?)\b/i.exec(after);
  if (told !== null) return Number(told[1] ?? 1) * (/^h/i.test(told[2] ?? '') ? 60 : 1);
  return /\b(run|start|warm|heat|hot)/i.test(after) ? 0 : undefined;
}

/** A fastener that is to be tightened again after a run that this job has, and is not. */
function retorqueLeft(state: State, { fastener, last, runs, ran }: FastenerState): void {
  if (last === undefined || runs === 0 || last.statement.word !== 'tighten') return;
  const again = fastener.statements.find((each) => each.kind === 'retorque');
  if (again?.kind !== 'retorque') return;
  const after = again.after?.value;
  const minutes = minutesBefore(after);
  if (minutes === undefined || ran < minutes) return;
  sayLeft(
    state,
    'sequence/not-retorqued',
    last.step.placed,
    last.span,
    `${fastener.name} is tightened here and has to be tightened again after ${after}. The engine is run, and no step does it: say tighten ${fastener.name} after the run.`,
    [{ placed: fastener.placed, span: again, message: 'to be tightened again' }],
  );
}

/** Limits that the job has made uncertain: at the place where the part went back. */
function staleLeft(state: State): void {
  for (const [name, removed] of state.stale.entries()) {
    const limit = state.view.things.get(name);
    if (limit?.kind !== 'limit') continue;
    const part = state.parts.get((limit.of ?? limit.each)?.owner.text ?? '');
    const fitted = part?.fittedBy.find((act) => act !== undefined);
    if (part === undefined || fitted === undefined || !anyOn(part)) continue;
    sayLeft(
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
  for (const [name, act] of state.drained.entries())
    if (!state.saidFilled.has(name))
      sayLeft(
        state,
        'sequence/left-open',
        act.step.placed,
        act.span,
        `${name} is drained here and never filled again.`,
      );
  for (const [name, act] of state.disconnected.entries())
    sayLeft(
      state,
      'sequence/left-open',
      act.step.placed,
      act.span,
      `${name} is disconnected here and never connected again.`,
    );
  for (const [name, act] of state.plugged.entries())
    sayLeft(state, 'sequence/left-open', act.step.placed, act.span, `${name} is plugged here and never unplugged.`);
}

/** Whether the engine is put to use when the job is done: what is held, pinned or open then is left so. On the stand it may stay. */
function isHandedOver(plan: Plan): boolean {
  const last = plan.sequences[plan.sequences.length - 1];
  return last?.phase === 'install' || last?.phase === 'run-in';
}

/** A shaft that an action pins and none unpins; one finding for all that one action pins. */
function sayPinned(state: State, { part }: PartState, by: Act): void {
  const tell = (names: readonly string[]): string => {
    const [are, pin, comes] = names.length === 1 ? ['is', 'the pin', 'comes'] : ['are', 'the pins', 'come'];
    return `${inWords(names)} ${are} pinned here and ${pin} never ${comes} out. Say unpin ${names.join(', ')} before the engine is turned.`;
  };
  sayShared(state, 'sequence/still-pinned', by, part.name, by.statement, tell);
}

/** What is left of one part: off, held back, not secured, on for a trial. */
function ofPart(state: State, part: PartState): void {
  const { name } = part.part;
  if (assembles(state.plan)) partLeft(state, part);
  if (part.heldBack !== undefined && anyOn(part) && !part.saidNotHeld)
    sayLeft(
      state,
      'sequence/still-held-back',
      part.heldBack.step.placed,
      part.heldBack.span,
      `${name} is held back here and never released. Release it before the engine is turned.`,
    );
  if (part.pinned !== undefined) sayPinned(state, part, part.pinned);
  const fitted = part.fittedBy.find((act) => act !== undefined);
  if (part.part.securedBy !== undefined && !part.secured && fitted !== undefined && anyOn(part))
    sayLeft(
      state,
      'sequence/not-secured',
      fitted.step.placed,
      fitted.span,
      `${name} goes on here and is never secured: it has a ${part.part.securedBy.replace('-', ' ')}. Say secure ${name} after it.`,
    );
  if (part.onTrial !== undefined && anyOn(part))
    sayLeft(
      state,
      'sequence/left-open',
      part.onTrial.step.placed,
      part.onTrial.span,
      `${name} goes on for a trial here and never comes off again.`,
    );
}

function disturbedLeft(state: State): void {
  for (const [name, { by, changedBy }] of state.adjusted.entries()) {
    if (changedBy !== undefined)
      sayLeft(
        state,
        'sequence/disturbed',
        changedBy.step.placed,
        changedBy.span,
        `${name} was adjusted in step ${by.step.name}, and this changes it. Adjust it again afterwards.`,
        pointAt(by, 'adjusted here'),
      );
  }
}

/** What is left undone when a job ends. */
export function sayWhatIsLeft(state: State): void {
  const assembled = assembles(state.plan);
  if (!assembled && !isHandedOver(state.plan)) return;
  for (const part of state.parts.values()) ofPart(state, part);
  for (const fastener of state.fasteners.values()) {
    fastenerLeft(state, fastener);
    retorqueLeft(state, fastener);
  }
  drivesLeft(state);
  if (assembled) for (const limit of toMeasure(state)) limitLeft(state, limit);
  staleLeft(state);
  openLeft(state);
  disturbedLeft(state);
}
