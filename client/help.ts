// Shows the help page of a finding. The pages themselves come from the server, by code.
import { commands, type Diagnostic, Disposable, l10n, languages, Uri, ViewColumn, window, workspace } from 'vscode';
import type { AskServer } from './requests.ts';

const scheme = 'fettle-help';

/** Makes the code of a finding a link to its help page. */
export function linkHelpPage(finding: Diagnostic): Diagnostic {
  if (typeof finding.code === 'string') {
    const target = Uri.parse(`command:fettle.explain?${encodeURIComponent(JSON.stringify([finding.code]))}`);
    finding.code = { value: finding.code, target };
  }
  return finding;
}

/** The command "Explain a finding" and the pages that it opens. */
export function registerHelp(ask: AskServer): Disposable {
  const pages = workspace.registerTextDocumentContentProvider(scheme, {
    provideTextDocumentContent: async (uri) => (await ask('fettle/explain', { code: codeOf(uri) }))?.markdown ?? '',
  });
  const command = commands.registerCommand('fettle.explain', async (given?: string) => {
    const code = given ?? (await chooseCode());
    if (code === undefined) return;
    if ((await ask('fettle/explain', { code })) === null) {
      window.showWarningMessage(l10n.t('There is no help page for "{0}".', code));
      return;
    }
    await showPage(Uri.from({ scheme, path: `/${code}.md` }));
  });
  return Disposable.from(pages, command);
}

function codeOf(page: Uri): string {
  return page.path.replace(/^\//, '').replace(/\.md$/, '');
}

/** Typeset where the editor can do that, else as plain text. */
async function showPage(page: Uri): Promise<void> {
  try {
    await commands.executeCommand('markdown.showPreviewToSide', page);
  } catch {
    await window.showTextDocument(page, { preview: true, viewColumn: ViewColumn.Beside });
  }
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
