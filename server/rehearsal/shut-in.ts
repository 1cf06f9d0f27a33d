// What shuts a part in by the nature of the thing, though no line of the spec says that it covers: caps over a shaft, the pin in a piston,
// collets over a spring. Told by the names that the trade gives; common practice, no source. Declared covers are in covers.ts.
import type { Action } from '../../grammar/tree.ts';
import type { Part } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { type Act, pointAt } from './act.ts';
import { coveredWhere } from './covers.ts';
import { FINAL } from './fastener-state.ts';
import { GOES_UNDER, overIt } from './goes-under.ts';
import { OFF, ON, type PartState } from './part-state.ts';
import { type State, sayOfStep, turningShaft } from './state.ts';

const CAP = /(^|-)cap$/i;
/** Halves of a case that is split along the crankshaft. */
const HALF =
  /^(left|right|upper|lower|top|bottom|front|rear)-(crank)?case(-half)?$|^(crank)?case(-half)?-(left|right|upper|lower|top|bottom|front|rear)$/i;
const CRANKSHAFT = /(^|-)crankshaft$/i;
const CAMSHAFT = /(^|-)camshaft$/i;
const SHELL = /(^|-)(shell|bearing|half-bearing)$/i;
const THRUST = /(^|-)thrust(-|$)/i;
const RING = /(^|-)rings?(-(pack|set|kit))?$/i;
const PIN = /(^|-)(piston|gudgeon|wrist)-pin$/i;
const HEAD = /(^|-)head$/i;

/** What lies under what in a cylinder head and in the valve gear. The second holds the first in once it is on. */
const STACKS: readonly (readonly [under: RegExp, over: RegExp])[] = [
  [/(^|-)(stem|valve)-seal$/i, /(^|-)valve-spring$/i],
  [/(^|-)(valve-spring|spring-retainer|inlet-valve|exhaust-valve)$|^valve$/i, /(^|-)(collet|keeper|cotter)s?$/i],
];

interface Asked {
  readonly state: State;
  readonly part: PartState;
  readonly places: readonly number[];
  /** What it goes into or onto, or sits on. */
  readonly mate: string | undefined;
  /** It comes off, and goes on otherwise. */
  readonly comesOff: boolean;
  /** What comes off or goes on in the same action. */
  readonly withIt: Action;
}

/** Whether something is surely on over these places: by number where there are as many of both, else where all of it is on. */
function isOver(over: PartState, part: PartState, places: readonly number[]): boolean {
  if (over === part || over.lifted) return false;
  return over.on.length === part.on.length
    ? places.some((i) => over.on[i] === ON)
    : over.on.every((each) => each === ON);
}

function find(asked: Asked, test: (name: string, each: PartState) => boolean): PartState | undefined {
  return asked.state.parts
    .values()
    .find((each) => test(each.part.name, each) && isOver(each, asked.part, asked.places));
}

/** Whether a cap or half closes over the crankshaft, or over a camshaft. */
function closes(name: string, shaft: string): boolean {
  if (HALF.test(name)) return CRANKSHAFT.test(shaft);
  if (!CAP.test(name) || /valve|rocker|filler|oil-cap/i.test(name)) return false;
  return /cam/i.test(name) ? CAMSHAFT.test(shaft) : CRANKSHAFT.test(shaft);
}

/** The cap or half that keeps a shaft in its bearings, or out of them. */
function overShaft(asked: Asked): PartState | undefined {
  const { part, mate, comesOff } = asked;
  const { name } = part.part;
  if (!CRANKSHAFT.test(name) && !CAMSHAFT.test(name)) return undefined;
  // A cap without a mate that is told may be on a rod at the bench.
  if (mate === undefined && !comesOff) return undefined;
  return asked.state.parts
    .values()
    .find(
      (each) =>
        !each.lifted &&
        closes(each.part.name, name) &&
        each.on.every((at) => at === ON) &&
        (each.mate === mate || (mate === undefined && /main|rod|cam/i.test(each.part.name))),
    );
}

/** The cap of a rod that is to go onto its shaft. */
function overRod(asked: Asked): PartState | undefined {
  const { part, mate, comesOff } = asked;
  if (comesOff || mate === undefined || !CRANKSHAFT.test(mate)) return undefined;
  return find(asked, (name, each) => CAP.test(name) && each.mate === part.part.name);
}

/** What a bearing shell lies under: the shaft in its saddle, its cap, its rod on the crankshaft. */
function overShell(asked: Asked): PartState | undefined {
  const { state, part, places, mate, comesOff } = asked;
  const isShell = part.part.wall !== undefined || SHELL.test(part.part.name);
  const saddle = mate === undefined || comesOff ? undefined : state.parts.get(mate);
  if (saddle === undefined || (!isShell && !THRUST.test(part.part.name)) || saddle.lifted) return undefined;
  if (CAP.test(saddle.part.name))
    return saddle.fittedBy.some((by) => by !== undefined) && isSeated(saddle, part, places) ? saddle : undefined;
  // Thrust halves are slid in beside the shaft.
  if (!isShell) return undefined;
  if (saddle.mate !== undefined && CRANKSHAFT.test(saddle.mate))
    return isSeated(saddle, part, places) ? saddle : undefined;
  if (isRolledIn(asked)) return undefined;
  return state.parts
    .values()
    .find(
      (each) =>
        !each.lifted &&
        !/cam/i.test(part.part.name) &&
        CRANKSHAFT.test(each.part.name) &&
        each.mate === mate &&
        each.on.some((at) => at === ON),
    );
}

