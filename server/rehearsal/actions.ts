// Hands each action of a step to what knows it; the short ones (oil, plugs, leads, pins, limits) are done here.
import type { Action, Reference, Statement, Value } from '../../grammar/tree.ts';
import { toNumber } from '../mechanics/exact.ts';
import { measureOf } from '../model/measure.ts';
import type { Step } from '../model/view.ts';
import { type Act, pointAt, targetAct } from './act.ts';
import { align, confirm } from './confirm.ts';
import { sayIfCovered } from './covers.ts';
import { sayIfEarly } from './early.ts';
import { looseAtRun } from './ending.ts';
import { fit } from './fit.ts';
import { OFF, type PartState } from './part-state.ts';
import { placesNow } from './places.ts';
import { remove } from './remove.ts';
import { setShaft } from './set-shaft.ts';
import { anyOn, type State, say, sayMissing } from './state.ts';
import { loosen, renew, secure, tighten } from './tighten.ts';
import { rotate, runEngine } from './turn.ts';
import { emptied, fill, sayIfNotHeld, sayIfNothingToUndo } from './undo.ts';

/** Carries one statement of a step out; `repeats` is how often the step is done. */
export function doOne(state: State, step: Step, statement: Statement, repeats: number): void {
  switch (statement.kind) {
    case 'action':
      act(state, step, statement);
      break;
    case 'rotate':
      rotate(state, step, statement, repeats);
      break;
    case 'set':
      setShaft(state, step, statement);
      break;
    case 'confirm':
      confirm(state, step, statement);
      break;
    case 'wait': {
      const waited = secondsOf(statement.time);
      const { running } = state;
      running.curing = running.curing.map((each) => ({ ...each, left: each.left - (waited ?? each.left) }));
      break;
    }
    case 'run':
      run(state, { step, statement, span: statement.wordSpan }, (secondsOf(statement.for) ?? 0) / 60);
      break;
    default:
      break;
  }
}

/** A time in seconds. */
function secondsOf(value: Value | undefined): number | undefined {
  if (value === undefined || value.kind === 'by-place') return undefined;
  const measure = measureOf(value);
  return measure === undefined ? undefined : toNumber(measure.interval.high);
}

function sealed(state: State, action: Action, by: Act): void {
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  const cure = supply?.kind === 'supply' ? secondsOf(supply.cure) : undefined;
  if (supply !== undefined && cure !== undefined)
    state.running.curing = [...state.running.curing, { supply: supply.name, by, left: cure, isBefore: false }];
}

/**
 * A sequence begins. What was sealed in the last one may still be wet; after a whole sequence in between it has cured. Common practice,
 * no source: nobody says how long the engine stood.
 */
export function beginSequence(state: State): void {
  if (state.running.curing.length === 0) return;
  const wet = state.running.curing.filter((each) => !each.isBefore);
  state.running.curing = wet.map((each) => ({ ...each, isBefore: true }));
}

function tooEarly(state: State, act: Act, doing: string): void {
  const wet = state.running.curing.find((each) => each.left > 0);
  if (wet === undefined || state.unsure) return;
  const minutes = Math.round(wet.left / 60);
  say(
    state,
    'sequence/too-early',
    act,
    `${wet.supply} from step ${wet.by.step.name} has not cured: ${minutes < 120 ? `${minutes} min` : `${Math.round(minutes / 6) / 10} h`} more before the engine is ${doing}. Put a wait before this.`,
    { related: pointAt(wet.by, 'sealed here') },
  );
  state.running.curing = [];
}

function run(state: State, act: Act, minutes: number): void {
  runEngine(state, act);
  state.running.hasRun = true;
  for (const fastener of state.fasteners.values()) {
    fastener.runs += 1;
    fastener.ran += minutes;
  }
  if (state.unsure) return;
  tooEarly(state, act, 'run');
  looseAtRun(state, act);
  const [dry] = state.drained.entries();
  if (dry !== undefined) {
    say(
      state,
      'sequence/ran-dry',
      act,
      `The engine is run though ${dry[0]} was drained in step ${dry[1].step.name} and not filled since. Fill it first.`,
      { related: pointAt(dry[1], 'drained here') },
    );
    state.drained.delete(dry[0]);
    return;
  }
  if (state.view.engine?.cycle === 'two-stroke') return;
  if (!state.running.oiled)
    say(
      state,
      'sequence/ran-dry',
      act,
      'The engine is run before any oil went in. Fill it with oil and prime it first.',
    );
  else if (!state.running.primed)
    say(
      state,
      'sequence/ran-dry',
      act,
      'The engine is run before its oil pump was primed. Prime it first: the bearings run dry until the oil comes.',
    );
  else if (!state.running.cooled)
    say(state, 'sequence/ran-dry', act, 'The engine is run before any coolant went in. Fill it with coolant first.');
  state.running.oiled = true;
  state.running.cooled = true;
  state.running.primed = true;
}

function act(state: State, step: Step, action: Action): void {
  switch (action.word) {
    case 'fit':
      fit(state, step, action);
      break;
    case 'remove':
      remove(state, step, action);
      break;
    case 'tighten':
    case 'snug':
      tighten(state, step, action);
      break;
    case 'loosen':
      loosen(state, step, action);
      break;
    case 'secure':
      secure(state, step, action);
      break;
    case 'renew':
      renew(state, action);
      break;
    case 'align':
      align(state, step, action);
      break;
    default:
      eachTarget(state, step, action);
      break;
  }
}

