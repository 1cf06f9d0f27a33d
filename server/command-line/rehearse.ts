// `fettle rehearse`: the job step by step, and what each action does to the state of the engine. The rehearsal itself is server/rehearsal.
import { keyOf, type Told, told } from '../../grammar/told.ts';
import { rehearsalText, type ToldJob, tellRehearsal } from '../features/rehearsal-text.ts';
import type { Finding } from '../model/finding.ts';
import { argumentsJson } from '../model/told-json.ts';
import type { Analysis } from '../workspace/api.ts';
import { indexLines } from '../workspace/lines.ts';
import { placeIn } from './check-file.ts';
import { findingsOfJob, isRehearsed } from './one-job.ts';
import { data, lines } from './output.ts';
import { analyseSpec, mustKnowJob, readSpec, shownAddress, viewFor } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface RehearseOptions {
  readonly variant?: string;
  readonly job?: string;
  readonly format?: string;
}

interface Answer {
  readonly jobs: readonly ToldJob[];
  /** What is found of the jobs and stands at no action: what is left undone. */
  readonly left: readonly Finding[];
}

/** Runs `rehearse`; gives the exit status: 1 where a step of the job contradicts another or something is left undone. */
export function rehearse(path: string, options: RehearseOptions, streams: Streams): number {
  const format = options.format ?? 'text';
  if (format !== 'text' && format !== 'json')
    throw new CannotDo(told`The format is text or json, not ${format ?? ''}.`);
  const analysis = analyseSpec(readSpec(path, streams));
  const view = viewFor(analysis, options.variant, streams);
  mustKnowJob(view, options.job);
  const all = options.job === undefined ? analysis.findings : findingsOfJob(analysis, options.job);
  const findings = all.filter(
    (finding) =>
      finding.variants === undefined || view.variant === undefined || finding.variants.includes(view.variant),
  );
  const jobs = tellRehearsal(view, analysis.file.file, findings, options.job);
  if (jobs.length === 0)
    throw new CannotDo(told`There is no sequence in this file to rehearse. Write one, or name a file that has one.`);
  const toldOfJobs = new Set(
    jobs.flatMap((job) => job.steps.flatMap((step) => step.actions.flatMap((action) => action.findings))),
  );
  const left = findings.filter((finding) => isRehearsed(finding) && !toldOfJobs.has(finding));
  const answer = { jobs, left };
  streams.out(format === 'json' ? data(json(answer, analysis, streams)) : lines(text(answer, analysis, streams)));
  return [...toldOfJobs, ...left].some((finding) => finding.severity === 'error') ? 1 : 0;
}

function text({ jobs, left }: Answer, analysis: Analysis, { say }: Streams): Told {
  const index = indexLines(analysis.file.text);
  const lines = left.map(
    (finding) =>
      `  ${say(told`line ${placeIn(index, finding.start).line}`)}: ${finding.severity}: ${say(finding.told)} [${finding.code}]\n`,
  );
  const rest = lines.length === 0 ? '' : `\n${say(told`Found besides`)}\n${lines.join('')}`;
  return told.row([...jobs.flatMap((job, i) => (i === 0 ? [rehearsalText(job)] : ['\n', rehearsalText(job)])), rest]);
}

function json({ jobs, left }: Answer, analysis: Analysis, streams: Streams): object {
  const indexes = new Map([analysis.file, ...analysis.used].map((read) => [read.file, indexLines(read.text)]));
  const at = (file: string, offset: number): object => placeIn(indexes.get(file) ?? indexLines(''), offset);
  const found = (finding: Finding): object => ({
    code: finding.code,
    severity: finding.severity,
    message: streams.say(finding.told),
    template: keyOf(finding.told.sentence),
    args: argumentsJson(finding.told),
    start: at(finding.file, finding.start),
    end: at(finding.file, finding.end),
  });
  return {
    jobs: jobs.map(({ job, title, begins, steps }) => ({
      ...(job === undefined ? {} : { job }),
      ...(title === undefined ? {} : { title }),
      begins,
      steps: steps.map((step) => ({
        sequence: step.sequence,
        step: step.step,
        ...(step.title === undefined ? {} : { title: step.title }),
        times: step.times,
        tools: step.tools,
        cautions: step.cautions,
        notes: step.notes,
        holdPoints: step.holdPoints,
        actions: step.actions.map((action) => ({
          text: action.text,
          file: shownAddress(action.file, streams),
          start: at(action.file, action.start),
          end: at(action.file, action.end),
          changes: action.changes.map(streams.say),
          findings: action.findings.map(found),
        })),
        stands: {
          ...step.stands,
          covered: step.stands.covered.map(streams.say),
          turning: step.stands.turning.map(streams.say),
        },
      })),
    })),
    left: left.map(found),
  };
}
