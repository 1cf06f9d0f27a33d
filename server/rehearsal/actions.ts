// Hands each statement of a step to what knows it.
import type { Statement } from '../../grammar/tree.ts';
import type { Step } from '../model/view.ts';
import { ACTION_RULES } from './actions/table.ts';
import { confirm } from './confirm.ts';
import { secondsOf, wait } from './curing.ts';
import { crankEngine, runEngine } from './run-engine.ts';
import { setShaft } from './set-shaft.ts';
import type { State } from './state.ts';
import { rotate } from './turn.ts';

/** Carries one statement of a step out; `repeats` is how often the step is done. */
export function doOne(state: State, step: Step, statement: Statement, repeats: number): void {
  switch (statement.kind) {
    case 'action':
      ACTION_RULES[statement.word].carryOut(state, step, statement);
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
    case 'wait':
      wait(state, secondsOf(statement.time));
      break;
    case 'crank':
      crankEngine(state, step, statement);
      break;
    case 'run':
      runEngine(state, step, statement);
      break;
    default:
      break;
  }
}
