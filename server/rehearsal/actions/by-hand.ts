// Work by hand on a part: oiled, cleaned, machined, looked at, sealed. On the bench it is fine, on the engine nothing may be over it.

import { type Told, told } from '../../../grammar/told.ts';
import type { Action } from '../../../grammar/tree.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Step } from '../../model/view.ts';
import { pointAt } from '../act.ts';
import { type ActionRule, onEach, type Target } from '../action-rule.ts';
import { sayIfCovered } from '../covers.ts';
import { putOn } from '../curing.ts';
import { putOn as dress, saidDry } from '../dressed.ts';
import { FINAL } from '../fastener-state.ts';
import { makeGritty } from '../grit.ts';
import { OFF, ON, type PartState } from '../part-state.ts';
import { placesNow } from '../places.ts';
import { type State, say } from '../state.ts';
import { isBefore, isFittedAfter, isOf } from '../to-come.ts';

/** Leaks, noise and the like are looked for from outside. */
const FROM_OUTSIDE = /leak|weep|drip|stain|noise|whine|rub|smoke|knock|temperature|heat/i;

function workOn(state: State, { action, part, name, reference, act }: Target, doing: Told): void {
  if (part !== undefined) part.handledBy ??= act;
  if (part === undefined || (action.word === 'inspect' && FROM_OUTSIDE.test(action.forText?.value ?? ''))) return;
  if (placesNow(state, part.part, reference.places).every((i) => part.on[i] !== OFF))
    sayIfCovered(state, name, act, 'sequence/covered', doing);
}

const byHand = (doing: Told): ActionRule => onEach((state, target) => workOn(state, target, doing));

export const clean: ActionRule = onEach((state, target) => {
  if (target.part?.gritFrom !== undefined) target.part.gritFrom = undefined;
  if (!sayIfGasketLies(state, target)) workOn(state, target, told`clean it`);
});

/** A face, and not a hole in it. */
const FACE = /deck|face|joint|surface|flange/i;

/** What goes over a gasket, by the bolts that hold both. */
function overGasket(state: State, gasket: PartState, mate: string): readonly string[] {
  return state.clampedBy
    .get(gasket.part.name)
    .flatMap(({ fastener }) => fastener.clamps.map(({ part }) => part))
    .filter((part) => part !== gasket.part.name && part !== mate);
}

/** Says that a face is cleaned with its new gasket lying on it, before what goes over that is on. True when it is. */
function sayIfGasketLies(state: State, { name, reference, act }: Target): boolean {
  if (reference.feature !== undefined && !FACE.test(reference.feature.text)) return false;
  const isOff = (part: string): boolean => state.parts.get(part)?.on.every((each) => each === OFF) !== false;
  const lying = state.parts
    .ofKind('gasket')
    .find(
      (each) =>
        each.mate === name &&
        !each.lifted &&
        each.on.every((at) => at === ON) &&
        overGasket(state, each, name).every(isOff),
    );
  const by = lying?.fittedBy.find((each) => each !== undefined);
  if (lying === undefined || by === undefined || by.step.trial || state.unsure) return false;
  // Where nothing goes over it any more, that is the fault.
  const comes = overGasket(state, lying, name).some((part) => isFittedAfter(state, act, part));
  if (!comes) return false;
  say(
    state,
    'sequence/covered',
    act,
    told`${told.named(name)} is cleaned here, and ${told.thing(lying.part)} lies on it since step ${told.thing(by.step)}: what is washed and scraped off gets under it. Clean the face before ${told.thing(lying.part)} goes on.`,
    { related: pointAt(by, told`${told.thing(lying.part)} goes on here`) },
  );
  return true;
}

export const lubricate: ActionRule = onEach((state, target) => {
  if (target.part !== undefined) dress(target.part, 'oiled');
  if (!sayIfRunIn(state, target)) workOn(state, target, told`lubricate it`);
});
export const machine: ActionRule = onEach((state, target) => {
  if (sayIfBuiltIn(state, target)) return;
  makeGritty(state, target.part, target.action, target.act);
  workOn(state, target, told`machine it`);
});
export const inspect: ActionRule = byHand(told`inspect it`);

