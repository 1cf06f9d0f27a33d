// A record read back into entries, to go on from it: on another tablet, or after it was written in by hand. What a page has no field for stays
// in its text.
import type { Place, Statement } from '../../grammar/tree.ts';
import { takesIn } from '../model/measure.ts';
import { type Placed, statementsFor } from '../model/placed.ts';
import { readFile } from '../model/read-file.ts';
import { namesIn } from '../model/statements.ts';
import type { BenchJob } from './bench-job.ts';
import {
  type Done,
  type Entries,
  type Looked,
  noEntries,
  partTicks,
  placesOf,
  stepsOf,
  tickKey,
  type Value,
} from './entries.ts';
import { whatNote } from './record-notes.ts';

/** What is to be said of a record that is read in. */
export interface RecordHead {
  readonly name: string;
  readonly of: string | undefined;
  readonly revision: number | undefined;
  readonly variant: string | undefined;
  /** Something in it can't be read. */
  readonly isBroken: boolean;
}

function recordOf(text: string, name?: string): Placed | undefined {
  const records = readFile('record.fettle', text).declarations.filter((placed) => placed.declaration.word === 'record');
  return records.find((placed) => placed.declaration.name?.text === name) ?? records[0];
}

/** Which record stands in a text; undefined where there is none. */
export function recordHead(text: string): RecordHead | undefined {
  const placed = recordOf(text);
  if (placed === undefined) return undefined;
  const { declaration } = placed;
  return {
    name: declaration.name?.text ?? '',
    of: declaration.of?.owner.text,
    revision: declaration.revision?.value,
    variant: namesIn(declaration.body?.statements ?? [], 'variant')[0]?.text,
    isBroken: placed.parsed.faults.length > 0,
  };
}

/** A place as it is called on the page: `3`, `inlet 2`. */
function namedPlace(place: string): { readonly name: string | undefined; readonly number: number } {
  const match = /^(?:(.*?) )?(\d+)$/.exec(place);
  return match === null ? { name: place, number: 1 } : { name: match[1], number: Number(match[2]) };
}

/** The places of a list that are written. */
function placesAmong(all: readonly string[], written: readonly Place[]): readonly string[] {
  return all.filter((place) => written.some((each) => takesIn(each, namedPlace(place))));
}

function isLater(one: Value, other: Value): boolean {
  return one.on === undefined || other.on === undefined || one.on >= other.on;
}

/** The entries of a record; undefined where there is none in the text. */
export function readRecord(text: string, job: BenchJob, name?: string): Entries | undefined {
  const placed = recordOf(text, name);
  if (placed === undefined) return undefined;
  const { declaration } = placed;
  const statements: readonly Statement[] = statementsFor(declaration.body?.statements, job.variant);
  const written = (span: { readonly start: number; readonly end: number }): string =>
    placed.section.text.slice(span.start, span.end).replace(/\s+/g, ' ');
  const steps = new Map(stepsOf(job).map((step) => [step.name, step]));
  const entered = new Map<
    string,
    { ticks: Set<string>; looked: Map<string, Looked>; done: Map<string, Done>; deviation: string | undefined }
  >();
  const ofStep = (step: string) => {
    const known = entered.get(step) ?? { ticks: new Set(), looked: new Map(), done: new Map(), deviation: undefined };
    entered.set(step, known);
    return known;
  };
  const measured = new Map<string, Map<string, Value>>();
  const sizes = new Map<string, string>();
  const grades = new Map<string, string>();
  let signed: Entries['signed'];
  let engineNumber = '';
  let by = '';
  for (const each of statements) {
    if (each.kind === 'text' && each.word === 'engine-number') engineNumber = each.text.value;
    if (each.kind === 'record-fitted' && each.size !== undefined) sizes.set(each.part.owner.text, each.size.text);
    if (each.kind === 'record-fitted' && each.grade !== undefined) grades.set(each.part.owner.text, each.grade.text);
    if (each.kind === 'signed') signed = { by: each.by.value, on: each.on?.text ?? '' };
    if (each.kind === 'measured' && each.value !== undefined) {
      const limit = job.limits.find((one) => one.name === each.limit.owner.text);
      const all = limit?.places ?? [];
      const values = measured.get(each.limit.owner.text) ?? new Map<string, Value>();
      measured.set(each.limit.owner.text, values);
      const rows = each.value.kind === 'by-place' ? each.value.entries : [{ places: [], value: each.value }];
      for (const row of rows) {
        const value: Value = {
          text: written(row.value),
          on: each.on?.text,
          by: each.by?.value,
          with: each.with?.value,
        };
        const places = row.places.length === 0 ? (all.length === 0 ? [''] : all) : placesAmong(all, row.places);
        for (const place of places) {
          const known = values.get(place);
          if (known === undefined || isLater(value, known)) values.set(place, value);
        }
      }
    }
    if (each.kind === 'done') {
      const step = steps.get(each.step.owner.text);
      const own = ofStep(each.step.owner.text);
      if (each.word === 'deviation') own.deviation = each.text?.value ?? '';
      else {
        const all = step?.places ?? [];
        const places =
          each.step.places.length === 0 ? (all.length === 0 ? [''] : all) : placesAmong(all, each.step.places);
        for (const place of places) own.done.set(place, { on: each.on?.text, by: each.by?.value });
        by = each.by?.value ?? by;
      }
    }
    const noted = each.kind === 'text' && each.word === 'note' ? whatNote(each.text.value) : undefined;
    if (noted?.what === 'held') ofStep(noted.step).looked.set(noted.key, noted.looked);
    if (noted?.what === 'under-way') for (const tick of noted.ticks) ofStep(noted.step).ticks.add(tick);
  }
  // Who looked, where no note says at which line: at all of them.
  for (const each of statements) {
    const step = each.kind === 'witnessed' ? steps.get(each.step.owner.text) : undefined;
    if (each.kind !== 'witnessed' || step === undefined) continue;
    const { looked } = ofStep(step.name);
    const at = { day: each.on?.text ?? '', time: '' };
    for (const place of placesOf(step))
      for (const line of step.lines) {
        const key = tickKey(place, line.key);
        if (line.kind === 'hold' && !looked.has(key)) looked.set(key, { by: each.by?.value ?? '', at });
      }
  }
  // What is done is ticked.
  for (const [step, own] of entered)
    for (const place of own.done.keys())
      for (const line of steps.get(step)?.lines ?? []) {
        if (line.kind !== 'do') continue;
        own.ticks.add(tickKey(place, line.key));
        for (const tick of partTicks(line, place)) own.ticks.add(tick);
      }
  return {
    ...noEntries(job),
    record: declaration.name?.text ?? '',
    revision: declaration.revision?.value,
    engineNumber,
    by,
    steps: entered,
    measured,
    sizes,
    grades,
    signed,
    base: text,
  };
}
