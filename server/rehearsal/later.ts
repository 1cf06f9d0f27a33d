// What a job does only after the engine was run, though the engine needs it to run.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import { isA } from '../model/trade-names.ts';
import { type Act, pointAt, targetAct } from './act.ts';
import { type FastenerState, SNUG } from './fastener-state.ts';
import { inWords } from './in-words.ts';
import { OFF } from './part-state.ts';
import { anyOn, type State, say } from './state.ts';
import { actionsAfter } from './to-come.ts';

interface Later {
  readonly text: Told;
  readonly act: Act;
}

/** Says what is done of it, and in which step. */
type Tell = (what: Argument, step: Argument) => Told;

/** Limits that decide whether an engine may be run: lash and the play of shafts and gears. Idle speed and ignition are set after. */
const BEFORE_RUN = new Set(['valve-lash', 'backlash', 'end-play']);

/** What is taken off to look and to listen while the engine runs. */
const OPEN_TO_RUN = /cover|lid|shroud|guard|cowl|hood|shield|air-(?:filter|cleaner)|silencer|exhaust|radiator|fan/i;

/** What one later action does that should be done by now, by name: undefined where it is done, or undone in between. */
function whatIsLeft(state: State, action: Action, name: string, opening: string): Tell | undefined {
  if (state.saidMissing.has(name)) return undefined;
  const part = state.parts.get(name);
  const fastener = state.fasteners.get(name);
  switch (action.word) {
    case 'fit':
      return part?.on.every((each) => each === OFF) === true &&
        (part.removedBy === undefined || (!OPEN_TO_RUN.test(name) && !isA(name, 'rocker-cover')))
        ? (what, step) => told`${what} goes on only in step ${step}`
        : undefined;
    case 'tighten':
      return fastener?.stages.every((stage) => stage <= SNUG) === true &&
        fastener.loosenedBy === undefined &&
        !fastener.saidLeft &&
        isOn(state, fastener)
        ? (what, step) => told`${what} is tightened only in step ${step}`
        : undefined;
    case 'unplug':
      return state.plugged.has(opening) ? (what, step) => told`${what} is unplugged only in step ${step}` : undefined;
    case 'connect':
      return state.disconnected.has(opening)
        ? (what, step) => told`${what} is connected only in step ${step}`
        : undefined;
    case 'adjust': {
      const limit = state.view.things.get(name);
      const isDue = limit?.kind === 'limit' && limit.sort !== undefined && BEFORE_RUN.has(limit.sort);
      return isDue && state.plan.begins === 'bare' && !state.adjusted.has(name)
        ? (what, step) => told`${what} is adjusted only in step ${step}`
        : undefined;
    }
    default:
      return undefined;
  }
}

/** Whether all that it clamps is on: what is not on is told itself. */
function isOn(state: State, { fastener }: FastenerState): boolean {
  return fastener.clamps.every(({ part }) => {
    const clamped = state.parts.get(part);
    return clamped === undefined || anyOn(clamped);
  });
}

/** Says at a run what the job does only after it: one finding for all of it. */
export function sayIfLeftForLater(state: State, act: Act): void {
  if (state.muted || act.step.trial || state.plan.begins === 'unknown') return;
  const left = new Map<string, Later>();
  // What comes off after the run and goes on again was on.
  const moved = new Set<string>();
  for (const { step, action } of actionsAfter(state, act))
    for (const target of action.targets) {
      const name = target.owner.text;
      const opening = target.feature === undefined ? name : `${name}.${target.feature.text}`;
      const does = moved.has(opening) ? undefined : whatIsLeft(state, action, name, opening);
      moved.add(opening);
      if (does === undefined || left.has(opening)) continue;
      left.set(opening, { text: does(told.named(opening), told.thing(step)), act: targetAct(step, action, target) });
    }
  const [first] = left.values();
  if (first === undefined || state.unsure) return;
  say(
    state,
    'sequence/run-unready',
    act,
    told`The engine is run here, and ${inWords([...left.values()].map(({ text }) => text))}. Do that before the run.`,
    { related: pointAt(first.act, told`done here`) },
  );
  for (const name of left.keys()) settle(state, name);
}

/** It is said: the rehearsal goes on as if it were done. */
function settle(state: State, name: string): void {
  const fastener = state.fasteners.get(name);
  if (fastener !== undefined) fastener.saidLeft = true;
  for (const each of state.clampedBy.get(name)) each.saidLeft = true;
  state.saidMissing.add(name);
}
