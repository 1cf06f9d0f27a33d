// What holds oil and coolant in an engine: what has to be on and tight when it is filled, and drained before it comes off. Told by the
// names that the trade gives and by what the spec fills; common practice, no source.
import { type Told, told } from '../../grammar/told.ts';
import type { Action } from '../../grammar/tree.ts';
import { type Entry, keyed } from '../model/keyed.ts';
import { isA, isOrSeals, kindsOf, sealedBy, type TradeKind } from '../model/trade-names.ts';
import type { Fastener, Sequence } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { type Act, pointAt } from './act.ts';
import { type FastenerState, SNUG } from './fastener-state.ts';
import { inWords } from './in-words.ts';
import { OFF, type PartState } from './part-state.ts';
import { type State, say } from './state.ts';
import { workOf } from './step-work.ts';
import { inOrder, namesIn } from './things.ts';
import { isTightenedAfter } from './to-come.ts';

export type Fluid = 'oil' | 'coolant';

/** What oil stands behind, or coolant. A filter is looked at when the engine is primed: oil in the sump does not reach it. */
const HOLDS: Readonly<Record<Fluid, readonly TradeKind[]>> = {
  oil: ['sump', 'drain-plug', 'drain-washer'],
  coolant: ['water-joint', 'core-plug', 'head'],
};
/** What oil under pressure would come out of. */
const UNDER_PRESSURE: readonly TradeKind[] = ['pressed-oil'];
/** Filled by itself, on the bench or before it goes on. */
const BY_ITSELF: readonly TradeKind[] = [
  'oil-filter',
  'air-filter',
  'lifter',
  'pump',
  'oil-pump',
  'water-pump',
  'oil-cooler',
  'turbo',
  'seal',
  'fuel-part',
  'injector',
  'gearbox',
];

/** Whether something is filled by itself: no oil in the engine, and nothing that what was sealed would have to be cured for. */
export const isByItself = (name: string): boolean => isA(name, ...BY_ITSELF);

/** What sort of fluid an action fills in, as far as it is told. */
export function fluidOf(state: Pick<State, 'view'>, action: Action): Fluid | undefined {
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  const sort = supply?.kind === 'supply' ? supply.sort : undefined;
  if (sort === 'oil' || sort === 'coolant') return sort;
  const name = action.with?.owner.text ?? action.targets[0]?.owner.text ?? '';
  return sort !== undefined
    ? undefined
    : /cool|water|radiator/i.test(name)
      ? 'coolant'
      : /oil|sump/i.test(name)
        ? 'oil'
        : undefined;
}

/** By what the trade takes something for: the fasteners that hold it or what seals it, and the plugs and fasteners of nothing told that are of it by name. */
const heldByKind = keyed(
  (view) => view.fasteners,
  (_view, { name, joint, clamps }: Fastener) => {
    const kinds = new Set<string>();
    const note = (held: string): void => {
      for (const kind of kindsOf(held)) kinds.add(kind);
    };
    for (const { part } of clamps) {
      note(part);
      const sealed = sealedBy(part);
      if (sealed !== undefined) note(sealed);
    }
    if (joint === 'plug' || clamps.length === 0) note(name);
    return [...kinds].map((kind): Entry<string> => [kind, name]);
  },
);

/** The fasteners of what holds a fluid in, in the order written. */
const heldBy = question((view, holds: string): readonly string[] =>
  inOrder(
    view,
    'fasteners',
    holds.split(' ').flatMap((kind) => heldByKind(view, kind)),
  ),
);

/** Whether it is not so far as its first stage, and this job tightens it later. */
function isLooseYet(state: State, { fastener, stages, saidLeft }: FastenerState, act: Act): boolean {
  if (fastener.broken || saidLeft || !stages.some((stage) => stage <= SNUG)) return false;
  return state.ahead.tightened.has(fastener.name) && isTightenedAfter(state, act, fastener.name);
}

