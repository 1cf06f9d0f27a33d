// What is measured or adjusted before what it depends on is tight, and what later tightening changes. Common practice, no source: end
// play is measured with the caps, the case or the retaining plate tight, lash with the valve gear bolted down, backlash with the gear on its
// shaft for good.

import { told } from '../../grammar/told.ts';
import { kindOf } from '../mechanics/units.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { measureOf } from '../model/measure.ts';
import { thoseThat } from '../model/those-that.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Fastener, Limit } from '../model/view.ts';
import type { Act } from './act.ts';
import { limitsOfLash } from './disturb.ts';
import { type FastenerState, SNUG } from './fastener-state.ts';
import type { PartState } from './part-state.ts';
import { allOn, anyOn, clampsOn, type State, say } from './state.ts';
import { actionsAfter, runsAfter } from './to-come.ts';

const CRANKSHAFT_HELD: readonly TradeKind[] = ['cap', 'case', 'girdle'];
const CAMSHAFT_HELD: readonly TradeKind[] = ['cam-cap', 'cam-plate'];
const VALVE_GEAR_HELD: readonly TradeKind[] = ['rocker-support', 'cam-cap'];

/** The names of what holds the part of a limit, where the trade knows that it has to be tight. */
function heldBy(limit: Limit): readonly TradeKind[] | undefined {
  const of = (limit.of ?? limit.each)?.owner.text ?? '';
  if (limit.sort === 'valve-lash') return VALVE_GEAR_HELD;
  if (limit.sort !== 'end-play') return undefined;
  return isA(of, 'crankshaft') ? CRANKSHAFT_HELD : isA(of, 'camshaft') ? CAMSHAFT_HELD : undefined;
}

/** Fasteners whose parts are on and that are tightened in this job, and are not so far as a first stage here. */
function notTight(state: State, holders: readonly string[], act: Act): FastenerState | undefined {
  for (const each of state.fasteners.among(holders)) {
    const { fastener, stages } = each;
    if (fastener.broken || stages.every((stage) => stage > SNUG)) continue;
    // Screws that no step tightens are a finding of their own.
    const ever = state.ahead.screws.get(fastener.name);
    if (stages.every((stage, i) => stage > SNUG || !ever.has(i))) continue;
    const clamped = fastener.clamps.flatMap((clamp) => state.parts.get(clamp.part) ?? []);
    if (clamped.every((part) => allOn(part)) || goOnAfter(state, clamped, act)) return each;
  }
  return undefined;
}

/** Caps and plates that are not on at all, and go on after this. A half of a case may be off: play is looked at in the other. */
function goOnAfter(state: State, clamped: readonly PartState[], act: Act): boolean {
  const holders = clamped.filter(({ part }) => isA(part, 'main-cap', 'cam-cap', 'cam-plate'));
  if (holders.length === 0 || holders.some((part) => anyOn(part))) return false;
  const later = actionsAfter(state, act).flatMap(({ action }) => (action.word === 'fit' ? action.targets : []));
  return holders.every(({ part }) => later.some(({ owner }) => owner.text === part.name));
}

/** What is read at a speed, before the engine has run: a later step runs it. */
function sayIfNotRunning(state: State, limit: Limit, act: Act): boolean {
  const { at } = limit;
  const measure = at === undefined || at.kind === 'by-place' ? undefined : measureOf(at);
  if (measure === undefined || kindOf(measure.unit) !== 'speed' || state.running.hasRun) return false;
  const key = `${limit.name} not running`;
  if (!runsAfter(state, act) || state.unsure || state.saidSteps.has(key)) return false;
  state.saidSteps.add(key);
  say(
    state,
    'sequence/measured-early',
    act,
    told`${told.thing(limit)} holds at a speed and is measured here before the engine is run. Run it first.`,
  );
  return true;
}

/** On a shaft and outside its bearings: no play is taken up by them. */
const OUTSIDE: readonly TradeKind[] = ['crank-pulley', 'pulley', 'fan', 'clutch'];

/** By shaft: the fasteners that draw something onto it. */
const clampsTo = keyed(
  (view) => view.fasteners,
  (_view, { name, to, clamps }: Fastener): readonly Entry<string>[] =>
    to === undefined || clamps.some(({ part }) => isA(part, ...OUTSIDE)) ? [] : [[to.part, name]],
);

/** Whether all that a fastener clamps went on in this job: what should have come off is another fault. */
function wentOnHere(state: State, name: string): boolean {
  const clamps = state.fasteners.get(name)?.fastener.clamps ?? [];
  return clamps.every(({ part }) => state.parts.get(part)?.fittedBy.some((by) => by !== undefined) === true);
}

/** How much longer a bolt is than it was: that is read when it is tight. */
const STRETCH = /stretch|elongation/i;

