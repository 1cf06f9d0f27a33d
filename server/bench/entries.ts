// What has been entered for one engine and job: ticks, measurements, who looked and when. Plain data that never changes; each change makes
// it anew. How it becomes a record is in record-text.ts.
import type { BenchJob, BenchLine, BenchStep } from './bench-job.ts';
import { readingsOf } from './number-entry.ts';

/** A day as a record writes it, and a time of day. */
export interface Moment {
  readonly day: string;
  /** `14:10` */
  readonly time: string;
}

export interface Value {
  /** As it is written in a record: `0.041 mm`. */
  readonly text: string;
  readonly on: string | undefined;
  readonly by: string | undefined;
  readonly with: string | undefined;
}

export interface Looked {
  readonly by: string;
  readonly at: Moment;
}

export interface Done {
  readonly on: string | undefined;
  readonly by: string | undefined;
}

export interface StepEntries {
  /**
   * What is ticked: the key of a line, `5`; one of its places, `5@upper 2`; a bolt at a stage, `5#2.7`. In a step that is done place by
   * place the place stands before it: `3:5`.
   */
  readonly ticks: ReadonlySet<string>;
  /** By the key of the hold point, with its place before it as for ticks. */
  readonly looked: ReadonlyMap<string, Looked>;
  /** By place; empty for a step that is done once. */
  readonly done: ReadonlyMap<string, Done>;
  readonly deviation: string | undefined;
}

export interface Entries {
  readonly record: string;
  /** The revision that the record was worked to, where it was read in; else that of the spec. */
  readonly revision: number | undefined;
  readonly engineNumber: string;
  /** Who works. */
  readonly by: string;
  readonly steps: ReadonlyMap<string, StepEntries>;
  readonly measured: ReadonlyMap<string, ReadonlyMap<string, Value>>;
  /** By part: the repair size that went in; empty for standard. */
  readonly sizes: ReadonlyMap<string, string>;
  /** By table of grades: the row that went in. */
  readonly grades: ReadonlyMap<string, string>;
  /** By clock (`step:line`): when it was started, in milliseconds. */
  readonly clocks: ReadonlyMap<string, number>;
  readonly signed: { readonly by: string; readonly on: string } | undefined;
  /** The record as it was last read in: what this page does not know of stays in it as it stands. */
  readonly base: string | undefined;
}

const NO_STEP: StepEntries = { ticks: new Set(), looked: new Map(), done: new Map(), deviation: undefined };

/** A name for the record of an engine: `build-ql-0417`; beside a spec no name may be there twice. */
export function recordName(engineNumber: string, job: BenchJob): string {
  const of = engineNumber.trim() === '' ? (job.job?.name ?? job.spec) : engineNumber;
  const words = of
    .normalize('NFC')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  return `build-${words === '' ? 'engine' : words}`;
}

export function noEntries(job: BenchJob): Entries {
  return {
    record: recordName('', job),
    revision: job.revision,
    engineNumber: '',
    by: '',
    steps: new Map(),
    measured: new Map(),
    sizes: new Map(),
    grades: new Map(),
    clocks: new Map(),
    signed: undefined,
    base: undefined,
  };
}

export function stepEntries(entries: Entries, step: string): StepEntries {
  return entries.steps.get(step) ?? NO_STEP;
}

/** Steps with one of them as it is now. */
export function withStep(entries: Entries, step: string, now: Partial<StepEntries>): Entries {
  return { ...entries, steps: new Map([...entries.steps, [step, { ...stepEntries(entries, step), ...now }]]) };
}

/** The key of a tick: with the place of a step that is done place by place before it. */
export function tickKey(place: string, key: string): string {
  return place === '' ? key : `${place}:${key}`;
}

/** The ticks that a line has besides its own: its places, or its bolts at each stage that is done here. */
export function partTicks(line: BenchLine, place: string): readonly string[] {
  if (line.kind !== 'do') return [];
  const own = tickKey(place, line.key);
  if (line.bolts !== undefined)
    return line.stages
      .filter((stage) => stage.when === 'now')
      .flatMap((stage) => line.bolts?.places.map((bolt) => `${own}#${stage.number}.${bolt.number}`) ?? []);
  if (line.places.length > 0) return line.places.map((each) => `${own}@${each}`);
  const now = line.stages.filter((stage) => stage.when === 'now');
  return now.length > 1 ? now.map((stage) => `${own}#${stage.number}`) : [];
}

/** Sets or takes back a tick, and those that follow from it: a line is done when all its places are, and all are when it is ticked. */
export function withTick(
  entries: Entries,
  step: BenchStep,
  line: BenchLine,
  place: string,
  key: string,
  isOn: boolean,
): Entries {
  const before = stepEntries(entries, step.name);
  const ticks = new Set(before.ticks);
  const own = tickKey(place, line.key);
  const parts = partTicks(line, place);
  const put = (each: string, on: boolean): void => {
    if (on) ticks.add(each);
    else ticks.delete(each);
  };
  put(key, isOn);
  if (key === own) for (const part of parts) put(part, isOn);
  else
    put(
      own,
      parts.every((part) => ticks.has(part)),
    );
  // What is taken back is not done any more.
  const done = new Map(before.done);
  if (!isOn) done.delete(place);
  return withStep(entries, step.name, { ticks, done });
}

