// Answers to single questions of the editor, each from one feature.
import {
  type CodeAction,
  CodeActionKind,
  type CompletionItem,
  CompletionItemKind,
  type Connection,
  type Diagnostic,
  DocumentDiagnosticReportKind,
  DocumentHighlightKind,
  type DocumentSymbol,
  ErrorCodes,
  FoldingRangeKind,
  InlayHintKind,
  InsertTextFormat,
  MarkupKind,
  ResponseError,
  type SelectionRange,
  SymbolKind,
  type TextEdit,
} from 'vscode-languageserver';
import { formatText } from '../../grammar/printer.ts';
import { toFile } from '../../grammar/sections.ts';
import { helpPage } from '../checks/catalog.ts';
import { actions } from '../features/actions.ts';
import { completions } from '../features/completion.ts';
import { firstSpec, isSpecName, readLayout } from '../features/first-spec.ts';
import { headlines, unitHints } from '../features/hints.ts';
import { hover } from '../features/hover.ts';
import { folds, type OutlineItem, outline } from '../features/outline.ts';
import { nameAt, placedAt } from '../features/place-in-tree.ts';
import { definitions, placesOf, renameObjection } from '../features/rename.ts';
import { semanticTokens, TOKEN_TYPES } from '../features/tokens.ts';
import type { Analysis } from '../model/analysis.ts';
import { placeOf } from '../model/placed.ts';
import { sheetPage } from '../sheet/page.tsx';
import type { Documents } from '../workspace/documents.ts';
import { offsetAt } from '../workspace/lines.ts';
import { resolveUse } from '../workspace/paths.ts';
import { changesOf, diagnosticOf, lineEdits, locationOf, rangeOf } from './convert.ts';

type Guarded = <result>(what: string, work: () => result, otherwise: result) => result;

const COMPLETION_KINDS = {
  word: CompletionItemKind.Keyword,
  name: CompletionItemKind.Class,
  feature: CompletionItemKind.Property,
  unit: CompletionItemKind.Unit,
  choice: CompletionItemKind.EnumMember,
  code: CompletionItemKind.Value,
} as const;
const SYMBOLS: Readonly<Record<string, SymbolKind>> = {
  spec: SymbolKind.Module,
  engine: SymbolKind.Object,
  part: SymbolKind.Class,
  fastener: SymbolKind.Key,
  supply: SymbolKind.Field,
  drive: SymbolKind.Interface,
  'valve-timing': SymbolKind.Interface,
  limit: SymbolKind.Number,
  sequence: SymbolKind.Namespace,
  step: SymbolKind.Function,
  job: SymbolKind.Event,
  record: SymbolKind.File,
  grades: SymbolKind.Enum,
  use: SymbolKind.Package,
};

