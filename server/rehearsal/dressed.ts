// What has to be on a part when it goes in: oil, sealant. A part that says so (`fitted oiled`) is looked at when the engine is next turned.
import { told } from '../../grammar/told.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { isA, sealedBy, type TradeKind } from '../model/trade-names.ts';
import type { Fastener, Part } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import type { Act } from './act.ts';
import { clampedIn } from './at-the-bench.ts';
import type { FastenerState } from './fastener-state.ts';
import { stepsMating, stepsMatingWith, stepsOiling, stepsSealing } from './foresight.ts';
import { partsThat } from './graded.ts';
import { OFF, type PartState } from './part-state.ts';
import { type State, say, sayAt } from './state.ts';

/** What an action puts on a part. */
export function putOn(part: PartState, what: 'oiled' | 'sealant'): void {
  part.wet = new Set([...part.wet, what]);
}

/** What has oil behind its joint. */
const JOINTS: readonly TradeKind[] = [
  'sump',
  'timing-cover',
  'timing-case',
  'case-half',
  'rear-seal-carrier',
  'front-seal-carrier',
];

const isSeal = (name: string): boolean => isA(name, 'gasket', 'o-ring', 'seal', 'washer');

/** By part: the seals that are named after it. */
const sealsOf = keyed(
  (view) => view.parts,
  (_view, { name }: Part): readonly Entry<string>[] => {
    const sealed = isSeal(name) ? sealedBy(name) : undefined;
    return sealed === undefined ? [] : [[sealed, name]];
  },
);

/** Whether anything is told of how the joint of a part is made tight: a gasket by its name or under its bolts, or sealant in any job. */
const isSealed = question((view, name: string): boolean => {
  if (sealsOf(view, name).length > 0) return true;
  if (clampedIn(view, name).some(({ clamps }) => clamps.some(({ part }) => isSeal(part)))) return true;
  if (stepsMatingWith(view, name).some((each) => isA(each.name, 'gasket', 'o-ring'))) return true;
  const mates = [name, ...stepsMating(view, name).map(({ mate }) => mate)];
  return mates.some((each) => stepsSealing(view, each).length > 0);
});

/** Whether a seal of the crankshaft is pressed into it, and it is bolted on: a pump on the nose of the crankshaft closes the case there. */
const holdsSeal = question(
  (view, name: string): boolean =>
    isA(name, 'oil-pump') && stepsMatingWith(view, name).some((each) => isA(each.name, 'crank-seal')),
);

/** A joint with oil behind it that goes on with neither gasket nor sealant, in a spec that has sealant. Common practice, no source. */
export function sayIfBare(state: State, { part }: PartState, act: Act): void {
  if (act.step.trial || part.fitted !== undefined || !(isA(part, ...JOINTS) || holdsSeal(state.view, part.name)))
    return;
  if (state.plan.begins !== 'bare' || state.clampedBy.get(part.name).length === 0) return;
  if (!state.view.supplies.some(({ sort }) => sort === 'sealant') || isSealed(state.view, part.name)) return;
  if (state.unsure) return;
  say(
    state,
    'sequence/fitted-dry',
    act,
    told`${told.thing(part)} goes on with neither a gasket nor sealant, as far as the spec tells, and has oil behind it. Say seal ${told.thing(part)} before this, or which gasket it has.`,
    { missing: true, severity: 'information' },
  );
}

/** A finding says that a part goes on without its sealant: that this comes later is no other. */
export const saidDry = (name: string): string => `dry ${name}`;

/** A part goes on: where it says that sealant has to be on its joint, it is on it or on what it goes onto. */
export function sayIfUnsealed(state: State, part: PartState, mate: string | undefined, act: Act): void {
  if (part.part.fitted !== 'sealant' || act.step.trial) return;
  if (part.wet.has('sealant') || (mate !== undefined && state.parts.get(mate)?.wet.has('sealant') === true)) return;
  if (state.unsure) return;
  say(
    state,
    'sequence/fitted-dry',
    act,
    told`${told.thing(part.part)} goes on with sealant on its joint, and no step before puts any on. Say seal ${told.thing(part.part)} before this.`,
    { missing: true },
  );
  if (!state.muted) state.saidSteps.add(saidDry(part.part.name));
}

/** What says that it goes in oiled. */
const fittedOiled = partsThat(({ fitted }) => fitted === 'oiled' || fitted === 'greased');

/** What runs on a film of oil, and where that may be besides: on the shaft in its shells, on the caps and followers of a camshaft. */
const FILMS: readonly (readonly [TradeKind, readonly TradeKind[]])[] = [
  ['shell', ['crankshaft', 'block', 'case', 'rod', 'main-cap', 'rod-cap']],
  ['camshaft', ['cam-bearing', 'cam-cap', 'lifter', 'block', 'head', 'case']],
];

