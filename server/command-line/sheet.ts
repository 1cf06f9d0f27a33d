// `fettle sheet`: the bench sheet of a job, or the sheet of a record, as one page. What is on it is server/sheet.

import { resolve } from 'node:path';
import { told } from '../../grammar/told.ts';
import { namesIn } from '../model/statements.ts';
import { recordOf, sheetOf } from '../workspace/sheet-of.ts';
import { shown } from './output.ts';
import { analyseSpec, mustKnowJob, readSpec, sameFile, shownPath, viewFor } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface SheetOptions {
  readonly variant?: string;
  /** Else the first. */
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
    throw new CannotDo(told`The sheet would overwrite a spec. Give an --output that ends in .html.`);
  const analysis = analyseSpec(spec);
  const record = recordOf(analysis);
  if (options.for !== undefined && options.for !== 'customer')
    throw new CannotDo(told`A sheet is for customer, not for ${options.for ?? ''}.`);
  if (options.for === 'customer' && record === undefined)
    throw new CannotDo(told`There is no record in this file. --for customer is for the sheet of a record.`);
  const own = namesIn(record?.declaration.body?.statements ?? [], 'variant')[0]?.text;
  const view = viewFor(analysis, options.variant ?? own, streams);
  mustKnowJob(view, options.job);
  const { rows } = streams;
  const made = sheetOf(analysis, view, { job: options.job, isForCustomer: options.for === 'customer', rows });
  if (options.job === undefined && made.jobs.length > 1)
    remark(streams, told`for ${made.job ?? ''}; --job gives another (${made.jobs.join(', ')}).`);
  writeWhole(target, made.html);
  if (made.errors > 0 && !made.isOfRecord)
    remark(
      streams,
      told`the sheet says so too: ${made.errors} of the findings are contradictions. Run: fettle check ${spec.shown}`,
    );
  streams.out(shown`${shownPath(target, streams.folder)}\n`);
  return 0;
}
