// What follows from an entry for the steps themselves: one at which nothing is left open is done, one that is opened again is not.
import type { BenchJob } from '../bench/bench-job.ts';
import { type Entries, openLines, placesOf, stepEntries, stepsOf, withDone } from '../bench/entries.ts';
import { now } from './moment.ts';

/** Steps at which all is ticked, measured and looked at are done. */
export function settled(before: Entries, after: Entries, job: BenchJob): Entries {
  let entries = after;
  for (const step of stepsOf(job)) {
    const touched =
      stepEntries(before, step.name) !== stepEntries(entries, step.name) || before.measured !== entries.measured;
    if (!touched || step.lines.every((line) => line.kind === 'note')) continue;
    for (const place of placesOf(step)) {
      const own = stepEntries(entries, step.name);
      const isAllDone = openLines(step, place, entries, job).length === 0;
      if (isAllDone && !own.done.has(place)) entries = withDone(entries, step, place, now());
      // A measurement that was taken back opens its step again.
      else if (
        !isAllDone &&
        own.done.has(place) &&
        before.measured !== after.measured &&
        step.lines.some((line) => line.kind === 'measure')
      )
        entries = {
          ...entries,
          steps: new Map(entries.steps).set(step.name, {
            ...own,
            done: new Map([...own.done].filter(([each]) => each !== place)),
          }),
        };
    }
  }
  return entries;
}
