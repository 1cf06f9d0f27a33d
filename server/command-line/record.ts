// `fettle record`: the records of a file beside their spec. What they come to is in features/record.ts.
import { told } from '../../grammar/told.ts';
import { recordsOf, type ToldRecord } from '../features/record.ts';
import { recordText } from '../features/record-text.ts';
import type { Analysis } from '../workspace/api.ts';
import { indexLines } from '../workspace/lines.ts';
import { placeIn } from './check-file.ts';
import { data, lines } from './output.ts';
import { analyseSpec, readSpec } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface RecordOptions {
  readonly format?: string;
}

/** Runs `record`; gives the exit status: 1 where a value is outside or anything in the file contradicts the spec. */
export function record(path: string, options: RecordOptions, streams: Streams): number {
  const format = options.format ?? 'text';
  if (format !== 'text' && format !== 'json')
    throw new CannotDo(told`The format is text or json, not ${format ?? ''}.`);
  const spec = readSpec(path, streams);
  const analysis = analyseSpec(spec);
  const records = recordsOf(analysis);
  if (records.length === 0)
    throw new CannotDo(told`There is no record in ${spec.shown}. Name the file in which the job was written down.`);
  if (format === 'json') streams.out(data({ records: records.map((each) => json(each, analysis, streams)) }));
  else
    streams.out(
      lines(`${records.map((each) => recordText(each, streams.say)).join('\n\n')}${rest(records, analysis, streams)}`),
    );
  return analysis.findings.some((finding) => finding.severity === 'error') ? 1 : 0;
}

/** What is found in the file outside its records: a spec that is not there, a line that can't be read. */
function rest(records: readonly ToldRecord[], analysis: Analysis, { say }: Streams): string {
  const ofRecords = new Set(records.flatMap((each) => each.findings));
  const index = indexLines(analysis.file.text);
  const lines = analysis.findings
    .filter((finding) => !ofRecords.has(finding) && finding.severity !== 'information')
    .map(
      (finding) =>
        `  ${say(told`line ${placeIn(index, finding.start).line}`)}: ${finding.severity}: ${say(finding.told)} [${finding.code}]\n`,
    );
  return lines.length === 0 ? '' : `\n${say(told`Found besides`)}\n${lines.join('')}`;
}

function json(record: ToldRecord, analysis: Analysis, { say }: Streams): object {
  const index = indexLines(analysis.file.text);
  return {
    ...record,
    unanswered: record.unanswered.map((each) => ({ ...each, text: say(each.text) })),
    findings: record.findings.map(({ code, severity, told: said, start, end }) => ({
      code,
      severity,
      message: say(said),
      start: placeIn(index, start),
      end: placeIn(index, end),
    })),
  };
}
