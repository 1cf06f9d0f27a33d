// Answers that lay a spec out: all of it, a stretch, the declaration that a brace has closed.
import type { Connection, TextEdit } from 'vscode-languageserver';
import { type Layout, layoutClosed, layoutStretch, layoutWhole } from '../features/layout.ts';
import { textEditOf } from './convert.ts';
import type { Service } from './service.ts';

export function answerLayout(connection: Connection, { documents, at, atRead, offset }: Service): void {
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
