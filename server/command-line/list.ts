// `fettle list`: what to buy, what to send out and which tools to lay out for a job. They are worked out in model/job-lists.ts.

import { told } from '../../grammar/told.ts';
import { listsOf } from '../model/job-lists.ts';
import { listsCsv, listsText } from '../model/job-lists-text.ts';
import { plansOf } from '../rehearsal/plan.ts';
import { data, lines } from './output.ts';
import { analyseSpec, mustKnowJob, readSpec, viewFor } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface ListOptions {
  readonly variant?: string;
  readonly job?: string;
  readonly format?: string;
}

/** Runs `list`. Without a job, those of the file, or its sequences. */
export function list(path: string, options: ListOptions, streams: Streams): number {
  const format = options.format ?? 'text';
  if (format !== 'text' && format !== 'csv' && format !== 'json')
    throw new CannotDo(told`The format is text, csv or json, not ${format ?? ''}.`);
  const analysis = analyseSpec(readSpec(path, streams));
  const view = viewFor(analysis, options.variant, streams);
  mustKnowJob(view, options.job);
  const plans = plansOf(view, analysis.file.file).filter(
    ({ job }) => options.job === undefined || job?.name === options.job,
  );
  if (plans.length === 0)
    throw new CannotDo(told`There is no sequence in this file to list from. Write one, or name a file that has one.`);
  const all = plans.map(({ job, sequences }) => ({
    job: job?.name,
    title: job?.title,
    lists: listsOf(sequences, view),
  }));
  if (format === 'json') streams.out(data(all));
  else if (format === 'csv') streams.file(listsCsv(all));
  else streams.out(lines(listsText(all)));
  return 0;
}
