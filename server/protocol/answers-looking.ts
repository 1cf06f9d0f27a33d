// Answers that show something about a text: hover, outline, folds, colours, hints, links.

import {
  type CodeLens,
  type Command,
  type Connection,
  type DocumentLink,
  type DocumentSymbol,
  type FoldingRange,
  FoldingRangeKind,
  type InlayHint,
  InlayHintKind,
  MarkupKind,
  MessageType,
  type Position,
  type Range,
  SemanticTokensBuilder,
  ShowMessageNotification,
  SymbolKind,
} from 'vscode-languageserver';
import { lookUp } from '../../grammar/look-up.ts';
import { figuresTold, type Hint, headlines, unitHints } from '../features/hints.ts';
import { hover } from '../features/hover.ts';
import { folds, isMeant, type OutlineItem, outline } from '../features/outline.ts';
import { selectionAt } from '../features/selection.ts';
import { turnHints } from '../features/standing-text.ts';
import { TOKEN_TYPES, tokensBySection } from '../features/tokens.ts';
import type { Analysis } from '../model/analysis.ts';
import { placeOf } from '../model/placed.ts';
import { positionAt } from '../workspace/lines.ts';
import { resolveUse } from '../workspace/paths.ts';
import { benchLenses } from './bench-lenses.ts';
import { locationOf, rangeOf } from './convert.ts';
import { letFail, reportFault, type Service } from './service.ts';
import type { Settings } from './settings.ts';
import { inPieces } from './turns.ts';

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
  dimension: SymbolKind.Property,
  figure: SymbolKind.Property,
  mark: SymbolKind.Constant,
  size: SymbolKind.EnumMember,
  grade: SymbolKind.EnumMember,
  when: SymbolKind.Variable,
};

/** Tells the figures of a thing, for editors that have no command of their own for it. */
export const TELL_FIGURES = 'fettle.tellFigures';

/** The most names that a search of the folder gives. */
const MOST_FOUND = 500;

export function answerLooking(connection: Connection, service: Service, settings: Settings): void {
  const { documents, at, atRecorded, atPlace, offset, fromEvery, abilities } = service;

  connection.onHover((asked) =>
    atPlace(asked, null, (analysis, here) => {
      const { textDocument } = asked;
      const found = hover(analysis, here, abilities().isOurs, service.rows());
      return found === undefined
        ? null
        : {
            contents: { kind: MarkupKind.Markdown, value: found.markdown },
            range: rangeOf(documents.lines(textDocument.uri), found.start, found.end),
          };
    }),
  );

  const symbol = (uri: string, item: OutlineItem): DocumentSymbol => ({
    name: item.name === '' ? item.word : item.name,
    detail: item.detail === '' ? item.word : item.detail,
    kind: lookUp(SYMBOLS, item.word) ?? SymbolKind.Object,
    range: rangeOf(documents.lines(uri), Math.min(item.start, item.nameStart), Math.max(item.end, item.nameEnd)),
    selectionRange: rangeOf(documents.lines(uri), item.nameStart, item.nameEnd),
    children: item.children.map((child) => symbol(uri, child)),
  });
  connection.onDocumentSymbol(({ textDocument }) =>
    atRecorded<DocumentSymbol[]>(textDocument.uri, [], (analysis) =>
      outline(analysis).map((item) => symbol(textDocument.uri, item)),
    ),
  );
  connection.onWorkspaceSymbol(({ query }, token, progress) =>
    fromEvery({ what: 'the folder', token, progress }, [], (all) =>
      all
        .flatMap((analysis) =>
          outline(analysis)
            .flatMap((item) => [
              { item, within: undefined },
              ...item.children.map((each) => ({ item: each, within: item.name })),
            ])
            .filter(
              ({ item: { name, detail } }) =>
                isMeant(name, query) || detail.toLowerCase().includes(query.toLowerCase()),
            )
            .map(({ item, within }) => ({
              name: item.name,
              ...(within === undefined ? {} : { containerName: within }),
              kind: lookUp(SYMBOLS, item.word) ?? SymbolKind.Object,
              location: locationOf(documents, {
                file: analysis.file.file,
                start: item.nameStart,
                end: item.nameEnd,
              }),
            })),
        )
        .slice(0, MOST_FOUND),
    ),
  );

  connection.onFoldingRanges(({ textDocument }) =>
    atRecorded<FoldingRange[]>(textDocument.uri, [], (analysis) =>
      folds(analysis).flatMap((fold) => {
        const { start, end } = rangeOf(documents.lines(textDocument.uri), fold.start, fold.end);
        return end.line <= start.line
          ? []
          : [{ startLine: start.line, endLine: end.line, ...(fold.comment ? { kind: FoldingRangeKind.Comment } : {}) }];
      }),
    ),
  );

  connection.onSelectionRanges(({ textDocument, positions }) =>
    at(
      textDocument.uri,
      positions.map((position) => ({ range: { start: position, end: position } })),
      (analysis) => {
        const lines = documents.lines(textDocument.uri);
        return positions.map((position) => {
          const [inner, ...outer] = selectionAt(analysis, offset(textDocument.uri, position)).map(({ start, end }) =>
            rangeOf(lines, start, end),
          );
          return chain(inner ?? { start: position, end: position }, outer);
        });
      },
    ),
  );

  connection.onDocumentLinks(({ textDocument }) =>
    atRecorded<DocumentLink[]>(textDocument.uri, [], (analysis) =>
      analysis.file.declarations.flatMap((placed) => {
        const path = placed.declaration.path;
        const target = path === undefined ? undefined : resolveUse(analysis.file.file, path.value, documents.roots());
        return path === undefined || target === undefined || documents.read(target) === undefined
          ? []
          : [{ range: locationOf(documents, placeOf(placed, path)).range, target: documents.spelled(target) }];
      }),
    ),
  );

  connection.languages.inlayHint.on(async ({ textDocument, range }) => {
    const { otherUnits, marks } = await settings.hints();
    if (!otherUnits && !marks) return [];
    return atRecorded<InlayHint[]>(textDocument.uri, [], (analysis) => {
      const [start, end] = [offset(textDocument.uri, range.start), offset(textDocument.uri, range.end)];
      return [
        ...(otherUnits ? unitHints(analysis, start, end) : []),
        ...(marks ? turnHints(analysis, start, end) : []),
      ].map((hint) => ({
        position: positionAt(documents.lines(textDocument.uri), hint.offset),
        label: hint.text.in(service.rows()),
        kind: InlayHintKind.Type,
        ...(hint.why === undefined ? {} : { tooltip: hint.why.in(service.rows()) }),
        paddingLeft: true,
      }));
    });
  });

  /** What a lens does: Fettle's own client shows what is said there, and any other has it told. */
  const lensCommand = (uri: string, hint: Hint): Command => {
    const ours = abilities().isOurs;
    const place = positionAt(documents.lines(uri), ours ? (hint.nameAt ?? hint.offset) : hint.offset);
    return {
      title: hint.text.in(service.rows()),
      command: ours ? 'fettle.showFigures' : TELL_FIGURES,
      arguments: [uri, place],
    };
  };
  service.commands.set(TELL_FIGURES, async ([uri, place]) => {
    if (typeof uri !== 'string' || !isPosition(place)) return;
    const message = await at<string | undefined>(uri, undefined, (analysis) =>
      figuresTold(analysis, offset(uri, place))?.in(service.rows()),
    );
    if (message !== undefined)
      letFail(connection.sendNotification(ShowMessageNotification.type, { type: MessageType.Info, message }));
  });
  connection.onExecuteCommand(async ({ command, arguments: given }) => {
    await service.commands.get(command)?.(given ?? []);
    return null;
  });

  connection.onCodeLens(async ({ textDocument: { uri } }) => {
    const { results } = await settings.hints();
    // What can be pressed stands first: a line of figures may be longer than the window.
    return atRecorded<CodeLens[]>(uri, [], (analysis) => [
      ...benchLenses(service, uri, analysis),
      ...(results
        ? headlines(analysis).map((hint) => ({
            range: rangeOf(documents.lines(uri), hint.offset, hint.offset),
            command: lensCommand(uri, hint),
          }))
        : []),
    ]);
  });

  answerColours(connection, service);
}

