// The engine is run: what has to be in it, and tight, before.
import type { Run } from '../../grammar/tree.ts';
import type { Step } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import { sayTooEarly, secondsOf } from './curing.ts';
import { looseAtRun } from './fasteners-left.ts';
import { type State, say } from './state.ts';
import { turnedByItself } from './turn.ts';

export function runEngine(state: State, step: Step, statement: Run): void {
  run(state, { step, statement, span: statement.wordSpan }, (secondsOf(statement.for) ?? 0) / 60);
}

function run(state: State, act: Act, minutes: number): void {
  turnedByItself(state, act);
  state.running.hasRun = true;
  for (const fastener of state.fasteners.values()) {
    fastener.runs += 1;
    fastener.ran += minutes;
  }
  if (state.unsure) return;
  sayTooEarly(state, act, 'run');
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
