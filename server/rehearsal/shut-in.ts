// What shuts a part in by the nature of the thing, though no line of the spec says that it covers: caps over a shaft, the pin in a piston,
// collets over a spring. Told by the names that the trade gives; common practice, no source. Declared covers are in covers.ts.
import { told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import { shaftOf } from '../model/drive-sums.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Drive, Fastener, Part } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { type Act, pointAt } from './act.ts';
import { coveredWhere } from './covers.ts';
import { FINAL } from './fastener-state.ts';
import { goesUnder, overIt } from './goes-under.ts';
import { OFF, ON, type PartState } from './part-state.ts';
import { partsOf, type State, sayOfStep } from './state.ts';

/** What lies under what in a cylinder head and in the valve gear. The second holds the first in once it is on. */
const STACKS: readonly (readonly [under: readonly TradeKind[], over: TradeKind])[] = [
  [['stem-seal'], 'valve-spring'],
  [['valve-spring', 'spring-retainer', 'valve'], 'collet'],
  // A valve runs in its guide and shuts on its seat.
  [['guide-or-seat'], 'valve'],
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
  /** It is on, and its clips are to go in. */
  readonly isSecured?: true;
}

/** Whether something is surely on over these places: by number where there are as many of both, else where all of it is on. */
function isOver(over: PartState, part: PartState, places: readonly number[]): boolean {
  if (over === part || over.lifted) return false;
  return over.on.length === part.on.length
    ? places.some((i) => over.on[i] === ON)
    : over.on.every((each) => each === ON);
}

function find(asked: Asked, kind: TradeKind, test: (each: PartState) => boolean = () => true): PartState | undefined {
  return asked.state.parts.ofKind(kind).find((each) => test(each) && isOver(each, asked.part, asked.places));
}

/** Whether a cap or half closes over the crankshaft, or over a camshaft. */
function closes(name: string, shaft: string): boolean {
  if (isA(name, 'cam-cap')) return isA(shaft, 'camshaft');
  return isA(name, 'case-half', 'cap') && isA(shaft, 'crankshaft');
}

/** The cap or half that keeps a shaft in its bearings, or out of them. */
function overShaft(asked: Asked): PartState | undefined {
  const { part, mate, comesOff } = asked;
  const { name } = part.part;
  if (!isA(name, 'crankshaft', 'camshaft')) return undefined;
  // A cap without a mate that is told may be on a rod at the bench.
  if (mate === undefined && !comesOff) return undefined;
  return asked.state.parts
    .ofKind('cam-cap', 'case-half', 'cap')
    .find(
      (each) =>
        !each.lifted &&
        closes(each.part.name, name) &&
        each.on.every((at) => at === ON) &&
        (each.mate === mate || (mate === undefined && isA(each.part, 'main-cap', 'rod-cap', 'cam-cap'))),
    );
}

/** The cap of a rod that is to go onto its shaft, or the head over the bore that its piston goes through. */
function overRod(asked: Asked): PartState | undefined {
  const { part, mate, comesOff } = asked;
  if (comesOff || mate === undefined || !isA(mate, 'crankshaft')) return undefined;
  return find(asked, 'cap', (each) => each.mate === part.part.name) ?? overBoreOf(asked);
}

/** A head on the block whose bores a rod goes through with its piston, from above. Common practice, no source. */
function overBoreOf({ state, part, places }: Asked): PartState | undefined {
  // Most often no head is on yet, and nothing more is looked at.
  const head = state.parts
    .ofKind('head')
    .find(
      (each) =>
        !each.lifted &&
        each.mate !== undefined &&
        (each.on.length === part.on.length ? isOver(each, part, places) : each.on.every((at) => at === ON)),
    );
  if (head === undefined) return undefined;
  const [bore, shaft] = [boreOf(state), state.parts.ofKind('crankshaft')[0]];
  const piston = state.parts.ofKind('piston').find(({ mate, lifted }) => mate === part.part.name && !lifted);
  if (bore === undefined || piston === undefined || !isOver(piston, part, places)) return undefined;
  const block = isA(bore.part, 'liner') ? bore.mate : bore.part.name;
  const through = piston.part.outThrough?.owner.text;
  if (through !== undefined && through !== bore.part.name) return undefined;
  return head.mate === block && shaft?.mate === block ? head : undefined;
}

/** What a bearing shell lies under: the shaft in its saddle, its cap, its rod on the crankshaft. */
function overShell(asked: Asked): PartState | undefined {
  const { state, part, places, mate, comesOff } = asked;
  const isShell = part.part.wall !== undefined || isA(part.part, 'shell');
  const saddle = mate === undefined || comesOff ? undefined : state.parts.get(mate);
  const inBush = saddle === undefined || saddle.lifted ? undefined : shaftInBush(asked);
  if (inBush !== undefined) return inBush;
  if (saddle === undefined || (!isShell && !isA(part.part, 'thrust')) || saddle.lifted) return undefined;
  if (isA(saddle.part, 'cap'))
    return saddle.fittedBy.some((by) => by !== undefined) && isSeated(saddle, part, places) ? saddle : undefined;
  // Thrust halves are slid in beside the shaft, with the cap off.
  if (!isShell) return tightCapOn(asked, saddle);
  if (saddle.mate !== undefined && isA(saddle.mate, 'crankshaft'))
    return isSeated(saddle, part, places) ? saddle : undefined;
  if (isRolledIn(asked)) return undefined;
  return state.parts
    .ofKind('crankshaft')
    .find(
      (each) => !each.lifted && !isA(part.part, 'cam-bearing') && each.mate === mate && each.on.some((at) => at === ON),
    );
}

/** The shaft that runs in a bush or a camshaft bearing, and lies in the same thing already. */
function shaftInBush({ state, part, mate }: Asked): PartState | undefined {
  const runs = isA(part.part, 'cam-bearing') ? 'camshaft' : isA(part.part, 'main-bush') ? 'crankshaft' : undefined;
  if (runs === undefined || isA(mate ?? '', 'cap')) return undefined;
  return state.parts.ofKind(runs).find((each) => !each.lifted && each.mate === mate && each.on.includes(ON));
}

/** A main cap, tight, of a saddle that its shaft lies in: nothing is slid in round the shaft any more. */
function tightCapOn({ state, mate }: Asked, saddle: PartState): PartState | undefined {
  const hasShaft = state.parts.ofKind('crankshaft').some((each) => each.mate === mate && each.on.includes(ON));
  if (!hasShaft || isA(saddle.part, 'crankshaft')) return undefined;
  const caps = state.parts.ofKind('main-cap').filter(({ mate: on }) => on === mate);
  const areTight = caps.every(
    (cap) =>
      !cap.lifted &&
      cap.on.every((at) => at === ON) &&
      state.clampedBy.get(cap.part.name).every(({ stages }) => stages.every((stage) => stage === FINAL)),
  );
  return areTight ? caps[0] : undefined;
}

/** A shell is rolled in round the shaft where its own cap is off and other caps hold the shaft. */
function isRolledIn({ state, part, places, mate }: Asked): boolean {
  return state.parts.ofKind('cap').some(({ on, mate: saddle }) => {
    if (saddle !== mate || !on.includes(ON)) return false;
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
  if (mate === undefined || asked.comesOff || !isA(name, 'piston', 'rod')) return undefined;
  // What is made up on the bench goes in with its pin. A pin shuts out what it goes through once it is in the piston.
  if (places.some((i) => part.on[i] === ON)) return undefined;
  const piston = isA(name, 'piston') ? name : mate;
  const pin = isA(mate, 'piston', 'rod') ? find(asked, 'piston-pin', (each) => each.mate === piston) : undefined;
  const rod = state.parts.get(mate);
  if (pin !== undefined || rod?.mate === undefined || !isA(rod.mate, 'crankshaft')) return pin;
  const bore = boreOf(state);
  if (bore === undefined || bore.lifted || !isOver(rod, part, places)) return undefined;
  // Barrels and liners are bores one by one.
  const own = bore.on.length === part.on.length ? places.map((i) => bore.on[i]) : bore.on;
  return own.includes(ON) ? bore : own.some((at) => at !== OFF) ? rod : undefined;
}

/** The piston that rings are on, where it stands in its bore with them. */
export function overRingsIn(state: State, ring: PartState): PartState | undefined {
  const places = [...ring.on.keys()];
  if (!places.every((i) => ring.on[i] === ON)) return undefined;
  return pistonOver({ state, part: ring, places, mate: ring.mate });
}

/** The bore that a piston stands in, with its rings. */
const overRing = (asked: Asked): PartState | undefined => pistonOver(asked);

function pistonOver({
  state,
  part,
  places,
  mate,
}: Pick<Asked, 'state' | 'part' | 'places' | 'mate'>): PartState | undefined {
  const piston = mate === undefined ? undefined : state.parts.get(mate);
  if (piston === undefined || !isA(part.part, 'ring', 'piston-pin') || !isA(piston.part, 'piston')) return undefined;
  const bore = boreOf(state);
  if (bore === undefined || bore.lifted) return undefined;
  const own = bore.on.length === part.on.length ? places.map((i) => bore.on[i]) : bore.on;
  if (!own.some((at) => at !== OFF)) return undefined;
  // A barrel that hangs on its piston has not gone down over the pin yet.
  if (isA(part.part, 'piston-pin') && isA(bore.part, 'barrel', 'liner', 'cylinder') && !own.includes(ON))
    return undefined;
  const rod = piston.mate === undefined ? undefined : state.parts.get(piston.mate);
  const inBore =
    piston.mate === bore.part.name || (rod !== undefined && isOnItsShaft(rod) && isOver(rod, part, places));
  return inBore && isOver(piston, part, places) ? piston : undefined;
}

/** A rod on the crankshaft: it went onto it, or was on it as the job began. */
function isOnItsShaft({ mate, on, fittedBy }: PartState): boolean {
  if (mate !== undefined) return isA(mate, 'crankshaft');
  return on.every((each) => each === ON) && fittedBy.every((by) => by === undefined);
}

const boreOwner = question((view, _subject: 'engine'): string | undefined => {
  const statement = view.engine?.statements.find(({ word }) => word === 'bore');
  const text = view.engine?.placed.section.text.slice(statement?.start ?? 0, statement?.end ?? 0) ?? '';
  return /([\p{L}\p{N}_-]+)\s*\.\s*bore/u.exec(text)?.[1];
});

/** The part that the engine's bore is in. */
function boreOf({ parts, view }: State): PartState | undefined {
  const said = parts.get(boreOwner(view, 'engine') ?? '');
  if (said !== undefined || parts.ofKind('barrel', 'liner', 'cylinder').length > 0) return said;
  // With neither barrels nor liners it is bored in the block.
  const blocks = parts.ofKind('block');
  return blocks.length === 1 ? blocks[0] : undefined;
}

function overStack(asked: Asked): PartState | undefined {
  const { name } = asked.part.part;
  for (const [under, over] of STACKS) {
    if (!isA(name, ...under)) continue;
    const found = find(asked, over);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** A camshaft over the buckets that run in the same head, and valve gear that is bolted down over the pushrods. */
function overValveGear(asked: Asked): PartState | undefined {
  const { state, part, places, mate } = asked;
  const { name } = part.part;
  if (isA(name, 'lifter') && mate !== undefined && isA(mate, 'head') && places.length === part.on.length)
    return state.parts
      .ofKind('camshaft')
      .find((each) => !each.lifted && each.mate === mate && each.on.some((at) => at === ON));
  if (isA(name, 'lifter')) return underPushrod(asked) ?? inCarrier(asked);
  if (isA(name, 'rocker')) return onShaft(asked);
  if (!isA(name, 'pushrod')) return undefined;
  return state.parts
    .ofKind('rocker-support', 'rocker')
    .find((each) => !each.lifted && each.on.every((at) => at === ON) && isBoltedDown(state, each));
}

/** The shaft that rockers are slid onto, once it is bolted down. Common practice, no source. */
function onShaft({ state, mate, comesOff }: Asked): PartState | undefined {
  const shaft = mate === undefined || comesOff || !/shaft/i.test(mate) ? undefined : state.parts.get(mate);
  if (shaft === undefined || shaft.lifted || shaft.mate === undefined || !isA(shaft.part, 'rocker-support'))
    return undefined;
  return shaft.on.every((at) => at === ON) && isBoltedDown(state, shaft) ? shaft : undefined;
}

const isBoltedDown = ({ clampedBy }: State, { part }: PartState): boolean =>
  clampedBy.get(part.name).some(({ stages }) => stages.every((stage) => stage === FINAL));

/** A pushrod that stands in a lifter already. */
const underPushrod = ({ state, part, comesOff }: Asked): PartState | undefined =>
  comesOff
    ? undefined
    : state.parts
        .ofKind('pushrod')
        .find((each) => !each.lifted && each.mate === part.part.name && each.on.every((at) => at === ON));

/** The block of their own that tappets run in, once it is bolted down with the camshaft under it: they go in from below. Common practice, no source. */
function inCarrier({ state, mate, comesOff }: Asked): PartState | undefined {
  const carrier = mate === undefined || comesOff ? undefined : state.parts.get(mate);
  if (carrier === undefined || carrier.lifted || isA(carrier.part, 'head', 'block', 'case')) return undefined;
  const hasCamshaft = state.parts.ofKind('camshaft').some((each) => each.mate === carrier.mate && each.on.includes(ON));
  return hasCamshaft && carrier.on.every((at) => at === ON) && isBoltedDown(state, carrier) ? carrier : undefined;
}

/** A wheel with its shaft, and the chain or belt that runs over it. */
interface Held {
  readonly loop: string;
  readonly wheel: string;
  readonly shaft: string;
}

/** What no part is called: under it stand the wheels on shafts that may run in a head. */
const ANY_HEAD = '';

/** By wheel and by its shaft: where chains and belts run over them, in the order written. */
const wheelsHeld = keyed(
  (view) => view.drives,
  (view, drive: Drive): readonly Entry<Held>[] =>
    view.things.get(drive.name) === drive
      ? drive.wraps.flatMap(({ part: loop, wheels }) =>
          wheels.flatMap(({ part: wheel }) => {
            const shaft = shaftOf(view, wheel);
            const mayBeInHead = isA(shaft, 'camshaft', 'head') || isA(wheel, 'head');
            const names = new Set([wheel, shaft, ...(mayBeInHead ? [ANY_HEAD] : [])]);
            return [...names].map((name): Entry<Held> => [name, { loop, wheel, shaft }]);
          }),
        )
      : [],
);

/** The chain or belt that holds a wheel which it runs over, a shaft by the wheel on it, or a head by the shaft in it. */
function overTurning(asked: Asked): PartState | undefined {
  const { state, part, comesOff } = asked;
  if (!comesOff) return undefined;
  const { name } = part.part;
  for (const { loop: over, wheel, shaft } of wheelsHeld(state.view, isA(name, 'head') ? ANY_HEAD : name)) {
    const loop = state.parts.get(over);
    if (loop === undefined || over === name || loop.lifted || !loop.on.includes(ON)) continue;
    if (state.parts.get(wheel)?.on.includes(ON) !== true) continue;
    if (wheel === name || shaft === name || (isA(shaft, 'camshaft') && isIn(state, shaft, name))) return loop;
  }
  return undefined;
}

/** Whether a shaft runs in a head: as it was fitted, or as its caps are bolted down, or by the name of the one head that there is. */
function isIn(state: State, shaft: string, head: string): boolean {
  const mate = state.parts.get(shaft)?.mate;
  if (mate !== undefined) return mate === head;
  return boltedTo(state.view, head).some((part) => isA(part, 'cam-cap') || part === shaft);
}

/** By what it is bolted to: what fasteners clamp. */
const boltedTo = keyed(
  (view) => view.fasteners,
  (_view, { to, clamps }: Fastener): readonly Entry<string>[] =>
    to === undefined ? [] : clamps.map(({ part }) => [to.part, part]),
);

/** What goes over it by the names of both. */
const overByName = (asked: Asked): PartState | undefined => overIt(asked);

const WAYS = [overByName, overShaft, overRod, overShell, overPiston, overRing, overStack, overValveGear, overTurning];

const SHUT_IN: readonly TradeKind[] = [
  'crankshaft',
  'camshaft',
  'shell',
  'thrust',
  'cam-bearing',
  'main-bush',
  'rocker',
  'ring',
  'piston',
  'piston-pin',
  'rod',
  'pushrod',
  'stem-seal',
  'valve-spring',
  'spring-retainer',
  'valve',
  'lifter',
];

/** Whether any of the ways above is about a part of this name: most parts go on without being asked about. */
function mayBeShutIn(part: Part): boolean {
  return isA(part, ...SHUT_IN) || goesUnder(part.name) || part.wall !== undefined;
}

/** Whatever goes onto the crankshaft may have a cap on it already. */
function isOnCrankshaft({ state, mate }: Asked): boolean {
  return mate !== undefined && (mate === state.crankshaft || isA(mate, 'crankshaft'));
}

/** Shafts and wheels may have any name. */
function isHeldByTurning({ state, part }: Asked): boolean {
  const { name } = part.part;
  return isA(name, 'head') || state.drivesOf.get(name).length > 0 || state.speeds.get(name) !== undefined;
}

/** The wheels of a chain or belt. */
function loopWith(state: State, loop: string): readonly string[] {
  return state.drivesOf.get(loop).flatMap((drive) => partsOf(state, drive));
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
      asked.isSecured === true
        ? told`${told.thing(part.part)} can no longer be secured here: ${told.thing(over.part)} shuts it in. Secure it before that goes in.`
        : comesOff
          ? told`${told.thing(part.part)} can't come off here: ${coveredWhere(over)} and shuts it in. Take ${told.thing(over.part)} off first.`
          : told`${told.thing(part.part)} can't go in here: ${coveredWhere(over)} and shuts it out. Fit ${told.thing(part.part)} before it.`,
      pointAt(by, told`${told.thing(over.part)} goes on here`),
    );
    over.lifted = true;
    // A chain is taken off with its wheels.
    if (way === overTurning) for (const name of loopWith(state, over.part.name)) liftPart(state, name);
    return true;
  }
  return false;
}
