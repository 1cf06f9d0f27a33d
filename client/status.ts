// Fettle's line in the language status of the editor: what the checker is doing and how many findings the open
// spec has. It starts and stops nothing itself.
import { type Disposable, LanguageStatusSeverity, l10n, languages, window } from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import type { ServerNews } from '../server/protocol/messages.ts';

/** What the checker can be seen to be doing. */
export type CheckerState = 'checking' | 'ready' | 'stopped';

/** The status line. */
export interface Status extends Disposable {
  show(state: CheckerState): void;
  /** Keeps the line in step with the client and with what the server tells. */
  follow(client: BaseLanguageClient): Disposable;
}

/** Puts the line into the editor. */
export function createStatus(): Status {
  const item = languages.createLanguageStatusItem('fettle.checker', { language: 'fettle' });
  item.name = 'Fettle';
  let state: CheckerState = 'checking';

  const refresh = () => {
    item.busy = state === 'checking';
    item.severity = state === 'stopped' ? LanguageStatusSeverity.Error : LanguageStatusSeverity.Information;
    if (state === 'stopped') {
      item.text = l10n.t("Fettle's checker has stopped");
      item.detail = l10n.t('Findings may be out of date');
      item.command = { title: l10n.t('Start it again'), command: 'fettle.restart' };
    } else {
      item.text = state === 'checking' ? l10n.t('Checking') : findingsText();
      item.detail = 'Fettle';
      item.command = { title: l10n.t('Show the findings'), command: 'workbench.actions.view.problems' };
    }
    // What is read out: the line alone does not say whose it is.
    item.accessibilityInformation = { label: l10n.t('Fettle: {0}', item.text), role: 'status' };
  };
  const listeners = [languages.onDidChangeDiagnostics(refresh), window.onDidChangeActiveTextEditor(refresh)];
  const show = (next: CheckerState) => {
    state = next;
    refresh();
  };
  refresh();

  return {
    show,
    follow: (client) => {
      const heard = [
        client.onDidChangeState(({ newState }) => {
          if (newState === State.Starting) show('checking');
          if (newState === State.Running) show('ready');
          if (newState === State.Stopped) show('stopped');
        }),
        client.onNotification('fettle/status', (news: ServerNews['fettle/status']) => show(news.state)),
      ];
      return { dispose: () => heard.forEach((each) => void each.dispose()) };
    },
    dispose: () => [...listeners, item].forEach((each) => void each.dispose()),
  };
}

function findingsText(): string {
  const document = window.activeTextEditor?.document;
  if (document === undefined || document.languageId !== 'fettle') return l10n.t('Ready');
  const count = languages.getDiagnostics(document.uri).filter((each) => each.source === 'fettle').length;
  if (count === 0) return l10n.t('No findings');
  return count === 1 ? l10n.t('1 finding') : l10n.t('{0} findings', count);
}
