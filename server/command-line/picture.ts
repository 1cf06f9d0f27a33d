// `fettle picture`: one picture from a spec as a file of vector graphics. What is drawn is server/pictures.

import { resolve } from 'node:path';
import { speaking } from '../../grammar/spoken.ts';
import { told } from '../../grammar/told.ts';
import type { View } from '../model/view.ts';
import { namesFor, PICTURES, type PictureName, pictureOf } from '../pictures/catalog.ts';
import { pictureFile } from '../pictures/picture-file.tsx';
import { type StepStands, standsAt } from '../rehearsal/stands.ts';
import { lines, shown } from './output.ts';
import { analyseSpec, mustKnowJob, readSpec, sameFile, shownPath, viewFor } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface PictureOptions {
  readonly variant?: string;
  readonly job?: string;
  readonly step?: string;
  readonly output?: string;
}

function isPicture(what: string): what is PictureName {
  return (PICTURES as readonly string[]).includes(what);
}

/** Which pictures there are of this spec, one a line, with the names that they can be made of. */
function list(view: View): string {
  return PICTURES.map((what) => {
    const names = namesFor(what, view);
    return `${what}${names.length === 0 ? '' : `: ${names.join(', ')}`}\n`;
  }).join('');
}

function standing(view: View, file: string, options: PictureOptions): StepStands | undefined {
  if (options.step === undefined) return undefined;
  const step = view.sequences.flatMap((sequence) => sequence.steps).find((each) => each.name === options.step);
  if (step === undefined) throw new CannotDo(told`There is no step ${options.step ?? ''} here.`);
  const stands = standsAt(view, file, step, options.job);
  if (stands === undefined)
    throw new CannotDo(
      options.job === undefined
        ? told`No job of this file does ${options.step}.`
        : told`Job ${options.job} of this file does not do ${options.step}.`,
    );
  return stands;
}

/** The last step of the first job, for a picture that needs one. */
function lastStep(view: View, options: PictureOptions): string | undefined {
  const job = view.jobs.find((each) => options.job === undefined || each.name === options.job);
  const last =
    job === undefined ? view.sequences[view.sequences.length - 1]?.name : job.sequences[job.sequences.length - 1]?.text;
  return view.sequences.find((sequence) => sequence.name === last)?.steps.at(-1)?.name;
}

/** Runs `picture`. Without a picture's name it says which there are. */
export function picture(
  path: string,
  what: string | undefined,
  name: string | undefined,
  options: PictureOptions,
  streams: Streams,
): number {
  const spec = readSpec(path, streams);
  const analysis = analyseSpec(spec);
  const view = viewFor(analysis, options.variant, streams);
  mustKnowJob(view, options.job);
  if (what === undefined) {
    streams.out(lines(list(view)));
    return 0;
  }
  if (!isPicture(what)) throw new CannotDo(told`There is no picture ${what}. There are ${told.list(PICTURES, ',')}.`);
  if (options.output === undefined) throw new CannotDo(told`Say where to write it: --output FILE.svg.`);
  const target = resolve(streams.folder, options.output);
  if (sameFile(target, spec.path) || target.endsWith('.fettle'))
    throw new CannotDo(told`The picture would overwrite a spec. Give an --output that ends in .svg.`);
  const step = options.step ?? (what === 'what-is-on' ? lastStep(view, options) : undefined);
  if (step !== undefined && options.step === undefined) remark(streams, told`after ${step}; --step gives another.`);
  const views = options.variant === undefined ? analysis.views : [view];
  const drawn = speaking(streams.rows, () => {
    const stands = standing(view, analysis.file.file, { ...options, ...(step === undefined ? {} : { step }) });
    const made = pictureOf(what, {
      view,
      views,
      ...(name === undefined ? {} : { of: name }),
      ...(stands === undefined ? {} : { stands }),
    });
    return made === undefined ? undefined : pictureFile(made);
  });
  if (drawn === undefined) {
    const names = namesFor(what, view);
    const has = names.length === 0 ? told`the spec does not say what it takes` : told`there is ${names.join(', ')}`;
    throw new CannotDo(
      name === undefined
        ? told`There is no ${what} to draw: ${has}.`
        : told`There is no ${what} of ${name} to draw: ${has}.`,
    );
  }
  writeWhole(target, drawn);
  streams.out(shown`${shownPath(target, streams.folder)}\n`);
  return 0;
}
