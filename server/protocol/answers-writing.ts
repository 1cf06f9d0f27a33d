// Answers that help while writing: completion, the form of a statement, ways out, layout.
import {
  type CancellationToken,
  type CodeAction,
  type CodeActionContext,
  CodeActionKind,
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  type Connection,
  InsertTextFormat,
  MarkupKind,
  type Range,
  type TextEdit,
} from 'vscode-languageserver';
import { textOf as inWords, told } from '../../grammar/told.ts';
import { type Action, actions, mendAll } from '../features/actions.ts';
import { completions, fittingFirst } from '../features/completion.ts';
import { helpOnName } from '../features/hover.ts';
import { type Layout, layoutClosed, layoutStretch, layoutWhole } from '../features/layout.ts';
import { pathBetween } from '../features/moved-files.ts';
import type { Completion } from '../features/offered.ts';
import { reworks } from '../features/rework.ts';
import { signature } from '../features/signature.ts';
import { declaredIn, type Elsewhere, useLine } from '../features/use-line.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding } from '../model/finding.ts';
import { textOf } from '../model/text-of.ts';
import { LIBRARIES, libraryAddress } from '../workspace/library.ts';
import { resolveUse } from '../workspace/paths.ts';
import { diagnosticOf, rangeOf, textEditOf, workspaceEdit } from './convert.ts';
import { reportFault, type Service } from './service.ts';
import { intoSharedFile } from './shared-file.ts';
import { actionsOf, tryWays } from './tried-actions.ts';
import { inPieces, nextTurn } from './turns.ts';

const COMPLETION_KINDS = {
  word: CompletionItemKind.Keyword,
  name: CompletionItemKind.Class,
  feature: CompletionItemKind.Property,
  unit: CompletionItemKind.Unit,
  choice: CompletionItemKind.EnumMember,
  code: CompletionItemKind.Value,
} as const;

const FIX_ALL = `${CodeActionKind.SourceFixAll}.fettle`;

/** Completions that are offered at a time: more are an editor's to hold, and nobody reads them. */
const MOST_OFFERED = 400;

/** Findings in the marked stretch for which ways out are tried. */
const MOST_TRIED_FOR = 2;

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

