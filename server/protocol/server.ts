// The language server: what the editor asks, answered from the features. The only place that knows the protocol's life cycle.
import {
  type Connection,
  DidChangeWatchedFilesNotification,
  FileChangeType,
  type InitializeParams,
  type InitializeResult,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import { warmUp } from '../../grammar/parse.ts';
import { TOKEN_MODIFIERS, TOKEN_TYPES } from '../features/tokens.ts';
import type { Host } from '../workspace/api.ts';
import { createDocuments } from '../workspace/documents.ts';
import { registerAnswers } from './answers.ts';
import { diagnosticOf } from './convert.ts';
import type { StartOptions } from './messages.ts';

/** What the place that the server runs in can give it. A worker has no disk. */
export interface Surroundings {
  readonly disk?: (roots: readonly string[]) => Host;
  readonly filesBelow?: (root: string) => readonly string[];
}

/** Serves one editor over a connection until it ends. */
export function startServer(connection: Connection, surroundings: Surroundings = {}): void {
  const documents = createDocuments(surroundings.disk);
  let pulls = false;
  let clientReads = false;
  let watches = false;
  let refreshes = false;
  const waiting = new Set<string>();
  let pass: ReturnType<typeof setTimeout> | undefined;
  const published = new Map<string, string>();

  /** Runs a piece of work; a fault in it is written down and the server goes on. */
  const guarded = <result>(what: string, work: () => result, otherwise: result): result => {
    try {
      return work();
    } catch (error) {
      connection.console.error(
        `A fault inside Fettle while it worked on ${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\nYour spec is safe. Please report this with the text that shows it.`,
      );
      return otherwise;
    }
  };

  const publish = (uri: string): void => {
    const open = documents.get(uri);
    const analysis = guarded(uri, () => documents.analysis(uri), undefined);
    const diagnostics =
      analysis === undefined ? [] : analysis.findings.map((finding) => diagnosticOf(documents, finding));
    // A file that is not open is told of again only when its findings change.
    const key = open === undefined ? JSON.stringify(diagnostics) : '';
    if (open === undefined && published.get(uri) === key) return;
    if (open === undefined && analysis === undefined) published.delete(uri);
    else published.set(uri, key);
    void connection.sendDiagnostics({ uri, diagnostics, ...(open === undefined ? {} : { version: open.version }) });
  };

  /** Checks what waits, open files first; changes that came together are checked once. */
  const checkSoon = (uri: string): void => {
    waiting.add(uri);
    if (pass !== undefined) return;
    pass = setTimeout(() => {
      pass = undefined;
      const now = [...waiting].sort(
        (a, b) => Number(documents.get(b) !== undefined) - Number(documents.get(a) !== undefined),
      );
      waiting.clear();
      if (pulls) {
        if (refreshes) void connection.languages.diagnostics.refresh();
        return;
      }
      for (const each of now) publish(each);
    }, 0);
  };
  /** Everything that may look at a file that changed. */
  const checkAll = (except?: string): void => {
    for (const { uri } of documents.all()) if (uri !== except) checkSoon(uri);
    if (!pulls) for (const uri of documents.known()) checkSoon(uri);
  };

  const tellFile = async (uri: string): Promise<void> => {
    const answer = await connection.sendRequest<{ readonly text: string } | null>('fettle/readFile', { uri });
    documents.told(uri, answer?.text);
  };

  const readFolder = async (): Promise<void> => {
    void connection.sendNotification('fettle/status', { state: 'checking' });
    try {
      if (clientReads) {
        const { uris } = await connection.sendRequest<{ readonly uris: readonly string[] }>('fettle/listFiles', {});
        for (const uri of uris) await tellFile(uri);
      } else if (surroundings.filesBelow !== undefined) {
        for (const root of documents.roots()) {
          for (const uri of surroundings.filesBelow(root)) {
            const text = documents.read(uri);
            if (text !== undefined) documents.told(uri, text);
          }
        }
      }
      checkAll();
    } catch (error) {
      connection.console.warn(
        `The folder could not be read: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
    void connection.sendNotification('fettle/status', { state: 'ready' });
  };

  connection.onInitialize((params: InitializeParams): InitializeResult => {
    const options = (params.initializationOptions ?? {}) as StartOptions;
    clientReads = options.clientReadsFiles === true;
    pulls = params.capabilities.textDocument?.diagnostic !== undefined;
    refreshes = params.capabilities.workspace?.diagnostics?.refreshSupport === true;
    watches = params.capabilities.workspace?.didChangeWatchedFiles?.dynamicRegistration === true && !clientReads;
    const folders =
      params.workspaceFolders?.map((folder) => folder.uri) ??
      (params.rootUri === null || params.rootUri === undefined ? [] : [params.rootUri]);
    documents.setRoots(folders);
    return {
      serverInfo: { name: 'fettle' },
      capabilities: {
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
        ...(pulls
          ? { diagnosticProvider: { identifier: 'fettle', interFileDependencies: true, workspaceDiagnostics: true } }
          : {}),
        completionProvider: { triggerCharacters: ['.', ' ', ','] },
        hoverProvider: true,
        definitionProvider: true,
        referencesProvider: true,
        documentHighlightProvider: true,
        renameProvider: { prepareProvider: true },
        documentSymbolProvider: true,
        workspaceSymbolProvider: true,
        foldingRangeProvider: true,
        selectionRangeProvider: true,
        codeActionProvider: { codeActionKinds: ['quickfix', 'refactor.rewrite'] },
        documentFormattingProvider: true,
        documentRangeFormattingProvider: true,
        documentLinkProvider: {},
        inlayHintProvider: true,
        codeLensProvider: {},
        semanticTokensProvider: {
          legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] },
          full: true,
          range: false,
        },
        workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
      },
    };
  });

  connection.onInitialized(() => {
    if (watches)
      void connection.client.register(DidChangeWatchedFilesNotification.type, {
        watchers: [{ globPattern: '**/*.fettle' }],
      });
    // The parser is built after the answer, while nobody waits for it.
    setTimeout(() => {
      guarded('starting', warmUp, undefined);
      void readFolder();
    }, 0);
    try {
      connection.workspace.onDidChangeWorkspaceFolders((event) => {
        const gone = new Set(event.removed.map((folder) => folder.uri));
        documents.setRoots([
          ...documents.roots().filter((root) => !gone.has(root)),
          ...event.added.map((folder) => folder.uri),
        ]);
        void readFolder();
      });
    } catch {
      // An editor without folders.
    }
  });

  connection.onDidOpenTextDocument(({ textDocument }) => {
    documents.open(textDocument.uri, textDocument.version, textDocument.text);
    checkSoon(textDocument.uri);
  });
  connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
    documents.change(
      textDocument.uri,
      textDocument.version,
      contentChanges.map((change) =>
        'range' in change ? { range: change.range, text: change.text } : { text: change.text },
      ),
    );
    checkSoon(textDocument.uri);
    // Other open files may use this one.
    for (const other of documents.all()) {
      if (
        other.uri !== textDocument.uri &&
        guarded(
          other.uri,
          () => documents.analysis(other.uri)?.used.some((used) => used.file === textDocument.uri) === true,
          false,
        )
      )
        checkSoon(other.uri);
    }
  });
  connection.onDidCloseTextDocument(({ textDocument }) => {
    documents.close(textDocument.uri);
    published.delete(textDocument.uri);
    if (documents.read(textDocument.uri) === undefined || !documents.known().includes(textDocument.uri)) {
      if (!pulls) void connection.sendDiagnostics({ uri: textDocument.uri, diagnostics: [] });
    } else checkSoon(textDocument.uri);
  });
  connection.onDidChangeWatchedFiles(async ({ changes }) => {
    for (const { uri, type } of changes) {
      if (type === FileChangeType.Deleted) {
        documents.told(uri, undefined);
        if (documents.get(uri) === undefined && !pulls) {
          published.delete(uri);
          void connection.sendDiagnostics({ uri, diagnostics: [] });
        }
      } else if (clientReads) await tellFile(uri);
      else {
        documents.told(uri, undefined);
        const text = documents.get(uri) === undefined ? documents.read(uri) : undefined;
        if (text !== undefined) documents.told(uri, text);
      }
    }
    checkAll();
  });

  registerAnswers(connection, documents, guarded);
  connection.listen();
}
