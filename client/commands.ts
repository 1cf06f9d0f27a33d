// The commands that are neither help pages nor the bench sheet: a first spec, and starting the checker again.
import { commands, Disposable, l10n, Uri, window, workspace } from 'vscode';
import type { AskServer } from './requests.ts';

/** What the commands work with. */
export interface Means {
  readonly ask: AskServer;
  readonly restart: () => Promise<void>;
}

/** Registers the commands with the editor. */
export function registerCommands({ ask, restart }: Means): Disposable {
  return Disposable.from(
    commands.registerCommand('fettle.restart', restart),
    commands.registerCommand('fettle.newSpec', () => newSpec(ask)),
  );
}

/** Asks for a name and a layout, writes the spec into the open folder and opens it. Overwrites nothing. */
async function newSpec(ask: AskServer): Promise<void> {
  const name = await window.showInputBox({
    title: l10n.t('New engine spec (1 of 2)'),
    prompt: l10n.t('A short name for this engine. It becomes the name of the file.'),
    placeHolder: 'brindle-four',
    // The walkthrough takes the keys back when it ticks its step.
    ignoreFocusOut: true,
    validateInput: (text) => (isName(text.trim()) ? undefined : nameRule()),
  });
  if (name === undefined) return;
  const layout = await window.showQuickPick(layouts(), {
    title: l10n.t('New engine spec (2 of 2): the cylinders'),
    ignoreFocusOut: true,
  });
  if (layout === undefined) return;
  const spec = await ask('fettle/newSpec', { name: name.trim(), layout: layout.cylinders });
  if (spec === null) {
    window.showErrorMessage(l10n.t('Fettle could not write a first spec for "{0}".', name));
    return;
  }
  await openSpec(`${name.trim()}.fettle`, spec.text);
}

/** The form of a name, as the language page has it: letters and digits joined by single - or _. */
function isName(text: string): boolean {
  return /^\p{L}[\p{L}\p{M}\p{N}]*(?:[-_][\p{L}\p{M}\p{N}]+)*$/u.test(text);
}

function nameRule(): string {
  return l10n.t('Letters and digits, joined by single hyphens, as in brindle-four.');
}

function layouts() {
  return [
    { label: l10n.t('Inline four'), cylinders: '4 inline' },
    { label: l10n.t('Inline six'), cylinders: '6 inline' },
    { label: l10n.t('Inline five'), cylinders: '5 inline' },
    { label: l10n.t('Inline three'), cylinders: '3 inline' },
    { label: l10n.t('Inline twin'), cylinders: '2 inline' },
    { label: l10n.t('Single'), cylinders: '1 inline' },
    { label: l10n.t('Flat four'), cylinders: '4 flat' },
    { label: l10n.t('Flat twin'), cylinders: '2 flat' },
    { label: l10n.t('Flat six'), cylinders: '6 flat' },
    { label: l10n.t('Vee twin'), cylinders: '2 vee' },
    { label: l10n.t('Vee six'), cylinders: '6 vee 60 deg' },
    { label: l10n.t('Vee eight'), cylinders: '8 vee 90 deg' },
    { label: l10n.t('Vee twelve'), cylinders: '12 vee 60 deg' },
    { label: l10n.t('Radial seven'), cylinders: '7 radial' },
  ];
}

async function openSpec(file: string, text: string): Promise<void> {
  const folder = workspace.workspaceFolders?.[0]?.uri;
  if (folder === undefined) {
    await window.showTextDocument(await workspace.openTextDocument({ language: 'fettle', content: text }));
    return;
  }
  const target = Uri.joinPath(folder, file);
  if (await exists(target)) {
    window.showWarningMessage(l10n.t('{0} is there already and was left as it is.', file));
  } else {
    await workspace.fs.writeFile(target, new TextEncoder().encode(text));
  }
  await window.showTextDocument(target);
}

async function exists(uri: Uri): Promise<boolean> {
  try {
    await workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}
