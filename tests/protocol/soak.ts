// A long day at an editor, played fast: typing, pasting, taking back, saving, closing, deleting and renaming files, in specs that use
// each other. How often what the server tells is held against a fresh reading, and what is done then, is the caller's affair.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { expect } from 'vitest';
import type { Diagnostic } from 'vscode-languageserver';
import { IN_ENGLISH } from '../../grammar/told.ts';
import { indexLines, positionAt } from '../../server/workspace/lines.ts';
import { anew } from '../anew.ts';
import type { Editor } from './editor.ts';

const samples = join(import.meta.dirname, '../../samples');
const FOLDER = 'file:///shop';

/** The samples, and a spec that is built on one of them. */
const FILES: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    readdirSync(samples)
      .filter((name) => name.endsWith('.fettle'))
      .map((name) => [`${FOLDER}/${name}`, readFileSync(join(samples, name), 'utf8')]),
  ),
  [`${FOLDER}/built-on.fettle`]: [
    'use "inline-four.fettle"',
    'spec built-on "Ours" extends brindle-tallboy {\n  draft',
    '  change engine {\n    redline 5900 rpm\n  }\n}',
    'part spacer {\n  mass 30 g\n}\n',
  ].join('\n\n'),
};

/** Numbers that look like chance and are the same each time. */
function chance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

interface Open {
  text: string;
  version: number;
  /** What stood there before each edit, the last at the end. */
  readonly before: string[];
}

const KEYS = [...'0123456789', '.', ' ', '\n', '\r\n', '}', '{', '"', '#', ',', '-', 'a', 'e', 'é', '😀', '..'];
const PASTES = [
  ...[
    'part x\n\n',
    '\n\npart block {\n  matched\n}\n\n',
    'single-use\n',
    'tighten ',
    'when van {',
    ' mm',
    ' N.m',
    'draft\n',
  ],
  ...[
    '\n}\n\nstep one {\n  fit block\n}\n',
    'allow name/unused because "x"\n',
    'use "common-fasteners.fettle"\n',
    '# ',
    '',
  ],
];

/** Questions that a soak puts between edits; what they answer is tested elsewhere. */
const QUESTIONS = [
  'hover',
  'completion',
  'documentSymbol',
  'codeAction',
  'inlayHint',
  'semanticTokens/full',
  'codeLens',
];

export interface Soak {
  /** So many edits more. */
  edits(count: number): Promise<void>;
  /** Waits until the findings told are those of a fresh reading; gives the files of which they never are. */
  differing(): Promise<readonly { readonly uri: string; readonly told: unknown; readonly fresh: unknown }[]>;
  /** What was done since the last comparison, oldest first. */
  readonly done: string[];
  /** The texts as they stand, for looking into what was found. */
  state(): object;
}