/** What is over a bearing shell: the caps, with their shaft in; over a ring of rubber: what it went onto, when that is in. */
function overOil(state: State, part: PartState): PartState | undefined {
  const { mate } = part;
  if (mate === undefined || !part.on.every((each) => each === ON)) return undefined;
  if (isA(part.part, 'o-ring') && !isA(mate, 'block', 'case', 'head')) {
    const over = state.parts.get(mate);
    if (over?.mate === undefined || !isClosed(state, over)) return undefined;
    const [own, its] = [part.fittedBy[0], over.fittedBy.find((by) => by !== undefined)];
    // One that goes into what is on already is still in sight.
    return own !== undefined && its !== undefined && isBefore(state, own, its) ? over : undefined;
  }
  if (!isA(part.part, 'shell') || isA(part.part, 'cam-bearing')) return undefined;
  const isRod = isA(mate, 'rod', 'rod-cap');
  const shafts = isRod ? state.parts.ofKind('rod') : state.parts.ofKind('crankshaft');
  const caps = state.parts.ofKind(isRod ? 'rod-cap' : 'main-cap');
  const isIn = shafts.some((shaft) => shaft.mate !== undefined && isClosed(state, shaft));
  return isIn && caps.length > 0 && caps.every((cap) => isClosed(state, cap)) ? caps[0] : undefined;
}

const isClosed = (state: State, over: PartState): boolean =>
  !over.lifted && placesNow(state, over.part, []).every((i) => over.on[i] === ON);

/** Says that oil comes too late: what it is for is closed. True when it does. */
function sayIfRunIn(state: State, { step, action, part, name, act }: Target): boolean {
  // A step that fits it once more is done at the wrong time as a whole.
  if (fitsBehind(step, action, name)) return false;
  const over = part === undefined ? undefined : overOil(state, part);
  const by = over?.fittedBy.find((each) => each !== undefined);
  if (over === undefined || by === undefined || by.step.trial || state.unsure) return false;
  say(
    state,
    'sequence/covered',
    act,
    told`${told.named(name)} is oiled here, and ${told.thing(over.part)} went on in step ${told.thing(by.step)}: the oil no longer gets to it. Oil it before ${told.thing(over.part)} goes on.`,
    { related: pointAt(by, told`${told.thing(over.part)} goes on here`) },
  );
  return true;
}

export const seal: ActionRule = onEach((state, target) => {
  const { action, act, name } = target;
  if (!sayIfClosed(state, target)) workOn(state, target, told`put sealant on it`);
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  if (supply?.kind === 'supply') putOn(state, supply, name, act);
  if (target.part !== undefined) dress(target.part, 'sealant');
});

/** Whether a step fits a part behind one of its actions. */
function fitsBehind(step: Step, action: Action, name: string): boolean {
  const rest = step.statements.slice(step.statements.indexOf(action));
  return rest.some((each) => each.kind === 'action' && each.word === 'fit' && isOf(each, name));
}

/** What closes the face of a part: itself where it is on, the other half of a split case that went onto it. */
function closedFace(state: State, part: PartState): PartState | undefined {
  const { name } = part.part;
  const half = isA(name, 'case-half')
    ? state.parts.ofKind('case-half').find((each) => each.mate === name && each.on.every((at) => at === ON))
    : undefined;
  if (half !== undefined) return half;
  return part.on.every((each) => each === ON) && part.fittedBy.some((by) => by !== undefined) ? part : undefined;
}

