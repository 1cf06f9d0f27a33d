// Many files are checked by several workers at once. Each takes the next few files as it gets through its own; what they find comes back in the
// order of the files, whichever is done first. The pools that can be had start their workers from a file of their own, which a command in
// one file does not have: so it is done here.
import { availableParallelism } from 'node:os';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { type Asked, checkFile, type Outcome } from './check-file.ts';
import type { Wanted } from './specs.ts';

/** Starts the program in which this module is as a worker of its own, which calls `serveChecks`. */
export type StartWorker = (data: object) => Worker;

/** Fewer files than these are done before a second thread has started. Measured on two cores. */
const WORTH_IT = 24;
/** How many files go to a worker at a time. */
const AT_A_TIME = 4;

interface Work {
  readonly from: number;
  readonly files: readonly Wanted[];
}
interface Done {
  readonly from: number;
  readonly outcomes: readonly Outcome[];
}

/** How a worker of this module is known by what it was started with. */
const MARK = 'fettle-check';

/** Said to a worker that has no more to check. */
const ALL_DONE = 'all done';

/** The program in a file, as a worker. */
export function workersOf(file: string): StartWorker {
  return (data) => new Worker(file, { workerData: data });
}

/**
 * Where this thread was started to check files: does so until it is ended. Gives whether it was. `allDone` is called in one of them when all are
 * checked.
 */
export function serveChecks(allDone: () => void = () => undefined): boolean {
  if (isMainThread || parentPort === null || workerData?.mark !== MARK) return false;
  const port = parentPort;
  const asked: Asked = workerData.asked;
  port.on('message', (message: Work | typeof ALL_DONE) => {
    if (message === ALL_DONE) {
      allDone();
      port.postMessage(ALL_DONE);
      return;
    }
    const { from, files } = message;
    const done: Done = { from, outcomes: files.map((each) => checkFile(each, asked)) };
    port.postMessage(done);
  });
  return true;
}

/** Checks files, with as many workers as there are cores where that is worth it. `told` hears how many are done. */
export async function checkFiles(
  files: readonly Wanted[],
  asked: Asked,
  start: StartWorker | undefined,
  told: (done: number) => void,
): Promise<readonly Outcome[]> {
  const many = Math.min(availableParallelism(), Math.floor(files.length / WORTH_IT));
  if (start === undefined || many < 2)
    return files.map((each, i) => {
      told(i);
      return checkFile(each, asked);
    });
  const outcomes: (Outcome | undefined)[] = files.map(() => undefined);
  let [next, done] = [0, 0];
  const work = (): Work => {
    const from = next;
    next = Math.min(files.length, next + AT_A_TIME);
    return { from, files: files.slice(from, next) };
  };
  const lane = (isFirst: boolean): Promise<void> =>
    new Promise((finished) => {
      const worker = start({ mark: MARK, asked });
      let hand: Work | undefined;
      const end = (): void => void worker.terminate().then(() => finished());
      const give = (): void => {
        hand = next < files.length ? work() : undefined;
        if (hand !== undefined) worker.postMessage(hand);
        else if (isFirst) worker.postMessage(ALL_DONE);
        else end();
      };
      worker.on('message', (message: Done | typeof ALL_DONE) => {
        if (message === ALL_DONE) {
          end();
          return;
        }
        const { from, outcomes: found } = message;
        found.forEach((outcome, i) => {
          outcomes[from + i] = outcome;
        });
        done += found.length;
        told(done);
        give();
      });
      // A worker that could not go on leaves its files, and the rest, to this thread.
      worker.on('error', () => finished());
      worker.on('exit', () => finished());
      give();
    });
  await Promise.all(Array.from({ length: many }, (_, i) => lane(i === 0)));
  return outcomes.map((outcome, i) => {
    const file = files[i];
    return outcome ?? (file === undefined ? { failed: '' } : checkFile(file, asked));
  });
}
