// The files of the open folders: read when the server starts, watched, read again when they change. The editor reads them where it
// can, since a folder may lie where the server has no disk.

import {
  DidChangeWatchedFilesNotification,
  FileChangeType,
  type FileEvent,
  WatchKind,
  type WorkDoneProgressServerReporter,
} from 'vscode-languageserver';
import type { PackedRows } from '../../grammar/languages.ts';
import { told } from '../../grammar/told.ts';
import type { Host } from '../workspace/api.ts';
import type { Findings } from './findings.ts';
import type { ClientAnswers } from './messages.ts';
import { letFail, reportFault, type Service } from './service.ts';
import { nextTurn } from './turns.ts';

/** What the place that the server runs in can give it. A worker has no disk. */
export interface Surroundings {
  readonly disk?: (roots: readonly string[]) => Host;
  readonly filesBelow?: (root: string) => readonly string[];
  /** The address of the folder with the libraries that ship, where they lie on the disk as well. */
  readonly libraries?: string;
  /** The address of the page with the help of every code, where it lies on the disk. */
  readonly help?: string;
  /** The words of a language, where they lie on the disk. */
  readonly words?: (language: string) => PackedRows | undefined;
  /** Has what no piece of work catches told, where that would otherwise end the server. */
  readonly onFault?: (tell: (error: unknown) => void) => void;
  /** Hears that findings of a file go to the editor. */
  readonly onTold?: () => void;
}

export interface Files {
  /** `onRead` is told once every text is known, before the last of them is checked. */
  readFolders(onRead: () => void): Promise<void>;
  watch(): void;
  /** Asks the editor for files that a check asked for in vain, once for each until something changes. */
  fetch(addresses: readonly string[]): void;
}

/** A name with a usual ending: no folder, and no spec. */
const LOOKS_LIKE_A_FILE = /\.[A-Za-z][A-Za-z0-9]{0,9}$/;

/** Files that are asked for at a time. */
const AT_ONCE = 16;