/** Says that sealant comes too late: the joint is bolted up, the thread tight. True when it does. */
function sayIfClosed(state: State, { step, action, name, part, fastener, act }: Target): boolean {
  const closed = part === undefined ? undefined : closedFace(state, part);
  const isOn = closed !== undefined;
  const holders = isOn ? state.clampedBy.get(closed.part.name) : fastener === undefined ? [] : [fastener];
  const by = isOn ? closed.fittedBy.find((each) => each !== undefined) : fastener?.last;
  if (holders.length === 0 || by === undefined || by === act) return false;
  if (state.saidSteps.has(saidDry(name))) return !state.unsure;
  // A step that fits it once more is done at the wrong time as a whole.
  if (fitsBehind(step, action, name)) return false;
  // A face that is shut is out of reach at once; a joint that was slid in is once it is tight.
  const isShut = isOn && isA(name, 'case-half', 'sump', 'timing-cover', 'rear-seal-carrier', 'front-seal-carrier');
  if (!isShut && !holders.every(({ stages }) => stages.every((stage) => stage === FINAL))) return false;
  if (state.unsure) return false;
  say(
    state,
    'sequence/sealed-late',
    act,
    isOn
      ? isShut
        ? told`${told.named(name)} is closed already: sealant no longer gets into the joint. Put it on before ${told.thing(closed.part)} goes on.`
        : told`${told.named(name)} is bolted up already: sealant no longer gets into the joint. Put it on before step ${told.thing(by.step)}.`
      : told`${told.named(name)} is tight already: sealant no longer gets into the joint. Put it on before step ${told.thing(by.step)}.`,
    { related: pointAt(by, isOn ? told`it goes on here` : told`tightened here`) },
  );
  return true;
}

/** What is machined where it sits: line-bored, reamed, cut in place. Common practice, no source. */
const IN_PLACE: readonly TradeKind[] = ['cap', 'bush', 'guide-or-seat', 'liner', 'shell', 'flywheel'];
/** Where pistons run. Main and camshaft bores are cut with their caps on. */
const CYLINDER = /^(bore|cylinder|cylinder-bore|top-of-bore|deck)$/i;

/** Says that a part is cut while it, or what runs in it, is built in: chips get everywhere. True when it is. */
function sayIfBuiltIn(state: State, { name, reference, part, act }: Target): boolean {
  if (part === undefined || isA(name, ...IN_PLACE)) return false;
  const own = part.fittedBy.find((each) => each !== undefined);
  const isIn = own !== undefined && part.mate !== undefined && part.on.every((each) => each === ON) && !part.lifted;
  const inIt =
    reference.feature === undefined || !CYLINDER.test(reference.feature.text)
      ? undefined
      : state.parts
          .ofKind('piston')
          .find(
            ({ part: each, on, fittedBy, lifted }) =>
              !lifted && on.includes(ON) && fittedBy.some((by) => by !== undefined) && isInEngine(state, each.name),
          );
  const over = isIn ? part : (inIt ?? overSeat(state, name, reference.feature?.text));
  const by = over?.fittedBy.find((each) => each !== undefined);
  if (over === undefined || by === undefined || state.unsure) return false;
  over.lifted = true;
  say(
    state,
    'sequence/machined-late',
    act,
    isIn
      ? told`${told.named(name)} is machined here, and it went onto ${told.named(part.mate ?? '', 'part')} in step ${told.thing(by.step)}. Machine it before, or take it off first: chips stay in the engine.`
      : told`${told.named(name)}.${reference.feature?.text ?? ''} is machined here, and ${told.thing(over.part)} went on in step ${told.thing(by.step)}. Machine it before, or take ${told.thing(over.part)} out first: chips stay in the engine.`,
    { related: pointAt(by, told`${told.thing(over.part)} goes on here`) },
  );
  return true;
}

/** What sits in a seat that is cut: the liner in `liner-seat`; valves are ground in with themselves, and not with their springs on. */
function overSeat(state: State, name: string, feature: string | undefined): PartState | undefined {
  const [, what] = /^(.+)-seats?$/i.exec(feature ?? '') ?? [];
  if (what === undefined) return undefined;
  const isThere = ({ on, fittedBy, lifted, mate }: PartState): boolean =>
    !lifted && on.every((each) => each === ON) && fittedBy.some((by) => by !== undefined) && mate !== undefined;
  if (isA(what, 'valve')) return state.parts.ofKind('collet').find(isThere);
  const own = state.parts.get(what);
  return own !== undefined && own.mate === name && isThere(own) ? own : undefined;
}

/** A piston is in the engine when it is in a bore, or its rod is on the crankshaft. */
function isInEngine(state: State, piston: string): boolean {
  const mate = state.parts.get(piston)?.mate;
  if (mate === undefined) return false;
  const rod = state.parts.get(mate);
  return rod?.mate === state.crankshaft || isA(mate, 'block', 'barrel', 'cylinder', 'liner', 'case');
}
