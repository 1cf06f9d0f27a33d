// `fettle bundle`: a file with all that it uses as one file, to send to someone. How it is put together is in features/bundle.ts.

import { resolve } from 'node:path';
import { told } from '../../grammar/told.ts';
import { bundle as put } from '../features/bundle.ts';
import { analyse } from '../workspace/analyse.ts';
import { addressOf, diskHost, pathOf } from '../workspace/disk.ts';
import { analyseFlat } from '../workspace/flat.ts';
import { libraryText } from '../workspace/library.ts';
import { fileName } from '../workspace/paths.ts';
import { analyseSpec, readSpec, sameFile } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface BundleOptions {
  readonly output?: string;
}

/** The address of a bundle that is still being put together: it uses nothing, and lies nowhere. */
const NOWHERE = 'fettle-bundle:/new.fettle';
const ALONE = { resolve: () => undefined, read: () => undefined };

/** Runs `bundle`. Errors in what goes in are said, and the bundle is made all the same. Throws CannotDo. */
export function bundle(path: string, options: BundleOptions, streams: Streams): number {
  const spec = readSpec(path, streams);
  const analysis = analyseSpec(spec);
  const flat = analyseFlat(addressOf(spec.path), spec.text, diskHost([addressOf(spec.folder)]));
  const made = put(flat?.analysis ?? analysis, {
    wentInto: (file) => flat?.basesOf(file) ?? [],
    shown: (file) =>
      libraryText(file) === undefined ? fileName(file) : `fettle:${fileName(file).replace(/\.fettle$/, '')}`,
    analyse: (text) => analyse(NOWHERE, text, ALONE).findings,
  });
  if ('why' in made) throw new CannotDo(made.why);
  const errors = analysis.findings.filter((finding) => finding.severity === 'error').length;
  if (errors > 0)
    remark(
      streams,
      errors === 1
        ? told`${spec.shown} has an error, and so has the bundle.`
        : told`${spec.shown} has ${errors} errors, and so has the bundle.`,
    );
  if (options.output === undefined) streams.file(made.text);
  else {
    const output = resolve(streams.folder, options.output);
    if (sameFile(output, spec.path))
      throw new CannotDo(told`${options.output ?? ''} is the file itself. Name another one for the bundle.`);
    if (analysis.used.some(({ file }) => sameFile(output, pathOf(file) ?? '')))
      throw new CannotDo(
        told`${options.output ?? ''} is one of the files that go in. Name another one for the bundle.`,
      );
    writeWhole(output, made.text);
  }
  return 0;
}
