// The files of the open folders: read when the server starts, watched, read again when they change. The editor reads them where it
// can, since a folder may lie where the server has no disk.
import {
  DidChangeWatchedFilesNotification,
  FileChangeType,
  type FileEvent,
  type WorkDoneProgressServerReporter,
} from 'vscode-languageserver';
import type { Host } from '../workspace/api.ts';
import type { Findings } from './findings.ts';
import type { ClientAnswers } from './messages.ts';
import { letFail, reportFault, type Service } from './service.ts';
import { nextTurn } from './turns.ts';

/** What the place that the server runs in can give it. A worker has no disk. */
export interface Surroundings {
  readonly disk?: (roots: readonly string[]) => Host;
  readonly filesBelow?: (root: string) => readonly string[];
  /** Has what no piece of work catches told, where that would otherwise end the server. */
  readonly onFault?: (tell: (error: unknown) => void) => void;
}

export interface Files {
  readFolders(): Promise<void>;
  watch(): void;
  /** Asks the editor for files that a check asked for in vain, once for each until something changes. */
  fetch(addresses: readonly string[]): void;
}

/** Files that are asked for at a time. */
const AT_ONCE = 16;

export function serveFiles(service: Service, surroundings: Surroundings, findings: () => Findings): Files {
  const { connection, documents, abilities } = service;
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
    // What was known of it holds until it has been read again.
    const before = documents.read(uri);
    const text = abilities().isOurs
      ? await ask(uri)
      : surroundings.disk?.(documents.roots()).read(documents.addressOf(uri));
    documents.told(uri, text);
    if (!isOpen && text !== before) findings().changed(uri);
  };

  connection.onDidChangeWatchedFiles(async ({ changes }) => {
    documents.diskChanged();
    fetched.clear();
    for (const change of changes) {
      try {
        if (change.uri.endsWith('.fettle')) await fileChanged(change);
      } catch (error) {
        reportFault(connection, change.uri, error);
      }
    }
  });

  /** Fettle's own client shows by its status that a folder is being checked. */
  const showProgress = async (): Promise<WorkDoneProgressServerReporter | undefined> => {
    if (!abilities().showsProgress || abilities().isOurs || documents.roots().length === 0) return undefined;
    try {
      const progress = await connection.window.createWorkDoneProgress();
      progress.begin('Fettle', undefined, 'Checking the specs of the folder');
      return progress;
    } catch {
      return undefined;
    }
  };

  return {
    async readFolders() {
      letFail(connection.sendNotification('fettle/status', { state: 'checking' }));
      const progress = await showProgress();
      try {
        await (abilities().isOurs ? readThroughEditor() : readThroughDisk());
      } catch (error) {
        connection.console.warn(
          `The folder could not be read: ${error instanceof Error ? error.message : String(error)}`,
        );
      }
      findings().checkAll();
      await findings().settled();
      progress?.done();
      letFail(connection.sendNotification('fettle/status', { state: 'ready' }));
    },
    watch() {
      if (abilities().registersWatchers && !abilities().isOurs)
        letFail(
          connection.client.register(DidChangeWatchedFilesNotification.type, {
            watchers: [{ globPattern: '**/*.fettle' }],
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
