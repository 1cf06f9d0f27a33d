// Answers to Fettle's own questions: a help page, a first spec, what is left unsaid, the bench sheet. Their types are in messages.ts.
import type { Connection } from 'vscode-languageserver';
import { helpPage } from '../checks/catalog.ts';
import { firstSpec, isSpecName, readLayout } from '../features/first-spec.ts';
import { unsaidOf, unsaidText } from '../features/unsaid.ts';
import { tellingOf } from '../model/derived-origin.ts';
import { sheetPage } from '../sheet/page.tsx';
import { libraryText } from '../workspace/library.ts';
import type { ServerAnswers } from './messages.ts';
import type { Service } from './service.ts';

export function answerOwn(connection: Connection, { at, guarded }: Service): void {
  const answer = <question extends keyof ServerAnswers>(
    question: question,
    work: (params: ServerAnswers[question]['params']) => ServerAnswers[question]['result'],
  ): void => {
    const handle = (params: ServerAnswers[question]['params']): unknown => guarded(question, () => work(params), null);
    connection.onRequest(question, handle);
  };
  answer('fettle/explain', ({ code }) => {
    const markdown = helpPage(code);
    return markdown === undefined ? null : { markdown };
  });
  answer('fettle/library', ({ uri }) => {
    const text = libraryText(uri);
    return text === undefined ? null : { text };
  });
  answer('fettle/newSpec', ({ name, layout }) => {
    const wanted = readLayout(layout ?? '4 inline');
    return wanted === undefined || !isSpecName(name) ? null : { text: firstSpec(name, wanted) };
  });
  answer('fettle/unsaid', ({ uri }) => at(uri, null, (analysis) => ({ text: unsaidText(unsaidOf(analysis)) })));
  answer('fettle/sheet', ({ uri, variant }) =>
    at(uri, null, (analysis) => {
      const view = analysis.views.find((each) => variant === undefined || each.variant === variant);
      return view === undefined
        ? null
        : {
            html: sheetPage(view, {
              file: analysis.file.file,
              errors: analysis.findings.filter((finding) => finding.severity === 'error').length,
              tell: tellingOf(analysis),
            }),
            variants: analysis.variants,
          };
    }),
  );
}
