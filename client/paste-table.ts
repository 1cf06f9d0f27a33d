// "Paste a table from a manual": what lies in the clipboard becomes fasteners and limits at the end of the spec. An editor from 1.97 on gives the
// table as a page of the web or a spreadsheet has it, with its rows and columns, and offers it at each paste; an older one its text alone.

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
  WorkspaceEdit,
  window,
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
    context: { readonly only?: Kind },
  ): Promise<readonly PasteEdit[]>;
}
type RegisterPaste = (selector: object, provider: Pasted, how: object) => Disposable;

const KIND = ['fettle', 'table'];

/** The command, and the offer at a paste where the editor has such. */
export function registerPasteTable(ask: AskServer): Disposable {
  const offer = offerAtPaste(ask);
  return Disposable.from(
    commands.registerCommand('fettle.pasteTable', async () => {
      const open = window.activeTextEditor;
      if (open?.document.languageId !== 'fettle') {
        window.showInformationMessage(l10n.t('Open a .fettle file first: the table is written into it.'));
        return;
      }
      if (offer === undefined) await pasteText(ask, open);
      else await offer.paste(open);
    }),
    ...(offer === undefined ? [] : [offer.registered]),
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

function tell(told: Told | undefined): void {
  if (told === undefined) {
    window.showWarningMessage(l10n.t('There is no table of torques or clearances to paste. Copy its cells first.'));
    return;
  }
  window.showInformationMessage(
    told.unread === 0
      ? l10n.t('{0} rows became declarations at the end of the file. Look through each against the manual.', told.rows)
      : l10n.t(
          '{0} rows became declarations at the end of the file. {1} cells could not be read and stand there as comments.',
          told.rows,
          told.unread,
        ),
  );
}

function reveal(open: TextEditor, line: number): void {
  open.revealRange(open.document.lineAt(Math.min(line, open.document.lineCount - 1)).range, 1);
}

async function pasteText(ask: AskServer, open: TextEditor): Promise<void> {
  const { document } = open;
  const told = await ask('fettle/table', { uri: document.uri.toString(), text: await env.clipboard.readText() });
  if (told === null) {
    tell(undefined);
    return;
  }
  const last = document.lineCount;
  const edit = atEnd(document, told);
  if (!(await editor.workspace.applyEdit(edit))) return;
  reveal(open, last);
  tell(told);
}

interface Offer {
  readonly registered: Disposable;
  paste(open: TextEditor): Promise<void>;
}

/** Undefined in an editor that has no such offers yet. */
function offerAtPaste(ask: AskServer): Offer | undefined {
  const { DocumentDropOrPasteEditKind: kinds, DocumentPasteEdit: Edit } = editor as unknown as PasteApi;
  const { registerDocumentPasteEditProvider: register } = languages as unknown as {
    registerDocumentPasteEditProvider?: RegisterPaste;
  };
  if (kinds === undefined || Edit === undefined || register === undefined) return undefined;
  const kind = kinds.Empty.append(...KIND);
  let told: Told | undefined;
  const provider: Pasted = {
    async provideDocumentPasteEdits(document, ranges, data, { only }) {
      const [page = '', text = ''] = await Promise.all(
        ['text/html', 'text/plain'].map((each) => data.get(each)?.asString()),
      );
      const table = /<t[rd][\s>]/i.test(page) ? page : text;
      // Most of what is pasted is no table.
      if (only === undefined && !/<t[rd][\s>]|\n.*[\t;|]/i.test(table)) return [];
      told = (await ask('fettle/table', { uri: document.uri.toString(), text: table })) ?? undefined;
      if (told === undefined) return [];
      // What is marked stays where it is.
      const [range] = ranges;
      const edit = new Edit(
        range === undefined ? '' : document.getText(range),
        l10n.t('As bolts and limits, at the end of the spec'),
        kind,
      );
      edit.additionalEdit = atEnd(document, told);
      edit.yieldTo = [kinds.Text];
      return [edit];
    },
  };
  let registered: Disposable;
  try {
    registered = register({ language: 'fettle' }, provider, {
      providedPasteEditKinds: [kind],
      pasteMimeTypes: ['text/html', 'text/plain'],
    });
  } catch {
    // An editor in which it is still being tried out.
    return undefined;
  }
  return {
    registered,
    async paste(open) {
      told = undefined;
      const last = open.document.lineCount;
      await commands.executeCommand('editor.action.pasteAs', { kind: KIND.join('.') });
      if (told !== undefined) reveal(open, last);
      tell(told);
    },
  };
}
