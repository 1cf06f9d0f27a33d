// Counts work, so that growth can be tested without a clock: how often each stretch of code is run. The engine counts that itself (its
// precise coverage), so nothing in the code is there for it, and the same work gives the same number. What the engine does inside one
// call (searching a string, copying a list) is not counted: that shows in `npm run bench` alone.
import { type Profiler, Session } from 'node:inspector';

const session = new Session();
session.connect();

/** Asks the engine, which answers at once. */
function ask(method: string, params: object = {}): object {
  let answer: object = {};
  session.post(method, params, (error: Error | null, result?: object) => {
    if (error !== null) throw error;
    answer = result ?? {};
  });
  return answer;
}

// From here on the engine counts. Code that it has read before is counted by whole calls alone, so what is to be counted is
// imported behind this module: `await import(…)`.
ask('Profiler.enable');
ask('Profiler.startPreciseCoverage', { callCount: true, detailed: true });

/** The address of this file, as the engine has it. What is run here is not counted. */
const OWN = /[\\/]tests[\\/]growth[\\/]work\.ts/;

/** What was counted since the engine was asked before. To be asked costs it more than most work that is counted. */
function counted(): number {
  const { result } = ask('Profiler.takePreciseCoverage') as Profiler.TakePreciseCoverageReturnType;
  let steps = 0;
  for (const { url, functions } of result) {
    if (OWN.test(url)) continue;
    for (const { ranges } of functions) for (const { count } of ranges) steps += count;
  }
  return steps;
}

/** How many stretches of code are run while each of some things is done, one after the other. */
export function stepsOfEach(acts: Iterable<() => void>): readonly number[] {
  const steps: number[] = [];
  // What was counted so far is let go.
  ask('Profiler.takePreciseCoverage');
  for (const act of acts) {
    act();
    steps.push(counted());
  }
  return steps;
}
