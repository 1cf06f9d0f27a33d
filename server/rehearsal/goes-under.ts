// What has to be in before something else goes over it, by the names that the trade gives: seals under pulleys and flywheels, dowels under
// a head, tubes between case and head. Common practice, no source.
import { partsOfKind } from '../model/by-kind.ts';
import { isA, isOrSeals, type TradeKind } from '../model/trade-names.ts';
import { question } from '../model/view-questions.ts';
import { coversOf } from './at-the-bench.ts';
import { SNUG } from './fastener-state.ts';
import { stepsMating, stepsMatingWith } from './foresight.ts';
import { OFF, ON, type PartState } from './part-state.ts';
import { placesNow } from './places.ts';
import type { State } from './state.ts';
import { inOrder } from './things.ts';
import { actionsAfter } from './to-come.ts';

interface Under {
  readonly under: readonly TradeKind[];
  readonly over: readonly TradeKind[];
  /** What it seals, or what lies under that, is meant too. */
  readonly withSeals?: true;
  /** It is in the way when the part comes off, too. */
  readonly bothWays?: true;
  /** It turns with such a shaft; a wheel with teeth on another lies inside the covers. */
  readonly onShaft?: TradeKind;
  /** Both sit on the same thing. */
  readonly onSame?: true;
  /** It goes into a rod, and the other through that rod or its piston. */
  readonly onRod?: true;
  /** Only in engines whose front is this end; one that does not say has its front away from the flywheel. */
  readonly front?: 'free-end' | 'flywheel-end';
}

const REAR: readonly TradeKind[] = ['rear-seal', 'rear-seal-carrier'];
const PULLEY: readonly TradeKind[] = ['crank-pulley', 'pulley'];

const RULES: readonly Under[] = [
  { under: ['camshaft-seal'], over: ['wheel'], onShaft: 'camshaft' },
  { under: REAR, over: ['flywheel'], withSeals: true, front: 'free-end' },
  { under: ['front-seal'], over: PULLEY, front: 'free-end' },
  { under: ['front-seal'], over: ['fan'], onShaft: 'crankshaft', front: 'free-end' },
  { under: REAR, over: PULLEY, withSeals: true, front: 'flywheel-end' },
  { under: ['front-seal'], over: ['flywheel'], front: 'flywheel-end' },
  { under: ['backplate'], over: ['wheel'], onShaft: 'camshaft' },
  { under: ['rear-seal-carrier', 'front-seal-carrier'], over: ['sump'], onSame: true },
  { under: ['timing-cover'], over: ['crank-pulley'], withSeals: true, bothWays: true },
  { under: ['dowel'], over: ['head'], onSame: true },
  { under: ['pickup'], over: ['sump'] },
  { under: ['pushrod-tube'], over: ['head'] },
  { under: ['cap-shim'], over: ['main-cap'], onSame: true },
  { under: ['rod-cap-shim'], over: ['rod-cap'], onSame: true },
  { under: ['liner-shim'], over: ['liner', 'barrel'], onSame: true },
  // A plate that keeps a camshaft in keeps it out, too.
  { under: ['camshaft'], over: ['cam-plate'], onSame: true },
  { under: ['small-end'], over: ['piston-pin'], onRod: true },
  { under: ['injector-washer'], over: ['injector'], onSame: true },
];

const UNDER: readonly TradeKind[] = [
  ...RULES.flatMap(({ under }) => under),
  'lifter',
  'thrust',
  'shell',
  'o-ring',
  'liner-seal',
  'valve',
  'guide-or-seat',
  'chamber',
  'belt-cover',
];

/** The rules that are about a part by its name. */
const rulesFor = question((_view, name: string): readonly Under[] =>
  RULES.filter(({ under, withSeals }) => (withSeals === true ? isOrSeals : isA)(name, ...under)),
);

/** Whether this is about a part of that name. */
export const goesUnder = (name: string): boolean => isOrSeals(name, ...UNDER);

/** What is asked: a part, at which places, and what it goes into or onto. */
export interface Going {
  readonly state: State;
  readonly part: PartState;
  readonly places: readonly number[];
  readonly mate: string | undefined;
  readonly comesOff: boolean;
}

