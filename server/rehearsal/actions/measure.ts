// Limits are measured and adjusted.

import { leavesOf } from '../../../grammar/terms.ts';
import { told } from '../../../grammar/told.ts';
import type { Action, Reference } from '../../../grammar/tree.ts';
import { placesToMeasure } from '../../model/action-places.ts';
import { takesIn } from '../../model/measure.ts';
import { thoseThat } from '../../model/those-that.ts';
import { isA } from '../../model/trade-names.ts';
import type { Limit, Step, View } from '../../model/view.ts';
import { type Act, pointAt } from '../act.ts';
import { type ActionRule, onEach, type Target } from '../action-rule.ts';
import { limitsOf, reuseOf } from '../at-the-bench.ts';
import { sayIfCovered } from '../covers.ts';
import { sayIfEarly } from '../early.ts';
import { type FastenerState, FINAL } from '../fastener-state.ts';
import { type Measuring, stepsLookingAt } from '../foresight.ts';
import { inNamedPlaces } from '../in-words.ts';
import { nameOf, sayLeft } from '../left.ts';
import { sayIfNotThere } from '../not-there.ts';
import { sayIfOutOfReach } from '../out-of-reach.ts';
import type { PartState } from '../part-state.ts';
import { anyOn, coverOf, type State, say, sayAt, sayMissing } from '../state.ts';
import { sayIfLimitMistimed } from '../timed.ts';
import { actionsAfter } from '../to-come.ts';
import { locknutsLeft, sayIfLocked, unlock } from './secure.ts';

export const measure: ActionRule = onEach((state, target) => onLimit(state, 'measure', target), {
  atEnd(state) {
    if (state.plan.assembles && state.plan.begins === 'bare')
      for (const limit of toMeasure(state.view, state.file)) limitLeft(state, limit);
    staleLeft(state);
  },
  fastenerAtEnd: sayIfReused,
});

export const adjust: ActionRule = onEach((state, target) => onLimit(state, 'adjust', target), {
  atEnd(state) {
    disturbedLeft(state);
    locknutsLeft(state);
    placesNotSet(state);
    notMeasuredAfter(state);
    if (state.plan.assembles) neverAdjusted(state);
  },
});

/** Limits that mean something only with the part in its place. */
const ONLY_WHEN_IN = new Set(['end-play', 'backlash', 'valve-lash']);

/** Whether it is lash, and what covers its part is the camshaft: lash is set and measured with that in. */
function isBehindItsCam(state: State, { sort }: Limit, of: string): boolean {
  return sort === 'valve-lash' && isA(coverOf(state, of)?.part ?? '', 'camshaft');
}

function onLimit(state: State, word: 'measure' | 'adjust', { name, action, reference, act: by }: Target): void {
  const limit = state.view.things.get(name);
  if (limit?.kind !== 'limit') return;
  const of = (limit.of ?? limit.each)?.owner.text;
  const part = of === undefined ? undefined : state.parts.get(of);
  const findings = state.findings.length;
  if (part !== undefined && of !== undefined) {
    if (!anyOn(part)) {
      if (limit.sort !== undefined && ONLY_WHEN_IN.has(limit.sort))
        sayMissing(
          state,
          'sequence/not-fitted-yet',
          of,
          by,
          told`${told.named(name)} can't be measured yet: ${of} is not on. Fit it first.`,
        );
    } else if (!isBehindItsCam(state, limit, of))
      sayIfCovered(
        state,
        of,
        by,
        word === 'measure' ? 'sequence/measured-late' : 'sequence/covered',
        word === 'measure' ? told`measure ${told.named(name)}` : told`adjust ${told.named(name)}`,
      );
  }
  const isMissing = state.findings.length === findings && sayIfNotThere(state, limit, word, by);
  if (state.findings.length === findings && !isMissing) sayIfOutOfReach(state, limit, word, by);
  if (word === 'measure' && state.findings.length === findings) sayIfChosenLate(state, limit, by);
  if (word === 'adjust') {
    sayIfLocked(state, limit, by);
    unlock(state, limit);
  }
  sayIfLimitMistimed(state, limit, by);
  if (!isMissing) sayIfEarly(state, limit, word === 'measure' ? 'measured' : 'adjusted', by);
  state.stale.delete(name);
  if (word === 'adjust') {
    sayIfHeldFast(state, limit, action, by);
    sayIfLeftLoose(state, limit, action, by);
  }
  if (limit.each !== undefined) setAt(state, name, word, reference);
  if (word === 'measure') state.measuredOn.set(name, by);
  if (word === 'adjust')
    state.adjusted.set(name, { by, changedBy: undefined, measuredBefore: state.measuredOn.get(name) });
  // Measured again after what changed it: it is as it was found to be.
  const adjusted = state.adjusted.get(name);
  if (word === 'measure' && adjusted !== undefined)
    state.adjusted.set(name, { by: adjusted.by, changedBy: undefined, measuredBefore: undefined });
}