/** Says that a limit is measured or adjusted too early; true when it is. */
export function sayIfEarly(state: State, limit: Limit, doing: 'measured' | 'adjusted', act: Act): boolean {
  if (doing === 'measured' && sayIfNotRunning(state, limit, act)) return true;
  const kinds = heldBy(limit);
  const of = (limit.of ?? limit.each)?.owner.text ?? '';
  // A gear that its own bolts do not hold yet stands askew.
  const own = limit.sort === 'backlash' || limit.sort === 'end-play' ? clampsOn(state.view, of) : [];
  // What is drawn onto a shaft takes up play with what lies under it.
  const drawnOn = limit.sort === 'end-play' ? clampsTo(state.view, of).filter((name) => wentOnHere(state, name)) : [];
  const stretched = STRETCH.test(limit.name) && state.fasteners.get(of) !== undefined ? [of] : [];
  const more = [...stretched, ...(kinds === undefined ? own : []), ...drawnOn].filter((name) =>
    state.ahead.tightened.has(name),
  );
  const holders = [...(kinds === undefined ? [] : state.ahead.holders(kinds)), ...more];
  const loose = holders.length === 0 ? undefined : notTight(state, holders, act);
  if (loose === undefined || state.unsure || state.saidEarly.has(loose.fastener.name)) return false;
  state.saidEarly.add(loose.fastener.name);
  say(
    state,
    'sequence/measured-early',
    act,
    doing === 'measured'
      ? told`${told.thing(limit)} is measured here before ${told.thing(loose.fastener)} is tight: what it comes to changes when it is tightened. Tighten ${told.thing(loose.fastener)} first.`
      : told`${told.thing(limit)} is adjusted here before ${told.thing(loose.fastener)} is tight: what it comes to changes when it is tightened. Tighten ${told.thing(loose.fastener)} first.`,
  );
  return true;
}

/** Whether it holds rockers or a camshaft in a head down. */
export const holdsValveGear = ({ fastener }: FastenerState): boolean =>
  fastener.clamps.some(({ part }) => isA(part, ...VALVE_GEAR_HELD));

/** A shim that lash is set by. */
export const isLashShim = ({ part }: PartState): boolean => isA(part, 'lash-shim');

/** What is set by a screw and locked: `tappet-lock-nut`, `valve-adjuster-nut`. */
const SET_BY_SCREW: readonly TradeKind[] = ['rocker', 'lifter', 'pushrod', 'valve', 'rocker-support'];
const LOCK_WORDS = /-?(?:(?:lock|jam|adjuster|adjusting|adjustment|adjust)-?)+(?:nut|screw)s?$/i;
const LASH_WORDS = /(?:^|-)(?:lash|clearance)$/i;

/** What a pushrod passes on: lash, and how far the plunger of a lifter is pushed in. */
const ofPushrods = thoseThat(
  (view) => view.limits,
  ({ sort, name }) => sort === 'valve-lash' || /(?:^|-)preload(?:-|$)/i.test(name),
);

/** What was measured with the head on and never adjusted counts from here on as set, and changed. */
function measuredChanged(state: State, act: Act): void {
  for (const { name, each, of } of ofPushrods(state.view)) {
    const by = state.measuredOn.get(name);
    const part = (of ?? each)?.owner.text ?? '';
    if (by === undefined || by.step.trial || state.adjusted.has(name) || !isA(part, ...SET_BY_SCREW)) continue;
    state.adjusted.set(name, { by, changedBy: act, measuredBefore: undefined });
  }
}

/** The head is tightened after lash was adjusted with it on, with pushrods the lash is another then; or a locknut, which turns its screw with it. */
export function lashChanged(state: State, { fastener }: FastenerState, act: Act): void {
  const isLock = isA(fastener, 'lock-nut') && isOfLash(state, fastener);
  const isHead = fastener.clamps.some((clamp) => isA(clamp.part, 'head'));
  const pushrod = isHead ? state.parts.ofKind('pushrod')[0] : undefined;
  if (!isLock && (pushrod === undefined || !anyOn(pushrod))) return;
  if (isHead) measuredChanged(state, act);
  for (const [name, adjusted] of state.adjusted) {
    const limit = state.view.things.get(name);
    if (limit?.kind === 'limit' && limit.sort === 'valve-lash')
      state.adjusted.set(name, { ...adjusted, changedBy: act });
  }
}

/** Whether a locknut is one of the valve gear: by what it clamps, else by what its name says it locks, or because there is nothing else to lock. */
function isOfLash({ view }: State, { name, clamps }: FastenerState['fastener']): boolean {
  if (clamps.length > 0 && clamps.some(({ part }) => isA(part, ...SET_BY_SCREW))) return true;
  const locks = name.replace(LOCK_WORDS, '');
  if (locks !== name && (isA(locks, ...SET_BY_SCREW) || LASH_WORDS.test(locks))) return true;
  return clamps.length === 0 && limitsOfLash(view).length > 0;
}
