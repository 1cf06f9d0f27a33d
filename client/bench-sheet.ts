// The panel that shows the bench sheet of a spec while it is written, and the command that keeps it as a page for
// the printer. What is on the sheet comes from the server.
import { commands, Disposable, env, l10n, type TextDocument, Uri, ViewColumn, window, workspace } from 'vscode';
import type { AskServer } from './requests.ts';

/** Milliseconds without a key before the sheet is drawn again. */
const quiet = 300;

/** Which sheet of which file. */
interface Wanted {
  readonly uri: string;
  readonly variant?: string;
  readonly job?: string;
  /** Of a record: without the inner notes. */
  readonly forCustomer?: boolean;
}

/** The commands "Show the bench sheet" and "Save the bench sheet as a page". */
export function registerBenchSheet(ask: AskServer): Disposable {
  return Disposable.from(
    commands.registerCommand('fettle.showBenchSheet', async () => {
      const spec = openSpec();
      if (spec !== undefined) await showPanel(ask, spec);
    }),
    commands.registerCommand('fettle.saveBenchSheet', async () => {
      const spec = openSpec();
      if (spec !== undefined) await savePage(ask, spec);
    }),
  );
}

function openSpec(): TextDocument | undefined {
  const document = window.activeTextEditor?.document;
  if (document?.languageId === 'fettle') return document;
  window.showInformationMessage(l10n.t('Open a .fettle file first: the bench sheet is made from it.'));
  return undefined;
}

function fileName(spec: TextDocument): string {
  return spec.uri.path.split('/').at(-1) ?? spec.uri.path;
}

/**
 * A bench sheet is of one job and for one variant, the sheet of a record for the shop or for the customer: asks which, where there are
 * several. Undefined when the user turned away.
 */
async function choose(ask: AskServer, spec: TextDocument): Promise<Wanted | undefined> {
  const uri = spec.uri.toString();
  const about = await ask('fettle/sheet', { uri });
  if (about === null) {
    window.showWarningMessage(l10n.t('There is no bench sheet for this file.'));
    return undefined;
  }
  if (about.isOfRecord) {
    const [shop, customer] = [l10n.t('For the shop'), l10n.t('For the customer, without the inner notes')];
    const whom = await window.showQuickPick([shop, customer], { title: l10n.t('The sheet of the record for whom?') });
    return whom === undefined ? undefined : { uri, forCustomer: whom === customer };
  }
  const { variants, jobs } = about;
  const variant =
    variants.length < 2
      ? variants[0]
      : await window.showQuickPick([...variants], { title: l10n.t('The bench sheet for which variant?') });
  if (variant === undefined && variants.length > 1) return undefined;
  const job = jobs.length < 2 ? jobs[0] : await window.showQuickPick([...jobs], { title: l10n.t('Which job?') });
  if (job === undefined && jobs.length > 1) return undefined;
  return { uri, ...(variant === undefined ? {} : { variant }), ...(job === undefined ? {} : { job }) };
}

async function showPanel(ask: AskServer, spec: TextDocument): Promise<void> {
  const wanted = await choose(ask, spec);
  if (wanted === undefined) return;
  const panel = window.createWebviewPanel(
    'fettle.benchSheet',
    l10n.t('Bench sheet: {0}', wanted.job ?? wanted.variant ?? fileName(spec)),
    { viewColumn: ViewColumn.Beside, preserveFocus: true },
    { enableScripts: false, enableFindWidget: true },
  );
  let pause: ReturnType<typeof setTimeout> | undefined;
  const draw = async () => {
    const sheet = await ask('fettle/sheet', wanted);
    if (sheet !== null) panel.webview.html = sheet.html;
  };
  // A sheet hangs on all that its file uses: a record's on the spec.
  const changes = workspace.onDidChangeTextDocument(({ document }) => {
    if (document.languageId !== spec.languageId) return;
    clearTimeout(pause);
    pause = setTimeout(draw, quiet);
  });
  panel.onDidDispose(() => {
    clearTimeout(pause);
    changes.dispose();
  });
  await draw();
}

async function savePage(ask: AskServer, spec: TextDocument): Promise<void> {
  const wanted = await choose(ask, spec);
  if (wanted === undefined) return;
  const sheet = await ask('fettle/sheet', wanted);
  if (sheet === null) {
    window.showWarningMessage(l10n.t('There is no bench sheet for this file.'));
    return;
  }
  const beside = spec.isUntitled ? undefined : spec.uri.with({ path: spec.uri.path.replace(/\.fettle$/, '.html') });
  const target = await window.showSaveDialog({
    ...(beside === undefined ? {} : { defaultUri: beside }),
    filters: { [l10n.t('Page')]: ['html'] },
  });
  if (target === undefined) return;
  await workspace.fs.writeFile(target, new TextEncoder().encode(sheet.html));
  const open = l10n.t('Open it to print');
  if ((await window.showInformationMessage(l10n.t('The bench sheet is saved.'), open)) === open) {
    await env.openExternal(Uri.parse(target.toString()));
  }
}
