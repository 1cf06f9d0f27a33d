// The crankshaft and what it turns: rotated, set, held back, pinned, aligned, and what its marks and links then show.
import type { Action, Confirm, DeadCentre, Rotate, SetShaft, Span, Value } from '../../grammar/tree.ts';
import {
  absolute,
  compare,
  type Exact,
  equal,
  minus,
  negate,
  over,
  plus,
  times,
  toNumber,
  toText,
  wholeNumber,
  ZERO,
} from '../mechanics/exact.ts';
import { workOutDrive } from '../model/drive-sums.ts';
import { measureOf } from '../model/measure.ts';
import type { Drive, Step } from '../model/view.ts';
import {
  type Act,
  anyOn,
  coverOf,
  type DriveState,
  isComplete,
  OUT,
  pointAt,
  type State,
  say,
  targetAct,
  turningShaft,
} from './state.ts';

const TURN = wholeNumber(360) ?? ZERO;
const CYCLE = wholeNumber(720) ?? ZERO;

/** Brings an angle into one cycle, 0 to under 720. */
function inCycle(angle: Exact): Exact {
  const rounds = over(angle, CYCLE);
  return rounds === undefined ? angle : minus(angle, times(CYCLE, rounds.floor()));
}

function isWhole(degrees: Exact, of: Exact): boolean {
  return over(degrees, of)?.d === 1n;
}

function degrees(value: Value | undefined): Exact | undefined {
  if (value?.kind === 'clock') return wholeNumber((value.hour * 60 + value.minute) % 720)?.div(2);
  return value === undefined || value.kind === 'by-place' ? undefined : measureOf(value)?.interval.nominal;
}

/** Everything that hinders the engine from being turned. */
function hindrances(state: State, act: Act, span: Span): void {
  for (const part of state.parts.values()) {
    if (part.heldBack !== undefined && anyOn(part)) {
      const drives = state.tensionerOf.get(part.part.name);
      if (drives === undefined || drives.some((drive) => isComplete(state, drive))) {
        say(
          state,
          'sequence/rotated-while-held-back',
          act,
          `The engine is turned while ${part.part.name} is still held back. Release ${part.part.name} first: a slack chain or belt can jump a tooth.`,
          { related: pointAt(part.heldBack, 'held back here') },
          span,
        );
        part.heldBack = undefined;
      }
    }
    if (part.pinned !== undefined) {
      const own = part.part.name === state.crankshaft;
      const coupled = [...state.drives.values()].some(
        (drive) => drive.parts.some((name) => turningShaft(state, name) === part.part.name) && isComplete(state, drive),
      );
      if (own || coupled) {
        say(
          state,
          'sequence/rotated-while-pinned',
          act,
          `The engine is turned while ${part.part.name} is pinned. Take the pin out first: unpin ${part.part.name}.`,
          { related: pointAt(part.pinned, 'pinned here') },
          span,
        );
        part.pinned = undefined;
      }
    }
  }
  for (const fastener of state.fasteners.values()) {
    if (!fastener.stages.every((stage) => stage === OUT)) continue;
    const turning = fastener.fastener.clamps.find((clamp) => {
      const part = state.parts.get(clamp.part);
      return (
        part !== undefined &&
        part.part.fixedTo !== undefined &&
        anyOn(part) &&
        state.speeds.has(turningShaft(state, clamp.part))
      );
    });
    if (turning === undefined || state.unsure) continue;
    const by = state.parts.get(turning.part)?.fittedBy.find((each) => each !== undefined);
    say(
      state,
      'sequence/loose-when-rotated',
      act,
      `The engine is turned while ${turning.part} is held by nothing: ${fastener.fastener.name} is not in. Snug it at least.`,
      { related: pointAt(by, `${turning.part} went on here`) },
      span,
    );
  }
}

function moveBy(state: State, amount: Exact): void {
  if (state.angle !== undefined) state.angle = inCycle(plus(state.angle, amount));
  for (const drive of state.drives.values()) {
    if (!isComplete(state, drive)) continue;
    drive.turned = plus(drive.turned, absolute(amount));
    if (drive.offset !== undefined) drive.offset = plus(drive.offset, amount);
    if (drive.linkOffset !== undefined) drive.linkOffset = plus(drive.linkOffset, amount);
  }
}

