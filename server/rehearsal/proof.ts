// How long the proof of a drive is good: every bolt that holds one of its wheels or tensioners was tight then, and none is loosened after.
// Common practice, no source.
import { told } from '../../grammar/told.ts';
import { ZERO } from '../mechanics/exact.ts';
import { type Act, pointAt } from './act.ts';
import { saysNoKey } from './disturb.ts';
import type { DriveState } from './drive-state.ts';
import { type FastenerState, FINAL } from './fastener-state.ts';
import type { RehearsalFinding } from './rehearsal-finding.ts';
import { anyOn, clampsOn, heldOfDrive, isComplete, type State, sayAt, turningShaft } from './state.ts';

/** A wheel that sits on the crankshaft: by its key it stands as it did, and its bolt is often drawn when the flywheel can be held. */
function isOnCrankshaft(state: State, name: string): boolean {
  const part = state.parts.get(name)?.part;
  return part?.fixedTo !== undefined && turningShaft(state, name) === state.crankshaft && !saysNoKey(state.view, part);
}

/** What a chain or belt runs over and that is on no shaft: without it the chain or belt hangs slack. */
function holdsTight(state: State, { drive }: DriveState, name: string): boolean {
  if (drive.tensioners.includes(name)) return true;
  const isRoundIt = drive.wraps.some((wrap) => wrap.wheels.some((wheel) => wheel.part === name));
  return isRoundIt && state.parts.get(name)?.part.fixedTo === undefined;
}

/** A bolt of a wheel or tensioner is loosened, or a tensioner drawn back, after the drive was proved. */
export function proofUndone(state: State, name: string, act: Act): void {
  for (const drive of state.drivesRound.get(name)) {
    if (!drive.proved || act.step.trial || !isComplete(state, drive)) continue;
    if (holdsTight(state, drive, name)) {
      drive.disturbedBy = act;
      drive.proved = false;
      drive.looseThen = undefined;
      drive.undoneBy = undefined;
      drive.turned = ZERO;
    } else if (state.parts.get(name)?.part.fixedTo !== undefined) drive.undoneBy = act;
  }
}

/** A fastener of the drive that is tightened in this job and not at its last stage here. */
function looseOf(state: State, drive: DriveState): FastenerState | undefined {
  const names = heldOfDrive(state.view, drive.drive)
    .filter((name) => !isOnCrankshaft(state, name))
    .flatMap((name) => clampsOn(state.view, name))
    .filter((name) => state.ahead.tightened.has(name));
  return state.fasteners.among([...new Set(names)]).find(({ fastener, stages }) => {
    if (fastener.broken || state.saidEarly.has(fastener.name) || stages.every((stage) => stage === FINAL)) return false;
    // What also holds something that comes later, or holds the wheel to it, can't be tight yet: a pump that is timed behind the gears.
    return [...fastener.clamps, ...(fastener.to === undefined ? [] : [fastener.to])].every(({ part }) => {
      const clamped = state.parts.get(part);
      return clamped === undefined || anyOn(clamped);
    });
  });
}

/** The drive is proved here, with its bolts as they are. */
export function proveHere(state: State, drive: DriveState, act: Act): void {
  drive.proved = true;
  drive.provedBy = act;
  const loose = looseOf(state, drive);
  drive.looseThen = loose === undefined ? undefined : { name: loose.fastener.name, last: loose.last };
  drive.undoneBy = undefined;
}

/** How sure it is that the drive stands otherwise once a bolt is drawn that was not tight: a key or dowel may hold the wheel. */
function howSure(state: State, drive: DriveState, { fastener }: FastenerState): RehearsalFinding['severity'] {
  const held = fastener.clamps.map(({ part }) => part);
  if (held.some((name) => holdsTight(state, drive, name))) return 'warning';
  const isBare = held.some((name) => {
    const part = state.parts.get(name)?.part;
    return part !== undefined && saysNoKey(state.view, part);
  });
  return isBare ? 'error' : 'information';
}

/** Says of a drive that stands proved at the end that its proof is void: a bolt came tight after it, or was loosened after it. */
export function sayIfProofIsVoid(state: State, drive: DriveState): void {
  const { provedBy, looseThen, undoneBy } = drive;
  if (provedBy === undefined || state.unsure) return;
  const turns = state.view.engine?.cycle === 'two-stroke' ? told`one turn` : told`two turns`;
  const loose = looseThen === undefined ? undefined : state.fasteners.get(looseThen.name);
  // One that nobody came back to, or that is not tight at the end either, is a finding of its own.
  const isDrawn = loose !== undefined && loose.last !== looseThen?.last;
  if (isDrawn && loose.stages.every((stage) => stage === FINAL)) {
    const severity = howSure(state, drive, loose);
    sayAt(
      state,
      'sequence/timing-not-proved',
      provedBy.step.placed,
      provedBy.span,
      told`${told.thing(drive.drive)} is proved here before ${told.thing(loose.fastener)} is tight: what it holds can move as it is tightened. Tighten ${told.thing(loose.fastener)} first, then turn the crankshaft ${turns} by hand and confirm ${told.thing(drive.drive)}.`,
      { related: pointAt(loose.last, told`tightened here`), ...(severity === undefined ? {} : { severity }) },
    );
  } else if (undoneBy !== undefined)
    sayAt(
      state,
      'sequence/timing-not-proved',
      undoneBy.step.placed,
      undoneBy.span,
      told`${told.thing(drive.drive)} was proved in step ${told.thing(provedBy.step)}, and a wheel of it is loosened here: the proof no longer holds. Turn the crankshaft ${turns} by hand, then confirm ${told.thing(drive.drive)} by marks again.`,
      { related: pointAt(provedBy, told`proved here`), severity: 'information' },
    );
}
