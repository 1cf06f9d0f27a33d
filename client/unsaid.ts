// The command "Show what is left unsaid": the list of the open spec beside it, as text to read. What it is, the server works out.
import { commands, Disposable, EventEmitter, l10n, Uri, ViewColumn, window, workspace } from 'vscode';
import type { AskServer } from './requests.ts';

const scheme = 'fettle-unsaid';

/** Registers the command with the editor. */
export function registerUnsaid(ask: AskServer): Disposable {
  const changed = new EventEmitter<Uri>();
  const provider = workspace.registerTextDocumentContentProvider(scheme, {
    onDidChange: changed.event,
    // The spec that it is about is in the query.
    async provideTextDocumentContent({ query }) {
      return (await ask('fettle/unsaid', { uri: query }))?.text ?? l10n.t('Fettle does not know this file.');
    },
  });
  const command = commands.registerCommand('fettle.showUnsaid', async () => {
    const { document } = window.activeTextEditor ?? {};
    if (document?.languageId !== 'fettle') {
      window.showInformationMessage(l10n.t('Open the spec first of which you want to know what it leaves unsaid.'));
      return;
    }
    const name =
      document.uri.path
        .split('/')
        .pop()
        ?.replace(/\.fettle$/, '') ?? '';
    const path = `/${l10n.t('Left unsaid in {0}', name)}`;
    const list = Uri.from({ scheme, path, query: document.uri.toString() });
    changed.fire(list);
    await window.showTextDocument(await workspace.openTextDocument(list), {
      preview: true,
      viewColumn: ViewColumn.Beside,
    });
  });
  return Disposable.from(changed, provider, command);
}