function isPosition(place: unknown): place is Position {
  const { line, character } = (place ?? {}) as Partial<Position>;
  return typeof line === 'number' && typeof character === 'number';
}

/** The inner range with the outer ones round it. */
function chain(inner: Range, outer: readonly Range[]): { range: Range; parent?: ReturnType<typeof chain> } {
  const [next, ...rest] = outer;
  return next === undefined ? { range: inner } : { range: inner, parent: chain(next, rest) };
}

/** Colours by meaning: of the whole text, what changed since, or a stretch. */
function answerColours(connection: Connection, { documents, atRecorded, offset }: Service): void {
  const builders = new Map<string, SemanticTokensBuilder>();
  const fill = async (uri: string, builder: SemanticTokensBuilder, range?: Range): Promise<SemanticTokensBuilder> => {
    const analysis = await atRecorded<Analysis | undefined>(uri, undefined, (each) => each);
    if (analysis === undefined) return builder;
    const lines = documents.lines(uri);
    const from = range === undefined ? 0 : offset(uri, range.start);
    const to = range === undefined ? Number.POSITIVE_INFINITY : offset(uri, range.end);
    const work = (function* () {
      for (const tokens of tokensBySection(analysis, from, to)) {
        for (const token of tokens) {
          if (token.start + token.length < from || token.start > to) continue;
          const { line, character } = positionAt(lines, token.start);
          builder.push(line, character, token.length, TOKEN_TYPES.indexOf(token.type), token.declares ? 1 : 0);
        }
        yield;
      }
    })();
    // Of a text that is another meanwhile the editor asks again.
    try {
      await inPieces(work, () => documents.made(uri)?.file !== analysis.file);
    } catch (error) {
      reportFault(connection, uri, error);
    }
    return builder;
  };
  connection.languages.semanticTokens.on(async ({ textDocument: { uri } }) => {
    const builder = new SemanticTokensBuilder();
    builders.set(uri, builder);
    return (await fill(uri, builder)).build();
  });
  connection.languages.semanticTokens.onDelta(async ({ textDocument: { uri }, previousResultId }) => {
    const builder = builders.get(uri) ?? new SemanticTokensBuilder();
    builders.set(uri, builder);
    builder.previousResult(previousResultId);
    return (await fill(uri, builder)).buildEdits();
  });
  connection.languages.semanticTokens.onRange(async ({ textDocument: { uri }, range }) =>
    (await fill(uri, new SemanticTokensBuilder(), range)).build(),
  );
}