export function serveFiles(service: Service, surroundings: Surroundings, findings: () => Findings): Files {
  const { connection, documents, abilities, rows } = service;
  const fetched = new Set<string>();

  const ask = async (uri: string): Promise<string | undefined> => {
    const params: ClientAnswers['fettle/readFile']['params'] = { uri };
    const answer = await connection.sendRequest<ClientAnswers['fettle/readFile']['result']>('fettle/readFile', params);
    return answer?.text;
  };

  const readThroughEditor = async (): Promise<void> => {
    const { uris } = await connection.sendRequest<ClientAnswers['fettle/listFiles']['result']>('fettle/listFiles', {});
    for (let from = 0; from < uris.length; from += AT_ONCE) {
      const some = uris.slice(from, from + AT_ONCE);
      const texts = await Promise.all(some.map((uri) => ask(uri).catch(() => undefined)));
      for (const [i, uri] of some.entries()) documents.told(uri, texts[i]);
    }
  };

  const readThroughDisk = async (): Promise<void> => {
    for (const root of documents.roots()) {
      for (const uri of surroundings.filesBelow?.(root) ?? []) {
        const text = surroundings.disk?.(documents.roots()).read(documents.addressOf(uri));
        if (text !== undefined) documents.told(uri, text);
        await nextTurn();
      }
    }
  };

  const fileChanged = async ({ uri, type }: FileEvent): Promise<void> => {
    const isOpen = documents.get(uri) !== undefined;
    if (type === FileChangeType.Deleted) {
      documents.told(uri, undefined);
      if (!isOpen) findings().gone(uri);
      findings().changed(uri);
      return;
    }
    // What was known of it holds until it has been read again. Of one that was not there before nobody knows what its users saw.
    const before = documents.known().includes(documents.addressOf(uri)) ? documents.read(uri) : undefined;
    const text = abilities().isOurs
      ? await ask(uri)
      : surroundings.disk?.(documents.roots()).read(documents.addressOf(uri));
    documents.told(uri, text);
    if (!isOpen && text !== before) findings().changed(uri);
  };

  /** The files that are there below a folder, as far as the editor or the disk tells. */
  const filesIn = async (uri: string): Promise<readonly string[]> => {
    if (!abilities().isOurs) return surroundings.filesBelow?.(uri) ?? [];
    const { uris } = await connection.sendRequest<ClientAnswers['fettle/listFiles']['result']>('fettle/listFiles', {});
    const folder = `${documents.addressOf(uri).replace(/\/$/, '')}/`;
    return uris.filter((each) => documents.addressOf(each).startsWith(folder));
  };

  /** A folder came or went, with all that is in it: editors tell of the folder alone. */
  const folderChanged = async ({ uri, type }: FileEvent): Promise<void> => {
    const folder = `${documents.addressOf(uri).replace(/\/$/, '')}/`;
    if (LOOKS_LIKE_A_FILE.test(uri) || type === FileChangeType.Changed) return;
    if (type === FileChangeType.Created) {
      const inside = await filesIn(uri);
      for (const each of inside) await fileChanged({ uri: each, type });
      if (inside.length > 0) findings().checkAll();
      return;
    }
    const inside = documents.known().filter((address) => address.startsWith(folder));
    for (const address of inside) await fileChanged({ uri: documents.spelled(address), type });
    // What an open spec uses may lie there as well without being known.
    findings().checkAll();
  };

  const heard = async (changes: readonly FileEvent[]): Promise<void> => {
    documents.diskChanged();
    fetched.clear();
    for (const change of changes) {
      try {
        if (change.uri.endsWith('.fettle')) await fileChanged(change);
        else await folderChanged(change);
      } catch (error) {
        reportFault(connection, change.uri, error);
      }
    }
  };
  connection.onDidChangeWatchedFiles(({ changes }) => heard(changes));
  // What the editor itself does is told here, also where it watches no files.
  connection.workspace.onDidCreateFiles(({ files }) =>
    heard(files.map(({ uri }) => ({ uri, type: FileChangeType.Created }))),
  );
  connection.workspace.onDidDeleteFiles(({ files }) =>
    heard(files.map(({ uri }) => ({ uri, type: FileChangeType.Deleted }))),
  );
  connection.workspace.onDidRenameFiles(({ files }) =>
    heard(
      files.flatMap(({ oldUri, newUri }) => [
        { uri: oldUri, type: FileChangeType.Deleted },
        { uri: newUri, type: FileChangeType.Created },
      ]),
    ),
  );

  /** Fettle's own client shows by its status that a folder is being checked. */
  const showProgress = async (): Promise<WorkDoneProgressServerReporter | undefined> => {
    if (!abilities().showsProgress || abilities().isOurs || documents.roots().length === 0) return undefined;
    try {
      const progress = await connection.window.createWorkDoneProgress();
      progress.begin('Fettle', undefined, told`Checking the specs of the folder`.in(rows()));
      return progress;
    } catch {
      return undefined;
    }
  };

  return {
    async readFolders(onRead) {
      letFail(connection.sendNotification('fettle/status', { state: 'checking' }));
      const progress = await showProgress();
      try {
        await (abilities().isOurs ? readThroughEditor() : readThroughDisk());
      } catch (error) {
        connection.console.warn(
          `The folder could not be read: ${error instanceof Error ? error.message : String(error)}`,
        );
      }
      onRead();
      findings().checkAll();
      await findings().settled();
      progress?.done();
      letFail(connection.sendNotification('fettle/status', { state: 'ready' }));
    },
    watch() {
      if (abilities().registersWatchers && !abilities().isOurs)
        letFail(
          connection.client.register(DidChangeWatchedFilesNotification.type, {
            watchers: [
              { globPattern: '**/*.fettle' },
              // A folder that comes or goes takes its files along.
              { globPattern: '**/*', kind: WatchKind.Create | WatchKind.Delete },
            ],
          }),
        );
    },
    fetch(addresses) {
      if (!abilities().isOurs) return;
      for (const address of addresses) {
        if (fetched.has(address)) continue;
        fetched.add(address);
        ask(documents.spelled(address)).then(
          (text) => {
            if (text === undefined || documents.read(address) !== undefined) return;
            documents.told(address, text);
            findings().changed(address);
          },
          () => undefined,
        );
      }
    },
  };
}
