// The open texts and the files round them: what was analysed and is still good. Knows no protocol.
import { analyse } from './analyse.ts';
import type { Analysis, Host } from './api.ts';
import { indexLines, type LineIndex, offsetAt } from './lines.ts';
import { resolveUse } from './paths.ts';

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
  readonly uri: string;
  readonly version: number;
  readonly text: string;
  readonly lines: LineIndex;
}

interface Kept {
  readonly text: string;
  readonly analysis: Analysis;
  /** The addresses that were asked for, with the text that they had. */
  readonly asked: ReadonlyMap<string, string | undefined>;
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
  /** Every address that was told and is not open. */
  readonly known: () => readonly string[];
  setRoots(roots: readonly string[]): void;
  readonly roots: () => readonly string[];
  /** The analysis of a file, kept until its text or that of a file it asked for changes. */
  analysis(uri: string): Analysis | undefined;
  lines(uri: string): LineIndex;
}

/** Documents over a disk; a worker has none. */
export function createDocuments(disk?: (roots: readonly string[]) => Host): Documents {
  const open = new Map<string, OpenText>();
  const told = new Map<string, string>();
  const kept = new Map<string, Kept>();
  const lineIndexes = new Map<string, { readonly text: string; readonly lines: LineIndex }>();
  let roots: readonly string[] = [];

  const onDisk = (): Host | undefined => disk?.(roots);
  const read = (uri: string): string | undefined => open.get(uri)?.text ?? told.get(uri) ?? onDisk()?.read(uri);

  const documents: Documents = {
    open(uri, version, text) {
      open.set(uri, { uri, version, text, lines: indexLines(text) });
    },
    change(uri, version, changes) {
      const before = open.get(uri);
      if (before === undefined) return;
      let { text, lines } = before;
      for (const change of changes) {
        if (change.range === undefined) text = change.text;
        else
          text =
            text.slice(0, offsetAt(lines, change.range.start)) +
            change.text +
            text.slice(offsetAt(lines, change.range.end));
        lines = indexLines(text);
      }
      open.set(uri, { uri, version, text, lines });
    },
    close(uri) {
      open.delete(uri);
      kept.delete(uri);
    },
    get: (uri) => open.get(uri),
    all: () => [...open.values()],
    read,
    told(uri, text) {
      if (text === undefined) told.delete(uri);
      else told.set(uri, text);
    },
    known: () => [...told.keys()].filter((uri) => !open.has(uri)),
    setRoots(next) {
      roots = next;
    },
    roots: () => roots,
    analysis(uri) {
      const text = read(uri);
      if (text === undefined) return undefined;
      const before = kept.get(uri);
      if (before !== undefined && before.text === text && [...before.asked].every(([file, was]) => read(file) === was))
        return before.analysis;
      const asked = new Map<string, string | undefined>();
      const host: Host = {
        resolve: (from, path) => resolveUse(from, path, roots),
        read(file) {
          const found = read(file);
          asked.set(file, found);
          return found;
        },
      };
      const analysis = analyse(uri, text, host);
      kept.set(uri, { text, analysis, asked });
      return analysis;
    },
    lines(uri) {
      const document = open.get(uri);
      if (document !== undefined) return document.lines;
      const text = read(uri) ?? '';
      const known = lineIndexes.get(uri);
      if (known !== undefined && known.text === text) return known.lines;
      const lines = indexLines(text);
      lineIndexes.set(uri, { text, lines });
      return lines;
    },
  };
  return documents;
}
