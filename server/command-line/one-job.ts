// Of the findings of a file, those that one job gives: what the rehearsal of the other jobs alone finds is left out.
import { rehearsedChecks } from '../checks/sequence/rehearsed.ts';
import type { Finding } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';
import type { View } from '../model/view.ts';
import { rehearse } from '../rehearsal/rehearse.ts';
import type { Analysis } from '../workspace/api.ts';

const REHEARSED: ReadonlySet<string> = new Set(rehearsedChecks.map((check) => check.code));

/** Whether a finding is one of the rehearsal. */
export function isRehearsed(finding: Finding): boolean {
  return REHEARSED.has(finding.code);
}

const keyOf = (code: string, start: number): string => `${code} ${start}`;

/** A view in which one job alone is of this file, so that it alone is rehearsed; the others are there to begin after. */
function withJobAlone(view: View, name: string): View {
  return {
    ...view,
    jobs: view.jobs.map((job) => (job.name === name ? job : { ...job, placed: { ...job.placed, file: '' } })),
  };
}

/** The findings of a file with this job alone; all of them where the file does not have the job. */
export function findingsOfJob(analysis: Analysis, name: string): readonly Finding[] {
  const file = analysis.file.file;
  const has = (view: View): boolean => view.jobs.some((job) => job.name === name && job.placed.file === file);
  if (!analysis.views.some(has)) return analysis.findings;
  const own = new Set(
    analysis.views
      .filter(has)
      .flatMap((view) => rehearse(withJobAlone(view, name), file))
      .map((found) => keyOf(found.code, placeOf(found.placed, found.span).start)),
  );
  // What comes of a change points at the place in the base where it is found.
  return analysis.findings.filter(
    (finding) =>
      !isRehearsed(finding) || [finding, ...finding.related].some((place) => own.has(keyOf(finding.code, place.start))),
  );
}