export function answerWriting(connection: Connection, service: Service): void {
  const { documents, at, atPlace, atRead, offset, abilities, rows } = service;

  /** What all have alike is said once, to an editor that heeds it: a long spec has many names. */
  const item = (uri: string, each: Completion, { insert, replace }: Replaced, analysis: Analysis): CompletionItem => {
    const brings = each.uses === undefined ? undefined : useLine(analysis, each.uses);
    const { hasListDefaults, insertsOrReplaces } = abilities();
    const asked: Asked = { uri, ...(each.help === undefined ? {} : { help: inWords(each.help, rows()) }) };
    const snippet = abilities().hasSnippets ? each.snippet : undefined;
    const plain = each.goesOn === true ? `${each.label} ` : each.label;
    return {
      label: each.label,
      kind: COMPLETION_KINDS[each.kind],
      detail: inWords(each.detail, rows()),
      sortText: `${each.rank}${each.order === undefined ? '' : String(each.order).padStart(3, '0')}${each.label}`,
      ...(hasListDefaults
        ? (snippet ?? plain) === each.label
          ? {}
          : { textEditText: snippet ?? plain }
        : insertsOrReplaces
          ? { textEdit: { newText: snippet ?? plain, insert, replace } }
          : { textEdit: { newText: snippet ?? plain, range: insert } }),
      ...(snippet === undefined ? {} : { insertTextFormat: InsertTextFormat.Snippet }),
      // Only the editor of Fettle's own client is known to have this command.
      ...(each.goesOn === true && abilities().isOurs
        ? { command: { title: told`Offer what may stand here`.in(rows()), command: 'editor.action.triggerSuggest' } }
        : {}),
      ...(brings === undefined ? {} : { additionalTextEdits: [textEditOf(documents.lines(uri), brings)] }),
      ...(hasListDefaults && asked.help === undefined ? {} : { data: asked }),
    };
  };
  /** A list of them. */
  const listOf = (
    uri: string,
    items: CompletionItem[],
    { insert, replace }: Replaced,
    isIncomplete: boolean,
  ): CompletionItem[] | CompletionList => {
    const { hasListDefaults, insertsOrReplaces } = abilities();
    if (!hasListDefaults) return isIncomplete ? { isIncomplete, items } : items;
    const data: Asked = { uri };
    return { isIncomplete, itemDefaults: { editRange: insertsOrReplaces ? { insert, replace } : insert, data }, items };
  };
  /** The names that may be had from other files of the folder and from the libraries. */
  const elsewhere = (analysis: Analysis, typed: string): readonly Elsewhere[] => {
    const home = analysis.file.file;
    const used = new Set([home, ...analysis.used.map((each) => each.file)]);
    const begins = typed.toLowerCase();
    const named = (address: string, pathOf: () => string | undefined): readonly Elsewhere[] => {
      const text = used.has(address) ? undefined : documents.read(address);
      const names =
        text === undefined ? [] : declaredIn(address, text).filter(([, name]) => name.toLowerCase().startsWith(begins));
      const path = names.length === 0 ? undefined : pathOf();
      return path === undefined ? [] : names.map(([kind, name]) => ({ kind, name, path }));
    };
    return [
      ...files().flatMap((address) => named(address, () => pathBetween(home, address))),
      ...LIBRARIES.flatMap((name) => named(libraryAddress(`fettle:${name}`) ?? '', () => `fettle:${name}`)),
    ];
  };
  const files = (): readonly string[] =>
    [...new Set([...documents.all().map((open) => open.address), ...documents.known()])].filter((address) =>
      address.endsWith('.fettle'),
    );
  connection.onCompletion((asked) =>
    atPlace<CompletionItem[] | CompletionList>(asked, [], (analysis, here, isPart) => {
      const { uri } = asked.textDocument;
      const offered = completions(analysis, here, {
        files,
        libraries: LIBRARIES,
        elsewhere: (typed) => (isPart ? [] : elsewhere(analysis, typed)),
      });
      const typed = textOf(analysis.file, offered.start, here);
      const fitting = fittingFirst(offered.completions, typed, MOST_OFFERED);
      const lines = documents.lines(uri);
      const replaced: Replaced = {
        insert: rangeOf(lines, offered.start, here),
        replace: rangeOf(lines, offered.start, offered.end),
      };
      const items = fitting.map((each) => item(uri, each, replaced, analysis));
      // Where there is more, the editor asks again with the next letter.
      return listOf(uri, items, replaced, isPart || fitting.length < offered.completions.length);
    }),
  );
  connection.onCompletionResolve(async (asked) => {
    const told = asked.data as Asked | undefined;
    if (told === undefined) return asked;
    const help =
      asked.kind === COMPLETION_KINDS.name
        ? await at<string | undefined>(told.uri, undefined, (each) => helpOnName(each, asked.label, rows()))
        : undefined;
    const value = help ?? told.help ?? asked.detail;
    if (value === undefined) return asked;
    return {
      ...asked,
      documentation: { kind: help === undefined ? MarkupKind.PlainText : MarkupKind.Markdown, value },
    };
  });

  connection.onSignatureHelp((asked) =>
    atPlace(asked, null, (analysis, here) => {
      const found = signature(analysis, here);
      return found === undefined
        ? null
        : {
            signatures: [
              {
                label: found.label,
                documentation: inWords(found.help, rows()),
                parameters: found.pieces.map(([start, end]) => ({ label: [start, end] as [number, number] })),
              },
            ],
            activeSignature: 0,
            activeParameter: found.active,
          };
    }),
  );

  const kindOf = (action: Action): string =>
    action.finding === undefined ? CodeActionKind.RefactorRewrite : CodeActionKind.QuickFix;
  const codeAction = (action: Action): CodeAction => ({
    title: action.told.in(rows()),
    kind: kindOf(action),
    isPreferred: action.preferred,
    ...(action.finding === undefined ? {} : { diagnostics: [diagnosticOf(documents, action.finding, rows())] }),
    edit: workspaceEdit(documents, action.edits, abilities().versionedEdits),
  });
  /** The ways out of a finding that mend it; undefined where the text changed or the question was taken back meanwhile. */
  const mending = async (
    uri: string,
    analysis: Analysis,
    finding: Finding,
    token: CancellationToken,
  ): Promise<readonly Action[] | undefined> => {
    const text = documents.read(uri);
    if (text === undefined) return undefined;
    const host = {
      resolve: (from: string, path: string) => resolveUse(from, path, documents.roots()),
      read: (file: string) => documents.read(file),
    };
    const work = tryWays(analysis, finding, { text, host, files, elsewhere: (name) => elsewhere(analysis, name) });
    for (;;) {
      const { done, value } = work.next();
      if (done === true) return actionsOf(finding, value);
      await nextTurn();
      if (token.isCancellationRequested || documents.made(uri) !== analysis) return undefined;
    }
  };
  connection.onCodeAction(async ({ textDocument: { uri }, range, context }, token) => {
    const analysis = await at<Analysis | undefined>(uri, undefined, (each) => each);
    if (analysis === undefined) return [];
    // An editor asks with each step of the cursor: others are heard meanwhile, and a newer text has it left off.
    const isOld = (): boolean => token.isCancellationRequested || documents.made(uri) !== analysis;
    if (!(await inPieces(analysis.check(), isOld))) return [];
    const [start, end] = [offset(uri, range.start), offset(uri, range.end)];
    const wanted = (kind: string): boolean =>
      context.only === undefined || context.only.some((only) => kind === only || kind.startsWith(`${only}.`));
    const here = analysis.findings.filter((finding) => finding.end >= start && finding.start <= end);
    const found: Action[] = [];
    // A whole file that is marked asks for everything at once: then only what is at hand is told.
    const tried = wanted(CodeActionKind.QuickFix) && here.length <= MOST_TRIED_FOR ? here : [];
    for (const finding of tried) {
      try {
        const ways = await mending(uri, analysis, finding, token);
        if (ways === undefined) return [];
        found.push(...ways);
      } catch (error) {
        reportFault(connection, uri, error);
      }
    }
    return at<CodeAction[]>(uri, [], () => answered(analysis, start, end, context, [...found, ...plain()]));

    /** What needs no trying, or was not tried. */
    function plain(): readonly Action[] {
      if (analysis === undefined) return [];
      return actions(analysis, start, end).filter(
        (action) =>
          wanted(kindOf(action)) &&
          (action.finding === undefined || action.forAll === true || !tried.includes(action.finding)),
      );
    }
  });

  const answered = (
    analysis: Analysis,
    start: number,
    end: number,
    context: CodeActionContext,
    offered: readonly Action[],
  ): CodeAction[] => {
    const wanted = (kind: string): boolean =>
      context.only === undefined || context.only.some((only) => kind === only || kind.startsWith(`${only}.`));
    const found = offered.map(codeAction);
    for (const { told: said, kind, edits } of reworks(analysis, start, end)) {
      const own = kind === 'extract' ? CodeActionKind.RefactorExtract : CodeActionKind.RefactorRewrite;
      if (wanted(own))
        found.push({
          title: said.in(rows()),
          kind: own,
          edit: workspaceEdit(documents, edits, abilities().versionedEdits),
        });
    }
    if (wanted(CodeActionKind.RefactorExtract)) found.push(...intoSharedFile(service, analysis, start));
    // Asked for by name alone, as editors do when a file is saved.
    if (
      context.only?.some((only) => FIX_ALL.startsWith(only) && only.startsWith(CodeActionKind.SourceFixAll)) === true
    ) {
      const { edits, count } = mendAll(analysis);
      if (count > 0)
        found.push({
          title: told`Mend all that has one way out`.in(rows()),
          kind: FIX_ALL,
          edit: workspaceEdit(documents, edits, abilities().versionedEdits),
        });
    }
    // The help page opens in Fettle's own client alone.
    if (!abilities().isOurs || !wanted(CodeActionKind.QuickFix)) return found;
    const here = analysis.findings.filter((finding) => finding.end >= start && finding.start <= end);
    const codes = [...new Set(here.map((finding) => finding.code))];
    return [
      ...found,
      ...codes.map((code) => ({
        title: told`Explain ${code}`.in(rows()),
        kind: CodeActionKind.QuickFix,
        diagnostics: here.filter((each) => each.code === code).map((each) => diagnosticOf(documents, each, rows())),
        command: { title: told`Explain ${code}`.in(rows()), command: 'fettle.explain', arguments: [code] },
      })),
    ];
  };

  const editsOf = (uri: string, layout: Layout): TextEdit[] => {
    if (layout.kind === 'left') {
      connection.console.info(`${uri} is left as it is: ${layout.why}`);
      return [];
    }
    const lines = documents.lines(uri);
    return layout.edits.map((edit) => textEditOf(lines, edit));
  };
  connection.onDocumentFormatting(({ textDocument: { uri } }) =>
    atRead<TextEdit[]>(uri, [], (file) => editsOf(uri, layoutWhole(file))),
  );
  connection.onDocumentRangeFormatting(({ textDocument: { uri }, range }) =>
    at<TextEdit[]>(uri, [], (analysis) =>
      editsOf(uri, layoutStretch(analysis, offset(uri, range.start), offset(uri, range.end))),
    ),
  );
  connection.onDocumentOnTypeFormatting(({ textDocument: { uri }, position }) =>
    at<TextEdit[]>(uri, [], (analysis) => editsOf(uri, layoutClosed(analysis, offset(uri, position)))),
  );
}
