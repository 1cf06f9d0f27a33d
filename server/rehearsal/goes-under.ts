// What has to be in before something else goes over it, by the names that the trade gives: seals under pulleys and flywheels, dowels under
// a head, tubes between case and head. Common practice, no source.
import { OFF, ON, type PartState } from './part-state.ts';
import { placesNow } from './places.ts';
import type { State } from './state.ts';

interface Under {
  readonly under: RegExp;
  readonly over: RegExp;
  /** It is in the way when the part comes off, too. */
  readonly bothWays?: true;
  /** It turns with such a shaft; a wheel with teeth on another lies inside the covers. */
  readonly onShaft?: RegExp;
  /** Both sit on the same thing. */
  readonly onSame?: true;
  /** Only in engines whose front is this end; one that does not say has its front away from the flywheel. */
  readonly front?: 'free-end' | 'flywheel-end';
}

const FLYWHEEL = /(^|-)(flywheel|flex-?plate|drive-plate)$/i;
const PULLEY = /^(crank(shaft)?-)?(pulley|(vibration-)?damper)$/i;
const FRONT_SEAL = /^front-(main-|crank(shaft)?-)?(oil-)?seal$/i;
const REAR_SEAL = /^rear-(main-|crank(shaft)?-)?(oil-)?seal(-(carrier|housing|retainer))?(-gasket)?$/i;

const RULES: readonly Under[] = [
  { under: /(^|-)cam(shaft)?-(oil-)?seal$/i, over: /(pulley|sprocket|gear|wheel)$/i, onShaft: /camshaft$/i },
  { under: REAR_SEAL, over: FLYWHEEL, front: 'free-end' },
  { under: FRONT_SEAL, over: PULLEY, front: 'free-end' },
  { under: REAR_SEAL, over: PULLEY, front: 'flywheel-end' },
  { under: FRONT_SEAL, over: FLYWHEEL, front: 'flywheel-end' },
  {
    under: /^(front-|lower-)?(timing|gear)-(case-)?cover(-gasket)?$/i,
    over: /^crank(shaft)?-(pulley|damper)$|^(vibration-)?damper$/i,
    bothWays: true,
  },
  { under: /(^|-)(head-)?dowels?$/i, over: /(^|-)head$/i, onSame: true },
  { under: /(^|-)pushrod-tubes?$/i, over: /(^|-)head$/i },
  { under: /(^|-)(bearing|main|cap)-shims?$/i, over: /(^|-)(main|bearing)-cap$/i, onSame: true },
];

/** Any of the names that this is about. */
export const GOES_UNDER = new RegExp(
  [
    ...RULES.map(({ under }) => under.source),
    '(lifter|tappet|follower)s?$',
    '(^|-)thrust-',
    '(o-ring|seal-ring|liner-seal)s?$',
  ].join('|'),
  'i',
);

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

/** What has gone over the place of a part already, or sits outside it when it is to come off. */
export function overIt(going: Going, isHalf: (name: string) => boolean): PartState | undefined {
  const { state, part, mate, comesOff } = going;
  const { name } = part.part;
  // On the bench the seal goes into its carrier whatever is on the engine.
  const base = mate === undefined ? undefined : state.parts.get(mate);
  if (!comesOff && (base === undefined || base.on.every((each) => each === OFF))) return undefined;
  for (const { under, over, bothWays, onShaft, onSame, front } of RULES) {
    if (front !== undefined && front !== (state.view.engine?.front ?? 'free-end')) continue;
    if (!under.test(name) || (comesOff && bothWays !== true)) continue;
    const found = state.parts
      .values()
      .find(
        (each) =>
          over.test(each.part.name) &&
          (onShaft === undefined ? (each.part.teeth ?? 0) === 0 : onShaft.test(each.part.fixedTo ?? '')) &&
          !part.part.clearOf.some(({ text }) => text === each.part.name) &&
          (onSame !== true || each.mate === mate) &&
          isOver(each, going),
      );
    if (found !== undefined) return found;
  }
  return comesOff || base === undefined ? undefined : (inHalf(going, base, isHalf) ?? onLiner(going, base));
}

/** Whether one half of a split case lies on the other. */
function isShut({ state }: Going, isHalf: (name: string) => boolean): PartState | undefined {
  return state.parts
    .values()
    .find(
      ({ part, on, mate, lifted }) =>
        !lifted && mate !== undefined && isHalf(part.name) && isHalf(mate) && on.every((at) => at === ON),
    );
}

/** Lifters go into a half of a split case before the camshaft that runs between the halves; thrust shims before it is shut. */
function inHalf(going: Going, base: PartState, isHalf: (name: string) => boolean): PartState | undefined {
  const { state, part, mate } = going;
  const { name } = part.part;
  if (/(^|-)thrust-/i.test(name) && /(^|-)crankshaft$/i.test(base.part.name) && base.mate !== undefined)
    return isHalf(base.mate) ? isShut(going, isHalf) : undefined;
  if (!/(lifter|tappet|follower)s?$/i.test(name) || !isHalf(base.part.name)) return undefined;
  const camshaft = state.parts
    .values()
    .find(
      (each) =>
        !each.lifted && /(^|-)camshaft$/i.test(each.part.name) && each.on.includes(ON) && isHalf(each.mate ?? ''),
    );
  if (camshaft === undefined) return undefined;
  return camshaft.mate === mate ? camshaft : isShut(going, isHalf);
}

/** A ring that seals a liner or barrel goes on before that goes in. */
function onLiner({ state, part, places }: Going, base: PartState): PartState | undefined {
  if (!/(o-ring|seal-ring|liner-seal)s?$/i.test(part.part.name) || !/(^|-)(liner|sleeve|barrel)$/i.test(base.part.name))
    return undefined;
  const own = base.on.length === part.on.length ? places : placesNow(state, base.part, []);
  return own.every((i) => base.on[i] === ON && base.joined[i] !== undefined) ? base : undefined;
}
