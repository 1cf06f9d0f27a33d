// `fettle sheet`: the bench sheet as one page. What is on it is server/sheet.
import { resolve } from 'node:path';
import { tellingOf } from '../model/derived-origin.ts';
import { namesIn } from '../model/statements.ts';
import { sheetPage } from '../sheet/page.tsx';
import { recordPage } from '../sheet/record-page.tsx';
import { shown } from './output.ts';
import { analyseSpec, mustKnowJob, readSpec, sameFile, shownPath, viewFor } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface SheetOptions {
  readonly variant?: string;
  /** One job alone; else all of the file. */
  readonly job?: string;
  /** `customer`: the sheet of a record without the inner notes. */
  readonly for?: string;
  readonly output: string;
}

/** Runs `sheet`. Without a variant, the first one is taken and said. */
export function sheet(path: string, options: SheetOptions, streams: Streams): number {
  const spec = readSpec(path, streams);
  const target = resolve(streams.folder, options.output);
  if (sameFile(target, spec.path) || target.endsWith('.fettle'))
    throw new CannotDo('The sheet would overwrite a spec. Give an --output that ends in .html.');
  const analysis = analyseSpec(spec);
  const record = analysis.file.declarations.find((placed) => placed.declaration.word === 'record');
  if (options.for !== undefined && options.for !== 'customer')
    throw new CannotDo(`A sheet is for customer, not for ${options.for}.`);
  if (options.for === 'customer' && record === undefined)
    throw new CannotDo('There is no record in this file. --for customer is for the sheet of a record.');
  const own = namesIn(record?.declaration.body?.statements ?? [], 'variant')[0]?.text;
  const view = viewFor(analysis, options.variant ?? own, streams);
  if (record !== undefined && record.declaration.of !== undefined && options.job === undefined) {
    const isForCustomer = options.for === 'customer';
    writeWhole(target, recordPage({ record, view, findings: analysis.findings, isForCustomer }));
    streams.out(shown`${shownPath(target, streams.folder)}\n`);
    return 0;
  }
  const errors = analysis.findings.filter(
    (finding) =>
      finding.severity === 'error' &&
      (finding.variants === undefined || view.variant === undefined || finding.variants.includes(view.variant)),
  ).length;
  mustKnowJob(view, options.job);
  writeWhole(
    target,
    sheetPage(view, {
      file: analysis.file.file,
      errors,
      tell: tellingOf(analysis),
      ...(options.job === undefined ? {} : { job: options.job }),
    }),
  );
  if (errors > 0)
    remark(
      streams,
      `the sheet says so too: ${errors} of the findings are contradictions. Run: fettle check ${spec.shown}`,
    );
  streams.out(shown`${shownPath(target, streams.folder)}\n`);
  return 0;
}
