// Reads a whole text into placed declarations. The last reading of each file is cached, so that an edit reads one declaration again.
import { atOnce, type InPieces } from '../../grammar/give-way.ts';
import type { Parsed } from '../../grammar/parse.ts';
import type { CutText } from '../../grammar/recut.ts';
import { cutting } from '../../grammar/sections.ts';
import { sharedEnds } from '../../grammar/shared-ends.ts';
import { changedStretch, type Written, wholeText, writtenAfter, writtenAs } from '../../grammar/written.ts';
import { fileCache } from './file-cache.ts';
import { isNotable, type ReadFile, type ReadSection } from './placed.ts';
import { readingAgain } from './read-again.ts';
import { NOTHING, readingSection } from './read-section.ts';
import { heldIn } from './text-of.ts';
import { reader, resize } from './tree-cache.ts';

/** The last reading of a file, and the trees that stand in it. */
interface Cached {
  readonly read: ReadFile;
  readonly written: Written;
  readonly taken: Set<Parsed>;
}
const cachedFiles = fileCache<Cached>();

/** The sections of which more is asked; the list of before where the stretch in which both differ has none. */
function notableIn(sections: readonly ReadSection[], before: ReadFile): readonly ReadSection[] {
  const old = before.sections;
  const [front, back] = sharedEnds(old, sections);
  const hasNone = (all: readonly ReadSection[]): boolean => !all.slice(front, all.length - back).some(isNotable);
  return front + back > 0 && hasNone(old) && hasNone(sections) ? before.notable : sections.filter(isNotable);
}

/**
 * A file of these sections. What all of them declare is gathered when it is first asked for: after most edits nobody asks. `before` is the reading
 * before this one.
 */
function fileOf(file: string, text: Written, sections: readonly ReadSection[], before?: ReadFile): ReadFile {
  const once = <made>(make: () => made): (() => made) => {
    let made: made | undefined;
    return () => {
      made ??= make();
      return made;
    };
  };
  const all = <item>(of: (section: ReadSection) => readonly item[]): (() => readonly item[]) =>
    once(() => {
      const gathered: item[] = [];
      for (const section of sections) for (const each of of(section)) gathered.push(each);
      return gathered;
    });
  // Looked up at once, so that nothing leads from one reading to all before it.
  const known = before === undefined ? undefined : notableIn(sections, before);
  const [declarations, whens, loose, notable] = [
    all((section) => section.declarations),
    all((section) => section.whens),
    all((section) => section.loose),
    once(() => known ?? sections.filter(isNotable)),
  ];
  const read: ReadFile = {
    file,
    get text() {
      return wholeText(text);
    },
    sections,
    get declarations() {
      return declarations();
    },
    get whens() {
      return whens();
    },
    get loose() {
      return loose();
    },
    get notable() {
      return notable();
    },
  };
  heldIn(read, text);
  return read;
}

/** A reading that was begun, and what it came to, where it was done. */
interface Reading {
  readonly work: InPieces<ReadFile>;
  read?: ReadFile;
}

/** Those that are not done. One is gone on with before its file is read again: it moves what was read before. */
const underWay = new Map<string, Reading>();

/**
 * Cuts and reads a text. Never throws. With `inPlace` what was read of this file before is good no more: what an edit left alone is
 * moved where it stands, and is the same object in both readings.
 */
export function readFile(file: string, text: string | Written, inPlace = false): ReadFile {
  return atOnce(readingFile(file, text, inPlace));
}

/** The same in pieces; it may be left off, and is then gone on with when the file is read the next time. */
export function* readingFile(file: string, text: string | Written, inPlace = false): InPieces<ReadFile> {
  for (let ahead = underWay.get(file); ahead !== undefined; ahead = underWay.get(file)) yield* goneOn(file, ahead);
  const reading: Reading = { work: readingNow(file, text, inPlace) };
  underWay.set(file, reading);
  return yield* goneOn(file, reading);
}

/** Goes on with a reading to its end, which somebody else may come to in between. */
function* goneOn(file: string, reading: Reading): InPieces<ReadFile> {
  while (reading.read === undefined) {
    try {
      const next = reading.work.next();
      if (next.done === true) reading.read = next.value;
    } catch (error) {
      underWay.delete(file);
      throw error;
    }
    if (reading.read === undefined) yield;
  }
  if (underWay.get(file) === reading) underWay.delete(file);
  return reading.read;
}

function* readingNow(file: string, text: string | Written, inPlace: boolean): InPieces<ReadFile> {
  const before = cachedFiles.get(file);
  if (before === undefined) {
    const now = typeof text === 'string' ? writtenAs(text) : text;
    resize(now.length);
    const taken = new Set<Parsed>();
    const reading = reader(file, taken);
    const sections: ReadSection[] = [];
    for (const section of yield* cutting(wholeText(now)))
      sections.push(yield* readingSection(file, section, reading, NOTHING));
    return store(file, { read: fileOf(file, now, sections), written: now, taken });
  }
  const { read, taken } = before;
  resize(before.written.length);
  const now = typeof text === 'string' ? writtenAfter(before.written, text) : text;
  if (now === before.written) return read;
  const changed = changedStretch(before.written, now);
  if (changed.start === changed.end && changed.by === 0) return store(file, { read, written: now, taken });
  const old = read.sections;
  const cut: CutText = {
    length: before.written.length,
    count: old.length,
    section: (number) => old[number]?.section,
  };
  const sections = yield* readingAgain(file, { old, cut, now, changed }, taken, inPlace);
  return store(file, { read: fileOf(file, now, sections, read), written: now, taken });
}

function store(file: string, cached: Cached): ReadFile {
  cachedFiles.set(file, cached);
  return cached.read;
}
