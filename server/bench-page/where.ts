// Where in the job one stands: a step, and one of its places. What comes next, and what came before.
import type { BenchStep } from '../bench/bench-job.ts';
import { type Entries, placesOf, stepEntries } from '../bench/entries.ts';

export interface At {
  /** The number of the step, from 0. */
  readonly step: number;
  /** One of its places; nothing for a step that is done once. */
  readonly place: string;
}

const isDoneAt = (entries: Entries, step: BenchStep, place: string): boolean =>
  stepEntries(entries, step.name).done.has(place);

/** A step of the job, at its first place that is not done where none is asked for. */
export function atStep(steps: readonly BenchStep[], entries: Entries, asked: number, place?: string): At {
  const step = Math.max(0, Math.min(asked, steps.length - 1));
  const target = steps[step];
  if (target === undefined) return { step, place: place ?? '' };
  const all = placesOf(target);
  const open = all.find((each) => !isDoneAt(entries, target, each));
  return { step, place: place ?? open ?? all[0] ?? '' };
}

/** The number of the first step that is not done at all of its places; the first of all where each is. */
export function firstOpen(steps: readonly BenchStep[], entries: Entries): number {
  const found = steps.findIndex((step) => !placesOf(step).every((place) => isDoneAt(entries, step, place)));
  return Math.max(found, 0);
}

/** One's place in a job, with what is next to it. */
export interface Where {
  readonly step: BenchStep | undefined;
  readonly place: string;
  readonly nextPlace: string | undefined;
  /** It is the first, or the last, of all. */
  readonly isFirst: boolean;
  readonly isLast: boolean;
  /** Where one stood before. */
  readonly before: { readonly step: number; readonly place: string | undefined };
}

export function whereIs(steps: readonly BenchStep[], at: At): Where {
  const step = steps[at.step];
  const places = step === undefined ? [''] : placesOf(step);
  const place = places.includes(at.place) ? at.place : (places[0] ?? '');
  const nextPlace = places[places.indexOf(place) + 1];
  const placeBefore = places[places.indexOf(place) - 1];
  const stepBefore = steps[at.step - 1];
  return {
    step,
    place,
    nextPlace,
    isFirst: at.step === 0 && placeBefore === undefined,
    isLast: at.step >= steps.length - 1 && nextPlace === undefined,
    before:
      placeBefore === undefined
        ? { step: at.step - 1, place: stepBefore === undefined ? undefined : placesOf(stepBefore).at(-1) }
        : { step: at.step, place: placeBefore },
  };
}
