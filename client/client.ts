// Starts Fettle's checker from the editor and joins its pieces: what the checker may ask, what the status line
// says, which commands there are. It knows nothing about engines, and takes types alone from the server.
import { type ExtensionContext, env, l10n, Uri, window, workspace } from 'vscode';
import { type BaseLanguageClient, type LanguageClientOptions, type Middleware, vsdiag } from 'vscode-languageclient';
import type { StartOptions } from '../server/protocol/messages.ts';
import { registerBenchPage } from './bench-page.ts';
import { registerBenchSheet } from './bench-sheet.ts';
import { registerBenchWork } from './bench-work.ts';
import { registerCommands } from './commands.ts';
import { registerCompare } from './compare.ts';
import { registerFigures } from './figures.ts';
import { answerFileQuestions } from './files.ts';
import { linkHelpPage, registerHelp } from './help.ts';
import { registerJobs } from './jobs.ts';
import { registerLibrary } from './library.ts';
import { registerPasteTable } from './paste-table.ts';
import { createRecovery } from './recovery.ts';
import { type AskServer, askThrough } from './requests.ts';
import { registerStanding } from './standing.ts';
import { createStatus } from './status.ts';
import { registerUnsaid } from './unsaid.ts';
import { registerWhatIf } from './what-if.ts';

/** How one kind of editor brings up its server. */
export type Launch = (options: LanguageClientOptions) => BaseLanguageClient;

/** Starts the checker and everything around it. Returns once the checker answers, or has said why it can't. */
export async function startFettle(context: ExtensionContext, launch: Launch): Promise<void> {
  const status = createStatus();
  const recovery = createRecovery(() => status.show('stopped'));
  const watcher = workspace.createFileSystemWatcher('**/*.fettle');
  // A folder that comes or goes takes its files along; editors tell of the folder alone.
  const folders = workspace.createFileSystemWatcher('**/*', false, true, false);
  const words = await wordsOf(context);
  const options: StartOptions = { clientReadsFiles: true, ...(words === undefined ? {} : { words }) };
  const client = launch({
    documentSelector: schemesOfOpenFolders().map((scheme) => ({ language: 'fettle', scheme })),
    synchronize: { fileEvents: [watcher, folders] },
    initializationOptions: options,
    errorHandler: recovery,
    middleware: helpLinks,
  });
  const ask: AskServer = askThrough(client);
  context.subscriptions.push(
    status,
    watcher,
    folders,
    client,
    answerFileQuestions(client),
    status.follow(client),
    registerHelp(ask),
    registerLibrary(ask),
    registerBenchSheet(ask),
    registerBenchPage(ask, context),
    registerCompare(ask),
    registerCommands({ ask, restart: () => recovery.startAgain(client) }),
    registerUnsaid(ask),
    registerStanding(ask),
    registerFigures(),
    registerJobs(ask),
    registerWhatIf(ask),
    registerPasteTable(ask),
    registerBenchWork(ask, client),
  );
  try {
    await client.start();
  } catch (reason) {
    status.show('stopped');
    window.showErrorMessage(l10n.t("Fettle's checker did not start: {0}", String(reason)));
  }
}

/** The words of the editor's language, which a server without a disk can't read; undefined for English and where there are none. */
async function wordsOf(context: ExtensionContext): Promise<StartOptions['words']> {
  const [language = 'en'] = env.language.toLowerCase().split('-');
  if (language === 'en') return undefined;
  try {
    const file = Uri.joinPath(context.extensionUri, 'dist', `words-${language}.json`);
    return JSON.parse(new TextDecoder().decode(await workspace.fs.readFile(file)));
  } catch {
    return undefined;
  }
}

/** Findings get the link to their help page on whichever way they come: told by the server, or asked of it. */
const helpLinks: Middleware = {
  handleDiagnostics: (uri, diagnostics, next) => next(uri, diagnostics.map(linkHelpPage)),
  async provideDiagnostics(document, previous, token, next) {
    const report = await next(document, previous, token);
    if (report?.kind === vsdiag.DocumentDiagnosticReportKind.full) report.items = report.items.map(linkHelpPage);
    return report;
  },
  provideWorkspaceDiagnostics: (previous, token, take, next) =>
    next(previous, token, (chunk) => {
      for (const report of chunk?.items ?? []) {
        if (report.kind === vsdiag.DocumentDiagnosticReportKind.full) report.items = report.items.map(linkHelpPage);
      }
      take(chunk);
    }),
};

/**
 * Specs are checked where they can be worked on: on disk, in the open folders wherever these are, and before
 * their first save. The older side of a comparison is not checked, its faults are past.
 */
function schemesOfOpenFolders(): readonly string[] {
  const folders = workspace.workspaceFolders ?? [];
  return [...new Set(['file', 'untitled', ...folders.map((folder) => folder.uri.scheme)])];
}
