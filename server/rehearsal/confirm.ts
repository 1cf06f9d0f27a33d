// A drive is put in line, and proved: by its marks, its links, pins or gauges. Single marks are in marks.ts.

import { type Told, told } from '../../grammar/told.ts';
import type { Action, Confirm, Span } from '../../grammar/tree.ts';
import {
  absolute,
  compare,
  type Exact,
  equal,
  minus,
  ONE,
  over,
  times,
  toNumber,
  toText,
  wholeNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { linksPassed } from '../mechanics/links-return.ts';
import { targetsOf } from '../model/action-places.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import { isA } from '../model/trade-names.ts';
import type { Step } from '../model/view.ts';
import { type Act, actAt, pointAt, targetAct } from './act.ts';
import { markAngles } from './at-the-bench.ts';
import {
  agreeAngle,
  type CrankAngle,
  cycleOf,
  degreesOf,
  isWhole,
  pastInCycle,
  pastInTurn,
  TURN,
  within,
} from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { confirmMark, sayHiddenOfDrive } from './marks.ts';
import { proveHere } from './proof.ts';
import { isOff, partsOf, type State, say, sayAt, sayMissing, turningShaft } from './state.ts';

/** Says that a wheel or chain of the drive is not on; true when one is not. */
function sayNotThere(state: State, drive: DriveState, act: Act, doing: Told): boolean {
  const missing = partsOf(state, drive).find((name) => isOff(state, name));
  if (missing === undefined) return false;
  sayMissing(
    state,
    'sequence/not-fitted-yet',
    missing,
    act,
    told`${told.thing(drive.drive)} can't be ${doing} yet: ${told.named(missing)} is not on. Fit it first.`,
  );
  return true;
}

export function align(state: State, step: Step, action: Action): void {
  for (const target of targetsOf(action, state.view)) {
    const drive = state.drives.get(target.owner.text);
    if (drive === undefined) continue;
    const act = targetAct(step, action, target);
    if (
      // A step that is done at the wrong time is said as a whole.
      !state.saidSteps.has(step.name) &&
      !sayNotThere(state, drive, act, told`aligned`) &&
      !sayHiddenOfDrive(state, drive, act) &&
      !sayCrankOut(state, drive, act) &&
      !sayShaftAway(state, drive, act)
    ) {
      saySetElsewhere(state, drive, act);
      sayCrankUnknown(state, drive, act);
    }
    drive.offset = ZERO;
    drive.linkOffset = ZERO;
    drive.turned = ZERO;
    drive.aligned = true;
    if (isHuntingTrain(state, drive)) drive.proved = true;
    state.running.crank = agreeAngle(state.view, drive.drive, state.tdcOf) ?? state.running.crank;
  }
}

/** The crankshaft stands where the drive wants it, as far as both are known. A turn more or less makes no difference to its mark. */
function sayCrankOut(state: State, drive: DriveState, act: Act): boolean {
  if (drive.aligned) return false;
  const agrees = agreeAngle(state.view, drive.drive, state.tdcOf);
  const out = pastInTurn(state.running.crank, agrees);
  if (out === undefined || equal(out, ZERO)) return sayOtherStroke(state, drive, agrees, act);
  const isBefore = toNumber(out) > 180;
  const degrees = toText(isBefore ? minus(TURN, out) : out, 0);
  say(
    state,
    'sequence/not-in-time',
    act,
    told`The marks of ${told.thing(drive.drive)} agree at top dead centre of cylinder ${drive.drive.marksAgree?.cylinder ?? ''}; the crankshaft stands ${degrees} degrees ${isBefore ? told`before` : told`past`} it here. Set the crankshaft first.`,
  );
  return true;
}

/** Says that a drive is put in line, and no step has said where the crankshaft stands. */
function sayCrankUnknown(state: State, { drive, aligned }: DriveState, act: Act): void {
  const agrees = drive.marksAgree;
  const { running, plan } = state;
  if (aligned || agrees === undefined || running.crank !== undefined || plan.begins === 'unknown' || state.unsure)
    return;
  say(
    state,
    'sequence/not-in-time',
    act,
    told`${told.thing(drive)} is put in line here, and nothing says where the crankshaft stands: its marks agree at top dead centre of cylinder ${agrees.cylinder ?? ''}. Set the crankshaft before this.`,
    { missing: true, severity: 'information' },
  );
}

/** The crankshaft is at the right place in the turn, and was set there on the other of its two strokes. */
function sayOtherStroke(state: State, drive: DriveState, agrees: CrankAngle | undefined, act: Act): boolean {
  const past = pastInCycle(state.running.crank, agrees, state.view);
  if (past === undefined || equal(past, ZERO)) return false;
  const { cylinder, stroke } = drive.drive.marksAgree ?? {};
  say(
    state,
    'sequence/not-in-time',
    act,
    told`The marks of ${told.thing(drive.drive)} agree at top dead centre of cylinder ${cylinder ?? ''} on ${stroke ?? ''}; the crankshaft stands there on ${stroke === 'overlap' ? told`compression` : told`overlap`}, a whole turn out. Turn it once more, or put the stroke right.`,
  );
  return true;
}

/** Says that a shaft of the drive was set to its mark and turned away from it since. */
function sayShaftAway(state: State, drive: DriveState, act: Act): boolean {
  for (const name of partsOf(state, drive)) {
    const shaft = turningShaft(state, name);
    const by = state.setAway.get(shaft);
    if (by === undefined) continue;
    state.setAway.delete(shaft);
    say(
      state,
      'sequence/not-in-time',
      act,
      told`${told.named(shaft)} was turned away from its mark in step ${told.thing(by.step)}, and ${told.thing(drive.drive)} is put in line here. Set ${told.named(shaft)} to its mark again first.`,
      { related: pointAt(by, told`turned away here`) },
    );
    return true;
  }
  return false;
}

/** Says at the setting that a shaft was set where its mark does not stand when the marks agree, and the drive was put in line with it there. */
function saySetElsewhere(state: State, drive: DriveState, act: Act): void {
  for (const name of partsOf(state, drive)) {
    const shaft = turningShaft(state, name);
    const by = state.setElsewhere.get(shaft);
    state.setElsewhere.delete(shaft);
    if (by?.statement.kind !== 'set' || by.statement.mark === undefined || state.unsure || state.muted) continue;
    const { mark, at } = by.statement;
    const part = state.parts.get(by.statement.shaft.text)?.part;
    const stated = part === undefined ? undefined : markAngles(state.view, part).get(mark.text);
    const read = degreesOf(at);
    if (part === undefined || stated === undefined || read === undefined) continue;
    sayAt(
      state,
      'sequence/not-in-time',
      by.step.placed,
      at ?? by.span,
      told`${told.named(shaft)} is set with ${told.named(mark.text)} at ${toText(read, 0)} degrees, and the spec has it at ${toText(stated, 0)} when the marks of ${told.thing(drive.drive)} agree, which is put in line with it so in step ${told.thing(act.step)}. Set it to ${toText(stated, 0)} degrees, or put the mark right.`,
      {
        related: [
          {
            placed: part.placed,
            span: part.marks.get(mark.text)?.statement ?? part.declaration.wordSpan,
            message: told`the mark`,
          },
        ],
      },
    );
    return;
  }
}

/**
 * Gears alone, with an idler whose marks agree once and then only after many turns: they are set once and can't be looked at again, and
 * gears do not jump. Common practice, no source.
 */
function isHuntingTrain(state: State, drive: DriveState): boolean {
  if (drive.drive.wraps.length > 0) return false;
  return partsOf(state, drive).some((name) => {
    const part = state.parts.get(name)?.part;
    const marks = part === undefined ? 0 : markAngles(state.view, part).size;
    const speed = state.speeds.get(turningShaft(state, name));
    return marks > 1 && speed !== undefined && !isDueBack(absolute(speed));
  });
}

/** A shaft at crankshaft or half speed comes back with each cycle; idlers and intermediate gears when they will. */
function isDueBack(speed: Exact): boolean {
  return toNumber(speed) === 1 || toNumber(speed) === 0.5;
}

export function confirm(state: State, step: Step, statement: Confirm): void {
  const act = actAt(step, statement, statement.target);
  const drive = state.drives.get(statement.target.owner.text);
  if (drive === undefined) {
    confirmMark(state, statement, act);
    return;
  }
  drive.looked = true;
  const by = statement.by?.word ?? 'marks';
  if (sayNotThere(state, drive, act, told`confirmed`)) {
    drive.proved = true;
    drive.saidNotWhole = true;
  } else if (by === 'pins' && sayPinsOut(state, drive, act)) drive.proved = true;
  else if (by === 'links') confirmLinks(state, drive, act, statement.by ?? act.span);
  else if (by === 'marks' && (sayHiddenOfDrive(state, drive, act) || sayMarksOut(state, drive, act)))
    drive.proved = true;
  else {
    const turnedEnough = compare(drive.turned, cycleOf(state.view)) >= 0;
    if (by === 'dial-gauge' || by === 'degree-wheel' || turnedEnough) proveHere(state, drive, act);
    if (by !== 'marks') return;
    sayIdlersMoved(state, drive, act);
    // They agree, so the crankshaft stands where they do.
    drive.offset ??= ZERO;
    state.running.crank ??= agreeAngle(state.view, drive.drive, state.tdcOf);
  }
}

/** Says which wheels' marks can't be looked at here, since they come back only after many turns. */
function sayIdlersMoved(state: State, drive: DriveState, act: Act): void {
  const { offset } = drive;
  if (offset === undefined || equal(offset, ZERO)) return;
  const moved = partsOf(state, drive).filter((name) => {
    const speed = state.speeds.get(turningShaft(state, name));
    // Where a camshaft is not due back the teeth are wrong, which is said there.
    if (isA(turningShaft(state, name), 'camshaft')) return false;
    const part = state.parts.get(name)?.part;
    if (speed === undefined || part === undefined || markAngles(state.view, part).size === 0) return false;
    const size = absolute(speed);
    return !isDueBack(size) && !isWhole(times(offset, size), TURN);
  });
  const [first] = moved;
  if (first === undefined || state.unsure) return;
  const back = workOutDrive(drive.drive, state.view).marksReturn;
  say(
    state,
    'sequence/links-moved',
    act,
    told`The marks of ${told.list(moved, ',')} have moved on here${back === undefined ? '' : told`: all marks of ${told.thing(drive.drive)} agree again only after ${back} turns of the crankshaft`}. Go by the marks of the crankshaft and the camshaft.`,
    { severity: 'information' },
  );
}

/** Says that the pins by which a drive was set can't go in here: a shaft stands elsewhere than where it was pinned. */
function sayPinsOut(state: State, drive: DriveState, act: Act): boolean {
  const { offset } = drive;
  if (offset === undefined || equal(offset, ZERO) || !drive.aligned) return false;
  const out = partsOf(state, drive).flatMap((name) => {
    const shaft = turningShaft(state, name);
    const speed = shaft === state.crankshaft ? ONE : state.speeds.get(shaft);
    const hasPin = state.parts.get(shaft)?.wasPinned === true;
    if (speed === undefined || !hasPin || !isDueBack(absolute(speed))) return [];
    const turned = times(offset, absolute(speed));
    return isWhole(turned, TURN)
      ? []
      : [told`${told.named(shaft, 'part')} stands ${toText(within(turned, TURN), 0)} degrees on`];
  });
  if (out.length === 0 || state.unsure) return false;
  const turns = turnsText(offset.div(360));
  const cycle = state.view.engine?.cycle === 'two-stroke' ? told`one turn` : told`two turns`;
  const where = told.list(
    out.filter((each, i) => out.findIndex((other) => other.text === each.text) === i),
    ',',
  );
  say(
    state,
    'sequence/not-in-time',
    act,
    turns === '1'
      ? told`The pins of ${told.thing(drive.drive)} can't go in here, ${turns} turn of the crankshaft from where they were: ${where}. They go in after ${cycle}.`
      : told`The pins of ${told.thing(drive.drive)} can't go in here, ${turns} turns of the crankshaft from where they were: ${where}. They go in after ${cycle}.`,
  );
  return true;
}

const turnsText = (turns: Exact): string => toText(absolute(turns), 2).replace(/\.?0+$/, '');

/** Wheels whose marks are due back with the crankshaft and are not, with the degrees that they stand on. */
function marksOut(
  state: State,
  drive: DriveState,
  off: Exact,
): readonly { name: string; degrees: Exact; isCrank: boolean }[] {
  return partsOf(state, drive).flatMap((name) => {
    const speed = state.speeds.get(turningShaft(state, name));
    const part = state.parts.get(name)?.part;
    if (speed === undefined || part === undefined || markAngles(state.view, part).size === 0) return [];
    const size = absolute(speed);
    if (!isDueBack(size)) return [];
    const turned = times(off, size);
    return isWhole(turned, TURN) ? [] : [{ name, degrees: within(turned, TURN), isCrank: toNumber(size) === 1 }];
  });
}

/** Says that the marks can't agree here; true when they can't. */
function sayMarksOut(state: State, drive: DriveState, act: Act): boolean {
  if (drive.offset === undefined || equal(drive.offset, ZERO)) return false;
  const out = marksOut(state, drive, drive.offset);
  const crankOut = !isWhole(drive.offset, TURN) || out.some((each) => each.isCrank);
  if (out.length === 0 && !crankOut) return false;
  const where = told.list(
    out.map((each) => told`${told.named(each.name, 'part')} stands ${toText(each.degrees, 0)} degrees on`),
    ',',
  );
  const turns = turnsText(drive.offset.div(360));
  const cycle = state.view.engine?.cycle === 'two-stroke' ? told`one turn` : told`two turns`;
  if ((drive.disturbedBy !== undefined || drive.aligned) && !crankOut)
    say(
      state,
      'sequence/not-a-cycle',
      act,
      turns === '1'
        ? told`1 turn of the crankshaft since the marks agreed does not bring every mark back: ${where}. Turn the engine ${cycle}, then look.`
        : told`${turns} turns of the crankshaft since the marks agreed do not bring every mark back: ${where}. Turn the engine ${cycle}, then look.`,
    );
  else
    say(
      state,
      'sequence/not-in-time',
      act,
      out.length === 0
        ? told`The marks of ${told.thing(drive.drive)} can't agree here: the crankshaft is ${turns} turns from where they do. They are back after ${cycle}.`
        : told`The marks of ${told.thing(drive.drive)} can't agree here: the crankshaft is ${turns} turns from where they do; ${where}. They are back after ${cycle}.`,
    );
  return true;
}

/** Links that stand past their marks after so many turns of the crankshaft, and how many the loop has. */
export function linksOn(
  state: State,
  drive: DriveState,
  turns: Exact,
): { readonly on: Exact; readonly of: number } | undefined {
  const wrap = drive.drive.wraps[0];
  const loop = wrap === undefined ? undefined : state.parts.get(wrap.part)?.part;
  const first = wrap?.wheels.find((wheel) => (state.parts.get(wheel.part)?.part.teeth ?? 0) > 0);
  const teeth = first === undefined ? undefined : state.parts.get(first.part)?.part.teeth;
  const links = loop?.links ?? loop?.teeth;
  const speed = first === undefined ? undefined : state.speeds.get(turningShaft(state, first.part));
  if (teeth === undefined || links === undefined || speed === undefined) return undefined;
  const passedPerTurn = times(wholeNumber(teeth) ?? ZERO, absolute(speed));
  const on = linksPassed({ links, passedPerTurn }, turns);
  return on === undefined ? undefined : { on, of: links };
}

function confirmLinks(state: State, drive: DriveState, act: Act, span: Span): void {
  if (drive.linkOffset === undefined || equal(drive.linkOffset, ZERO) || drive.drive.markedLinks.length === 0) return;
  const back = workOutDrive(drive.drive, state.view).linksReturn;
  const turns = drive.linkOffset.div(360);
  const rounds = back === undefined ? undefined : over(turns, wholeNumber(back) ?? ZERO);
  if (rounds === undefined || rounds.d === 1n) return;
  const stand = linksOn(state, drive, turns);
  const away = stand === undefined ? told.nothing : told`: they stand ${toText(stand.on, 0)} of ${stand.of} links on`;
  const many = turnsText(turns);
  say(
    state,
    'sequence/links-moved',
    act,
    many === '1'
      ? told`After 1 turn of the crankshaft the marked links are no longer at their marks${away}. They come back after ${back ?? ''} turns. Go by the marks on the wheels.`
      : told`After ${many} turns of the crankshaft the marked links are no longer at their marks${away}. They come back after ${back ?? ''} turns. Go by the marks on the wheels.`,
    {},
    span,
  );
  // One fault, one finding: what is wrong is what was looked at.
  if (compare(drive.turned, cycleOf(state.view)) >= 0) drive.proved = true;
}