export function rotate(state: State, step: Step, statement: Rotate, repeats: number): void {
  const act: Act = { step, statement, span: statement.shaft };
  const part = state.parts.get(statement.shaft.text);
  if (!state.unsure && part !== undefined && statement.shaft.text === state.crankshaft && !anyOn(part)) {
    say(
      state,
      'sequence/not-fitted-yet',
      act,
      `${statement.shaft.text} is not in yet, so it can't be turned. Fit it first.`,
    );
    return;
  }
  const shaft = turningShaft(state, statement.shaft.text);
  const speed = shaft === state.crankshaft ? undefined : state.speeds.get(shaft);
  const coupled =
    speed === undefined ||
    [...state.drives.values()].some(
      (drive) => isComplete(state, drive) && drive.parts.some((name) => turningShaft(state, name) === shaft),
    );
  if (shaft !== state.crankshaft && (speed === undefined || !coupled)) {
    if (part?.pinned !== undefined) {
      say(
        state,
        'sequence/rotated-while-pinned',
        act,
        `${shaft} is turned while it is pinned. Take the pin out first: unpin ${shaft}.`,
        { related: pointAt(part.pinned, 'pinned here') },
      );
      part.pinned = undefined;
    }
    return;
  }
  hindrances(state, act, statement.shaft);
  const measure = measureOf(statement.amount)?.interval.nominal;
  const times1 = measure === undefined ? undefined : times(measure, wholeNumber(repeats) ?? ZERO);
  const onCrank = times1 === undefined ? undefined : speed === undefined ? times1 : over(times1, absolute(speed));
  if (onCrank === undefined) {
    unknownTurn(state);
    return;
  }
  const back =
    statement.direction !== undefined && statement.direction.word !== (state.view.engine?.rotation ?? 'clockwise');
  moveBy(state, back ? negate(onCrank) : onCrank);
}

/** Turned by nobody knows how much. */
function unknownTurn(state: State): void {
  state.angle = undefined;
  for (const drive of state.drives.values()) {
    if (!isComplete(state, drive)) continue;
    drive.offset = undefined;
    drive.linkOffset = undefined;
    drive.turned = plus(drive.turned, CYCLE);
  }
}

function angleOf(state: State, tdc: DeadCentre | undefined): Exact | undefined {
  if (tdc === undefined || tdc.cylinder.value !== state.tdcOf) return undefined;
  if (state.view.engine?.cycle === 'two-stroke') return ZERO;
  return tdc.stroke?.word === 'compression' ? ZERO : tdc.stroke?.word === 'overlap' ? TURN : undefined;
}

export function setShaft(state: State, step: Step, statement: SetShaft): void {
  const act: Act = { step, statement, span: statement.shaft };
  const part = state.parts.get(statement.shaft.text);
  const isCrank = statement.shaft.text === state.crankshaft;
  if (statement.mark !== undefined) {
    const cover = coverOf(state, statement.shaft.text, statement.mark.text);
    if (cover !== undefined)
      sayHidden(
        state,
        { ...act, span: statement.mark },
        `${statement.mark.text} of ${statement.shaft.text}`,
        cover.part.name,
        cover.fittedBy.find((each) => each !== undefined),
      );
    return;
  }
  if (!isCrank) return;
  if (!state.unsure && part !== undefined && !anyOn(part)) {
    say(
      state,
      'sequence/not-fitted-yet',
      act,
      `${statement.shaft.text} is not in yet, so it can't be set to top dead centre. Fit it first.`,
    );
    return;
  }
  const next = angleOf(state, statement.tdc);
  for (const drive of state.drives.values()) {
    if (!isComplete(state, drive)) continue;
    const wanted = agreeAngle(state, drive.drive);
    const moved = next === undefined || state.angle === undefined ? undefined : minus(next, state.angle);
    // The crankshaft may have gone round any number of times to get there, unless it stood there already.
    drive.linkOffset = moved !== undefined && equal(moved, ZERO) ? drive.linkOffset : undefined;
    if (moved !== undefined && drive.offset !== undefined) drive.offset = plus(drive.offset, moved);
    else
      drive.offset =
        next === undefined || wanted === undefined || drive.aligned || drive.disturbedBy !== undefined
          ? undefined
          : minus(next, wanted);
  }
  state.angle = next;
}

function agreeAngle(state: State, drive: Drive): Exact | undefined {
  const agree = drive.marksAgree;
  if (agree === undefined || agree.cylinder !== state.tdcOf) return undefined;
  if (state.view.engine?.cycle === 'two-stroke') return ZERO;
  return agree.stroke === 'compression' ? ZERO : agree.stroke === 'overlap' ? TURN : undefined;
}

