// What lies over a part, so that it can't be got at: declared covers, and what is clamped over a gasket. Marks are in marks.ts.

import { type Told, told } from '../../grammar/told.ts';
import { isA, keyedBy, sealedBy } from '../model/trade-names.ts';
import { type Act, pointAt } from './act.ts';
import { coversOf } from './at-the-bench.ts';
import { OFF, ON, type PartState } from './part-state.ts';
import { coverOf, type State, say } from './state.ts';

/** The step in which a cover went on, in words. */
export function coveredWhere(cover: PartState): Told {
  const by = cover.fittedBy.find((act) => act !== undefined);
  return by === undefined
    ? told`${told.thing(cover.part)} is on`
    : told`${told.thing(cover.part)} went on in step ${told.thing(by.step)}`;
}

/** Says that a part can't be reached any more, and goes on as if the cover were off; true when it does. */
export function sayIfCovered(state: State, part: string, act: Act, code: string, doing: Told): boolean {
  const cover = coverOf(state, part);
  if (cover === undefined) return false;
  const by = cover.fittedBy.find((each) => each !== undefined);
  cover.lifted = true;
  // A step that is done at the wrong time is said once.
  if (state.saidSteps.has(act.step.name)) return true;
  say(
    state,
    code,
    act,
    told`${told.named(part)} can no longer be reached to ${doing}: ${coveredWhere(cover)} and covers it. Do this before, or take ${told.thing(cover.part)} off first.`,
    { related: pointAt(by, told`${told.thing(cover.part)} goes on here`) },
  );
  cover.lifted = true;
  return true;
}

/** An oil pump that goes into a case whose sump is on, where nothing says what the sump covers: it may sit outside. Common practice, no source. */
export function sayIfPumpShutIn(state: State, { part }: PartState, mate: string | undefined, act: Act): void {
  const isInto = act.statement.kind === 'action' && act.statement.mate?.word === 'into';
  if (!isInto || state.plan.begins !== 'bare' || !isA(part, 'oil-pump')) return;
  const sump = state.parts
    .ofKind('sump')
    .find(
      (each) => !each.lifted && each.mate === mate && each.on.every((at) => at === ON) && !each.part.clearOf.length,
    );
  const by = sump?.fittedBy.find((each) => each !== undefined);
  // What the order of the steps says itself is said there.
  if (sump === undefined || by === undefined || by.step.after.some(({ text }) => text === act.step.name)) return;
  if (coversOf(state.view, sump.part).length > 0 || state.unsure) return;
  say(
    state,
    'sequence/covered',
    act,
    told`${told.thing(part)} goes in here, and ${coveredWhere(sump)}. Unless it sits outside, it is out of reach then: fit it before, and say what ${told.thing(sump.part)} covers.`,
    { related: pointAt(by, told`${told.thing(sump.part)} goes on here`), severity: 'information' },
  );
}

/** Tappets that go into a block with its camshaft in, in an engine without pushrods: with a foot they go in from below. Common practice, no source. */
export function sayIfTappetLate(state: State, { part, on }: PartState, mate: string | undefined, act: Act): void {
  if (!isA(part, 'lifter') || mate === undefined || !isA(mate, 'block') || state.plan.begins !== 'bare') return;
  if (state.parts.ofKind('pushrod').length > 0 || act.step.trial || on.every((each) => each === ON)) return;
  const camshaft = state.parts
    .ofKind('camshaft')
    .find((each) => !each.lifted && each.mate === mate && each.on.includes(ON));
  const by = camshaft?.fittedBy.find((each) => each !== undefined);
  if (camshaft === undefined || by === undefined || state.unsure) return;
  say(
    state,
    'sequence/covered',
    act,
    told`${told.thing(part)} goes in here, and ${coveredWhere(camshaft)}. One whose foot is wider than its bore goes in from below, before the camshaft: fit them first if these have such feet.`,
    { related: pointAt(by, told`${told.thing(camshaft.part)} goes on here`), severity: 'information' },
  );
}

function isOver(other: PartState, gasket: PartState, places: readonly number[]): boolean {
  const same = other.on.length === gasket.on.length;
  return same ? places.some((i) => other.on[i] !== OFF) : other.on.every((each) => each !== OFF);
}

/** The wheel that a key is named after: it goes on over it. */
function keyedOn(state: State, key: PartState, places: readonly number[]): PartState | undefined {
  const wheel = state.parts.get(keyedBy(key.part.name) ?? '');
  return wheel === undefined || wheel === key || wheel.lifted || !isOver(wheel, key, places) ? undefined : wheel;
}

/** What a gasket is named after, or a part that the same fastener clamps and that is on already, with this gasket between it and what it sits on. */
export function onTopOf(state: State, gasket: PartState, places: readonly number[]): PartState | undefined {
  if (isA(gasket.part, 'key')) return keyedOn(state, gasket, places);
  if (!isA(gasket.part, 'gasket', 'o-ring', 'injector-washer')) return undefined;
  const named = state.parts.get(sealedBy(gasket.part.name) ?? '');
  if (named !== undefined && named !== gasket && !named.lifted && isOver(named, gasket, places)) return named;
  for (const fastener of state.clampedBy.get(gasket.part.name)) {
    for (const clamp of fastener.fastener.clamps) {
      const other = state.parts.get(clamp.part);
      if (
        other === undefined ||
        other === gasket ||
        other.lifted ||
        isA(clamp.part, 'gasket', 'washer', 'seal', 'o-ring')
      )
        continue;
      if (isOver(other, gasket, places)) return other;
    }
  }
  return undefined;
}

/** Says that a gasket lies under what is on already, and goes on as if that were off; true when it does. */
export function sayIfUnder(state: State, gasket: PartState, places: readonly number[], act: Act, doing: Told): boolean {
  const top = onTopOf(state, gasket, places);
  if (top === undefined || state.unsure) return false;
  const by = top.fittedBy.find((each) => each !== undefined);
  say(
    state,
    'sequence/covered',
    act,
    told`${told.thing(gasket.part)} lies under ${told.thing(top.part)}, and ${coveredWhere(top)}: too late to ${doing}. Do this before, or take ${told.thing(top.part)} off first.`,
    { related: pointAt(by, told`${told.thing(top.part)} goes on here`) },
  );
  top.lifted = true;
  return true;
}
