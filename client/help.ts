// Shows the help page of a finding beside the spec. The pages themselves come from the server, by code.
import {
  commands,
  type Diagnostic,
  Disposable,
  l10n,
  languages,
  Uri,
  ViewColumn,
  type WebviewPanel,
  window,
  workspace,
} from 'vscode';
import type { AskServer } from './requests.ts';

/** Makes the code of a finding a link to its help page. */
export function linkHelpPage(finding: Diagnostic): Diagnostic {
  if (typeof finding.code === 'string') {
    const target = Uri.parse(`command:fettle.explain?${encodeURIComponent(JSON.stringify([finding.code]))}`);
    finding.code = { value: finding.code, target };
  }
  return finding;
}

/** The command "Explain a finding" and the panel that it fills; the next page takes the place of the last. */
export function registerHelp(ask: AskServer): Disposable {
  let panel: WebviewPanel | undefined;
  const command = commands.registerCommand('fettle.explain', async (given?: string) => {
    const code = given ?? (await chooseCode());
    if (code === undefined) return;
    const page = await ask('fettle/explain', { code });
    if (page === null) {
      window.showWarningMessage(l10n.t('There is no help page for "{0}".', code));
      return;
    }
    const typeset = await typesetPage(page.markdown);
    if (typeset === undefined) {
      await showAsText(page.markdown);
      return;
    }
    if (panel === undefined) {
      const place = { viewColumn: ViewColumn.Beside, preserveFocus: true };
      panel = window.createWebviewPanel('fettle.help', '', place, { enableFindWidget: true });
      panel.onDidDispose(() => {
        panel = undefined;
      });
    }
    panel.title = l10n.t('Help: {0}', code);
    panel.webview.html = typeset;
    panel.reveal(undefined, true);
  });
  return Disposable.from(command, { dispose: () => panel?.dispose() });
}

/** The page as the editor typesets it, or undefined where it can't. */
async function typesetPage(markdown: string): Promise<string | undefined> {
  try {
    const body = await commands.executeCommand<string>('markdown.api.render', markdown);
    return `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><style>${style}</style></head><body><main>${body}</main></body></html>`;
  } catch {
    return undefined;
  }
}

const style = `
  body { max-width: 46em; padding: 0 1.5em 2em; line-height: 1.55; color: var(--vscode-editor-foreground); }
  h1 { font-size: 1.5em; border-bottom: 1px solid var(--vscode-panel-border); padding-bottom: 0.3em; }
  h2 { font-size: 1.15em; margin-top: 1.8em; }
  pre { padding: 0.8em 1em; overflow-x: auto; background: var(--vscode-textCodeBlock-background); }
  pre code { background: none; padding: 0; }
  code { font-family: var(--vscode-editor-font-family); color: inherit; }
  a:focus-visible { outline: 1px solid var(--vscode-focusBorder); }
  table { border-collapse: collapse; }
  th, td { text-align: left; padding: 0.25em 0.9em 0.25em 0; border-bottom: 1px solid var(--vscode-panel-border); }
`;

async function showAsText(markdown: string): Promise<void> {
  const document = await workspace.openTextDocument({ language: 'markdown', content: markdown });
  await window.showTextDocument(document, { preview: true, viewColumn: ViewColumn.Beside });
}

/** The code of the finding at the cursor; asks where there are several, or none just there. */
async function chooseCode(): Promise<string | undefined> {
  const editor = window.activeTextEditor;
  const findings = editor === undefined ? [] : languages.getDiagnostics(editor.document.uri);
  const here = findings.filter((each) => editor !== undefined && each.range.contains(editor.selection.active));
  const rows = new Map<string, string>();
  for (const finding of here.length > 0 ? here : findings) {
    const code = typeof finding.code === 'object' ? finding.code.value : finding.code;
    if (finding.source === 'fettle' && code !== undefined) rows.set(String(code), finding.message);
  }
  if (rows.size === 0) {
    window.showInformationMessage(l10n.t('There is no finding in this file to explain.'));
    return undefined;
  }
  if (here.length > 0 && rows.size === 1) return [...rows.keys()][0];
  const items = [...rows].map(([label, detail]) => ({ label, detail }));
  return (await window.showQuickPick(items, { title: l10n.t('Which finding?') }))?.label;
}
