// What obstructs the turning of an engine: held-back tensioners, pins, wheels that nothing holds. The turning is in turn.ts.
import { told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { isA } from '../model/trade-names.ts';
import { question } from '../model/view-questions.ts';
import { type Act, pointAt } from './act.ts';
import { OUT } from './fastener-state.ts';
import { heldTurning } from './holders.ts';
import type { PartState } from './part-state.ts';
import { anyOn, clampsOn, isComplete, type State, say, turningShaft } from './state.ts';
import { stepsIn, workOf } from './step-work.ts';
import { inOrder } from './things.ts';

/** Whether a drive that is whole couples a shaft to the rest. */
export function isCoupled(state: State, shaft: string): boolean {
  return state.drivesOn.get(shaft).some((drive) => isComplete(state, drive));
}

const obstructing = keyed(stepsIn, (view, { step }) =>
  workOf(view, step).obstructing.map((name): Entry<string> => ['', name]),
);

/** What some step of the spec pins or holds back, in the order written: nothing else is ever pinned or held back. */
export const everObstructing = question((view, _all: 'steps'): readonly string[] =>
  inOrder(view, 'parts', obstructing(view, '')),
);

/** All obstructions to the turning of the engine, each said once and then taken as put right. True where a pin was in. */
export function obstructions(state: State, act: Act, span: Span): boolean {
  let wasPinned = false;
  for (const part of state.parts.among(everObstructing(state.view, 'steps'))) {
    if (part.heldBack !== undefined && anyOn(part)) sayHeldBack(state, part, act, span);
    if (part.pinned === undefined) continue;
    if (part.part.name === state.crankshaft || isCoupled(state, part.part.name)) {
      say(
        state,
        'sequence/rotated-while-pinned',
        act,
        told`The engine is turned while ${told.thing(part.part)} is pinned. Take the pin out first: unpin ${told.thing(part.part)}.`,
        { related: pointAt(part.pinned, told`pinned here`) },
        span,
      );
      part.pinned = undefined;
      part.saidNotHeld = true;
      wasPinned = true;
    }
  }
  sayLoose(state, act, span);
  return wasPinned;
}

function sayHeldBack(state: State, part: PartState, act: Act, span: Span): void {
  // Let go before it was held back: that is the finding.
  if (part.saidNotHeld) return;
  const drives = state.tensionerOf.get(part.part.name);
  if (drives.length > 0 && !drives.some((drive) => isComplete(state, drive))) return;
  say(
    state,
    'sequence/rotated-while-held-back',
    act,
    told`The engine is turned while ${told.thing(part.part)} is still held back. Release ${told.thing(part.part)} first: a slack chain or belt can jump a tooth.`,
    { related: pointAt(part.heldBack, told`held back here`) },
    span,
  );
  part.heldBack = undefined;
  part.saidNotHeld = true;
}

/** A wheel turns with a shaft that drives turn; a cap is over the crankshaft where what it is on is, or has the crankshaft in it. */
function isTurning(state: State, { part, mate }: PartState): boolean {
  if (part.fixedTo !== undefined)
    return isA(part, 'main-cap', 'rod-cap') || state.speeds.get(turningShaft(state, part.name)) !== undefined;
  const crankshaft = state.crankshaft === undefined ? undefined : state.parts.get(state.crankshaft);
  if (crankshaft === undefined || mate === undefined || !anyOn(crankshaft)) return false;
  return crankshaft.mate === mate || state.parts.get(mate)?.mate === state.crankshaft;
}

/** Wheels on turning shafts, and caps over them, whose bolts are not in at all. */
function sayLoose(state: State, act: Act, span: Span): void {
  const { view, ahead } = state;
  const turning = new Map(
    state.parts
      .seen(heldTurning(view, 'parts'))
      .filter((part) => anyOn(part) && isTurning(state, part) && ahead.held.has(part.part.name))
      .map((part) => [part.part.name, part]),
  );
  // Found by what they hold: a bolt that holds nothing which is on is not asked for.
  const holders = [...turning.keys()]
    .flatMap((name) => clampsOn(view, name))
    .filter((name) => ahead.tightened.has(name));
  for (const fastener of state.fasteners.among(inOrder(view, 'fasteners', holders))) {
    if (!fastener.stages.every((stage) => stage === OUT)) continue;
    const held = fastener.fastener.clamps.find(({ part }) => turning.has(part));
    const part = held === undefined ? undefined : turning.get(held.part);
    if (part === undefined) continue;
    const { name } = part.part;
    if (state.saidEarly.has(fastener.fastener.name)) continue;
    if (state.unsure) return;
    state.saidEarly.add(fastener.fastener.name);
    say(
      state,
      'sequence/loose-when-rotated',
      act,
      told`The engine is turned while ${told.named(name)} is held by nothing: ${told.thing(fastener.fastener)} is not in. Snug it at least.`,
      {
        related: pointAt(
          part.fittedBy.find((each) => each !== undefined),
          told`${told.named(name)} went on here`,
        ),
      },
      span,
    );
  }
}

/** A shaft is turned by itself while it is pinned. */
export function sayPinned(state: State, shaft: string, act: Act): void {
  const part = state.parts.get(shaft);
  if (part?.pinned === undefined) return;
  say(
    state,
    'sequence/rotated-while-pinned',
    act,
    told`${told.named(shaft)} is turned while it is pinned. Take the pin out first: unpin ${told.named(shaft)}.`,
    { related: pointAt(part.pinned, told`pinned here`) },
  );
  part.pinned = undefined;
  part.saidNotHeld = true;
}