/** What is not on or not tight yet, of what holds a fluid in; what this job never does is said at its end. */
function openOf(
  state: State,
  holds: readonly TradeKind[],
  act: Act,
): { readonly off: readonly PartState[]; readonly loose: readonly FastenerState[] } {
  const off = state.parts
    .ofKindOrSeals(...holds)
    .filter(
      ({ part: { name }, on }) =>
        on.some((each) => each === OFF) &&
        state.ahead.fitted.has(name) &&
        !state.ahead.expectedMissing.has(name) &&
        !state.saidMissing.has(name),
    );
  const loose = state.fasteners
    .among(heldBy(state.view, holds.join(' ')))
    .filter((each) => isLooseYet(state, each, act))
    .filter(({ fastener }) => !fastener.clamps.some((clamp) => off.some(({ part }) => part.name === clamp.part)));
  return { off, loose };
}

function sayOpen(state: State, act: Act, doing: Told, holds: readonly TradeKind[]): void {
  const { off, loose } = openOf(state, holds, act);
  if (off.length + loose.length === 0 || state.unsure) return;
  const names = [
    ...off.map(({ part }) => told`${told.thing(part)} is not on`),
    ...loose.map(({ fastener }) => told`${told.thing(fastener)} is not tight`),
  ];
  say(state, 'sequence/runs-out', act, told`${doing}, and ${inWords(names)}. Do that first.`);
  // It is said: the rehearsal goes on as if it were done.
  for (const { part } of off) state.saidMissing.add(part.name);
  for (const each of loose) each.saidLeft = true;
}

/** Says at a filling what would let the fluid out. */
export function sayIfItRunsOut(state: State, action: Action, name: string, act: Act): void {
  const fluid = fluidOf(state, action);
  if (fluid === undefined || isByItself(name) || state.plan.begins === 'unknown') return;
  const what = action.with === undefined ? told.term(fluid) : told.named(action.with.owner.text, 'supply');
  sayOpen(state, act, told`${what} is filled in here`, HOLDS[fluid]);
}

/** Says at a priming what oil under pressure would come out of. */
export function sayIfItSprays(state: State, act: Act): void {
  if (state.plan.begins !== 'unknown') sayOpen(state, act, told`The oil system is primed here`, UNDER_PRESSURE);
}

/** What comes off with coolant or oil in it. */
const LETS_OUT: Readonly<Record<Fluid, readonly TradeKind[]>> = {
  oil: ['sump'],
  coolant: ['head', 'water-joint', 'liner'],
};

/** Whether a part lets a fluid out when it comes off. */
export const letsOut = (name: string, fluid: Fluid): boolean =>
  isA(name, ...LETS_OUT[fluid]) || isOrSeals(name, ...HOLDS[fluid]);

/** The names that the spec fills with a fluid. */
const placesFilled = keyed(
  (view) => view.sequences,
  (view, { steps }: Sequence) =>
    steps.flatMap((step) =>
      workOf(view, step).filled.flatMap((action) => {
        const fluid = fluidOf({ view }, action);
        return fluid === undefined ? [] : action.targets.map(({ owner }): Entry<string> => [fluid, owner.text]);
      }),
    ),
);

const filledWith = (state: State, fluid: Fluid): ReadonlySet<string> => new Set(placesFilled(state.view, fluid));

/** Whether the spec fills a place with a fluid. */
export function isFilledWith(state: State, name: string, fluid: Fluid): boolean {
  return filledWith(state, fluid).has(name);
}

/** What closes a drain. */
const drainsIn = question((view, list: 'fasteners'): readonly string[] =>
  namesIn(view, list).filter((name) => isA(name, 'drain-plug') || /drain/i.test(name)),
);