const isIn = ({ fittedBy, on }: PartState): boolean =>
  on.every((each) => each !== OFF) && fittedBy.some((by) => by !== undefined && !by.step.trial);
const isOiled = ({ wet }: PartState): boolean => wet.has('oiled');

/** Says once of a part that it went in dry, though another is oiled; false where the job can't be told for sure, and of no other either. */
function sayDry(state: State, part: PartState, oiled: PartState, severity: 'warning' | 'information'): boolean {
  const said = saidDry(part.part.name);
  const by = part.fittedBy.find((each) => each !== undefined);
  if (by === undefined || state.saidSteps.has(said)) return true;
  if (state.unsure) return false;
  if (!state.muted) state.saidSteps.add(said);
  say(
    state,
    'sequence/fitted-dry',
    by,
    told`${told.thing(part.part)} goes in dry as far as the steps tell, and ${told.thing(oiled.part)} is oiled. Say lubricate ${told.thing(part.part)} where it goes in.`,
    { missing: true, severity },
  );
  return true;
}

/** Bearings and camshafts that went in dry, where others are oiled by the steps. Common practice, no source. */
function sayIfDry(state: State): void {
  const running = FILMS.flatMap(([kind, others]) =>
    state.parts.ofKind(kind).flatMap((part) => (isIn(part) && !isA(part.part, 'cam-bearing') ? { part, others } : [])),
  );
  // One that is oiled shows that it is written down what is.
  const first = running.find(({ part }) => isOiled(part));
  if (first === undefined) return;
  for (const { part, others } of running) {
    if (isOiled(part) || state.parts.ofKind(...others).some(isOiled)) continue;
    if (!sayDry(state, part, first.part, 'warning')) return;
  }
}

/** What else runs on oil, and what oil it gets besides. */
const RUBBING: readonly (readonly [TradeKind, readonly TradeKind[]])[] = [
  ['piston', ['barrel', 'liner', 'cylinder', 'block', 'ring']],
  ['lifter', ['block', 'case']],
  ['oil-pump', []],
  ['valve', ['guide-or-seat']],
  ['front-seal', ['crank-seal']],
  ['rear-seal', ['crank-seal']],
];
/** So many kinds oiled show that all is written down, and so many left out that one was forgotten. Judgement; no source. */
const OILED_KINDS = 4;
const FORGOTTEN = 2;

/** What goes in dry where nearly all that runs on oil is oiled by the steps. Common practice, no source. */
export function sayIfForgottenDry(state: State): void {
  if (state.plan.begins !== 'bare') return;
  const kinds = [...RUBBING, ...FILMS].map(([kind, others]) => ({
    parts: state.parts.ofKind(kind).filter((part) => isIn(part) && part.part.fitted === undefined),
    others,
  }));
  const there = kinds.filter(({ parts }) => parts.length > 0);
  const isWet = ({ parts, others }: (typeof kinds)[number]): boolean =>
    parts.some(isOiled) || state.parts.ofKind(...others).some(isOiled);
  const dry = there.filter((each) => !isWet(each));
  const first = there.flatMap(({ parts }) => parts).find(isOiled);
  if (first === undefined || dry.length === 0 || dry.length > FORGOTTEN || there.length - dry.length < OILED_KINDS)
    return;
  for (const part of dry.flatMap(({ parts }) => parts)) {
    if (!sayDry(state, part, first, 'information')) return;
  }
}

/** A plug that is fitted with sealant and gets none, in a spec whose steps put it on elsewhere. Common practice, no source. */
export function sayIfPlugDry(state: State, { fastener, last }: FastenerState): void {
  if (fastener.joint !== 'plug' || fastener.fitted !== 'sealant' || last === undefined) return;
  if (state.plan.begins !== 'bare' || stepsSealing(state.view, fastener.name).length > 0) return;
  const sealed = state.parts.ofKind(...JOINTS).some(({ part }) => stepsSealing(state.view, part.name).length > 0);
  if (!sealed || state.unsure) return;
  say(
    state,
    'sequence/fitted-dry',
    last,
    told`${told.thing(fastener)} goes in with sealant on its thread, and no step puts any on. Say seal ${told.thing(fastener)} before this.`,
    { missing: true, severity: 'information' },
  );
}

/** What runs on a film, of which all work of a spec says that it is oiled as it goes in. */
const ALWAYS_OILED: readonly TradeKind[] = ['camshaft', 'shell', 'lifter'];
/** Where that oil may be besides: on what it runs on. A lifter is oiled at its side, and is no camshaft. */
const OILS_IT: typeof FILMS = [
  ['lifter', ['camshaft', 'block', 'case', 'head']],
  ['camshaft', ['cam-bearing', 'cam-cap', 'block', 'head', 'case']],
  ...FILMS,
];

