// The sheet of a file for one variant: of a spec one job of it, of a record the record's own. The same for the command and for the editor.

import { speaking } from '../../grammar/spoken.ts';
import { IN_ENGLISH, type Rows } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import { tellingOf } from '../model/derived-origin.ts';
import type { Placed } from '../model/placed.ts';
import { plansOf } from '../rehearsal/plan.ts';
import { sheetPage } from '../sheet/page.tsx';
import { recordPage } from '../sheet/record-page.tsx';

export interface AskedSheet {
  /** One job; without it, the first. */
  readonly job?: string | undefined;
  /** The sheet of a record, without the inner notes. */
  readonly isForCustomer?: boolean;
  /** The language that it is in. */
  readonly rows?: Rows;
}

export interface Sheet {
  readonly html: string;
  /** The jobs of the file, in the order in which they are written; each has a sheet of its own. */
  readonly jobs: readonly string[];
  /** The job that the sheet is of. */
  readonly job: string | undefined;
  readonly isOfRecord: boolean;
  /** How many contradictions the checker still finds. */
  readonly errors: number;
}

/** The record of a file that has one and says of what. */
export function recordOf(analysis: Analysis): Placed | undefined {
  return analysis.file.declarations.find(
    ({ declaration }) => declaration.word === 'record' && declaration.of !== undefined,
  );
}

/** The sheet of a file. */
export function sheetOf(
  analysis: Analysis,
  view: BuiltView,
  { job, isForCustomer = false, rows = IN_ENGLISH }: AskedSheet,
): Sheet {
  const { findings } = analysis;
  const { file } = analysis.file;
  const errors = findings.filter(
    ({ severity, variants }) =>
      severity === 'error' && (variants === undefined || view.variant === undefined || variants.includes(view.variant)),
  ).length;
  const record = job === undefined ? recordOf(analysis) : undefined;
  if (record !== undefined)
    return {
      html: speaking(rows, () => recordPage({ record, view, findings, isForCustomer })),
      ...{ jobs: [], job: undefined, isOfRecord: true, errors },
    };
  const jobs = plansOf(view, file).flatMap((plan) => (plan.job === undefined ? [] : [plan.job.name]));
  const asked = job ?? jobs[0];
  const html = speaking(rows, () =>
    sheetPage(view, { file, errors, tell: tellingOf(analysis), ...(asked === undefined ? {} : { job: asked }) }),
  );
  return { html, jobs, job: asked, isOfRecord: false, errors };
}
