// Each job of a file in each variant as something that holds or does not: what the rehearsal finds in it alone, as the file's findings have
// it, so that what is silenced stays silent.
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace, Finding } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import type { Job, View } from '../model/view.ts';
import { rehearseJob } from '../rehearsal/rehearse.ts';
import { plansWithWork } from '../rehearsal/stand-now.ts';

export interface JobTest {
  /** Undefined for the sequences of a file without a job. */
  readonly job: string | undefined;
  readonly title: string | undefined;
  readonly variant: string | undefined;
  /** Where the job, or its first sequence, is declared. */
  readonly place: FilePlace;
  /** What is wrong in it, the errors first. */
  readonly found: readonly Finding[];
  readonly holds: boolean;
}

const keyOf = (code: string, place: { readonly start: number }): string => `${code} ${place.start}`;

/** The findings of a file that one job gives in one variant. */
function foundIn(analysis: Analysis, view: View, job: Job | undefined): readonly Finding[] {
  const { file } = analysis.file;
  const own = new Set(rehearseJob(view, job ?? file).map((each) => keyOf(each.code, placeOf(each.placed, each.span))));
  return analysis.findings.filter(
    (finding) =>
      (finding.variants === undefined || view.variant === undefined || finding.variants.includes(view.variant)) &&
      [finding, ...finding.related].some((place) => own.has(keyOf(finding.code, place))),
  );
}

/** Whether a job is for other variants than this one. */
function isOfOther(job: Job | undefined, { variant }: View): boolean {
  return job !== undefined && variant !== undefined && job.variants.length > 0 && !job.variants.includes(variant);
}

/** The jobs of a file, each in each variant that may differ; those that are declared elsewhere are tested there. */
export function jobTests(analysis: Analysis): readonly JobTest[] {
  const { file } = analysis.file;
  const weight = { error: 0, warning: 1, information: 2 } as const;
  return analysis.views.flatMap((view) =>
    plansWithWork(view, file).flatMap(({ job, sequences }): readonly JobTest[] => {
      const declared = job ?? sequences[0];
      if (declared === undefined || isOfOther(job, view)) return [];
      const { placed, declaration } = declared;
      const place = placeOf(placed, declaration.name ?? declaration.wordSpan);
      if (place.file !== file) return [];
      const found = [...foundIn(analysis, view, job)].sort((a, b) => weight[a.severity] - weight[b.severity]);
      const holds = found.every((each) => each.severity !== 'error');
      return [{ job: job?.name, title: job?.title, variant: view.variant, place, found, holds }];
    }),
  );
}

/** What keeps a file from being rehearsed at all: the first of what can't be read. */
export function unreadable(analysis: Analysis): Finding | undefined {
  return analysis.findings.find((each) => each.severity === 'error' && each.code.startsWith('syntax/'));
}