/** Registers every answer. A fault in one gives an empty answer and a line in the output. */
export function registerAnswers(connection: Connection, documents: Documents, guarded: Guarded): void {
  const at = <result>(uri: string, otherwise: result, work: (analysis: Analysis) => result): result =>
    guarded(
      uri,
      () => {
        const analysis = documents.analysis(uri);
        return analysis === undefined ? otherwise : work(analysis);
      },
      otherwise,
    );
  const offset = (uri: string, position: { readonly line: number; readonly character: number }): number =>
    offsetAt(documents.lines(uri), position);
  /** The analyses of every open and known file. */
  const everyAnalysis = (): readonly Analysis[] =>
    [...new Set([...documents.all().map((open) => open.uri), ...documents.known()])].flatMap(
      (uri) => documents.analysis(uri) ?? [],
    );

  connection.languages.diagnostics.on(({ textDocument }) => ({
    kind: DocumentDiagnosticReportKind.Full,
    items: at<Diagnostic[]>(textDocument.uri, [], (analysis) =>
      analysis.findings.map((finding) => diagnosticOf(documents, finding)),
    ),
  }));
  connection.languages.diagnostics.onWorkspace(() => ({
    items: documents.known().map((uri) => ({
      kind: DocumentDiagnosticReportKind.Full,
      uri,
      version: null,
      items: at<Diagnostic[]>(uri, [], (analysis) =>
        analysis.findings.map((finding) => diagnosticOf(documents, finding)),
      ),
    })),
  }));

  connection.onCompletion(({ textDocument, position }) =>
    at<CompletionItem[]>(textDocument.uri, [], (analysis) =>
      completions(analysis, offset(textDocument.uri, position)).map((each) => ({
        label: each.label,
        kind: COMPLETION_KINDS[each.kind],
        detail: each.detail,
        sortText: `${each.rank}${each.label}`,
        ...(each.help === undefined ? {} : { documentation: { kind: MarkupKind.PlainText, value: each.help } }),
        ...(each.snippet === undefined ? {} : { insertText: each.snippet, insertTextFormat: InsertTextFormat.Snippet }),
      })),
    ),
  );

  connection.onHover(({ textDocument, position }) =>
    at(textDocument.uri, null, (analysis) => {
      const found = hover(analysis, offset(textDocument.uri, position));
      return found === undefined
        ? null
        : {
            contents: { kind: MarkupKind.Markdown, value: found.markdown },
            range: rangeOf(documents.lines(textDocument.uri), found.start, found.end),
          };
    }),
  );

  connection.onDefinition(({ textDocument, position }) =>
    at(textDocument.uri, null, (analysis) => {
      const at = offset(textDocument.uri, position);
      const link = analysis.file.declarations.find(
        (placed) => placed.declaration.path !== undefined && inside(at, placeOf(placed, placed.declaration.path)),
      );
      const target =
        link?.declaration.path === undefined
          ? undefined
          : resolveUse(textDocument.uri, link.declaration.path.value, documents.roots());
      if (target !== undefined && documents.read(target) !== undefined)
        return [{ uri: target, range: rangeOf(documents.lines(target), 0, 0) }];
      return definitions(analysis, at).map((place) => locationOf(documents, place));
    }),
  );

  connection.onReferences(({ textDocument, position, context }) =>
    at(textDocument.uri, [], (analysis) => {
      const name = nameAt(analysis, offset(textDocument.uri, position));
      if (name === undefined) return [];
      return everyAnalysis()
        .flatMap((each) => placesOf(each, name))
        .filter((place) => context.includeDeclaration || !place.declares)
        .map((place) => locationOf(documents, place));
    }),
  );

  connection.onDocumentHighlight(({ textDocument, position }) =>
    at(textDocument.uri, [], (analysis) => {
      const name = nameAt(analysis, offset(textDocument.uri, position));
      return name === undefined
        ? []
        : placesOf(analysis, name).map((place) => ({
            range: rangeOf(documents.lines(textDocument.uri), place.start, place.end),
            kind: place.declares ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
          }));
    }),
  );

  connection.onPrepareRename(({ textDocument, position }) =>
    at(textDocument.uri, null, (analysis) => {
      const name = nameAt(analysis, offset(textDocument.uri, position));
      return name === undefined
        ? null
        : {
            range: rangeOf(documents.lines(textDocument.uri), name.place.start, name.place.end),
            placeholder: name.text,
          };
    }),
  );

  connection.onRenameRequest(({ textDocument, position, newName }) => {
    const analysis = documents.analysis(textDocument.uri);
    const name = analysis === undefined ? undefined : nameAt(analysis, offset(textDocument.uri, position));
    if (name === undefined) return null;
    const all = everyAnalysis();
    const objection = renameObjection(all, name, newName);
    if (objection !== undefined) throw new ResponseError(ErrorCodes.InvalidParams, objection);
    return guarded(
      textDocument.uri,
      () => ({
        changes: changesOf(
          documents,
          all.flatMap((each) => placesOf(each, name)).map((place) => ({ ...place, text: newName })),
        ),
      }),
      null,
    );
  });

  const symbol = (uri: string, item: OutlineItem): DocumentSymbol => ({
    name: item.name === '' ? item.word : item.name,
    detail: item.detail === '' ? item.word : item.detail,
    kind: SYMBOLS[item.word] ?? SymbolKind.Object,
    range: rangeOf(documents.lines(uri), Math.min(item.start, item.nameStart), Math.max(item.end, item.nameEnd)),
    selectionRange: rangeOf(documents.lines(uri), item.nameStart, item.nameEnd),
    children: item.children.map((child) => symbol(uri, child)),
  });
  connection.onDocumentSymbol(({ textDocument }) =>
    at<DocumentSymbol[]>(textDocument.uri, [], (analysis) =>
      outline(analysis).map((item) => symbol(textDocument.uri, item)),
    ),
  );
  connection.onWorkspaceSymbol(({ query }) =>
    guarded(
      'the folder',
      () =>
        everyAnalysis()
          .flatMap((analysis) =>
            outline(analysis)
              .flatMap((item) => [item, ...item.children])
              .filter((item) => item.name.toLowerCase().includes(query.toLowerCase()))
              .map((item) => ({
                name: item.name,
                kind: SYMBOLS[item.word] ?? SymbolKind.Object,
                location: {
                  uri: analysis.file.file,
                  range: rangeOf(documents.lines(analysis.file.file), item.nameStart, item.nameEnd),
                },
              })),
          )
          .slice(0, 500),
      [],
    ),
  );

  connection.onFoldingRanges(({ textDocument }) =>
    at(textDocument.uri, [], (analysis) =>
      folds(analysis).flatMap((fold) => {
        const { start, end } = rangeOf(documents.lines(textDocument.uri), fold.start, fold.end);
        return end.line <= start.line
          ? []
          : [{ startLine: start.line, endLine: end.line, ...(fold.comment ? { kind: FoldingRangeKind.Comment } : {}) }];
      }),
    ),
  );

  connection.onSelectionRanges(({ textDocument, positions }) =>
    at<SelectionRange[]>(textDocument.uri, [], (analysis) =>
      positions.map((position): SelectionRange => {
        const here = offset(textDocument.uri, position);
        const lines = documents.lines(textDocument.uri);
        const spans: { start: number; end: number }[] = [{ start: 0, end: analysis.file.text.length }];
        const placed = placedAt(analysis, here);
        if (placed !== undefined) {
          spans.push(placeOf(placed, placed.declaration));
          const statement = placed.declaration.body?.statements.find(
            (each) => toFile(placed.section, each.start) <= here && here <= toFile(placed.section, each.end),
          );
          if (statement !== undefined) spans.push(placeOf(placed, statement));
        }
        const name = nameAt(analysis, here);
        if (name !== undefined) spans.push(name.place);
        const nested = spans
          .filter((span) => span.start <= here && here <= span.end)
          .sort((a, b) => b.end - b.start - (a.end - a.start));
        return (
          nested.reduce<SelectionRange | undefined>(
            (parent, span) => ({
              range: rangeOf(lines, span.start, span.end),
              ...(parent === undefined ? {} : { parent }),
            }),
            undefined,
          ) ?? { range: { start: position, end: position } }
        );
      }),
    ),
  );

  connection.onCodeAction(({ textDocument, range, context }) =>
    at<CodeAction[]>(textDocument.uri, [], (analysis) =>
      actions(analysis, offset(textDocument.uri, range.start), offset(textDocument.uri, range.end))
        .filter(
          (action) =>
            context.only === undefined ||
            context.only.some((kind) =>
              (action.finding === undefined ? CodeActionKind.RefactorRewrite : CodeActionKind.QuickFix).startsWith(
                kind,
              ),
            ),
        )
        .map((action) => ({
          title: action.title,
          kind: action.finding === undefined ? CodeActionKind.RefactorRewrite : CodeActionKind.QuickFix,
          isPreferred: action.preferred,
          ...(action.finding === undefined ? {} : { diagnostics: [diagnosticOf(documents, action.finding)] }),
          edit: { changes: changesOf(documents, action.edits) },
        })),
    ),
  );

  const format = (uri: string): TextEdit[] =>
    guarded(uri, () => {
      const text = documents.read(uri);
      const formatted = text === undefined ? undefined : formatText(text);
      if (formatted?.kind === 'unchanged') connection.console.info(`${uri}: ${formatted.why}`);
      return text === undefined || formatted?.kind !== 'formatted'
        ? []
        : lineEdits(text, formatted.text, documents.lines(uri));
    }, []);
  connection.onDocumentFormatting(({ textDocument }) => format(textDocument.uri));
  connection.onDocumentRangeFormatting(({ textDocument }) => format(textDocument.uri));

  connection.onDocumentLinks(({ textDocument }) =>
    at(textDocument.uri, [], (analysis) =>
      analysis.file.declarations.flatMap((placed) => {
        const path = placed.declaration.path;
        const target = path === undefined ? undefined : resolveUse(textDocument.uri, path.value, documents.roots());
        return path === undefined || target === undefined || documents.read(target) === undefined
          ? []
          : [{ range: locationOf(documents, placeOf(placed, path)).range, target }];
      }),
    ),
  );

  connection.languages.inlayHint.on(async ({ textDocument, range }) => {
    const settings = await hintSettings(connection);
    if (!settings.otherUnits) return [];
    return at(textDocument.uri, [], (analysis) =>
      unitHints(analysis, offset(textDocument.uri, range.start), offset(textDocument.uri, range.end)).map((hint) => ({
        position: rangeOf(documents.lines(textDocument.uri), hint.offset, hint.offset).start,
        label: hint.text,
        kind: InlayHintKind.Type,
        paddingLeft: true,
      })),
    );
  });

  connection.onCodeLens(async ({ textDocument }) => {
    const settings = await hintSettings(connection);
    if (!settings.results) return [];
    return at(textDocument.uri, [], (analysis) =>
      headlines(analysis).map((hint) => ({
        range: rangeOf(documents.lines(textDocument.uri), hint.offset, hint.offset),
        command: { title: hint.text, command: '' },
      })),
    );
  });

  connection.languages.semanticTokens.on(({ textDocument }) => ({
    data: at<number[]>(textDocument.uri, [], (analysis) => {
      const lines = documents.lines(textDocument.uri);
      let line = 0;
      let character = 0;
      return semanticTokens(analysis).flatMap((token) => {
        const start = rangeOf(lines, token.start, token.start).start;
        const row = [
          start.line - line,
          start.line === line ? start.character - character : start.character,
          token.length,
          TOKEN_TYPES.indexOf(token.type),
          token.declares ? 1 : 0,
        ];
        line = start.line;
        character = start.character;
        return row;
      });
    }),
  }));

  connection.onRequest('fettle/explain', ({ code }: { readonly code: string }) => {
    const markdown = helpPage(code);
    return markdown === undefined ? null : { markdown };
  });
  connection.onRequest('fettle/newSpec', ({ name, layout }: { readonly name: string; readonly layout?: string }) => {
    const wanted = readLayout(layout ?? '4 inline');
    return wanted === undefined || !isSpecName(name) ? null : { text: firstSpec(name, wanted) };
  });
  connection.onRequest('fettle/sheet', ({ uri, variant }: { readonly uri: string; readonly variant?: string }) =>
    at(uri, null, (analysis) => {
      const view = analysis.views.find((each) => variant === undefined || each.variant === variant);
      return view === undefined
        ? null
        : {
            html: sheetPage(view, {
              file: analysis.file.file,
              errors: analysis.findings.filter((finding) => finding.severity === 'error').length,
            }),
            variants: analysis.variants,
          };
    }),
  );
}

function inside(offset: number, place: { readonly start: number; readonly end: number }): boolean {
  return place.start <= offset && offset <= place.end;
}

/** The settings on hints; an editor that can't be asked has the usual ones. */
async function hintSettings(
  connection: Connection,
): Promise<{ readonly otherUnits: boolean; readonly results: boolean }> {
  try {
    const hints = (await connection.workspace.getConfiguration('fettle.hints')) as {
      readonly otherUnits?: boolean;
      readonly results?: boolean;
    } | null;
    return { otherUnits: hints?.otherUnits === true, results: hints?.results !== false };
  } catch {
    return { otherUnits: false, results: true };
  }
}
