// The pictures of a step as elements, from the spec and from how the engine stands there.
import type { View } from '../model/view.ts';
import { PICTURES, type PictureName, pictureOf } from '../pictures/catalog.ts';
import type { Picture } from '../pictures/drawing.tsx';
import type { Stands, StepStands } from '../rehearsal/stands.ts';
import type { BenchJob, BenchStep, StandsChange } from './bench-job.ts';

function after(before: Stands | undefined, change: StandsChange): Stands {
  const coveredBy = new Map(before?.coveredBy);
  for (const [name, cover] of change.coveredBy)
    if (cover === '') coveredBy.delete(name);
    else coveredBy.set(name, cover);
  return {
    crank: change.crank,
    drives: new Map(
      change.drives.map((each) => [each.name, { whole: each.whole, turned: new Map(each.turned), links: each.links }]),
    ),
    on: new Map([...(before?.on ?? []), ...change.on]),
    coveredBy,
    heldBack: new Set(change.heldBack),
    pinned: new Set(change.pinned),
  };
}

/** How the engine stands before and after each step of the job. */
export function standsOfSteps(job: BenchJob): readonly StepStands[] {
  const all: StepStands[] = [];
  let before: Stands | undefined;
  for (const change of job.stands) {
    const now = after(before, change);
    if (before !== undefined) all.push({ before, after: now });
    before = now;
  }
  return all;
}

/** As `standsOfSteps`, of the step of this number, counted from 0. */
function standsOfStep(job: BenchJob, at: number): StepStands | undefined {
  let before: Stands | undefined;
  for (const [i, change] of job.stands.entries()) {
    const now = after(before, change);
    if (i === at + 1) return before === undefined ? undefined : { before, after: now };
    before = now;
  }
  return undefined;
}

function isPicture(what: string): what is PictureName {
  return (PICTURES as readonly string[]).includes(what);
}

/** The pictures of a step, in order. */
export function picturesAt(
  job: BenchJob,
  step: BenchStep,
  at: number,
  view: View,
): readonly { readonly what: string; readonly picture: Picture }[] {
  const stands = standsOfStep(job, at);
  return step.pictures.flatMap(({ what, of }) => {
    if (!isPicture(what)) return [];
    const picture = pictureOf(what, {
      view,
      ...(of === undefined ? {} : { of }),
      ...(stands === undefined ? {} : { stands }),
    });
    return picture === undefined ? [] : [{ what, picture }];
  });
}
