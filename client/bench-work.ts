// The commands round a record and a revision: a value into a record, a photo dropped on one, the revision raised when what is critical changed
// since the last commit.
import {
  commands,
  Disposable,
  DocumentDropEdit,
  l10n,
  languages,
  Position,
  type TextDocument,
  Uri,
  WorkspaceEdit,
  window,
  workspace,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { MeasurementAsked } from '../server/protocol/messages.ts';
import { quietLastCommit } from './compare-git.ts';
import type { AskServer } from './requests.ts';

/** The command "Enter a measurement", photos that are dropped, and the offer to raise a revision. */
export function registerBenchWork(ask: AskServer, client: BaseLanguageClient): Disposable {
  const offered = new Set<string>();
  return Disposable.from(
    commands.registerCommand('fettle.enterMeasurement', enterMeasurement),
    languages.registerDocumentDropEditProvider({ language: 'fettle' }, { provideDocumentDropEdits: droppedPhoto }),
    workspace.onDidSaveTextDocument((document) => {
      if (document.languageId === 'fettle') void offerRevision(ask, client, document, offered);
    }),
  );
}

/** Asks for the limit, its place and a value, each where there are several, and has the server write it into the record. */
async function enterMeasurement(record: string, name: string, limits: readonly MeasurementAsked[]): Promise<void> {
  const limit = limits.length < 2 ? limits[0] : await chooseLimit(limits);
  if (limit === undefined) return;
  const { title, places, within } = limit;
  const place =
    places.length === 0
      ? ''
      : await window.showQuickPick([...places], { title: l10n.t('{0}: at which place?', title) });
  if (place === undefined) return;
  const value = await window.showInputBox({
    title: place === '' ? title : `${title}, ${place}`,
    prompt:
      within === ''
        ? l10n.t('The measured value with its unit, as in 0.11 mm.')
        : l10n.t('It must measure {0}. Type the measured value with its unit.', within),
  });
  if (value === undefined || value.trim() === '') return;
  const text = place === '' ? value : `${place}: ${value}`;
  await commands.executeCommand('fettle.recordMeasured', record, name, limit.name, text);
}

async function chooseLimit(limits: readonly MeasurementAsked[]): Promise<MeasurementAsked | undefined> {
  const rows = limits.map((limit) => ({ label: limit.title, description: limit.within, limit }));
  return (await window.showQuickPick(rows, { title: l10n.t('Which measurement?'), matchOnDescription: true }))?.limit;
}

const PICTURE = /\.(?:jpe?g|png|webp|heic|gif)$/i;

/**
 * A photo that lies in the folder of a record, or below it, becomes a line of its own at the end of the record that it is dropped on, or of the
 * last one before it.
 */
async function droppedPhoto(
  document: TextDocument,
  position: Position,
  data: { get(kind: string): { asString(): Thenable<string> } | undefined },
): Promise<DocumentDropEdit | undefined> {
  const end = endOfRecord(document.getText().split(/\r?\n/), position.line);
  if (end === undefined) return undefined;
  const dropped = (await data.get('text/uri-list')?.asString()) ?? '';
  const folder = document.uri.with({ path: document.uri.path.slice(0, document.uri.path.lastIndexOf('/') + 1) });
  const lines = dropped.split(/\r?\n/).flatMap((line) => {
    const uri = line === '' ? undefined : Uri.parse(line);
    if (uri === undefined || !PICTURE.test(uri.path)) return [];
    const isBelow =
      uri.scheme === folder.scheme && uri.authority === folder.authority && uri.path.startsWith(folder.path);
    const path = uri.path.slice(folder.path.length);
    return isBelow && !/["\\\n]|(?:^|\/)\.\.(?:\/|$)/.test(path) ? [`  photo "${path}"\n`] : [];
  });
  if (lines.length === 0) return undefined;
  const edit = new DocumentDropEdit('');
  edit.additionalEdit = new WorkspaceEdit();
  edit.additionalEdit.insert(document.uri, new Position(end, 0), lines.join(''));
  return edit;
}

/** The line of the brace that closes the record at a line, or the last record before it, or the first one. */
function endOfRecord(lines: readonly string[], at: number): number | undefined {
  const starts = lines.flatMap((line, i) => (/^[ \t]*record[ \t]/.test(line) ? [i] : []));
  const start = starts.filter((line) => line <= at).pop() ?? starts[0];
  if (start === undefined) return undefined;
  const end = lines.findIndex((line, i) => i > start && /^\}/.test(line));
  return end < 0 ? undefined : end;
}

/** When a spec is saved whose last commit differs in what is critical, and its revision is the same: offers to raise it, once. */
async function offerRevision(
  ask: AskServer,
  client: BaseLanguageClient,
  document: TextDocument,
  offered: Set<string>,
): Promise<void> {
  const commit = await quietLastCommit(document.uri);
  const text = await commit?.text(document.uri);
  if (commit === undefined || text === undefined || text === document.getText()) return;
  const uri = document.uri.toString();
  const raise = await ask('fettle/raiseRevision', { uri, old: { uri: commit.uri.toString(), text } });
  const key = `${uri} ${raise?.to}`;
  if (raise === null || offered.has(key)) return;
  offered.add(key);
  const yes = l10n.t('Raise it to {0}', raise.to);
  const [first = ''] = raise.critical;
  const chosen = await window.showInformationMessage(
    l10n.t('Critical since the last commit: {0} The spec still says revision {1}.', first, raise.from),
    yes,
  );
  if (chosen !== yes) return;
  // What was changed while the question stood there is in it too.
  const now = await ask('fettle/raiseRevision', { uri, old: { uri: commit.uri.toString(), text } });
  if (now === null) return;
  const edit = await client.protocol2CodeConverter.asWorkspaceEdit(now.edit as never);
  if (edit !== undefined) await workspace.applyEdit(edit);
}