/** These are read with something in, and what is in is changed for what they choose. */
const READ_WITH_IT = /play|float|lash|clearance|preload/i;

/** Says that a limit which chooses a shim or a gasket is first measured when that is in for good. */
function sayIfChosenLate(state: State, limit: Limit, act: Act): void {
  if (
    state.measuredOn.has(limit.name) ||
    READ_WITH_IT.test(`${limit.name} ${limit.sort ?? ''}`) ||
    limit.otherwise.length > 0
  )
    return;
  for (const { name, by } of state.view.grades) {
    const chooser = by === undefined ? undefined : state.view.things.get(by.owner.text);
    const names = chooser?.kind === 'limit' ? [chooser.name, ...namesIn(chooser)] : [];
    const part = names.includes(limit.name) ? state.parts.get(name) : undefined;
    const fitted = part?.fittedBy.find((each) => each !== undefined);
    if (part === undefined || fitted === undefined || !anyOn(part) || fitted.step.trial) continue;
    const isChanged = actionsAfter(state, act).some(
      ({ action }) =>
        ['remove', 'renew', 'adjust'].includes(action.word) &&
        action.targets.some(({ owner }) => owner.text === name || owner.text === limit.name),
    );
    if (isChanged || state.unsure) continue;
    say(
      state,
      'sequence/measured-late',
      act,
      told`${told.thing(limit)} chooses ${told.thing(part.part)}, and that went on in step ${told.thing(fitted.step)}. Measure first, and fit what it chooses.`,
      { related: pointAt(fitted, told`${told.thing(part.part)} goes on here`) },
    );
    return;
  }
}

/** The limits that a limit is the highest of, or made of otherwise. */
const namesIn = ({ expression }: Limit): readonly string[] =>
  leavesOf(expression).flatMap((leaf) => (leaf.kind === 'reference' ? [leaf.reference.owner.text] : []));

/** Notes where a limit of several places was set or measured. */
function setAt(state: State, name: string, word: 'measure' | 'adjust', { places }: Reference): void {
  const known = state.setAt.get(name);
  state.setAt.set(name, {
    places: [...(known?.places ?? []), places],
    isAdjusted: word === 'adjust' || known?.isAdjusted === true,
  });
}

/** Of a limit that is set place by place, those that are neither set nor measured. What is measured at some places is told by those. */
function placesNotSet(state: State): void {
  for (const [name, { places, isAdjusted }] of state.setAt) {
    const limit = state.view.things.get(name);
    const by = state.adjusted.get(name)?.by;
    if (!isAdjusted || by === undefined || limit?.kind !== 'limit') continue;
    if (state.plan.begins === 'unknown' || places.some((written) => written.length === 0)) continue;
    if (state.plan.begins === 'bare' && limit.measured) continue;
    const left = placesToMeasure(limit, state.view).filter(
      (each) => !places.some((written) => written.some((place) => takesIn(place, each))),
    );
    if (left.length > 0)
      sayLeft(
        state,
        'sequence/not-adjusted',
        by.step.placed,
        by.span,
        told`${told.thing(limit)} is adjusted here, and at ${inNamedPlaces(left)} neither adjusted nor measured. Do it there as well.`,
        [],
        'warning',
      );
  }
}

/** What is set with the gauge in it is measured as it is set. */
const WITH_GAUGE = /feeler|gauge|dial|clock|micrometer|caliper/i;

/** What was measured and then adjusted, and not measured since: what it came to nobody knows. Common practice, no source. */
export function notMeasuredAfter(state: State): void {
  for (const [name, { by, changedBy, measuredBefore }] of state.adjusted) {
    const limit = state.view.things.get(name);
    const action = by.statement;
    if (changedBy !== undefined || limit?.kind !== 'limit') continue;
    const isUnknown = state.plan.begins === 'whole' && limit.measured && !state.measuredOn.has(name);
    if (measuredBefore === undefined && !isUnknown) continue;
    // What holds at a speed is set while it is read.
    if (limit.at !== undefined || action.kind !== 'action') continue;
    if (WITH_GAUGE.test(`${action.byText?.value ?? ''} ${action.withText?.value ?? ''}`) || state.unsure) continue;
    sayLeft(
      state,
      'sequence/not-measured',
      by.step.placed,
      by.span,
      told`${told.thing(limit)} is adjusted here and not measured after. Say measure ${told.thing(limit)} behind it.`,
      pointAt(measuredBefore, told`last measured here`),
    );
  }
}

