// The jobs of a spec as tests: which there are, and which hold.
import type { Connection } from 'vscode-languageserver';
import { jobTests, unreadable } from '../features/job-tests.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding } from '../model/finding.ts';
import { locationOf } from './convert.ts';
import type { JobTold, ServerAnswers } from './messages.ts';
import type { Service } from './service.ts';
import { inPieces } from './turns.ts';

export function answerJobs(connection: Connection, { documents, at }: Service): void {
  const told = (finding: Finding): JobTold['found'][number] => ({
    ...locationOf(documents, finding),
    message: finding.message,
    code: finding.code,
    severity: finding.severity,
  });
  const answer = async ({
    uri,
  }: ServerAnswers['fettle/jobs']['params']): Promise<ServerAnswers['fettle/jobs']['result']> => {
    for (;;) {
      const analysis = await at<Analysis | undefined>(uri, undefined, (each) => each);
      if (analysis === undefined) return null;
      // An edit meanwhile begins anew.
      if (await inPieces(analysis.check(), () => documents.made(uri) !== analysis)) break;
    }
    return at<ServerAnswers['fettle/jobs']['result']>(uri, null, (analysis) => {
      const fault = unreadable(analysis);
      return {
        ...(fault === undefined ? {} : { fault: told(fault) }),
        jobs: jobTests(analysis).map((each) => ({
          job: each.job ?? null,
          title: each.title ?? null,
          variant: each.variant ?? null,
          range: locationOf(documents, each.place).range,
          holds: each.holds,
          found: each.found.map(told),
        })),
      };
    });
  };
  connection.onRequest('fettle/jobs', answer);
}
