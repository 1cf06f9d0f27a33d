// `fettle reach`: what comes off to get at a part, or at single places of it. It is worked out in features/reach.ts.

import { basename, dirname, join } from 'node:path';
import { nearest } from '../../grammar/nearest.ts';
import { told } from '../../grammar/told.ts';
import { reach as workOut } from '../features/reach.ts';
import { reachJob } from '../features/reach-job.ts';
import { reachJson } from '../features/reach-json.ts';
import { allPlacesOf, type Places, placesAsked } from '../features/reach-places.ts';
import { reachText } from '../features/reach-text.ts';
import type { Finding } from '../model/finding.ts';
import type { Part, View } from '../model/view.ts';
import type { Analysis } from '../workspace/api.ts';
import { data, lines } from './output.ts';
import { analyseSpec, readSpec, type Spec, viewFor } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface ReachOptions {
  readonly variant?: string;
  readonly format?: string;
  /** Written as a job for a file of its own. */
  readonly asJob?: boolean;
}

function partOf(view: View, name: string): Part {
  const part = view.things.get(name);
  if (part?.kind === 'part') return part;
  const near = nearest(
    name,
    view.parts.map((each) => each.name),
  );
  const more = near === undefined ? told`Write the name of a part as in the spec.` : told`Did you mean ${near}?`;
  throw new CannotDo(
    part === undefined ? told`There is no part ${name} here. ${more}` : told`${name} is no part. ${more}`,
  );
}

function placesOf(part: Part, words: readonly string[]): Places {
  if (words.length === 0) return allPlacesOf(part);
  const places = placesAsked(part, words);
  if (places !== undefined) return places;
  const has = part.places.map(({ name, count }) =>
    [name, count > 1 ? `1..${count}` : undefined].filter((each) => each !== undefined).join(' '),
  );
  const all = has.filter((each) => each !== '');
  throw new CannotDo(
    told`${part.name} has no place ${words.join(' ')}: ${all.length === 0 ? told`there is one of it` : told`its places are ${all.join(', ')}`}.`,
  );
}

/** What the checker says of a job in a file beside the spec, but for what is only worth knowing. */
function wrongIn(text: string, spec: Spec): readonly Finding[] {
  const path = join(dirname(spec.path), 'reach-job.fettle');
  // What has not come yet is no fault of the job.
  return analyseSpec({ ...spec, path, text }).findings.filter(
    ({ severity, code }) => severity !== 'information' && code !== 'sequence/on-order',
  );
}

function writeJob(part: Part, places: Places, view: View, analysis: Analysis, spec: Spec, streams: Streams): number {
  const name = [analysis.file, ...analysis.used]
    .flatMap((file) => file.declarations)
    .find((placed) => placed.declaration.word === 'spec')?.declaration.name?.text;
  const use = basename(spec.path);
  const text = reachJob(part, view, analysis.file.file, { use, places, ...(name === undefined ? {} : { spec: name }) });
  const wrong = wrongIn(text, spec);
  const [first] = wrong;
  if (first !== undefined) {
    const more = wrong.length === 1 ? told.nothing : told` (and ${wrong.length - 1} more)`;
    throw new CannotDo(
      told`No job is written for ${part.name}, since it would not hold. What could not be worked out: ${first.told}${more} Write the job by hand; fettle reach without --as-job lists what comes off.`,
    );
  }
  streams.file(text);
  return 0;
}

/** Runs `reach`. Without a variant, the first one is taken and said. */
export function reach(
  path: string,
  name: string,
  words: readonly string[],
  options: ReachOptions,
  streams: Streams,
): number {
  if (options.format !== undefined && options.format !== 'text' && options.format !== 'json')
    throw new CannotDo(told`The format is text or json, not ${options.format}.`);
  const spec = readSpec(path, streams);
  const analysis = analyseSpec(spec);
  const view = viewFor(analysis, options.variant, streams);
  const part = partOf(view, name);
  const places = placesOf(part, words);
  if (options.asJob === true) return writeJob(part, places, view, analysis, spec, streams);
  const reached = workOut(part, view, analysis.file.file, places);
  if (options.format === 'json') streams.out(data(reachJson(reached, view, streams.say)));
  else streams.out(lines(reachText(reached, view)));
  return 0;
}
