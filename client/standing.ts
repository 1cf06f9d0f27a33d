// The panel "Where the engine stands": follows the cursor through the job, and goes through it action by action. What it shows is made by
// the server of elements; the panel itself has one short script of ours and nothing from a spec.
import {
  commands,
  Disposable,
  l10n,
  Range,
  Selection,
  type TextDocument,
  TextEditorRevealType,
  ViewColumn,
  type WebviewPanel,
  window,
  workspace,
} from 'vscode';
import type { AskServer } from './requests.ts';
import { standingPage } from './standing-page.ts';

type Go = 'here' | 'next' | 'back';

/** What the panel says: a button, or another job or variant. */
interface FromPanel {
  readonly go?: Go;
  readonly job?: string;
  readonly variant?: string;
}

/** The commands "Show where the engine stands", "Next action" and "Action before". */
export function registerStanding(ask: AskServer): Disposable {
  let panel: WebviewPanel | undefined;
  let spec: TextDocument | undefined;
  let chosen: { readonly job?: string; readonly variant?: string } = {};
  let asking = false;
  let again: Go | undefined;

  const editorOf = () => window.visibleTextEditors.find((each) => each.document === spec);

  const show = async (go: Go): Promise<void> => {
    const editor = editorOf();
    if (panel === undefined || editor === undefined) return;
    // One question at a time: of the moves meanwhile the last one counts.
    if (asking) {
      again = go;
      return;
    }
    asking = true;
    try {
      const { line, character } = editor.selection.active;
      const uri = editor.document.uri.toString();
      const now = await ask('fettle/standing', { uri, position: { line, character }, go, ...chosen });
      if (now !== null && go !== 'here' && now.place !== null) {
        const { start, end } = now.place;
        const range = new Range(start.line, start.character, end.line, end.character);
        editor.selection = new Selection(range.start, range.start);
        editor.revealRange(range, TextEditorRevealType.InCenterIfOutsideViewport);
      }
      const nothing =
        now === null
          ? l10n.t('There is no work in this file: it needs a job or a sequence.')
          : l10n.t('Put the cursor into a step, or begin at the first action.');
      await panel?.webview.postMessage({ ...now, html: now?.html ?? null, nothing });
    } catch {
      // The checker is being started again; the next move asks anew.
    } finally {
      asking = false;
      const next = again;
      again = undefined;
      if (next !== undefined) void show(next);
    }
  };

  const open = async (): Promise<void> => {
    const document = window.activeTextEditor?.document;
    if (document?.languageId !== 'fettle') {
      window.showInformationMessage(l10n.t('Open a .fettle file first: the engine stands as its steps leave it.'));
      return;
    }
    if (spec !== document) chosen = {};
    spec = document;
    if (panel === undefined) {
      panel = window.createWebviewPanel(
        'fettle.standing',
        l10n.t('Where the engine stands'),
        { viewColumn: ViewColumn.Beside, preserveFocus: true },
        { enableScripts: true, enableFindWidget: true, localResourceRoots: [] },
      );
      panel.onDidDispose(() => {
        panel = undefined;
        commands.executeCommand('setContext', 'fettleStanding', false);
      });
      panel.webview.onDidReceiveMessage((message: FromPanel) => {
        if (message.job !== undefined) chosen = { ...chosen, job: message.job };
        if (message.variant !== undefined) chosen = { ...chosen, variant: message.variant };
        void show(message.go ?? 'here');
      });
      panel.webview.html = standingPage();
      await commands.executeCommand('setContext', 'fettleStanding', true);
    } else panel.reveal(undefined, true);
    await show('here');
  };

  return Disposable.from(
    commands.registerCommand('fettle.showStanding', open),
    commands.registerCommand('fettle.standingNext', () => show('next')),
    commands.registerCommand('fettle.standingBack', () => show('back')),
    window.onDidChangeTextEditorSelection(({ textEditor }) => {
      if (panel === undefined || textEditor.document.languageId !== 'fettle') return;
      if (textEditor.document !== spec) {
        spec = textEditor.document;
        chosen = {};
      }
      void show('here');
    }),
    workspace.onDidChangeTextDocument(({ document }) => {
      if (document === spec) void show('here');
    }),
    { dispose: () => panel?.dispose() },
  );
}
