// Answers that help while writing: completion, and the form of a statement.
import {
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  type CompletionParams,
  type Connection,
  InsertTextFormat,
  MarkupKind,
  type Range,
  type SignatureHelp,
} from 'vscode-languageserver';
import { textOf as inWords, told } from '../../grammar/told.ts';
import { completions, fittingFirst } from '../features/completion.ts';
import { helpOnName } from '../features/hover.ts';
import type { Completion } from '../features/offered.ts';
import { signature } from '../features/signature.ts';
import { useLine } from '../features/use-line.ts';
import type { Analysis } from '../model/analysis.ts';
import { textOf } from '../model/text-of.ts';
import { LIBRARIES } from '../workspace/library.ts';
import { rangeOf, textEditOf } from './convert.ts';
import { namesElsewhere, specsOf } from './elsewhere.ts';
import type { Service } from './service.ts';

const COMPLETION_KINDS = {
  word: CompletionItemKind.Keyword,
  name: CompletionItemKind.Class,
  feature: CompletionItemKind.Property,
  unit: CompletionItemKind.Unit,
  choice: CompletionItemKind.EnumMember,
  code: CompletionItemKind.Value,
} as const;

/** Completions that are offered at a time: more are an editor's to hold, and nobody reads them. */
const MOST_OFFERED = 400;

/** What goes with a completion, for telling more of it when it is looked at; without help of its own its detail is told. */
interface Asked {
  readonly uri: string;
  readonly help?: string;
}

/** What a completion takes the place of: up to the cursor, and with the rest of the word behind it. */
interface Replaced {
  readonly insert: Range;
  readonly replace: Range;
}

/** What is put in, and where: what all have alike is said once, to an editor that heeds it. A long spec has many names. */
function editOf(
  { abilities }: Service,
  label: string,
  newText: string,
  { insert, replace }: Replaced,
): Partial<CompletionItem> {
  const { hasListDefaults, insertsOrReplaces } = abilities();
  if (hasListDefaults) return newText === label ? {} : { textEditText: newText };
  return { textEdit: insertsOrReplaces ? { newText, insert, replace } : { newText, range: insert } };
}

function itemOf(
  service: Service,
  uri: string,
  each: Completion,
  replaced: Replaced,
  analysis: Analysis,
): CompletionItem {
  const { documents, abilities, rows } = service;
  const brings = each.uses === undefined ? undefined : useLine(analysis, each.uses);
  const { hasListDefaults, hasSnippets, isOurs } = abilities();
  const asked: Asked = { uri, ...(each.help === undefined ? {} : { help: inWords(each.help, rows()) }) };
  const snippet = hasSnippets ? each.snippet : undefined;
  const plain = each.goesOn === true ? `${each.label} ` : each.label;
  const order = each.order === undefined ? '' : String(each.order).padStart(3, '0');
  return {
    label: each.label,
    kind: COMPLETION_KINDS[each.kind],
    detail: inWords(each.detail, rows()),
    sortText: `${each.rank}${order}${each.label}`,
    ...editOf(service, each.label, snippet ?? plain, replaced),
    ...(snippet === undefined ? {} : { insertTextFormat: InsertTextFormat.Snippet }),
    // Only the editor of Fettle's own client is known to have this command.
    ...(each.goesOn === true && isOurs
      ? { command: { title: told`Offer what may stand here`.in(rows()), command: 'editor.action.triggerSuggest' } }
      : {}),
    ...(brings === undefined ? {} : { additionalTextEdits: [textEditOf(documents.lines(uri), brings)] }),
    ...(hasListDefaults && asked.help === undefined ? {} : { data: asked }),
  };
}

function listOf(
  { abilities }: Service,
  uri: string,
  items: CompletionItem[],
  { insert, replace }: Replaced,
  isIncomplete: boolean,
): CompletionItem[] | CompletionList {
  const { hasListDefaults, insertsOrReplaces } = abilities();
  if (!hasListDefaults) return isIncomplete ? { isIncomplete, items } : items;
  const data: Asked = { uri };
  return { isIncomplete, itemDefaults: { editRange: insertsOrReplaces ? { insert, replace } : insert, data }, items };
}

function complete(service: Service, asked: CompletionParams): CompletionItem[] | CompletionList {
  const { uri } = asked.textDocument;
  return service.atPlace<CompletionItem[] | CompletionList>(asked, [], (analysis, here, isPart) => {
    const offered = completions(analysis, here, {
      files: () => specsOf(service),
      libraries: LIBRARIES,
      elsewhere: (typed) => (isPart ? [] : namesElsewhere(service, analysis, typed)),
    });
    const typed = textOf(analysis.file, offered.start, here);
    const fitting = fittingFirst(offered.completions, typed, MOST_OFFERED);
    const lines = service.documents.lines(uri);
    const replaced: Replaced = {
      insert: rangeOf(lines, offered.start, here),
      replace: rangeOf(lines, offered.start, offered.end),
    };
    const items = fitting.map((each) => itemOf(service, uri, each, replaced, analysis));
    // Where there is more, the editor asks again with the next letter.
    return listOf(service, uri, items, replaced, isPart || fitting.length < offered.completions.length);
  });
}

/** A completion with what is known of it, when it is looked at. */
async function resolve({ at, rows }: Service, item: CompletionItem): Promise<CompletionItem> {
  const asked = item.data as Asked | undefined;
  if (asked === undefined) return item;
  const help =
    item.kind === COMPLETION_KINDS.name
      ? await at<string | undefined>(asked.uri, undefined, (each) => helpOnName(each, item.label, rows()))
      : undefined;
  const value = help ?? asked.help ?? item.detail;
  if (value === undefined) return item;
  return {
    ...item,
    documentation: { kind: help === undefined ? MarkupKind.PlainText : MarkupKind.Markdown, value },
  };
}

function signatureHelp({ rows }: Service, analysis: Analysis, here: number): SignatureHelp | null {
  const found = signature(analysis, here);
  if (found === undefined) return null;
  const shown = {
    label: found.label,
    documentation: inWords(found.help, rows()),
    parameters: found.pieces.map(([start, end]) => ({ label: [start, end] as [number, number] })),
  };
  return { signatures: [shown], activeSignature: 0, activeParameter: found.active };
}

export function answerCompletion(connection: Connection, service: Service): void {
  connection.onCompletion((asked) => complete(service, asked));
  connection.onCompletionResolve((asked) => resolve(service, asked));
  connection.onSignatureHelp((asked) =>
    service.atPlace<SignatureHelp | null>(asked, null, (analysis, here) => signatureHelp(service, analysis, here)),
  );
}