function sayHidden(state: State, act: Act, mark: string, cover: string, by: Act | undefined): void {
  say(
    state,
    'sequence/mark-hidden',
    act,
    `${mark} can no longer be seen: ${cover} ${by === undefined ? 'is on' : `went on in step ${by.step.name}`} and hides it. Look at it before ${cover} goes on, or take ${cover} off first.`,
    { related: pointAt(by, `${cover} goes on here`) },
  );
}

/** The first mark of a drive's wheels that something hides. */
function hiddenMark(
  state: State,
  drive: DriveState,
): { readonly mark: string; readonly cover: string; readonly by: Act | undefined } | undefined {
  for (const name of drive.parts) {
    const part = state.parts.get(name);
    if (part === undefined || part.part.marks.size === 0) continue;
    for (const mark of part.part.marks.keys()) {
      const cover = coverOf(state, name, mark);
      if (cover !== undefined)
        return {
          mark: `${mark} of ${name}`,
          cover: cover.part.name,
          by: cover.fittedBy.find((each) => each !== undefined),
        };
    }
  }
  return undefined;
}

/** A wheel or chain of the drive that is not on. */
function missingOf(state: State, drive: DriveState): string | undefined {
  return drive.parts.find((name) => {
    const part = state.parts.get(name);
    return part !== undefined && !anyOn(part);
  });
}

export function align(state: State, step: Step, action: Action): void {
  for (const target of action.targets) {
    const drive = state.drives.get(target.owner.text);
    if (drive === undefined) continue;
    const act = targetAct(step, action, target);
    const missing = missingOf(state, drive);
    if (missing !== undefined && !state.unsure)
      say(
        state,
        'sequence/not-fitted-yet',
        act,
        `${drive.drive.name} can't be aligned yet: ${missing} is not on. Fit it first.`,
      );
    else {
      const hidden = hiddenMark(state, drive);
      if (hidden !== undefined) sayHidden(state, act, hidden.mark, hidden.cover, hidden.by);
      else checkAgreement(state, drive, act);
    }
    drive.offset = ZERO;
    drive.linkOffset = ZERO;
    drive.turned = ZERO;
    drive.aligned = true;
  }
}

