// `fettle bench`: the bench page of a job, one file to work by on a tablet. What is on it is server/bench.

import { resolve } from 'node:path';
import { speaking } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import { benchJob } from '../bench/make-job.ts';
import { benchPage } from '../bench/page.tsx';
import type { Program } from '../bench/program.ts';
import { addressOf, diskHost } from '../workspace/disk.ts';
import { analyseFlat } from '../workspace/flat.ts';
import { fileName } from '../workspace/paths.ts';
import { shown } from './output.ts';
import { analyseSpec, mustKnowJob, readSpec, sameFile, shownPath, viewFor } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface BenchOptions {
  readonly variant?: string;
  /** The job; else the first of the file. */
  readonly job?: string;
  readonly output: string;
}

/** Gives the program that runs in the page. */
export type BenchProgram = () => Program;

/** Runs `bench`. Without a variant or a job, the first is taken and said. */
export function bench(path: string, options: BenchOptions, streams: Streams, program: BenchProgram): number {
  const spec = readSpec(path, streams);
  const target = resolve(streams.folder, options.output);
  if (sameFile(target, spec.path) || target.endsWith('.fettle'))
    throw new CannotDo(told`The page would overwrite a spec. Give an --output that ends in .html.`);
  const checked = analyseSpec(spec);
  // A spec that is built on another goes along as one text, its changes made.
  const flat = analyseFlat(addressOf(spec.path), spec.text, diskHost([addressOf(spec.folder)]));
  const analysis = flat?.analysis ?? checked;
  const view = viewFor(analysis, options.variant, streams);
  mustKnowJob(view, options.job);
  const errors = checked.findings.filter(
    (finding) =>
      finding.severity === 'error' &&
      (finding.variants === undefined || view.variant === undefined || finding.variants.includes(view.variant)),
  ).length;
  const { file } = analysis.file;
  const job = speaking(streams.rows, () =>
    benchJob(view, {
      file,
      ...(options.job === undefined ? {} : { job: options.job }),
      use: fileName(file),
      errors,
      texts: [analysis.file, ...analysis.used].map((each) => ({ file: fileName(each.file), text: each.text })),
    }),
  );
  if (job === undefined)
    throw new CannotDo(told`There is no work in ${spec.shown}: name a file with a job or with sequences.`);
  if (options.job === undefined && view.jobs.filter((each) => each.placed.file === file).length > 1)
    remark(
      streams,
      told`for ${job.job?.name ?? ''}; --job gives another (${view.jobs
        .filter((each) => each.placed.file === file)
        .map((each) => each.name)
        .join(', ')}).`,
    );
  const page = speaking(streams.rows, () => benchPage(job, program(), streams.words));
  writeWhole(target, page);
  if (errors > 0)
    remark(
      streams,
      told`the page says so too: ${errors} of the findings are contradictions. Run: fettle check ${spec.shown}`,
    );
  streams.out(shown`${shownPath(target, streams.folder)}\n`);
  return 0;
}