function isOver(over: PartState, { part, places }: Going): boolean {
  if (over === part || over.lifted) return false;
  return over.on.length === part.on.length
    ? places.some((i) => over.on[i] === ON)
    : over.on.every((each) => each === ON);
}

/** The parts of some kinds that some step fits to one, in the order written: no other ever has it for its mate. */
const fittedOnto = question((view, mateAndKinds: string): readonly string[] => {
  const [mate = '', ...kinds] = mateAndKinds.split(' ');
  const names = stepsMatingWith(view, mate).map(({ name }) => name);
  return inOrder(
    view,
    'parts',
    names.filter((name) => isA(name, ...(kinds as TradeKind[]))),
  );
});
const ofKindOnto = ({ parts, view }: State, kinds: readonly TradeKind[], mate: string): readonly PartState[] =>
  parts.among(fittedOnto(view, [mate, ...kinds].join(' ')));

/** What has gone over the place of a part already, or sits outside it when it is to come off. */
export function overIt(going: Going): PartState | undefined {
  const { state, part, mate, comesOff } = going;
  const { name } = part.part;
  // On the bench the seal goes into its carrier whatever is on the engine.
  const base = mate === undefined ? undefined : state.parts.get(mate);
  const onBench = !comesOff && (base === undefined || base.on.every((each) => each === OFF));
  for (const { under, over, bothWays, onShaft, onSame, onRod, front } of rulesFor(state.view, name)) {
    if (front !== undefined && front !== (state.view.engine?.front ?? 'free-end') && !isOnlySeal(state, part, over))
      continue;
    // What goes onto one thing goes onto it in this order on the bench, too.
    if (onBench && (base === undefined || (onSame !== true && onRod !== true))) continue;
    if (comesOff && bothWays !== true) continue;
    // What sits on the same thing is found by that: the plate of another engine is nothing to this one.
    const there = onSame === true && mate !== undefined ? ofKindOnto(state, over, mate) : state.parts.ofKind(...over);
    const found = there.find(
      (each) =>
        (onShaft === undefined ? (each.part.teeth ?? 0) === 0 : isA(each.part.fixedTo ?? '', onShaft)) &&
        (onRod !== true || isOnRod(state, each, mate)) &&
        each.part.name !== mate &&
        !part.part.clearOf.some(({ text }) => text === each.part.name) &&
        (onSame !== true || each.mate === mate) &&
        !(under.includes('backplate') && wentOnAtBench(state, each)) &&
        isOver(each, going),
    );
    if (found !== undefined) return found;
  }
  const plate = comesOff ? plateOver(going) : undefined;
  if (plate !== undefined) return plate;
  const outside = onBench ? undefined : outsideCover(going);
  if (outside !== undefined) return outside;
  return comesOff || base === undefined || onBench
    ? undefined
    : (inHalf(going, base) ?? onLiner(going, base) ?? onTube(going, base) ?? intoHead(going, base));
}

/** The plates that some step fits to what a camshaft goes into; all, where no step fits it. */
const platesBy = question((view, camshaft: string): readonly string[] => {
  const mates = new Set(stepsMating(view, camshaft).map(({ mate }) => mate));
  return mates.size === 0
    ? partsOfKind(view, 'cam-plate')
    : inOrder(view, 'parts', new Set([...mates].flatMap((mate) => fittedOnto(view, `${mate} cam-plate`))));
});

/** The plate that keeps a camshaft in, with its bolts all in: it comes off before the camshaft. Loosened it may come with it. */
function plateOver({ state, part }: Going): PartState | undefined {
  if (!isA(part.part, 'camshaft')) return undefined;
  const plates = state.parts.among(platesBy(state.view, part.part.name));
  return plates.find(({ part: plate, on, mate, lifted }) => {
    const holders = state.clampedBy.get(plate.name);
    const isTight =
      holders.length > 0 &&
      holders.every(({ loosenedBy, stages }) => loosenedBy === undefined && stages.every((stage) => stage > SNUG));
    return isTight && mate === part.mate && !lifted && on.every((at) => at === ON);
  });
}

