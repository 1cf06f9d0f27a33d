// The open texts and the files round them: what was analysed and is still good, and which analysis looked at which file. Knows no
// protocol. Addresses come in any spelling and are kept in one (see canonical).
import { atOnce, type InPieces } from '../../grammar/give-way.ts';
import { type Written, wholeText, withStretch, writtenAs } from '../../grammar/written.ts';
import { evictFile } from '../model/file-cache.ts';
import { analysing } from './analyse.ts';
import type { Analysis, Host } from './api.ts';
import { libraryFile, libraryText } from './library.ts';
import { indexLines, type LineIndex, offsetAt } from './lines.ts';
import { analyseNear, nearAddress } from './near.ts';
import { canonical, resolveUse } from './paths.ts';

export interface Position {
  readonly line: number;
  readonly character: number;
}

/** One change of an open text; without a range it is the whole. */
export interface Change {
  readonly range?: { readonly start: Position; readonly end: Position };
  readonly text: string;
}

export interface OpenText {
  readonly address: string;
  readonly version: number;
  readonly text: Written;
}

/** A text as it is held: in pieces where it is open. An open one that was not edited is the same object. */
type Held = Written | string;

interface Analysed {
  readonly text: Held;
  readonly analysis: Analysis;
  /** The addresses that were asked for, with the text that they had. */
  readonly asked: ReadonlyMap<string, Held | undefined>;
}

export interface Documents {
  open(uri: string, version: number, text: string): void;
  change(uri: string, version: number, changes: readonly Change[]): void;
  close(uri: string): void;
  get(uri: string): OpenText | undefined;
  readonly all: () => readonly OpenText[];
  /** The text of a file as it stands: open, told by the editor, or on disk. */
  read(uri: string): string | undefined;
  /** A file that the editor read for us; undefined when it went. */
  told(uri: string, text: string | undefined): void;
  /** What was read from disk may have changed. */
  diskChanged(): void;
  /** Every address that was told and is not open. */
  readonly known: () => readonly string[];
  setRoots(roots: readonly string[]): void;
  readonly roots: () => readonly string[];
  /** The analysis of a file, cached until its text or that of a file it asked for changes. The one before it is good no more. */
  analysis(uri: string): Analysis | undefined;
  /** The same in pieces, of the text as it is when it is done. */
  analysing(uri: string): InPieces<Analysis | undefined>;
  /** The analysis, where it is made and still good. */
  made(uri: string): Analysis | undefined;
  /** What is known round a place of a file that is still being read. */
  near(uri: string, offset: number): Analysis | undefined;
  /** How many characters are read for an analysis of a file: its own, and those of the files that it uses, as far as they are known. */
  charactersFor(uri: string): number;
  /** The files whose last analysis asked for this one, whether it was there or not. */
  dependents(uri: string): readonly string[];
  /** What the last analysis of a file asked for and did not get. */
  missing(uri: string): readonly string[];
  lines(uri: string): LineIndex;
  /** The one spelling of an address. */
  addressOf(uri: string): string;
  /** An address as the editor spells it; that of a library as a file, once it is known in which folder they lie. */
  spelled(address: string): string;
  /** The address of the folder that the libraries lie in, for an editor that can't ask for their text. */
  showLibrariesIn(folder: string): void;
}

/** For how long a file read from disk is taken to be as it was, where nobody tells of changes. Milliseconds. */
const DISK_HOLDS = 2000;

/** Characters of a closed file that is checked the first time without keeping how: the pieces of that are longer. Some thousand lines. */
const SHORT = 20_000;

/** More files than a workspace has. */
const MOST_ADDRESSES = 500;

