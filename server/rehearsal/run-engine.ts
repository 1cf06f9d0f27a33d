// The engine is run: what has to be in it, on it and tight, before.
import { told } from '../../grammar/told.ts';
import type { Crank, Run } from '../../grammar/tree.ts';
import type { Step } from '../model/view.ts';
import { type Act, actAt, pointAt } from './act.ts';
import { sayIfUnbled } from './actions/bleed.ts';
import { sayIfMasked } from './actions/mask.ts';
import { disturbedLeft, notMeasuredAfter } from './actions/measure.ts';
import { sayIfPlugged } from './actions/plug.ts';
import { sayTooEarly, secondsOf, wait } from './curing.ts';
import { looseAtRun } from './fasteners-left.ts';
import { sayIfLeftForLater } from './later.ts';
import { type State, say } from './state.ts';
import { turnedByItself } from './turn.ts';

export function runEngine(state: State, step: Step, statement: Run): void {
  const seconds = secondsOf(statement.for);
  wait(state, seconds ?? 0);
  run(state, actAt(step, statement, statement.wordSpan), seconds ?? 0);
}

/** Turned on the starter: nothing may hinder it, and oil has to be in. Oil pressure that shows has primed it. */
export function crankEngine(state: State, step: Step, statement: Crank): void {
  const act = actAt(step, statement, statement.wordSpan);
  turnedByItself(state, act);
  if (state.view.engine?.cycle === 'two-stroke') return;
  const { oiled, primed } = state.running;
  const showsOil = /oil|pressure|gauge|lamp|light/i.test(statement.untilText?.value ?? '');
  if ((oiled && (primed || !showsOil)) || state.unsure) return;
  if (!oiled)
    say(
      state,
      'sequence/ran-dry',
      act,
      told`The engine is turned on the starter before any oil went in. Fill it with oil first.`,
    );
  state.running.oiled = true;
  if (showsOil) state.running.primed = true;
}

function run(state: State, act: Act, seconds: number): void {
  turnedByItself(state, act);
  state.running.hasRun = true;
  state.running.hotFor = 0;
  state.running.runs += 1;
  state.running.ran += seconds;
  sayIfMasked(state, undefined, act, told`The engine is run`);
  sayIfPlugged(state, act);
  sayTooEarly(state, act, told`run`);
  sayIfLeftForLater(state, act);
  looseAtRun(state, act);
  sayIfUnbled(state, act);
  settleAdjusted(state);
  sayIfDry(state, act);
  const { oiled, cooled, primed } = state.running;
  if ((oiled && cooled && primed) || state.unsure) return;
  state.running.oiled = true;
  state.running.cooled = true;
  state.running.primed = true;
}

/** Limits that later work has changed, or that were not measured when they were set: that is said, and they count as set from here on. */
function settleAdjusted(state: State): void {
  const disturbed = state.adjusted
    .entries()
    .filter(([, { changedBy, measuredBefore }]) => changedBy !== undefined || measuredBefore !== undefined);
  if (disturbed.length === 0 || state.unsure) return;
  if (!state.muted) {
    disturbedLeft(state);
    notMeasuredAfter(state);
  }
  for (const [name, adjusted] of disturbed)
    state.adjusted.set(name, { ...adjusted, changedBy: undefined, measuredBefore: undefined });
}

/** A tank that a first build put on, and that no step before has filled, where the spec has what goes into one. True when there is one. */
function sayIfTankEmpty(state: State, act: Act): boolean {
  if (state.plan.begins !== 'bare') return false;
  const full = new Set([...state.filled.keys()].map((key) => key.slice(0, key.indexOf(' '))));
  const empty = state.parts
    .ofKind('tank')
    .find(({ part, fittedBy }) => fittedBy.some((by) => by !== undefined) && !full.has(part.name));
  const fits = (sort: string): boolean => state.view.supplies.some((supply) => supply.sort === sort);
  if (empty === undefined || !fits(/oil/i.test(empty.part.name) ? 'oil' : 'fuel') || state.unsure) return false;
  const { name } = empty.part;
  state.filled.set(`${name} `, act);
  say(
    state,
    'sequence/ran-dry',
    act,
    told`The engine is run before anything went into ${told.thing(empty.part)}. Say fill ${told.thing(empty.part)} before this.`,
    {
      related: pointAt(
        empty.fittedBy.find((by) => by !== undefined),
        told`it went on here`,
      ),
    },
  );
  return true;
}

/** What has to be in it. */
function sayIfDry(state: State, act: Act): void {
  const [dry] = state.drained.entries();
  if (dry !== undefined) {
    if (state.unsure) return;
    say(
      state,
      'sequence/ran-dry',
      act,
      told`The engine is run though ${dry[0]} was drained in step ${told.thing(dry[1].step)} and not filled since. Fill it first.`,
      { related: pointAt(dry[1], told`drained here`) },
    );
    state.drained.delete(dry[0]);
    return;
  }
  if (sayIfTankEmpty(state, act) || state.view.engine?.cycle === 'two-stroke') return;
  const { oiled, primed, cooled } = state.running;
  if ((oiled && primed && cooled) || state.unsure) return;
  if (!oiled)
    say(
      state,
      'sequence/ran-dry',
      act,
      told`The engine is run before any oil went in. Fill it with oil and prime it first.`,
    );
  else if (!primed)
    say(
      state,
      'sequence/ran-dry',
      act,
      told`The engine is run before its oil pump was primed. Prime it first: the bearings run dry until the oil comes.`,
    );
  else if (!cooled)
    say(
      state,
      'sequence/ran-dry',
      act,
      told`The engine is run before any coolant went in. Fill it with coolant first.`,
    );
}