function eachTarget(state: State, step: Step, action: Action): void {
  for (const target of action.targets) {
    const name = target.owner.text;
    const by = targetAct(step, action, target);
    const part = state.parts.get(name);
    const fastener = state.fasteners.get(name);
    if (fastener !== undefined) {
      fastener.mentioned = true;
      fastener.last ??= by;
    }
    const opening = `${name}${target.feature === undefined ? '' : `.${target.feature.text}`}`;
    switch (action.word) {
      case 'hold-back':
      case 'release':
        sayIfCovered(state, name, by, 'sequence/covered', action.word === 'release' ? 'release it' : 'hold it back');
        if (part === undefined) break;
        if (action.word === 'release') sayIfNotHeld(state, part, by);
        part.heldBack = action.word === 'release' ? undefined : by;
        break;
      case 'pin':
      case 'unpin':
        if (part === undefined) break;
        if (action.word === 'unpin')
          sayIfNothingToUndo(state, 'unpin', name, part.pinned !== undefined || part.saidNotHeld, by);
        else part.saidNotHeld = false;
        part.pinned = action.word === 'pin' ? by : undefined;
        break;
      case 'measure':
      case 'adjust':
        onLimit(state, action.word, name, by);
        break;
      case 'clean':
      case 'lubricate':
      case 'machine':
      case 'inspect':
        handledWhereItIs(state, action, part, target.places, by);
        break;
      case 'seal':
        handledWhereItIs(state, action, part, target.places, by);
        sealed(state, action, by);
        break;
      case 'drain':
        if (part?.removedBy !== undefined && !anyOn(part))
          say(
            state,
            'sequence/not-fitted-yet',
            by,
            `${name} is not on here, so it can't be drained: it came off in step ${part.removedBy.step.name}. Drain it before it comes off.`,
            { related: pointAt(part.removedBy, 'it came off here') },
          );
        else state.drained.set(name, by);
        emptied(state, name, true);
        break;
      case 'fill':
        tooEarly(state, by, 'filled');
        fill(state, action, name, by);
        state.drained.delete(name);
        if (isOf(state, action, 'coolant')) state.running.cooled = true;
        if (action.with === undefined || isOil(state, action.with.owner.text)) state.running.oiled = true;
        break;
      case 'prime':
        state.running.primed = true;
        break;
      case 'disconnect':
        state.disconnected.set(opening, by);
        break;
      case 'connect':
        sayIfNothingToUndo(state, 'connect', opening, state.disconnected.has(opening), by);
        state.disconnected.delete(opening);
        break;
      case 'plug':
        state.plugged.set(opening, by);
        break;
      case 'unplug':
        sayIfNothingToUndo(state, 'unplug', opening, state.plugged.has(opening), by);
        state.plugged.delete(opening);
        break;
      default:
        break;
    }
  }
}

const DOING: Readonly<Record<string, string>> = {
  clean: 'clean it',
  lubricate: 'lubricate it',
  machine: 'machine it',
  inspect: 'inspect it',
  seal: 'put sealant on it',
};
/** Leaks, noise and the like are looked for from outside. */
const FROM_OUTSIDE = /leak|weep|drip|stain|noise|whine|rub|smoke|knock|temperature|heat/i;

/** Work by hand on a part: on the bench it is fine, on the engine nothing may be over it. */
function handledWhereItIs(
  state: State,
  action: Action,
  part: PartState | undefined,
  places: Reference['places'],
  by: Act,
): void {
  if (part !== undefined) part.handledBy ??= by;
  if (part === undefined || (action.word === 'inspect' && FROM_OUTSIDE.test(action.forText?.value ?? ''))) return;
  if (placesNow(state, part.part, places).every((i) => part.on[i] !== OFF))
    sayIfCovered(state, part.part.name, by, 'sequence/covered', DOING[action.word] ?? 'get at it');
}

/** Whether what is filled in is of a kind, or may be. */
function isOf(state: State, action: Action, kind: string): boolean {
  const supply = action.with === undefined ? undefined : state.view.things.get(action.with.owner.text);
  return supply?.kind !== 'supply' || supply.sort === undefined || supply.sort === kind;
}

/** A supply that does not say what it is may be oil. */
function isOil(state: State, name: string): boolean {
  const supply = state.view.things.get(name);
  return supply?.kind !== 'supply' || supply.sort === undefined || supply.sort === 'oil';
}

/** Limits that mean something only with the part in its place. */
const ONLY_WHEN_IN = new Set(['end-play', 'backlash', 'valve-lash']);

function onLimit(state: State, word: string, name: string, by: Act): void {
  const limit = state.view.things.get(name);
  if (limit?.kind !== 'limit') return;
  const of = (limit.of ?? limit.each)?.owner.text;
  const part = of === undefined ? undefined : state.parts.get(of);
  if (part !== undefined && of !== undefined) {
    if (!anyOn(part)) {
      if (limit.sort !== undefined && ONLY_WHEN_IN.has(limit.sort))
        sayMissing(
          state,
          'sequence/not-fitted-yet',
          of,
          by,
          `${name} can't be measured yet: ${of} is not on. Fit it first.`,
        );
    } else
      sayIfCovered(
        state,
        of,
        by,
        word === 'measure' ? 'sequence/measured-late' : 'sequence/covered',
        word === 'measure' ? `measure ${name}` : `adjust ${name}`,
      );
  }
  sayIfEarly(state, limit, word === 'measure' ? 'measured' : 'adjusted', by);
  state.stale.delete(name);
  if (word === 'adjust') state.adjusted.set(name, { by, changedBy: undefined });
  // Measured again after what changed it: it is as it was found to be.
  const adjusted = state.adjusted.get(name);
  if (word === 'measure' && adjusted !== undefined) state.adjusted.set(name, { by: adjusted.by, changedBy: undefined });
}