/** A shell is rolled in round the shaft where its own cap is off and other caps hold the shaft. */
function isRolledIn({ state, part, places, mate }: Asked): boolean {
  return state.parts.values().some(({ part: cap, on, mate: saddle }) => {
    if (!CAP.test(cap.name) || saddle !== mate || !on.includes(ON)) return false;
    const group = part.part.places.find(({ count }) => count === on.length);
    return group !== undefined && places.every((i) => on[i % group.count] === OFF);
  });
}

/** Whether what a shell sits in is on, at the numbers of the shell's places. */
function isSeated(saddle: PartState, shell: PartState, places: readonly number[]): boolean {
  const one = shell.part.places.find((group) => group.count === saddle.on.length);
  if (one === undefined) return saddle.on.every((each) => each === ON);
  return places.some((i) => saddle.on[i % one.count] === ON);
}

/** The pin that joins a piston and its rod; the bore round a rod that is on the crankshaft, where no pin can be reached. */
function overPiston(asked: Asked): PartState | undefined {
  const { state, part, places, mate } = asked;
  const { name } = part.part;
  if (mate === undefined || asked.comesOff || !/(^|-)(piston|rod)$/i.test(name)) return undefined;
  // What is made up on the bench goes in with its pin. A pin shuts out what it goes through once it is in the piston.
  if (places.some((i) => part.on[i] === ON)) return undefined;
  const piston = /(^|-)piston$/i.test(name) ? name : mate;
  const pin = /(^|-)(piston|rod)$/i.test(mate)
    ? find(asked, (other, each) => PIN.test(other) && each.mate === piston)
    : undefined;
  const rod = state.parts.get(mate);
  if (pin !== undefined || rod?.mate === undefined || !CRANKSHAFT.test(rod.mate)) return pin;
  const bore = boreOf(state);
  if (bore === undefined || bore.lifted || !isOver(rod, part, places)) return undefined;
  // Barrels and liners are bores one by one.
  const own = bore.on.length === part.on.length ? places.map((i) => bore.on[i]) : bore.on;
  return own.includes(ON) ? bore : own.some((at) => at !== OFF) ? rod : undefined;
}

/** The bore that a piston stands in, with its rings. */
function overRing(asked: Asked): PartState | undefined {
  const { state, part, places, mate } = asked;
  const piston = mate === undefined ? undefined : state.parts.get(mate);
  if (
    piston === undefined ||
    (!RING.test(part.part.name) && !PIN.test(part.part.name)) ||
    !/piston/i.test(piston.part.name)
  )
    return undefined;
  const bore = boreOf(state);
  if (bore === undefined || bore.lifted) return undefined;
  const own = bore.on.length === part.on.length ? places.map((i) => bore.on[i]) : bore.on;
  if (!own.some((at) => at !== OFF)) return undefined;
  const rod = piston.mate === undefined ? undefined : state.parts.get(piston.mate);
  const inBore =
    piston.mate === bore.part.name ||
    (rod?.mate !== undefined && CRANKSHAFT.test(rod.mate) && isOver(rod, part, places));
  return inBore && isOver(piston, part, places) ? piston : undefined;
}

const boreOwner = question((view, _subject: 'engine'): string | undefined => {
  const statement = view.engine?.statements.find(({ word }) => word === 'bore');
  const text = view.engine?.placed.section.text.slice(statement?.start ?? 0, statement?.end ?? 0) ?? '';
  return /([\p{L}\p{N}_-]+)\s*\.\s*bore/u.exec(text)?.[1];
});

/** The part that the engine's bore is in. */
function boreOf(state: State): PartState | undefined {
  return state.parts.get(boreOwner(state.view, 'engine') ?? '');
}

function overStack(asked: Asked): PartState | undefined {
  const { name } = asked.part.part;
  for (const [under, over] of STACKS) {
    if (!under.test(name)) continue;
    const found = find(asked, (other) => over.test(other));
    if (found !== undefined) return found;
  }
  return undefined;
}

