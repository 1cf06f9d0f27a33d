// The life of the language server: what it can do, what the editor opens, changes and closes. Answers are in the files beside.

import {
  type Connection,
  FileOperationPatternKind,
  type InitializeParams,
  type InitializeResult,
  type ServerCapabilities,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import { languageOf, type PackedRows, rowsOf } from '../../grammar/languages.ts';
import { warmUp } from '../../grammar/parse.ts';
import { IN_ENGLISH } from '../../grammar/told.ts';
import { TOKEN_MODIFIERS, TOKEN_TYPES } from '../features/tokens.ts';
import { createDocuments } from '../workspace/documents.ts';
import { answerBenchWork, RECORD_DONE, RECORD_MEASURED } from './answers-bench-work.ts';
import { answerCompletion } from './answers-completion.ts';
import { answerCovers } from './answers-covers.ts';
import { answerJobs } from './answers-jobs.ts';
import { answerLayout } from './answers-layout.ts';
import { answerLooking, TELL_FIGURES } from './answers-looking.ts';
import { answerNames } from './answers-names.ts';
import { answerOwn } from './answers-own.ts';
import { answerReview } from './answers-review.ts';
import { answerStanding } from './answers-standing.ts';
import { answerSteps } from './answers-steps.ts';
import { answerWaysOut } from './answers-ways-out.ts';
import { type Files, type Surroundings, serveFiles } from './files.ts';
import { type Findings, serveFindings } from './findings.ts';
import type { StartOptions } from './messages.ts';
import { type Abilities, abilitiesOf, createService, reportFault } from './service.ts';
import { followSettings } from './settings.ts';

export type { Surroundings } from './files.ts';

function capabilitiesFor({ pulls, isOurs }: Abilities): ServerCapabilities {
  const filters = [
    { pattern: { glob: '**/*.fettle', matches: FileOperationPatternKind.file } },
    { pattern: { glob: '**', matches: FileOperationPatternKind.folder } },
  ];
  return {
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
    ...(pulls
      ? { diagnosticProvider: { identifier: 'fettle', interFileDependencies: true, workspaceDiagnostics: true } }
      : {}),
    completionProvider: { triggerCharacters: ['.', ' ', ',', '"', '/'], resolveProvider: true },
    signatureHelpProvider: { triggerCharacters: [' '], retriggerCharacters: [',', ' '] },
    hoverProvider: true,
    definitionProvider: true,
    referencesProvider: { workDoneProgress: true },
    documentHighlightProvider: true,
    callHierarchyProvider: true,
    implementationProvider: true,
    typeHierarchyProvider: true,
    renameProvider: { prepareProvider: true, workDoneProgress: true },
    documentSymbolProvider: true,
    workspaceSymbolProvider: { workDoneProgress: true },
    foldingRangeProvider: true,
    selectionRangeProvider: true,
    codeActionProvider: {
      codeActionKinds: ['quickfix', 'refactor.rewrite', 'refactor.extract', 'source.fixAll.fettle'],
    },
    documentFormattingProvider: true,
    documentRangeFormattingProvider: true,
    documentOnTypeFormattingProvider: { firstTriggerCharacter: '}' },
    documentLinkProvider: {},
    inlayHintProvider: true,
    codeLensProvider: {},
    executeCommandProvider: { commands: [RECORD_DONE, RECORD_MEASURED, ...(isOurs ? [] : [TELL_FIGURES])] },
    semanticTokensProvider: {
      legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] },
      full: { delta: true },
      range: true,
    },
    workspace: {
      workspaceFolders: { supported: true, changeNotifications: true },
      fileOperations: {
        willRename: { filters },
        didRename: { filters },
        didCreate: { filters },
        didDelete: { filters },
      },
    },
  };
}

