// `fettle sheet`: the bench sheet as one page. What is on it is server/sheet.
import { resolve } from 'node:path';
import { tellingOf } from '../model/derived-origin.ts';
import { sheetPage } from '../sheet/page.tsx';
import { shown } from './output.ts';
import { analyseSpec, mustKnowJob, readSpec, sameFile, shownPath, viewFor } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface SheetOptions {
  readonly variant?: string;
  /** One job alone; else all of the file. */
  readonly job?: string;
  readonly output: string;
}

/** Runs `sheet`. Without a variant, the first one is taken and said. */
export function sheet(path: string, options: SheetOptions, streams: Streams): number {
  const spec = readSpec(path, streams);
  const target = resolve(streams.folder, options.output);
  if (sameFile(target, spec.path) || target.endsWith('.fettle'))
    throw new CannotDo('The sheet would overwrite a spec. Give an --output that ends in .html.');
  const analysis = analyseSpec(spec);
  const view = viewFor(analysis, options.variant, streams);
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
