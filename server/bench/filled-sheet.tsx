// The bench sheet of the job with what is entered filled in, for paper.
import type { VNode } from 'preact';
import type { BuiltView } from '../model/build-view.ts';
import { SheetBody } from '../sheet/page.tsx';
import type { BenchJob } from './bench-job.ts';
import type { Entries } from './entries.ts';

/** The sheet of a job as elements. */
export function sheetBody(job: BenchJob, entries: Entries, view: BuiltView): VNode {
  const file = job.texts[0]?.file ?? '';
  return (
    <SheetBody
      view={view}
      options={{ file, errors: job.errors, ...(job.job === undefined ? {} : { job: job.job.name }) }}
      engineNumber={entries.engineNumber}
    />
  );
}