/** Whether an emptied place, or a drain that was opened, lets a fluid out. */
function isDrained(state: State, fluid: Fluid, filled: ReadonlySet<string>): boolean {
  for (const name of state.emptied) if (filled.has(name) || isOrSeals(name, ...HOLDS[fluid])) return true;
  return state.fasteners.among(drainsIn(state.view, 'fasteners')).some(({ loosenedBy }) => loosenedBy !== undefined);
}

/** Says that a part comes off a whole engine with what is in it. */
export function sayIfNotDrained(state: State, name: string, act: Act): void {
  if (state.plan.begins !== 'whole' || state.running.hasRun) return;
  for (const fluid of ['oil', 'coolant'] as const) {
    const filled = filledWith(state, fluid);
    // What is filled itself spills it, whatever it is called; engines and heads are not lifted off to be emptied.
    if (!isA(name, ...LETS_OUT[fluid]) && !(filled.has(name) && !isA(name, 'block', 'head', 'case'))) continue;
    const key = `${fluid} not drained`;
    const isWet =
      filled.size > 0 || state.view.supplies.some(({ sort, placed }) => sort === fluid && placed.file === state.file);
    if (!isWet || isDrained(state, fluid, filled) || state.saidSteps.has(key)) continue;
    if (state.unsure) return;
    state.saidSteps.add(key);
    // It is said: the rehearsal goes on as if it had been done.
    for (const each of filled) state.emptied.add(each);
    const where = [...filled][0];
    say(
      state,
      'sequence/not-drained',
      act,
      told`${told.named(name)} comes off here with the ${told.term(fluid)} still in the engine: no step before drains it. ${where === undefined ? told`Drain it first` : told`Say drain ${told.named(where)} first`}.`,
      { missing: true },
    );
  }
}

/** Says that the oil system is primed before there is oil to prime it with. */
export function sayIfPrimedEarly(state: State, act: Act): boolean {
  if (state.plan.begins === 'unknown') return false;
  const [dry] = [...state.drained].filter(([name]) => filledWith(state, 'oil').has(name));
  if (state.running.oiled && dry === undefined) return false;
  // Where no step fills oil in, that is what is said at the run.
  if (filledWith(state, 'oil').size === 0 || state.unsure) return false;
  say(
    state,
    'sequence/primed-early',
    act,
    dry === undefined
      ? told`The oil system is primed here before any oil is in the engine: the pump draws air. Fill it with oil first, then prime.`
      : told`The oil system is primed here, and the oil was drained in step ${told.thing(dry[1].step)} and not filled since. Fill it first, then prime.`,
    { related: pointAt(dry?.[1], told`drained here`) },
  );
  // It is said: the rehearsal goes on as if there were oil in it.
  state.running.oiled = true;
  if (dry !== undefined) state.drained.delete(dry[0]);
  return true;
}

/** Work after which the oil system is empty again. */
const EMPTIES = new Set(['fill', 'drain', 'fit', 'remove', 'renew', 'connect']);

/** Says that the oil system of a whole engine is primed only when it has run: it was open in this job, and ran dry. Common practice, no source. */
export function sayIfPrimedLate(state: State, act: Act): void {
  const { plan, running } = state;
  if (plan.begins !== 'whole' || !running.hasRun || act.step.trial) return;
  const own = plan.sequences.find(({ steps }) => steps.includes(act.step));
  if (own === undefined) return;
  const steps = own.steps.slice(0, own.steps.indexOf(act.step));
  const before = [...steps.flatMap((step) => step.statements), ...act.step.statements.slice(0, act.at)];
  const last = before.findLast((each) => each.kind === 'run' || (each.kind === 'action' && EMPTIES.has(each.word)));
  if (
    last?.kind !== 'run' ||
    ![...state.filled.keys()].some((key) => isFilledWith(state, key.slice(0, key.indexOf(' ')), 'oil'))
  )
    return;
  if (state.unsure) return;
  say(
    state,
    'sequence/run-unready',
    act,
    told`The oil system is primed here, and the engine was run before it with the oil that this job filled in. Prime it before the run.`,
  );
}