/** Documents over a disk; a worker has none. */
export function createDocuments(
  disk?: (roots: readonly string[]) => Host,
  tellFault?: (address: string, error: unknown) => void,
): Documents {
  const open = new Map<string, OpenText>();
  const told = new Map<string, string>();
  const fromDisk = new Map<string, { readonly text: string | undefined; readonly at: number }>();
  const analysed = new Map<string, Analysed>();
  /** What analyses that are being made have asked for so far, by the file that they are of. */
  const asking = new Map<string, ReadonlyMap<string, Held | undefined>>();
  const lineIndexes = new Map<string, { readonly text: string; readonly lines: LineIndex }>();
  const spellings = new Map<string, string>();
  let roots: readonly string[] = [];
  let libraries: string | undefined;
  let host: Host | undefined = disk?.(roots);

  /** The one spelling of an address; the editor's own is remembered. */
  const key = (uri: string): string => {
    const address = canonical(uri);
    if (address === uri) return address;
    if (spellings.size >= MOST_ADDRESSES && !spellings.has(address))
      for (const each of spellings.keys()) if (!open.has(each) && !told.has(each)) spellings.delete(each);
    spellings.set(address, uri);
    return address;
  };
  const readDisk = (address: string): string | undefined => {
    if (host === undefined) return undefined;
    const known = fromDisk.get(address);
    const now = Date.now();
    if (known !== undefined && now - known.at < DISK_HOLDS) return known.text;
    const text = host.read(address);
    // A path that is typed asks for a file with each key.
    if (fromDisk.size >= MOST_ADDRESSES) fromDisk.clear();
    fromDisk.set(address, { text, at: now });
    return text;
  };
  const held = (address: string): Held | undefined =>
    open.get(address)?.text ?? told.get(address) ?? libraryText(address) ?? readDisk(address);
  const read = (address: string): string | undefined => {
    const text = held(address);
    return text === undefined || typeof text === 'string' ? text : wholeText(text);
  };

  /** Evicts all that is cached for a file that is there no more: nobody reads it again under this name. */
  const evictGone = (address: string): void => {
    if (open.has(address) || told.has(address)) return;
    analysed.delete(address);
    lineIndexes.delete(address);
    evictFile(address);
    evictFile(nearAddress(address));
  };

  /** The analysis of a file, as long as no text that it asked for is another. */
  const madeAt = (address: string): Analysis | undefined => {
    const before = analysed.get(address);
    return before !== undefined &&
      before.text === held(address) &&
      [...before.asked].every(([file, was]) => held(file) === was)
      ? before.analysis
      : undefined;
  };
  /** Analyses one text of a file; undefined where it is left off, since the text is another now or somebody else was faster. */
  function* analysingText(address: string, text: Held): InPieces<Analysed | undefined> {
    const asked = new Map<string, Held | undefined>();
    asking.set(address, asked);
    const before = analysed.get(address);
    const work = analysing(address, text, {
      supersedes: true,
      atRest: before === undefined && !open.has(address) && text.length <= SHORT,
      tellFault: (error) => tellFault?.(address, error),
      resolve: (from, path) => resolveUse(from, path, roots),
      read(file) {
        asked.set(file, held(file));
        return read(file);
      },
      readWritten(file) {
        const found = held(file);
        if (typeof found !== 'object') return undefined;
        asked.set(file, found);
        return found;
      },
    });
    for (;;) {
      const next = work.next();
      if (next.done === true) return { text, analysis: next.value, asked };
      yield;
      if (held(address) !== text || analysed.get(address) !== before) return undefined;
    }
  }
  function* analysingAt(address: string): InPieces<Analysis | undefined> {
    for (;;) {
      const made = madeAt(address);
      if (made !== undefined) return made;
      const text = held(address);
      if (text === undefined) {
        analysed.delete(address);
        return undefined;
      }
      const now = yield* analysingText(address, text);
      asking.delete(address);
      if (now !== undefined) analysed.set(address, now);
    }
  }

  return {
    open(uri, version, text) {
      const address = key(uri);
      open.set(address, { address, version, text: writtenAs(text) });
    },
    change(uri, version, changes) {
      const address = key(uri);
      const before = open.get(address);
      if (before === undefined) return;
      let { text } = before;
      for (const { range, text: put } of changes) {
        if (range === undefined) {
          text = writtenAs(put);
          continue;
        }
        const [one, other] = [offsetAt(text, range.start), offsetAt(text, range.end)];
        text = withStretch(text, Math.min(one, other), Math.max(one, other), put);
      }
      open.set(address, { address, version, text });
    },
    close(uri) {
      const address = key(uri);
      open.delete(address);
      fromDisk.delete(address);
      evictGone(address);
    },
    get: (uri) => open.get(key(uri)),
    all: () => [...open.values()],
    read: (uri) => read(key(uri)),
    told(uri, text) {
      const address = key(uri);
      fromDisk.delete(address);
      if (text === undefined) {
        told.delete(address);
        evictGone(address);
      } else told.set(address, text);
    },
    diskChanged: () => fromDisk.clear(),
    known: () => [...told.keys()].filter((address) => !open.has(address)),
    setRoots(next) {
      roots = next.map(key);
      host = disk?.(roots);
      fromDisk.clear();
      analysed.clear();
    },
    roots: () => roots,
    analysis: (uri) => atOnce(analysingAt(key(uri))),
    analysing: (uri) => analysingAt(key(uri)),
    made: (uri) => madeAt(key(uri)),
    near(uri, offset) {
      const address = key(uri);
      const text = held(address);
      return text === undefined
        ? undefined
        : analyseNear(address, typeof text === 'string' ? writtenAs(text) : text, offset);
    },
    charactersFor(uri) {
      const address = key(uri);
      let length = held(address)?.length ?? 0;
      for (const [file] of asking.get(address) ?? analysed.get(address)?.asked ?? []) length += held(file)?.length ?? 0;
      return length;
    },
    dependents(uri) {
      const address = key(uri);
      return [...analysed].flatMap(([file, { asked }]) => (file !== address && asked.has(address) ? [file] : []));
    },
    missing(uri) {
      const asked = analysed.get(key(uri))?.asked ?? new Map<string, Held | undefined>();
      return [...asked].flatMap(([file, text]) => (text === undefined ? [file] : []));
    },
    lines(uri) {
      const address = key(uri);
      const document = open.get(address);
      if (document !== undefined) return document.text;
      const text = read(address) ?? '';
      const known = lineIndexes.get(address);
      if (known !== undefined && known.text === text) return known.lines;
      const lines = indexLines(text);
      lineIndexes.set(address, { text, lines });
      return lines;
    },
    addressOf: key,
    spelled: (address) =>
      spellings.get(address) ?? (libraries === undefined ? undefined : libraryFile(address, libraries)) ?? address,
    showLibrariesIn(folder) {
      libraries = folder;
    },
  };
}
