// What work on a part changes elsewhere: drives to be proved, adjustments, limits to be measured again. It says nothing itself.
import { ZERO } from '../mechanics/exact.ts';
import { orderBy } from '../model/standing-order.ts';
import { thoseThat } from '../model/those-that.ts';
import { isA } from '../model/trade-names.ts';
import type { Limit, Part } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { Act } from './act.ts';
import { limitsOf, markAngles } from './at-the-bench.ts';
import { cycleOf, isWhole } from './crank-angle.ts';
import { isComplete, partsOf, type State, turningShaft } from './state.ts';

/** Work on a drive: it has to be proved again, and nobody knows where its links stand. Its shafts stay where they are. */
export function disturb(state: State, part: string, act: Act): void {
  for (const drive of state.drivesOf.get(part)) {
    if (drive.offset !== undefined) {
      const atMarks = isWhole(drive.offset, cycleOf(state.view));
      for (const name of partsOf(state, drive)) {
        if (atMarks) state.atMark.add(turningShaft(state, name));
        else state.atMark.delete(turningShaft(state, name));
      }
    }
    drive.disturbedBy = act;
    drive.proved = false;
    drive.looseThen = undefined;
    drive.undoneBy = undefined;
    drive.turned = ZERO;
    drive.offset = undefined;
    drive.linkOffset = undefined;
    drive.aligned = false;
    drive.looked = false;
  }
}

/** A tensioner comes off: the chain or belt hangs slack and may jump, so that the drive has to be proved again. Its shafts stay. */
export function slack(state: State, part: string, act: Act): void {
  for (const drive of state.tensionerOf.get(part)) {
    if (!drive.aligned || !isComplete(state, drive)) continue;
    drive.disturbedBy = act;
    drive.proved = false;
    drive.turned = ZERO;
  }
}

export const saysNoKey = question((_view, part: Part): boolean => {
  const notes = part.statements.flatMap((each) =>
    each.kind === 'text' && each.word === 'note' ? [each.text?.value] : [],
  );
  return [part.title, ...notes].some((text) => /\bno (key|dowel)/i.test(text ?? ''));
});

const KEY = /dowel|key|woodruff|spline|pin|flat|lug/i;

/** Whether a dowel or key holds a wheel on its shaft when its bolts are loose, or it is no wheel. */
export function isKeyed(state: State, name: string): boolean {
  const part = state.parts.get(name)?.part;
  if (part?.fixedTo === undefined) return true;
  const shaft = state.parts.get(part.fixedTo)?.part;
  const features = [
    ...part.featureNames,
    ...markAngles(state.view, part).keys(),
    ...(shaft?.featureNames ?? []),
    ...(shaft === undefined ? [] : markAngles(state.view, shaft).keys()),
  ];
  if (saysNoKey(state.view, part)) return false;
  return features.some((feature) => KEY.test(feature));
}

/** What was adjusted on these parts is not as it was. */
export function adjustmentsChanged(state: State, parts: readonly { readonly part: string }[], act: Act): void {
  if (state.adjusted.size === 0) return;
  for (const [name, adjusted] of state.adjusted.entries()) {
    const limit = state.view.things.get(name);
    const of = limit?.kind === 'limit' ? (limit.of ?? limit.each)?.owner.text : undefined;
    if (parts.some(({ part }) => part === of)) state.adjusted.set(name, { ...adjusted, changedBy: act });
  }
}

/** A shim goes in or comes out, or what holds the valve gear down is loosened: lash is another then. */
export function lashDisturbed(state: State, act: Act): void {
  for (const [name, adjusted] of state.adjusted.entries()) {
    const limit = state.view.things.get(name);
    if (limit?.kind === 'limit' && limit.sort === 'valve-lash')
      state.adjusted.set(name, { ...adjusted, changedBy: act });
  }
}

/** Limits that depend on how a part sits: after it has been off they have to be measured again. */
const BY_ASSEMBLY = new Set(['end-play', 'backlash', 'valve-lash']);
/** Those that a new shim changes, so that what was measured before a shim is changed says nothing. */
const BY_SHIM = new Set(['backlash', 'valve-lash']);

export const limitsOfLash = thoseThat(
  (view) => view.limits,
  ({ sort }) => sort === 'valve-lash',
);

const limitNames = question((view, _all: 'limits'): readonly string[] => [
  ...new Set(view.limits.map(({ name }) => name)),
]);
const limitOrder = orderBy((view) => limitNames(view, 'limits'));

/** Limits that are open again when a valve was off, or what works one: its own, and all of lash. Common practice, no source. */
const limitsOfValveGear = question((view, part: string): readonly Limit[] => {
  const [lash, own] = [limitsOfLash(view), limitsOf(view, part)];
  if (own.every((limit) => lash.includes(limit))) return lash;
  if (lash.length === 0) return own;
  const both = [...lash, ...own];
  const names = limitOrder.sorted(
    view,
    both.map(({ name }) => name),
  );
  return names.flatMap((name) => both.find((limit) => limit.name === name) ?? []);
});

/** Valves, and what works them. */
export const worksValves = (part: string): boolean =>
  isA(part, 'valve', 'camshaft', 'lifter', 'rocker', 'rocker-support', 'cam-cap');

const changesLash = ({ plan }: State, part: string): boolean => plan.begins === 'whole' && worksValves(part);

/** A part came off: limits that depend on how it sits are open again. */
export function limitsStale(state: State, part: string, act: Act, isTrial: boolean): void {
  const limits = changesLash(state, part) ? limitsOfValveGear(state.view, part) : limitsOf(state.view, part);
  for (const limit of limits) {
    if (!limit.measured || limit.sort === undefined || !BY_ASSEMBLY.has(limit.sort)) continue;
    // What a table of grades is chosen by is measured on trial, once.
    if (state.view.grades.some((grades) => grades.by?.owner.text === limit.name)) continue;
    const isOpen =
      state.plan.begins === 'whole'
        ? !isTrial
        : BY_SHIM.has(limit.sort) && state.measuredOn.has(limit.name) && !state.adjusted.has(limit.name);
    if (isOpen) state.stale.set(limit.name, act);
  }
}