/** The places of a limit that a line asks for, in a step at a place. */
export function placesAsked(limitPlaces: readonly string[], step: BenchStep, place: string): readonly string[] {
  if (limitPlaces.length === 0) return [''];
  // Step by step the same places: the third rod's clearance with the third rod.
  if (place !== '' && limitPlaces.length === step.places.length) {
    const at = step.places.indexOf(place);
    return limitPlaces.slice(at, at + 1);
  }
  return limitPlaces;
}

/** Whether a line is done at a place of its step. */
function isLineDone(line: BenchLine, step: BenchStep, place: string, entries: Entries, job: BenchJob): boolean {
  const own = stepEntries(entries, step.name);
  const key = tickKey(place, line.key);
  switch (line.kind) {
    case 'note':
      return true;
    case 'hold':
      return own.looked.has(key);
    case 'measure': {
      const limit = job.limits.find((each) => each.name === line.limit);
      const values = entries.measured.get(line.limit);
      return placesAsked(limit?.places ?? [], step, place).every((each) => {
        const value = values?.get(each);
        return value !== undefined && readingsOf(value.text) >= (limit?.readings ?? 1);
      });
    }
    case 'do':
      return own.ticks.has(key);
  }
}

/** The places that a step is worked at, one after the other. */
export function placesOf(step: BenchStep): readonly string[] {
  return step.places.length === 0 ? [''] : step.places;
}

export type StepState = 'open' | 'begun' | 'held' | 'done' | 'left';

export interface Progress {
  readonly state: StepState;
  readonly done: number;
  readonly of: number;
}

/** How a step stands: `held` when all but a hold point is done, `left` when a deviation says why it was not done. */
export function progressOf(step: BenchStep, entries: Entries, job: BenchJob): Progress {
  const own = stepEntries(entries, step.name);
  const places = placesOf(step);
  const lines = places.flatMap((place) =>
    step.lines
      .filter((line) => line.kind !== 'note')
      .map((line) => ({ line, done: isLineDone(line, step, place, entries, job) })),
  );
  const [done, of] = [lines.filter((each) => each.done).length, lines.length];
  if (places.every((place) => own.done.has(place))) return { state: 'done', done, of };
  if (own.deviation !== undefined && done === 0) return { state: 'left', done, of };
  const onlyHeld =
    lines.some((each) => each.line.kind === 'hold' && !each.done) &&
    lines.every((each) => each.done || each.line.kind === 'hold');
  if (onlyHeld && of > 0) return { state: 'held', done, of };
  return { state: done > 0 || own.done.size > 0 ? 'begun' : 'open', done, of };
}

/** The lines that are still open at a place of a step. */
export function openLines(step: BenchStep, place: string, entries: Entries, job: BenchJob): readonly BenchLine[] {
  return step.lines.filter((line) => !isLineDone(line, step, place, entries, job));
}

/** A step done at a place; of one that is done again the first day stays. */
export function withDone(entries: Entries, step: BenchStep, place: string, moment: Moment): Entries {
  const own = stepEntries(entries, step.name);
  if (own.done.has(place)) return entries;
  const by = entries.by.trim();
  return withStep(entries, step.name, {
    done: new Map([...own.done, [place, { on: moment.day, by: by === '' ? undefined : by }]]),
  });
}

/** All steps in order. */
export function stepsOf(job: BenchJob): readonly BenchStep[] {
  return job.chapters.flatMap((chapter) => chapter.steps);
}

/** Entries as plain text, to be kept. */
export function entriesToJson(entries: Entries): string {
  return JSON.stringify({
    ...entries,
    steps: [...entries.steps].map(([name, step]) => [
      name,
      { ...step, ticks: [...step.ticks], looked: [...step.looked], done: [...step.done] },
    ]),
    measured: [...entries.measured].map(([name, values]) => [name, [...values]]),
    sizes: [...entries.sizes],
    grades: [...entries.grades],
    clocks: [...entries.clocks],
  });
}

type Row<value> = readonly (readonly [string, value])[];

/** Entries from the text that they were kept as; undefined where it is no such text. */
export function entriesFromJson(text: string, job: BenchJob): Entries | undefined {
  try {
    const kept = JSON.parse(text) as Omit<Entries, 'steps' | 'measured' | 'sizes' | 'grades' | 'clocks'> & {
      readonly steps: Row<{
        readonly ticks: readonly string[];
        readonly looked: Row<Looked>;
        readonly done: Row<Done>;
        readonly deviation?: string;
      }>;
      readonly measured: Row<Row<Value>>;
      readonly sizes: Row<string>;
      readonly grades: Row<string>;
      readonly clocks: Row<number>;
    };
    if (typeof kept !== 'object' || kept === null || !Array.isArray(kept.steps)) return undefined;
    return {
      ...noEntries(job),
      ...kept,
      signed: kept.signed,
      base: kept.base,
      steps: new Map(
        kept.steps.map(([name, step]) => [
          name,
          {
            ticks: new Set(step.ticks),
            looked: new Map(step.looked),
            done: new Map(step.done),
            deviation: step.deviation,
          },
        ]),
      ),
      measured: new Map(kept.measured.map(([name, values]) => [name, new Map(values)])),
      sizes: new Map(kept.sizes),
      grades: new Map(kept.grades),
      clocks: new Map(kept.clocks),
    };
  } catch {
    return undefined;
  }
}