/** The crankshaft mark stands where the drive wants it, as far as both are known. A turn more or less makes no difference to it. */
function checkAgreement(state: State, drive: DriveState, act: Act): void {
  const wanted = agreeAngle(state, drive.drive);
  if (wanted === undefined || state.angle === undefined || drive.aligned) return;
  const off = minus(state.angle, wanted);
  if (isWhole(off, TURN)) return;
  const out = toText(inCycle(off).mod(360), 0);
  say(
    state,
    'sequence/not-in-time',
    act,
    `The marks of ${drive.drive.name} agree at top dead centre of cylinder ${drive.drive.marksAgree?.cylinder}; the crankshaft stands ${out} degrees past it here. Set the crankshaft first.`,
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
  const missing = missingOf(state, drive);
  if (missing !== undefined) {
    if (!state.unsure)
      say(
        state,
        'sequence/not-fitted-yet',
        act,
        `${drive.drive.name} can't be confirmed yet: ${missing} is not on. Fit it first.`,
      );
    drive.proved = true;
    return;
  }
  if (by === 'links') {
    confirmLinks(state, drive, act, statement.by ?? act.span);
    return;
  }
  if (by === 'marks') {
    const hidden = hiddenMark(state, drive);
    if (hidden !== undefined) sayHidden(state, act, hidden.mark, hidden.cover, hidden.by);
    else if (confirmMarks(state, drive, act)) return;
    if (hidden !== undefined) drive.proved = true;
  }
  const cycle = state.view.engine?.cycle === 'two-stroke' ? TURN : CYCLE;
  if (by === 'dial-gauge' || by === 'degree-wheel' || compare(drive.turned, cycle) >= 0) drive.proved = true;
}

function confirmMark(state: State, statement: Confirm, act: Act): void {
  const { owner, feature } = statement.target;
  const part = state.parts.get(owner.text);
  if (part === undefined || feature === undefined) return;
  const cover = coverOf(state, owner.text, feature.text);
  if (cover !== undefined) {
    sayHidden(
      state,
      act,
      `${feature.text} of ${owner.text}`,
      cover.part.name,
      cover.fittedBy.find((each) => each !== undefined),
    );
    return;
  }
  // The marks of what turns with the crankshaft stand where the spec says when the drive's marks agree.
  const mark = part.part.marks.get(feature.text);
  const [stated, read] = [degrees(mark?.at), degrees(statement.at)];
  const agree = state.view.drives.map((drive) => agreeAngle(state, drive)).find((each) => each !== undefined);
  if (
    stated === undefined ||
    read === undefined ||
    agree === undefined ||
    state.angle === undefined ||
    statement.at === undefined ||
    mark === undefined
  )
    return;
  if (
    turningShaft(state, owner.text) !== state.crankshaft ||
    !isWhole(minus(state.angle, agree), TURN) ||
    isWhole(minus(stated, read), TURN)
  )
    return;
  say(
    state,
    'sequence/not-in-time',
    act,
    `${feature.text} of ${owner.text} stands at ${toText(stated, 0)} degrees when the marks agree, as here, and not at ${toText(read, 0)}.`,
    { related: [{ placed: part.part.placed, span: mark.statement, message: 'the mark' }] },
    statement.at,
  );
}

/** True when a finding says that they can't agree here. */
function confirmMarks(state: State, drive: DriveState, act: Act): boolean {
  if (drive.offset === undefined || equal(drive.offset, ZERO)) return false;
  const off = drive.offset;
  const outOf: { readonly name: string; readonly degrees: Exact }[] = [];
  let crankOut = !isWhole(off, TURN);
  for (const name of drive.parts) {
    const speed = state.speeds.get(turningShaft(state, name));
    if (speed === undefined || (state.parts.get(name)?.part.marks.size ?? 0) === 0) continue;
    const size = absolute(speed);
    // Idlers and intermediate gears come back when they will; a shaft at crankshaft or half speed is due back.
    if (toNumber(size) !== 1 && toNumber(size) !== 0.5) continue;
    const turned = times(off, size);
    if (isWhole(turned, TURN)) continue;
    if (toNumber(size) === 1) crankOut = true;
    outOf.push({ name, degrees: turned.mod(360).add(360).mod(360) });
  }
  if (outOf.length === 0 && !crankOut) return false;
  const where = outOf.map((each) => `${each.name} stands ${toText(each.degrees, 0)} degrees on`).join(', ');
  const turns = toText(absolute(off).div(360), 2).replace(/\.?0+$/, '');
  const worked = drive.disturbedBy !== undefined || drive.aligned;
  const code = worked && !crankOut ? 'sequence/not-a-cycle' : 'sequence/not-in-time';
  const cycle = state.view.engine?.cycle === 'two-stroke' ? 'one turn' : 'two turns';
  const message =
    code === 'sequence/not-a-cycle'
      ? `${turns} turn${turns === '1' ? '' : 's'} of the crankshaft since the marks agreed do not bring every mark back: ${where}. Turn the engine ${cycle}, then look.`
      : `The marks of ${drive.drive.name} can't agree here: the crankshaft is ${turns} turns from where they do${where === '' ? '' : `; ${where}`}. They are back after ${cycle}.`;
  say(state, code, act, message);
  drive.proved = true;
  return true;
}

function confirmLinks(state: State, drive: DriveState, act: Act, span: Span): void {
  if (drive.linkOffset === undefined || equal(drive.linkOffset, ZERO) || drive.drive.markedLinks.length === 0) return;
  const back = workOutDrive(drive.drive, state.view).linksReturn;
  const turns = drive.linkOffset.div(360);
  if (back === undefined || turns.div(back).d === 1n) return;
  const wrap = drive.drive.wraps[0];
  const loop = wrap === undefined ? undefined : state.parts.get(wrap.part)?.part;
  const first = wrap?.wheels[0];
  const teeth = first === undefined ? undefined : state.parts.get(first.part)?.part.teeth;
  const links = loop?.links ?? loop?.teeth;
  const speed = first === undefined ? undefined : state.speeds.get(turningShaft(state, first.part));
  const moved =
    teeth === undefined || links === undefined || speed === undefined
      ? undefined
      : absolute(turns).mul(teeth).mul(absolute(speed)).mod(links);
  const away = moved === undefined ? '' : `: the marked links stand ${toText(moved, 0)} of ${links} links on`;
  const many = toText(absolute(turns), 2).replace(/\.?0+$/, '');
  say(
    state,
    'sequence/links-moved',
    act,
    `After ${many} turns of the crankshaft the marked links are no longer at their marks${away}. They come back after ${back} turns. Go by the marks on the wheels.`,
    {},
    span,
  );
}

/** Turned by its own power: everything has gone round many times. */
export function runEngine(state: State, act: Act, span: Span): void {
  hindrances(state, act, span);
  unknownTurn(state);
}