/** What goes in dry in work on a whole engine, and is oiled where other work of the spec fits it. Common practice, no source. */
function sayIfOiledElsewhere(state: State): void {
  if (state.plan.begins === 'bare') return;
  for (const part of state.parts.ofKind(...ALWAYS_OILED)) {
    const { name } = part.part;
    const by = part.fittedBy.find((each) => each !== undefined);
    const said = saidDry(name);
    if (by === undefined || by.step.trial || isOiled(part) || state.saidSteps.has(said)) continue;
    const others = OILS_IT.find(([kind]) => isA(part.part, kind))?.[1] ?? [];
    if (others.length > 0 && state.parts.ofKind(...others).some(isOiled)) continue;
    const elsewhere = stepsOiling(state.view, name).find(({ sequence }) => !state.plan.sequences.includes(sequence));
    if (elsewhere === undefined) continue;
    if (state.unsure) return;
    if (!state.muted) state.saidSteps.add(said);
    say(
      state,
      'sequence/fitted-dry',
      by,
      told`${told.thing(part.part)} goes in dry here, and step ${told.thing(elsewhere.step)} of other work oils it. Say lubricate ${told.thing(part.part)} where it goes in.`,
      { missing: true, severity: 'warning' },
    );
  }
}

/** What a thread is fitted with that a step puts on. */
const ON_THREADS: ReadonlySet<string> = new Set(['sealant', 'moly']);

/** By what is put on their threads, and for paste by the joint, whose torque it belongs to: the fasteners that say so. */
const threadsWith = keyed(
  (view) => view.fasteners,
  (_view, { name, fitted, joint }: Fastener): readonly Entry<string>[] =>
    fitted === undefined || !ON_THREADS.has(fitted) || joint === 'plug' ? [] : [[threadKey(fitted, joint), name]],
);
const threadKey = (fitted: string, joint: string | undefined): string =>
  fitted === 'moly' ? `${fitted} ${joint ?? ''}` : fitted;

const isDressed = question(
  (view, name: string): boolean => stepsSealing(view, name).length > 0 || stepsOiling(view, name).length > 0,
);

/** So many threads of a kind that steps put it on show that it is written down. Judgement; no source. */
const DRESSED = 2;

/** A thread that gets its sealant or paste by no step, where most others of its kind do. Common practice, no source. */
export function sayIfThreadDry(state: State, { fastener, last }: FastenerState): void {
  const { name, fitted, joint } = fastener;
  if (fitted === undefined || !ON_THREADS.has(fitted) || joint === 'plug' || last === undefined) return;
  if (state.plan.begins !== 'bare' || fastener.broken || isDressed(state.view, name)) return;
  const others = threadsWith(state.view, threadKey(fitted, joint)).filter((other) => other !== name);
  const dressed = others.filter((other) => isDressed(state.view, other));
  const [first] = dressed;
  if (first === undefined || dressed.length < DRESSED || dressed.length <= others.length - dressed.length) return;
  if (state.unsure) return;
  say(
    state,
    'sequence/fitted-dry',
    last,
    fitted === 'sealant'
      ? told`${told.thing(fastener)} goes in with sealant on its thread, and no step puts any on, though one does for ${told.named(first)}. Say seal ${told.thing(fastener)} before this.`
      : told`${told.thing(fastener)} goes in with paste on its thread, and no step puts any on, though one does for ${told.named(first)}. Say lubricate ${told.thing(fastener)} before this.`,
    { missing: true, severity: 'information' },
  );
}

/** The engine is turned, or the job ends: what had to be oiled and is not. */
export function sayIfNotOiled(state: State): void {
  sayIfDry(state);
  sayIfOiledElsewhere(state);
  for (const part of state.parts.among(fittedOiled(state.view))) {
    const by = part.fittedBy.find((each) => each !== undefined);
    if (by === undefined || by.step.trial || part.wet.has('oiled')) continue;
    if (part.on.every((each) => each === OFF)) continue;
    if (state.unsure) return;
    putOn(part, 'oiled');
    if (state.muted) continue;
    sayAt(
      state,
      'sequence/fitted-dry',
      by.step.placed,
      by.span,
      part.part.fitted === 'greased'
        ? told`${told.thing(part.part)} goes in greased, and no step puts grease on it before the engine is turned. Say lubricate ${told.thing(part.part)} where it goes in.`
        : told`${told.thing(part.part)} goes in oiled, and no step oils it before the engine is turned. Say lubricate ${told.thing(part.part)} where it goes in.`,
      { missing: true },
    );
  }
}
