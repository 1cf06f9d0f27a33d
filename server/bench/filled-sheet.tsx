// The bench sheet of the job with what is entered filled in, for paper.
import type { VNode } from 'preact';
import type { BuiltView } from '../model/build-view.ts';
import { SheetBody } from '../sheet/body.tsx';
import { Filled, type FilledIn } from '../sheet/pieces.tsx';
import type { BenchJob } from './bench-job.ts';
import type { Entries } from './entries.ts';
import { standsOfSteps } from './step-pictures.tsx';

/** The sheet of a job as elements. */
export function sheetBody(job: BenchJob, entries: Entries, view: BuiltView): VNode {
  const file = job.texts[0]?.file ?? '';
  const stands = standsOfSteps(job);
  const at = new Map(
    job.chapters.flatMap((chapter) => chapter.steps).map((step, i) => [step.name, stands[i]] as const),
  );
  const filled: FilledIn = {
    done: (step, place) => entries.steps.get(step)?.done.get(place),
    measured: (limit, place) => entries.measured.get(limit)?.get(place)?.text,
    looked: (step) =>
      [...(entries.steps.get(step)?.looked.values() ?? [])].map(({ by, at: { day, time } }) => `${by}, ${day} ${time}`),
  };
  return (
    <Filled.Provider value={filled}>
      <SheetBody
        view={view}
        options={{ file, errors: job.errors, ...(job.job === undefined ? {} : { job: job.job.name }) }}
        standsOf={(plan) => {
          const done = plan.sequences.flatMap((sequence) => sequence.steps);
          return new Map(
            done.flatMap((step) => {
              const each = at.get(step.name);
              return each === undefined ? [] : [[step, each] as const];
            }),
          );
        }}
        engineNumber={entries.engineNumber}
      />
    </Filled.Provider>
  );
}