/** Limits that a first build has to measure, of this file. */
const allToMeasure = thoseThat(
  (view) => view.limits,
  ({ measured, broken }) => measured && !broken,
);
const toMeasure = (view: View, file: string): readonly Limit[] =>
  allToMeasure(view).filter((limit) => limit.placed.file === file);

function limitLeft(state: State, limit: Limit): void {
  const measurings = state.ahead.measured.get(limit.name);
  if (measurings !== undefined) {
    placesLeft(state, limit, measurings);
    return;
  }
  const of = (limit.of ?? limit.each)?.owner.text;
  const part = of === undefined ? undefined : state.parts.get(of);
  if (part !== undefined && !anyOn(part)) return;
  sayLeft(
    state,
    'sequence/not-measured',
    limit.placed,
    nameOf(limit),
    told`No step measures ${told.thing(limit)}. Say measure ${told.thing(limit)} while it can be reached.`,
  );
}

/** Where a step measures something last. */
function lastMeasured(step: Step, name: string): Reference | undefined {
  return step.statements
    .flatMap((each) => (each.kind === 'action' && each.word === 'measure' ? each.targets : []))
    .findLast(({ owner }) => owner.text === name);
}

/** Of a limit that is measured place by place, those that no step measures. */
function placesLeft(state: State, limit: Limit, measurings: readonly Measuring[]): void {
  const last = measurings[measurings.length - 1];
  if (limit.each === undefined || last === undefined || last.step.placed.file !== state.file) return;
  const written = measurings.map(({ places }) => places);
  if (written.some((places) => places.length === 0)) return;
  const all = placesToMeasure(limit, state.view);
  const left = all.filter((each) => !written.some((places) => places.some((place) => takesIn(place, each))));
  if (left.length === 0) return;
  sayLeft(
    state,
    'sequence/not-measured',
    last.step.placed,
    lastMeasured(last.step, limit.name) ?? last.step.declaration.wordSpan,
    told`${told.thing(limit)} is measured here, and never at ${inNamedPlaces(left)}. Measure it there as well.`,
  );
}

/** What came off and is back, of a limit that this made uncertain. */
function backOn(state: State, limit: Limit, { statement }: Act): PartState | undefined {
  const of = (limit.of ?? limit.each)?.owner.text;
  const off = statement.kind === 'action' ? statement.targets.map(({ owner }) => owner.text) : [];
  return [of, ...off]
    .flatMap((name) => state.parts.get(name ?? '') ?? [])
    .find((part) => anyOn(part) && part.fittedBy.some((act) => act !== undefined));
}

/** Limits that the job has made uncertain: at the place where the part went back. */
function staleLeft(state: State): void {
  for (const [name, removed] of state.stale.entries()) {
    const limit = state.view.things.get(name);
    if (limit?.kind !== 'limit') continue;
    const part = backOn(state, limit, removed);
    const fitted = part?.fittedBy.find((act) => act !== undefined);
    if (part === undefined || fitted === undefined || !anyOn(part)) continue;
    sayLeft(
      state,
      'sequence/not-measured',
      fitted.step.placed,
      fitted.span,
      told`${told.thing(part.part)} came off in step ${told.thing(removed.step)} and goes back here, and ${told.named(name)} is not measured after. Say measure ${told.named(name)} while it can be reached.`,
      pointAt(removed, told`it came off here`),
    );
  }
}

const isMeasuring = ({ statement }: Act): boolean => statement.kind === 'action' && statement.word === 'measure';

/** Says what was adjusted and is not as it was any more. */
export function disturbedLeft(state: State): void {
  for (const [name, { by, changedBy }] of state.adjusted.entries()) {
    if (changedBy !== undefined)
      sayLeft(
        state,
        'sequence/disturbed',
        changedBy.step.placed,
        changedBy.span,
        isMeasuring(by)
          ? told`${told.named(name)} was measured in step ${told.thing(by.step)}, and this changes it. Measure it again afterwards.`
          : told`${told.named(name)} was adjusted in step ${told.thing(by.step)}, and this changes it. Adjust it again afterwards.`,
        pointAt(by, isMeasuring(by) ? told`measured here` : told`adjusted here`),
      );
  }
}

/** Set without moving what is bolted down: by shims, screws, locknuts, files. */
const IN_PLACE = /shim|screw|nut\b|select|grade|grind|file|stone|hone|scrap|lap|gasket|spacer|washer|thread|bend/i;

