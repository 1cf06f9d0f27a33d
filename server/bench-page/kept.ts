// What is entered is kept in the browser at once, for each engine and job: in its storage, which a page opened from a file has too. Where the
// browser keeps nothing it is said, so that the record is saved before the page is closed.
import type { BenchJob } from '../bench/bench-job.ts';
import { type Entries, entriesFromJson, entriesToJson } from '../bench/entries.ts';

const PREFIX = 'fettle-bench';

/** Of one spec, variant and job. */
function keyOf(job: BenchJob): string {
  return JSON.stringify([PREFIX, job.spec, job.variant ?? '', job.job?.name ?? '']);
}

function entryKey(job: BenchJob, engine: string): string {
  return `${keyOf(job)} ${engine}`;
}

/** What the page asks of the place where it keeps things. */
export interface Shelf {
  get(key: string): string | null;
  /** False where it could not be kept. */
  put(key: string, text: string): boolean;
  remove(key: string): void;
  keys(): readonly string[];
}

/** The storage of the browser, as far as it lets us. */
export function browserShelf(): Shelf {
  const storage = (): Storage | undefined => {
    try {
      return globalThis.localStorage;
    } catch {
      return undefined;
    }
  };
  return {
    get: (key) => {
      try {
        return storage()?.getItem(key) ?? null;
      } catch {
        return null;
      }
    },
    put: (key, text) => {
      try {
        const place = storage();
        if (place === undefined) return false;
        place.setItem(key, text);
        return place.getItem(key) === text;
      } catch {
        return false;
      }
    },
    remove: (key) => {
      try {
        storage()?.removeItem(key);
      } catch {
        // It was not kept either.
      }
    },
    keys: () => {
      try {
        const place = storage();
        return place === undefined ? [] : Array.from({ length: place.length }, (_none, i) => place.key(i) ?? '');
      } catch {
        return [];
      }
    },
  };
}

export interface Kept {
  readonly engine: string;
  readonly entries: Entries;
  /** Milliseconds. */
  readonly at: number;
  readonly step: number;
  readonly place: string;
}

function read(text: string | null, job: BenchJob): Omit<Kept, 'engine'> | undefined {
  if (text === null) return undefined;
  try {
    const whole = JSON.parse(text) as {
      readonly at?: number;
      readonly step?: number;
      readonly place?: string;
      readonly entries?: string;
    };
    const entries = entriesFromJson(whole.entries ?? '', job);
    return entries === undefined
      ? undefined
      : { entries, at: whole.at ?? 0, step: whole.step ?? 0, place: whole.place ?? '' };
  } catch {
    return undefined;
  }
}

/** All engines that are kept of a job, the last one worked on first. */
export function keptEngines(shelf: Shelf, job: BenchJob): readonly Kept[] {
  const prefix = `${keyOf(job)} `;
  return shelf
    .keys()
    .filter((key) => key.startsWith(prefix))
    .flatMap((key) => {
      const found = read(shelf.get(key), job);
      return found === undefined ? [] : [{ engine: key.slice(prefix.length), ...found }];
    })
    .sort((one, other) => other.at - one.at);
}

/** Keeps the entries of an engine; false where the browser keeps nothing. */
export function keep(shelf: Shelf, job: BenchJob, kept: Kept): boolean {
  const { engine, entries, at, step, place } = kept;
  return shelf.put(entryKey(job, engine), JSON.stringify({ at, step, place, entries: entriesToJson(entries) }));
}

export function forget(shelf: Shelf, job: BenchJob, engine: string): void {
  shelf.remove(entryKey(job, engine));
}
