// `fettle reach`: what comes off to get at a part. It is worked out in features/reach.ts.
import { basename } from 'node:path';
import { nearest } from '../../grammar/nearest.ts';
import { reach as workOut } from '../features/reach.ts';
import { reachJob } from '../features/reach-job.ts';
import { reachText } from '../features/reach-text.ts';
import { lines } from './output.ts';
import { analyseSpec, readSpec, viewFor } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface ReachOptions {
  readonly variant?: string;
  /** Written as a job for a file of its own. */
  readonly asJob?: boolean;
}

/** Runs `reach`. Without a variant, the first one is taken and said. */
export function reach(path: string, name: string, options: ReachOptions, streams: Streams): number {
  const analysis = analyseSpec(readSpec(path, streams));
  const view = viewFor(analysis, options.variant, streams);
  const part = view.things.get(name);
  if (part?.kind !== 'part') {
    const near = nearest(
      name,
      view.parts.map((each) => each.name),
    );
    const more = near === undefined ? 'Write the name of a part as in the spec.' : `Did you mean ${near}?`;
    throw new CannotDo(part === undefined ? `There is no part ${name} here. ${more}` : `${name} is no part. ${more}`);
  }
  if (options.asJob === true) {
    const spec = [analysis.file, ...analysis.used]
      .flatMap((file) => file.declarations)
      .find((placed) => placed.declaration.word === 'spec')?.declaration.name?.text;
    const use = basename(path);
    streams.file(reachJob(part, view, analysis.file.file, spec === undefined ? { use } : { spec, use }));
    return 0;
  }
  streams.out(lines(reachText(workOut(part, view, analysis.file.file), view)));
  return 0;
}