/** A damper or pulley on a wheel that a cover of the drive lies over: the cover goes on before it, and comes off after it. */
function outsideCover({ state, part }: Going): PartState | undefined {
  if (!isA(part.part, 'belt-cover', 'timing-cover')) return undefined;
  const under = coversOf(state.view, part.part).flatMap(({ name, feature }) => (feature === undefined ? [name] : []));
  return state.parts
    .ofKind('crank-pulley')
    .find(
      ({ part: own, mate, on, lifted }) =>
        mate !== undefined &&
        under.includes(mate) &&
        !under.includes(own.name) &&
        (own.teeth ?? 0) === 0 &&
        !lifted &&
        on.includes(ON) &&
        !part.part.clearOf.some(({ text }) => text === own.name),
    );
}

/** A wheel that went onto its shaft before the head did: the plate may have gone on with them. */
function wentOnAtBench(state: State, { fittedBy }: PartState): boolean {
  const by = fittedBy.find((each) => each !== undefined);
  if (by === undefined) return false;
  return actionsAfter(state, by).some(
    ({ action }) => action.word === 'fit' && action.targets.some(({ owner }) => isA(owner.text, 'head')),
  );
}

/** The one seal of a crankshaft that has nothing but a flywheel on it lies under that, whatever its end is called. */
function isOnlySeal({ parts }: State, { part: seal }: PartState, over: readonly TradeKind[]): boolean {
  if (!over.includes('flywheel') || !isA(seal, 'rear-seal')) return false;
  const others = parts.ofKind('front-seal', 'crank-seal', 'crank-pulley', 'pulley', 'front-seal-carrier');
  return others.every((each) => each.part === seal);
}

/** A pin through a rod, or through the piston on it. */
function isOnRod(state: State, { mate }: PartState, rod: string | undefined): boolean {
  if (rod === undefined || mate === undefined || !isA(rod, 'rod')) return false;
  return mate === rod || state.parts.get(mate)?.mate === rod || state.parts.get(rod)?.mate === mate;
}

/** What goes into a head from below goes in before the head is on: valves, and seats, guides and chambers that are pressed in. */
function intoHead({ part }: Going, base: PartState): PartState | undefined {
  if (!isA(base.part, 'head') || !isA(part.part, 'valve', 'guide-or-seat', 'chamber')) return undefined;
  const isOnEngine = base.mate !== undefined && base.on.every((each) => each === ON) && !base.lifted;
  return isOnEngine ? base : undefined;
}

/** Whether one half of a split case lies on the other. */
function isShut({ state }: Going): PartState | undefined {
  return state.parts
    .ofKind('case-half')
    .find(
      ({ on, mate, lifted }) => !lifted && mate !== undefined && isA(mate, 'case-half') && on.every((at) => at === ON),
    );
}

/** Lifters go into a half of a split case before the camshaft that runs between the halves; thrust shims before it is shut. */
function inHalf(going: Going, base: PartState): PartState | undefined {
  const { state, part, mate } = going;
  const { name } = part.part;
  if (isA(name, 'thrust', 'shell') && isA(base.part, 'crankshaft') && base.mate !== undefined)
    return isA(base.mate, 'case-half') ? isShut(going) : undefined;
  if (!isA(name, 'lifter') || !isA(base.part, 'case-half')) return undefined;
  const camshaft = state.parts
    .ofKind('camshaft')
    .find((each) => !each.lifted && each.on.includes(ON) && isA(each.mate ?? '', 'case-half'));
  if (camshaft === undefined) return undefined;
  return camshaft.mate === mate ? camshaft : isShut(going);
}

/** A tube has a seal at each end: the inner ones go on before it goes in. */
function onTube({ part, places }: Going, base: PartState): PartState | undefined {
  if (!isA(base.part, 'pushrod-tube') || !isA(part.part, 'o-ring', 'seal')) return undefined;
  if (part.on.length < 2 * base.on.length || places.length <= base.on.length) return undefined;
  return base.on.every((each, i) => each === ON && base.joined[i] !== undefined) ? base : undefined;
}

/** A ring that seals a liner or barrel goes on before that goes in. */
function onLiner({ state, part, places }: Going, base: PartState): PartState | undefined {
  if (!isA(part.part, 'o-ring', 'liner-seal') || !isA(base.part, 'liner', 'barrel')) return undefined;
  const own = base.on.length === part.on.length ? places : placesNow(state, base.part, []);
  return own.every((i) => base.on[i] === ON && base.joined[i] !== undefined) ? base : undefined;
}