/** Starts the server on a folder with the files; the editor reads them for it. */
export async function startSoak(editor: Editor, seed: number): Promise<Soak> {
  const next = chance(seed);
  const below = (end: number): number => Math.floor(next() * end);
  const pick = <each>(list: readonly each[]): each | undefined => list[below(list.length)];
  const disk = new Map(Object.entries(FILES));
  const open = new Map<string, Open>();
  const seen = new Set(disk.keys());
  const done: string[] = [];

  editor.connection.onRequest('fettle/listFiles', () => ({ uris: [...disk.keys()].sort() }));
  editor.connection.onRequest('fettle/readFile', ({ uri }: { readonly uri: string }) => {
    const text = disk.get(uri);
    return text === undefined ? null : { text };
  });
  await editor.start({}, { rootUri: FOLDER, initializationOptions: { clientReadsFiles: true } });

  const watched = (...changes: readonly { readonly uri: string; readonly type: number }[]): Promise<void> =>
    editor.tell('workspace/didChangeWatchedFiles', { changes });
  const openFile = async (uri: string): Promise<void> => {
    const text = disk.get(uri) ?? '';
    open.set(uri, { text, version: 1, before: [] });
    await editor.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'fettle', version: 1, text } });
  };
  const closeFile = async (uri: string): Promise<void> => {
    open.delete(uri);
    await editor.tell('textDocument/didClose', { textDocument: { uri } });
  };
  const saveFile = async (uri: string, file: Open): Promise<void> => {
    const type = disk.has(uri) ? 2 : 1;
    disk.set(uri, file.text);
    await editor.tell('textDocument/didSave', { textDocument: { uri } });
    await watched({ uri, type });
  };
  /** One stretch gives way to a text, as one change with a range. */
  const replace = async (uri: string, file: Open, start: number, end: number, put: string): Promise<void> => {
    const lines = indexLines(file.text);
    const range = { start: positionAt(lines, start), end: positionAt(lines, end) };
    file.version += 1;
    file.text = file.text.slice(0, start) + put + file.text.slice(end);
    await editor.tell('textDocument/didChange', {
      textDocument: { uri, version: file.version },
      contentChanges: [{ range, text: put }],
    });
  };
  /** Makes a file what it was, by the one stretch that differs. */
  const restore = async (uri: string, file: Open, text: string): Promise<void> => {
    let start = 0;
    while (start < text.length && text[start] === file.text[start]) start += 1;
    let [end, other] = [file.text.length, text.length];
    while (end > start && other > start && file.text[end - 1] === text[other - 1]) {
      end -= 1;
      other -= 1;
    }
    // A place between \r and \n is no place for an editor.
    while (start > 0 && file.text[start - 1] === '\r') start -= 1;
    while (end < file.text.length && file.text[end] === '\n') {
      end += 1;
      other += 1;
    }
    await replace(uri, file, start, end, text.slice(start, other));
  };

  const write = async (uri: string, file: Open): Promise<void> => {
    let start = below(file.text.length + 1);
    const kind = next();
    let end = start;
    let put = pick(KEYS) ?? '';
    if (kind < 0.4) {
      // A figure becomes another.
      const digit = file.text.slice(start).search(/\d/);
      if (digit >= 0) start += digit;
      end = Math.min(file.text.length, start + 1);
      put = String(below(10));
    } else if (kind < 0.5) end = Math.min(file.text.length, start + (pick([1, 1, 3, 40, 200]) ?? 1));
    else if (kind < 0.6) put = pick(PASTES) ?? '';
    else if (kind < 0.7) {
      // Copied from elsewhere, or cut and put down again a line later.
      const from = pick([...open.values()])?.text ?? '';
      const at = below(from.length);
      put = from.slice(at, at + below(300));
      if (next() < 0.5) end = Math.min(file.text.length, start + below(60));
    } else if (kind < 0.8) {
      // A word goes the way of another of this file: names that stop and start to meet.
      const words = [...file.text.matchAll(/[a-z][a-z-]+/g)];
      const [word, other] = [pick(words), pick(words)];
      if (word !== undefined && other !== undefined) {
        start = word.index;
        end = start + word[0].length;
        put = other[0];
      }
    }
    while (start > 0 && file.text[start - 1] === '\r') start -= 1;
    while (file.text[end] === '\n' && file.text[end - 1] === '\r') end += 1;
    done.push(`${uri}: ${start}..${end} ${JSON.stringify(put)}`);
    file.before.push(file.text);
    await replace(uri, file, start, end, put);
  };

  const moveFiles = async (): Promise<void> => {
    const kind = next();
    const uri = pick([...disk.keys()]);
    const sample = pick(Object.keys(FILES)) ?? '';
    if (kind < 0.5 || uri === undefined) {
      done.push(`put there: ${sample}`);
      const type = disk.has(sample) ? 2 : 1;
      disk.set(sample, FILES[sample] ?? '');
      await watched({ uri: sample, type });
    } else if (kind < 0.75) {
      done.push(`deleted: ${uri}`);
      disk.delete(uri);
      if (next() < 0.5 && open.has(uri)) await closeFile(uri);
      await watched({ uri, type: 3 });
    } else {
      const to = pick([`${FOLDER}/another%20name.fettle`, sample]) ?? sample;
      if (to === uri || open.has(to)) return;
      done.push(`renamed: ${uri} to ${to}`);
      seen.add(to);
      const type = disk.has(to) ? 2 : 1;
      disk.set(to, disk.get(uri) ?? '');
      disk.delete(uri);
      if (open.has(uri)) {
        await closeFile(uri);
        await openFile(to);
      }
      await watched({ uri, type: 3 }, { uri: to, type });
    }
  };

  const ask = async (uri: string): Promise<void> => {
    const question = pick(QUESTIONS) ?? 'hover';
    const position = { line: below(200), character: below(30) };
    await editor.ask(`textDocument/${question}`, {
      textDocument: { uri },
      position,
      range: { start: position, end: position },
      context: { diagnostics: [] },
    });
  };

  const one = async (): Promise<void> => {
    const kind = next();
    const [uri, file] = pick([...open]) ?? [];
    if (uri === undefined || file === undefined || (open.size < 4 && kind < 0.05)) {
      const other = pick([...disk.keys()].filter((each) => !open.has(each)));
      if (other === undefined) return moveFiles();
      done.push(`opened: ${other}`);
      await openFile(other);
    } else if (kind < 0.02) {
      done.push(`closed: ${uri}`);
      await closeFile(uri);
    } else if (kind < 0.04) {
      done.push(`saved: ${uri}`);
      await saveFile(uri, file);
    } else if (kind < 0.06) await moveFiles();
    else if (kind < 0.09) {
      // All is taken back, so that what is checked stays a spec.
      done.push(`as it was: ${uri}`);
      file.before.length = 0;
      await restore(uri, file, FILES[uri] ?? FILES[`${FOLDER}/flat-twin.fettle`] ?? '');
    } else if (kind < 0.25 && file.before.length > 0) {
      done.push(`taken back: ${uri}`);
      await restore(uri, file, file.before.pop() ?? '');
    } else {
      await write(uri, file);
      if (file.before.length > 50) file.before.shift();
    }
    if (next() < 0.5) await ask(pick([...open.keys()]) ?? uri ?? '');
  };

  const fresh = async (): Promise<ReadonlyMap<string, readonly Diagnostic[]>> => {
    const { createDocuments, diagnosticOf } = await anew();
    const documents = createDocuments();
    documents.setRoots([FOLDER]);
    for (const [uri, text] of disk) documents.told(uri, text);
    for (const [uri, { text, version }] of open) documents.open(uri, version, text);
    const found = new Map<string, readonly Diagnostic[]>();
    for (const uri of seen)
      found.set(
        uri,
        (documents.analysis(uri)?.findings ?? []).map((finding) => diagnosticOf(documents, finding, IN_ENGLISH)),
      );
    return found;
  };

  return {
    done,
    state: () => ({ disk: [...disk], open: [...open].map(([uri, { text }]) => [uri, text]) }),
    async edits(count) {
      for (let each = 0; each < count; each += 1) await one();
    },
    async differing() {
      const wanted = await fresh();
      const plain = (value: unknown): string => JSON.stringify(value);
      for (let wait = 0; ; wait += 1) {
        const wrong = [...wanted].filter(([uri, found]) => plain(found) !== plain(editor.latest(uri)));
        if (wrong.length === 0 || wait === 150)
          return wrong.map(([uri, found]) => {
            const told = editor.latest(uri);
            const lacks = (one: readonly Diagnostic[], other: readonly Diagnostic[]): readonly Diagnostic[] => {
              const there = new Set(other.map(plain));
              return one.filter((each) => !there.has(plain(each)));
            };
            return { uri, told: lacks(told, found), fresh: lacks(found, told) };
          });
        await pause(wait < 20 ? 5 : 20);
      }
    },
  };
}

/** A hundred edits more; then the findings told must be those of a fresh reading, and nothing must have fallen over. */
export async function keptUp(editor: Editor, soak: Soak, round: number): Promise<void> {
  await soak.edits(100);
  const differing = await soak.differing();
  expect(differing, `round ${round}, after\n${soak.done.join('\n')}`).toEqual([]);
  expect(editor.output.filter((line) => line.includes('fault inside Fettle'))).toEqual([]);
  soak.done.length = 0;
  editor.pushed.length = 0;
}
