// A table from a manual becomes fasteners and limits at the end of the spec: by the command, which is given the text of the clipboard alone, and
// at a paste, where an editor from 1.97 on gives the table as a page of the web or a spreadsheet has it, and lets one choose.

import * as editor from 'vscode';
import {
  commands,
  type DataTransfer,
  Disposable,
  env,
  l10n,
  languages,
  type Range,
  type TextDocument,
  type TextEditor,
  TextEditorRevealType,
  WorkspaceEdit,
  window,
  workspace,
} from 'vscode';
import type { ServerAnswers } from '../server/protocol/messages.ts';
import type { AskServer } from './requests.ts';

type Told = NonNullable<ServerAnswers['fettle/table']['result']>;

/** What editors from 1.97 on have for pastes; the types in use are of the oldest editor that is supported. */
interface Kind {
  readonly value: string;
  append(...parts: string[]): Kind;
}
interface PasteEdit {
  additionalEdit?: WorkspaceEdit;
  yieldTo?: readonly Kind[];
}
interface PasteApi {
  readonly DocumentDropOrPasteEditKind?: { readonly Empty: Kind; readonly Text: Kind };
  readonly DocumentPasteEdit?: new (insertText: string, title: string, kind: Kind) => PasteEdit;
}
interface Pasted {
  provideDocumentPasteEdits(
    document: TextDocument,
    ranges: readonly Range[],
    data: DataTransfer,
  ): Promise<readonly PasteEdit[]>;
}
type RegisterPaste = (selector: object, provider: Pasted, how: object) => Disposable;

/** The command, and the offer at a paste where the editor has such. */
export function registerPasteTable(ask: AskServer): Disposable {
  return Disposable.from(
    commands.registerCommand('fettle.pasteTable', async () => {
      const open = window.activeTextEditor;
      if (open?.document.languageId === 'fettle') await pasteText(ask, open);
      else window.showInformationMessage(l10n.t('Open a .fettle file first: the table is written into it.'));
    }),
    ...offerAtPaste(ask),
  );
}

/** Declarations stand between others, never inside one: they go to the end of the file. */
function atEnd(document: TextDocument, told: Told): WorkspaceEdit {
  const written = document.getText().trimEnd();
  const edit = new WorkspaceEdit();
  edit.insert(
    document.uri,
    document.positionAt(written.length),
    `${written === '' ? '' : '\n\n'}${told.text.trimEnd()}`,
  );
  return edit;
}

function tell(told: Told): void {
  window.showInformationMessage(
    told.unread === 0
      ? l10n.t('Bolts and limits made at the end of the file: {0}. Look through each against the manual.', told.rows)
      : l10n.t(
          'Bolts and limits made at the end of the file: {0}. What could not be read stands there as remarks: {1}.',
          told.rows,
          told.unread,
        ),
  );
}

async function pasteText(ask: AskServer, open: TextEditor): Promise<void> {
  const { document } = open;
  const told = await ask('fettle/table', { uri: document.uri.toString(), text: await env.clipboard.readText() });
  if (told === null) {
    window.showWarningMessage(l10n.t('There is no table of torques or clearances to paste. Copy its cells first.'));
    return;
  }
  const end = document.lineCount;
  if (!(await workspace.applyEdit(atEnd(document, told)))) return;
  open.revealRange(
    document.lineAt(Math.min(end, document.lineCount - 1)).range,
    TextEditorRevealType.InCenterIfOutsideViewport,
  );
  tell(told);
}

/** Nothing in an editor that has no such offers yet. */
function offerAtPaste(ask: AskServer): readonly Disposable[] {
  const { DocumentDropOrPasteEditKind: kinds, DocumentPasteEdit: Edit } = editor as unknown as PasteApi;
  const { registerDocumentPasteEditProvider: register } = languages as unknown as {
    registerDocumentPasteEditProvider?: RegisterPaste;
  };
  if (kinds === undefined || Edit === undefined || register === undefined) return [];
  const kind = kinds.Empty.append('fettle', 'table');
  const provider: Pasted = {
    async provideDocumentPasteEdits(document, ranges, data) {
      const [page = '', text = ''] = await Promise.all(
        ['text/html', 'text/plain'].map((each) => data.get(each)?.asString()),
      );
      // Most of what is pasted is no table.
      const pasted = [page, text].find((each) => /<t[rd][\s>]|\n.*[\t;|]/i.test(each));
      const told =
        pasted === undefined ? null : await ask('fettle/table', { uri: document.uri.toString(), text: pasted });
      if (told === null) return [];
      // What is marked stays where it is.
      const marked = ranges.map((range) => document.getText(range)).join('');
      const edit = new Edit(marked, l10n.t('As bolts and limits, at the end of the spec'), kind);
      edit.additionalEdit = atEnd(document, told);
      // Nobody who pastes a line is surprised.
      edit.yieldTo = [kinds.Text];
      return [edit];
    },
  };
  try {
    return [
      register({ language: 'fettle' }, provider, {
        providedPasteEditKinds: [kind],
        pasteMimeTypes: ['text/html', 'text/plain'],
      }),
    ];
  } catch {
    // An editor in which it is still being tried out.
    return [];
  }
}