/** Says that something is set by moving a part whose bolts are all at their last stage. Common practice, no source. */
function sayIfHeldFast(state: State, limit: Limit, action: Action, act: Act): void {
  const of = (limit.of ?? limit.each)?.owner.text;
  const text = action.byText?.value ?? action.withText?.value ?? '';
  if (of === undefined || limit.sort === 'valve-lash' || IN_PLACE.test(text)) return;
  const holders = state.clampedBy.get(of).filter(({ fastener }) => !fastener.broken && fastener.joint !== 'stud');
  const isFast =
    holders.length > 0 &&
    holders.every(({ stages, last }) => last !== undefined && stages.every((stage) => stage === FINAL));
  if (!isFast || state.unsure) return;
  const names = told.list(
    holders.map(({ fastener }) => told.thing(fastener)),
    ',',
  );
  say(
    state,
    'sequence/held-fast',
    act,
    holders.length === 1
      ? told`${told.thing(limit)} is adjusted here, and ${names} is tight: ${told.named(of, 'part')} can't move. Adjust it while that is snug, tighten, and measure again.`
      : told`${told.thing(limit)} is adjusted here, and ${names} are tight: ${told.named(of, 'part')} can't move. Adjust it while they are snug, tighten, and measure again.`,
    { related: pointAt(holders[0]?.last, told`tightened here`) },
  );
}

/** Says that something is set by moving a part that stood there already, and no step of the spec tightens what holds it. Common practice, no source. */
function sayIfLeftLoose(state: State, limit: Limit, action: Action, act: Act): void {
  const of = (limit.of ?? limit.each)?.owner.text;
  const text = action.byText?.value ?? action.withText?.value ?? '';
  if (of === undefined || limit.sort === 'valve-lash' || IN_PLACE.test(text)) return;
  const part = state.parts.get(of);
  // What goes on in this job is looked at when that ends.
  if (part === undefined || part.fittedBy.some((by) => by !== undefined)) return;
  const holders = state.clampedBy.get(of).filter(({ fastener }) => !fastener.broken && fastener.joint !== 'stud');
  const [first] = holders;
  if (first === undefined || holders.some(({ fastener }) => state.ahead.everTightened.has(fastener.name))) return;
  if (state.unsure) return;
  say(
    state,
    'sequence/never-tightened',
    act,
    told`${told.thing(limit)} is adjusted here by moving ${told.named(of, 'part')}, and no step tightens ${told.thing(first.fastener)}, which holds it. Tighten it when that is set.`,
    { missing: true, severity: 'warning' },
  );
}

/** Lash that a first build measures and that nothing sets: no step adjusts it, no table of grades chooses for it. */
function neverAdjusted(state: State): void {
  if (state.plan.begins !== 'bare') return;
  for (const limit of toMeasure(state.view, state.file)) {
    if (limit.sort !== 'valve-lash' || !state.measuredOn.has(limit.name) || state.ahead.adjusted.has(limit.name))
      continue;
    if (state.view.grades.some(({ by }) => by?.owner.text === limit.name)) continue;
    const by = state.measuredOn.get(limit.name);
    if (by !== undefined)
      sayAt(
        state,
        'sequence/not-adjusted',
        by.step.placed,
        by.span,
        told`${told.thing(limit)} is measured here and no step sets it: on a first build lash is rarely right by itself. Say adjust ${told.thing(limit)} before, or give a table of grades by it.`,
        { missing: true },
      );
  }
}

/** A limit of how long a bolt has become. Of used ones the stretch while they are tightened is none. */
function isLength(limit: Limit, areUsed: boolean): boolean {
  if (!limit.measured) return false;
  return !areUsed || !/stretch|preload|torque|elongation/i.test(limit.name) || /length|free|long/i.test(limit.name);
}

/** What is said of a length, or a figure. */
const OF_LENGTH = /\d|length|long|stretch|elongat|measur|gauge|new/i;

/** Whether some step measures a fastener, or inspects it and does not say that it is for something else. */
const isLengthLookedAt = (view: View, name: string): boolean =>
  stepsLookingAt(view, name).some(({ step }) =>
    step.statements.some(
      (each) =>
        each.kind === 'action' &&
        (each.word === 'measure' || each.word === 'inspect') &&
        each.targets.some(({ owner }) => owner.text === name) &&
        OF_LENGTH.test(each.forText?.value ?? 'length'),
    ),
  );

/** A fastener that may be used again up to a length, and that no step of the spec measures, inspects or renews. */
function sayIfReused(state: State, { fastener, mentioned, last }: FastenerState): void {
  if (state.plan.begins === 'unknown') return;
  const reuse = reuseOf(state.view, fastener);
  if (reuse === undefined || !mentioned || last === undefined || fastener.placed.file !== state.file) return;
  const { name } = fastener;
  if (isLengthLookedAt(state.view, name) || state.ahead.renewed.has(name)) return;
  if (limitsOf(state.view, name).some((limit) => isLength(limit, state.plan.begins === 'whole'))) return;
  sayLeft(
    state,
    'sequence/not-measured',
    fastener.placed,
    reuse,
    told`${told.named(name)} may be used again up to a length, and no step measures it. Say inspect ${told.named(name)} for "length", or renew it.`,
    pointAt(last, told`tightened here`),
  );
}
