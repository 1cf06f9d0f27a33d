// The command "Show what is left unsaid": the list of the open spec beside it, as text. What it is, the server works out.
import { commands, type Disposable, l10n, ViewColumn, window, workspace } from 'vscode';
import type { AskServer } from './requests.ts';

/** Registers the command with the editor. */
export function registerUnsaid(ask: AskServer): Disposable {
  return commands.registerCommand('fettle.showUnsaid', async () => {
    const { document } = window.activeTextEditor ?? {};
    if (document?.languageId !== 'fettle') {
      window.showInformationMessage(l10n.t('Open the spec first of which you want to know what it leaves unsaid.'));
      return;
    }
    const told = await ask('fettle/unsaid', { uri: document.uri.toString() });
    if (told === null) {
      window.showWarningMessage(l10n.t('Fettle does not know this file.'));
      return;
    }
    const list = await workspace.openTextDocument({ language: 'plaintext', content: told.text });
    await window.showTextDocument(list, { preview: true, viewColumn: ViewColumn.Beside });
  });
}
