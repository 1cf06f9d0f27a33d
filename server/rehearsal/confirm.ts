// A drive is put in line, and proved: by its marks, its links, pins or gauges. Single marks are in marks.ts.
import type { Action, Confirm, Span } from '../../grammar/tree.ts';
import {
  absolute,
  compare,
  type Exact,
  equal,
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
import type { Step } from '../model/view.ts';
import { type Act, targetAct } from './act.ts';
import { agreeAngle, cycleOf, isWhole, pastInTurn, TURN, within } from './crank-angle.ts';
import type { DriveState } from './drive-state.ts';
import { confirmMark, sayHiddenOfDrive } from './marks.ts';
import { anyOn, type State, say, sayMissing, turningShaft } from './state.ts';

/** Says that a wheel or chain of the drive is not on; true when one is not. */
function sayNotThere(state: State, drive: DriveState, act: Act, doing: string): boolean {
  const missing = drive.parts.find((name) => {
    const part = state.parts.get(name);
    return part !== undefined && !anyOn(part);
  });
  if (missing === undefined) return false;
  sayMissing(
    state,
    'sequence/not-fitted-yet',
    missing,
    act,
    `${drive.drive.name} can't be ${doing} yet: ${missing} is not on. Fit it first.`,
  );
  return true;
}

export function align(state: State, step: Step, action: Action): void {
  for (const target of targetsOf(action, state.view)) {
    const drive = state.drives.get(target.owner.text);
    if (drive === undefined) continue;
    const act = targetAct(step, action, target);
    if (!sayNotThere(state, drive, act, 'aligned') && !sayHiddenOfDrive(state, drive, act))
      sayCrankOut(state, drive, act);
    drive.offset = ZERO;
    drive.linkOffset = ZERO;
    drive.turned = ZERO;
    drive.aligned = true;
    state.running.crank = agreeAngle(state.view, drive.drive, state.tdcOf) ?? state.running.crank;
  }
}

/** The crankshaft stands where the drive wants it, as far as both are known. A turn more or less makes no difference to its mark. */
function sayCrankOut(state: State, drive: DriveState, act: Act): void {
  if (drive.aligned) return;
  const out = pastInTurn(state.running.crank, agreeAngle(state.view, drive.drive, state.tdcOf));
  if (out === undefined || equal(out, ZERO)) return;
  say(
    state,
    'sequence/not-in-time',
    act,
    `The marks of ${drive.drive.name} agree at top dead centre of cylinder ${drive.drive.marksAgree?.cylinder}; the crankshaft stands ${toText(out, 0)} degrees past it here. Set the crankshaft first.`,
  );
}

export function confirm(state: State, step: Step, statement: Confirm): void {
  const act: Act = { step, statement, span: { start: statement.target.start, end: statement.target.end } };
  const drive = state.drives.get(statement.target.owner.text);
  if (drive === undefined) {
    confirmMark(state, statement, act);
    return;
  }
  const by = statement.by?.word ?? 'marks';
  if (sayNotThere(state, drive, act, 'confirmed')) {
    drive.proved = true;
    drive.saidNotWhole = true;
  } else if (by === 'links') confirmLinks(state, drive, act, statement.by ?? act.span);
  else if (by === 'marks' && (sayHiddenOfDrive(state, drive, act) || sayMarksOut(state, drive, act)))
    drive.proved = true;
  else {
    const turnedEnough = compare(drive.turned, cycleOf(state.view)) >= 0;
    if (by === 'dial-gauge' || by === 'degree-wheel' || turnedEnough) drive.proved = true;
    if (by !== 'marks') return;
    // They agree, so the crankshaft stands where they do.
    drive.offset ??= ZERO;
    state.running.crank ??= agreeAngle(state.view, drive.drive, state.tdcOf);
  }
}

const turnsText = (turns: Exact): string => toText(absolute(turns), 2).replace(/\.?0+$/, '');

/** Wheels whose marks are due back with the crankshaft and are not, with the degrees that they stand on. */
function marksOut(
  state: State,
  drive: DriveState,
  off: Exact,
): readonly { name: string; degrees: Exact; isCrank: boolean }[] {
  return drive.parts.flatMap((name) => {
    const speed = state.speeds.get(turningShaft(state, name));
    if (speed === undefined || (state.parts.get(name)?.part.marks.size ?? 0) === 0) return [];
    const size = absolute(speed);
    // Idlers and intermediate gears come back when they will; a shaft at crankshaft or half speed is due back.
    if (toNumber(size) !== 1 && toNumber(size) !== 0.5) return [];
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
  const where = out.map((each) => `${each.name} stands ${toText(each.degrees, 0)} degrees on`).join(', ');
  const turns = turnsText(drive.offset.div(360));
  const cycle = state.view.engine?.cycle === 'two-stroke' ? 'one turn' : 'two turns';
  if ((drive.disturbedBy !== undefined || drive.aligned) && !crankOut)
    say(
      state,
      'sequence/not-a-cycle',
      act,
      `${turns} turn${turns === '1' ? '' : 's'} of the crankshaft since the marks agreed do${turns === '1' ? 'es' : ''} not bring every mark back: ${where}. Turn the engine ${cycle}, then look.`,
    );
  else
    say(
      state,
      'sequence/not-in-time',
      act,
      `The marks of ${drive.drive.name} can't agree here: the crankshaft is ${turns} turns from where they do${where === '' ? '' : `; ${where}`}. They are back after ${cycle}.`,
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
  const away = stand === undefined ? '' : `: they stand ${toText(stand.on, 0)} of ${stand.of} links on`;
  const many = turnsText(turns);
  say(
    state,
    'sequence/links-moved',
    act,
    `After ${many} turn${many === '1' ? '' : 's'} of the crankshaft the marked links are no longer at their marks${away}. They come back after ${back} turns. Go by the marks on the wheels.`,
    {},
    span,
  );
  // One fault, one finding: what is wrong is what was looked at.
  if (compare(drive.turned, cycleOf(state.view)) >= 0) drive.proved = true;
}
