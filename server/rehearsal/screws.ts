// Which screws of a fastener an action means, what they are called, and whether they can be got at.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Action, Reference } from '../../grammar/tree.ts';
import { screwsWritten } from '../model/action-places.ts';
import type { Step } from '../model/view.ts';
import { targetAct } from './act.ts';
import { sayIfCovered } from './covers.ts';
import type { FastenerState } from './fastener-state.ts';
import { inNumbers, inPlaces } from './in-words.ts';
import { OFF, type PartState } from './part-state.ts';
import { placesNow } from './places.ts';
import type { State } from './state.ts';

/** The part of which a fastener has so many each. */
export function eachOf(state: State, { fastener }: FastenerState): PartState | undefined {
  return fastener.each === undefined ? undefined : state.parts.get(fastener.each);
}

/** The screws (from 0) at these places of the part that a fastener has so many each of. */
export function screwsAt({ perPlace, stages }: FastenerState, places: readonly number[]): readonly number[] {
  return places
    .flatMap((place) => Array.from({ length: perPlace }, (_, i) => place * perPlace + i))
    .filter((i) => i < stages.length);
}

/**
 * The screws (from 0) of a fastener that an action means: those that are written, and of them those of the place
 * in hand and those whose part is there.
 */
export function screwsIn(state: State, fastener: FastenerState, reference: Reference): readonly number[] {
  const part = eachOf(state, fastener);
  const written = screwsWritten(fastener.fastener, state.view, reference.places);
  if (part === undefined) return written;
  const { perPlace } = fastener;
  const isNumbered = reference.places.some((place) => place.from !== undefined);
  const now = isNumbered ? undefined : new Set(placesNow(state, part.part, reference.places));
  const meant = now === undefined ? written : written.filter((i) => now.has(Math.floor(i / perPlace)));
  const there = meant.filter((i) => part.on[Math.floor(i / perPlace)] !== OFF);
  return there.length > 0 ? there : meant;
}

/** A fastener with those of its screws that are meant, where it is not all of them: `rocker-bolt 4 and 5`. */
export function screwsName(state: State, each: FastenerState, screws: readonly number[]): Argument {
  const { fastener, stages, perPlace } = each;
  if (screws.length === stages.length) return told.thing(fastener);
  const part = eachOf(state, each);
  if (part === undefined) return told.row([told.thing(fastener), ' ', inNumbers(screws.map((i) => i + 1))]);
  const places = [...new Set(screws.map((i) => Math.floor(i / perPlace)))];
  const whole = places.every((place) => screws.filter((i) => Math.floor(i / perPlace) === place).length === perPlace);
  if (whole) return told.row([told.thing(fastener), ' ', inPlaces(part.part, places)]);
  const named = places.map((place) => {
    const own = screws.filter((i) => Math.floor(i / perPlace) === place);
    const at = inPlaces(part.part, [place]);
    return own.length === perPlace ? at : told`${at} (${inNumbers(own.map((i) => (i % perPlace) + 1))})`;
  });
  return told.row([told.thing(fastener), ' ', told.list(named, ',')]);
}

/** Whether screws are told as one: all of a kind by its name, those of one place, or one alone. */
export function isOne(state: State, each: FastenerState, screws: readonly number[]): boolean {
  if (screws.length === each.stages.length || screws.length === 1) return true;
  return eachOf(state, each) !== undefined && new Set(screws.map((i) => Math.floor(i / each.perPlace))).size === 1;
}

/** Says that what it clamps is covered, so that nobody gets at it. */
export function sayIfOutOfReach(
  state: State,
  fastener: FastenerState,
  step: Step,
  action: Action,
  target: Reference,
  doing: Told,
): void {
  const act = targetAct(step, action, target);
  if (sayIfCovered(state, fastener.fastener.name, act, 'sequence/covered', doing)) return;
  const first = fastener.fastener.clamps[0]?.part;
  if (first !== undefined) sayIfCovered(state, first, act, 'sequence/covered', doing);
}