/** A camshaft over the buckets that run in the same head, and valve gear that is bolted down over the pushrods. */
function overValveGear(asked: Asked): PartState | undefined {
  const { state, part, places, mate } = asked;
  const { name } = part.part;
  if (
    /(bucket|tappet|follower)$/i.test(name) &&
    mate !== undefined &&
    HEAD.test(mate) &&
    places.length === part.on.length
  )
    return state.parts
      .values()
      .find(
        (each) =>
          !each.lifted && CAMSHAFT.test(each.part.name) && each.mate === mate && each.on.some((at) => at === ON),
      );
  if (!/(^|-)pushrod$/i.test(name)) return undefined;
  return state.parts
    .values()
    .find(
      (each) =>
        !each.lifted &&
        /rocker-(shaft|support|pedestal|stand)$/i.test(each.part.name) &&
        each.on.every((at) => at === ON) &&
        state.clampedBy.get(each.part.name).some(({ stages }) => stages.every((stage) => stage === FINAL)),
    );
}

/** The chain or belt that holds a wheel which it runs over, a shaft by the wheel on it, or a head by the shaft in it. */
function overTurning(asked: Asked): PartState | undefined {
  const { state, part, comesOff } = asked;
  if (!comesOff) return undefined;
  const { name } = part.part;
  for (const { drive } of state.drives.values())
    for (const wrap of drive.wraps) {
      const loop = state.parts.get(wrap.part);
      if (loop === undefined || wrap.part === name || loop.lifted || !loop.on.includes(ON)) continue;
      const holds = wrap.wheels.some(({ part: wheel }) => {
        if (state.parts.get(wheel)?.on.includes(ON) !== true) return false;
        if (wheel === name) return true;
        const shaft = turningShaft(state, wheel);
        return shaft === name || (HEAD.test(name) && CAMSHAFT.test(shaft) && isIn(state, shaft, name));
      });
      if (holds) return loop;
    }
  return undefined;
}

/** Whether a shaft runs in a head: as it was fitted, or as its caps are bolted down, or by the name of the one head that there is. */
function isIn(state: State, shaft: string, head: string): boolean {
  const mate = state.parts.get(shaft)?.mate;
  if (mate !== undefined) return mate === head;
  return state.fasteners
    .values()
    .some(
      ({ fastener }) =>
        fastener.to?.part === head && fastener.clamps.some(({ part }) => /cam.*cap$/i.test(part) || part === shaft),
    );
}

/** What goes over it by the names of both. */
const overByName = (asked: Asked): PartState | undefined => overIt(asked, (name) => HALF.test(name));

const WAYS = [overByName, overShaft, overRod, overShell, overPiston, overRing, overStack, overValveGear, overTurning];

const SHUT_IN =
  /shaft$|shell$|bearing$|thrust|(^|-)rings?(-|$)|piston|rod$|seal$|spring|retainer|valve|bucket$|tappet$|follower$/i;

/** Whether any of the ways above is about a part of this name: most parts go on without being asked about. */
function mayBeShutIn(part: Part): boolean {
  return SHUT_IN.test(part.name) || GOES_UNDER.test(part.name) || part.wall !== undefined;
}

/** Whatever goes onto the crankshaft may have a cap on it already. */
function isOnCrankshaft({ state, mate }: Asked): boolean {
  return mate !== undefined && (mate === state.crankshaft || mate.endsWith('crankshaft'));
}

/** Shafts and wheels may have any name. */
function isHeldByTurning({ state, part }: Asked): boolean {
  const { name } = part.part;
  return state.speeds.has(name) || HEAD.test(name) || state.drivesOf.get(name).length > 0;
}

/** The wheels of a chain or belt. */
function loopWith(state: State, loop: string): readonly string[] {
  return state.drivesOf.get(loop).flatMap((drive) => drive.parts);
}

function liftPart(state: State, name: string): void {
  const part = state.parts.get(name);
  if (part !== undefined) part.lifted = true;
}

function isWith(action: Action, name: string): boolean {
  return action.targets.some((target) => target.owner.text === name);
}

/** Says that a part is shut in, or out, and goes on as if what does it were off; true when it does. */
export function sayIfShutIn(asked: Asked, act: Act): boolean {
  const { state, part, comesOff } = asked;
  const may = mayBeShutIn(part.part) || (comesOff ? isHeldByTurning(asked) : isOnCrankshaft(asked));
  if (!may) return false;
  for (const way of WAYS) {
    const over = way(asked);
    if (over === undefined || isWith(asked.withIt, over.part.name)) continue;
    // What was on before the job began may come off in ways that the spec does not tell.
    const by = over.fittedBy.find((each) => each !== undefined);
    if (by === undefined && way !== overTurning && way !== overByName) continue;
    if (state.unsure) return false;
    sayOfStep(
      state,
      'sequence/covered',
      act,
      `${part.part.name} can't ${comesOff ? 'come off' : 'go in'} here: ${coveredWhere(over)} and shuts it ${comesOff ? 'in' : 'out'}. ${comesOff ? `Take ${over.part.name} off first` : `Fit ${part.part.name} before it`}.`,
      pointAt(by, `${over.part.name} goes on here`),
    );
    over.lifted = true;
    // A chain is taken off with its wheels.
    if (way === overTurning) for (const name of loopWith(state, over.part.name)) liftPart(state, name);
    return true;
  }
  return false;
}