/** Serves one editor over a connection until it ends. */
export function startServer(connection: Connection, surroundings: Surroundings = {}): void {
  const documents = createDocuments(surroundings.disk, (address, error) => reportFault(connection, address, error));
  let abilities = abilitiesOf({}, {});
  let rows = IN_ENGLISH;
  let words: PackedRows | undefined;
  const service = createService(
    connection,
    documents,
    () => abilities,
    () => rows,
    () => words,
  );
  const settings = followSettings(connection, service, () => findings.weighedAnew());
  const findings: Findings = serveFindings(
    service,
    (addresses) => files.fetch(addresses),
    () => settings.weights(),
    // Fettle's own client makes the code a link that shows the page beside the spec.
    () => (abilities.linksCodes && !abilities.isOurs ? surroundings.help : undefined),
    surroundings.onTold,
  );
  const files: Files = serveFiles(service, surroundings, () => findings);
  surroundings.onFault?.((error) => reportFault(connection, 'something in the background', error));
  let changesFolders = false;

  connection.onInitialize((params: InitializeParams): InitializeResult => {
    const options: StartOptions = params.initializationOptions ?? {};
    abilities = abilitiesOf(params.capabilities, options);
    const language = languageOf(params.locale);
    words = options.words ?? (language === undefined ? undefined : surroundings.words?.(language));
    rows = words === undefined ? IN_ENGLISH : rowsOf(words);
    if (!abilities.isOurs && surroundings.libraries !== undefined) documents.showLibrariesIn(surroundings.libraries);
    changesFolders = params.capabilities.workspace?.workspaceFolders === true;
    const root = params.rootUri ?? undefined;
    documents.setRoots(params.workspaceFolders?.map((folder) => folder.uri) ?? (root === undefined ? [] : [root]));
    return { serverInfo: { name: 'fettle' }, capabilities: capabilitiesFor(abilities) };
  });

  connection.onInitialized(() => {
    files.watch();
    settings.watch();
    // The parser is built after the answer, while nobody waits for it.
    let read: () => void = () => undefined;
    service.waitFor(new Promise((done) => (read = done)));
    setTimeout(() => {
      service.guarded('starting', warmUp, undefined);
      void files.readFolders(read);
    }, 0);
    if (!changesFolders) return;
    connection.workspace.onDidChangeWorkspaceFolders((event) => {
      const gone = new Set(event.removed.map((folder) => documents.addressOf(folder.uri)));
      const left = documents.roots().filter((each) => !gone.has(each));
      for (const address of documents.known())
        if (
          [...gone].some((folder) => address.startsWith(`${folder}/`)) &&
          !left.some((each) => address.startsWith(each))
        ) {
          documents.told(address, undefined);
          findings.gone(address);
        }
      documents.setRoots([...left, ...event.added.map((folder) => folder.uri)]);
      service.waitFor(new Promise((done) => void files.readFolders(done)));
    });
  });

  connection.onDidOpenTextDocument(({ textDocument }) => {
    documents.open(textDocument.uri, textDocument.version, textDocument.text);
    findings.changed(textDocument.uri);
  });
  connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
    documents.change(textDocument.uri, textDocument.version, contentChanges);
    findings.changed(textDocument.uri);
  });
  connection.onDidSaveTextDocument(() => documents.diskChanged());
  connection.onDidCloseTextDocument(({ textDocument }) => {
    documents.close(textDocument.uri);
    // What stays in the folder is checked as it stands there; anything else is gone with its window.
    if (!documents.known().includes(documents.addressOf(textDocument.uri))) findings.gone(textDocument.uri);
    findings.changed(textDocument.uri);
  });

  answerNames(connection, service);
  answerLooking(connection, service, settings);
  answerSteps(connection, service);
  answerStanding(connection, service);
  answerCompletion(connection, service);
  answerWaysOut(connection, service);
  answerLayout(connection, service);
  answerOwn(connection, service);
  answerCovers(connection, service);
  answerBenchWork(connection, service);
  answerJobs(connection, service);
  answerReview(connection, service);
  connection.listen();
}
