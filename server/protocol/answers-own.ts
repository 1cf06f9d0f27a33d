// Answers to Fettle's own questions: a help page, a first spec, what is left unsaid, the bench sheet. Their types are in messages.ts.

import type { Connection } from 'vscode-languageserver';
import { speaking } from '../../grammar/spoken.ts';
import { benchJob } from '../bench/make-job.ts';
import { benchPage } from '../bench/page.tsx';
import { programOf } from '../bench/program.ts';
import { helpPage, pageTold } from '../checks/catalog.ts';
import { firstSpec, isSpecName, readLayout } from '../features/first-spec.ts';
import { flattened } from '../features/flattened.ts';
import { inWords, unsaidOf, unsaidText } from '../features/unsaid.ts';
import type { Analysis } from '../model/analysis.ts';
import { namesIn } from '../model/statements.ts';
import { libraryText } from '../workspace/library.ts';
import { fileName } from '../workspace/paths.ts';
import { recordOf, sheetOf } from '../workspace/sheet-of.ts';
import { answering } from './own-answers.ts';
import type { Service } from './service.ts';

/** A file and what it uses, to be read again elsewhere; one that is built on another with its changes made. */
function textsOf(analysis: Analysis): readonly { readonly file: string; readonly text: string }[] {
  const flat = flattened(analysis);
  const left = flat === undefined ? undefined : new Set(flat.uses.values());
  const used = analysis.used.filter((each) => left === undefined || left.has(each.file));
  return [
    { file: fileName(analysis.file.file), text: flat?.text ?? analysis.file.text },
    ...used.map((each) => ({ file: fileName(each.file), text: each.text })),
  ];
}

export function answerOwn(connection: Connection, { at, guarded, rows, words }: Service): void {
  const answer = answering(connection, { guarded });
  answer('fettle/explain', ({ code }) => {
    const markdown = helpPage(code);
    return markdown === undefined ? null : { markdown: pageTold(markdown).in(rows()) };
  });
  answer('fettle/library', ({ uri }) => {
    const text = libraryText(uri);
    return text === undefined ? null : { text };
  });
  answer('fettle/newSpec', ({ name, layout }) => {
    const wanted = readLayout(layout ?? '4 inline');
    return wanted === undefined || !isSpecName(name) ? null : { text: firstSpec(name, wanted) };
  });
  answer('fettle/unsaid', ({ uri }) =>
    at(uri, null, (analysis) => ({
      text: unsaidText(unsaidOf(analysis).map((each) => inWords(each, rows()))).in(rows()),
    })),
  );
  answer('fettle/bench', ({ uri, variant, job, program }) =>
    at(uri, null, (analysis) => {
      const view = analysis.views.find((each) => variant === undefined || each.variant === variant);
      if (view === undefined) return null;
      const { file } = analysis.file;
      const made = speaking(rows(), () =>
        benchJob(view, {
          file,
          ...(job === undefined ? {} : { job }),
          use: fileName(file),
          errors: analysis.findings.filter((finding) => finding.severity === 'error').length,
          texts: textsOf(analysis),
        }),
      );
      if (made === undefined) return null;
      const page = (commandText: string, pageText: string): string =>
        speaking(rows(), () => benchPage(made, programOf(commandText, pageText), words()));
      return {
        spec: made.spec,
        variants: analysis.variants,
        jobs: view.jobs.filter((each) => each.placed.file === file).map((each) => each.name),
        job: JSON.stringify(made),
        ...(program === undefined ? {} : { html: page(program.command, program.page) }),
      };
    }),
  );
  answer('fettle/sheet', ({ uri, variant, job, forCustomer }) =>
    at(uri, null, (analysis) => {
      const record = recordOf(analysis);
      const asked = variant ?? namesIn(record?.declaration.body?.statements ?? [], 'variant')[0]?.text;
      const view = analysis.views.find((each) => asked === undefined || each.variant === asked);
      if (view === undefined) return null;
      const { html, jobs, isOfRecord } = sheetOf(analysis, view, {
        job,
        isForCustomer: forCustomer === true,
        rows: rows(),
      });
      return { html, jobs, isOfRecord, variants: isOfRecord ? [] : analysis.variants };
    }),
  );
}
