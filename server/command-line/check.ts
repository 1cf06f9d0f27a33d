// `fettle check`: the findings of files and folders. How they are shown is in check-text.ts, check-json.ts and sarif.ts.
import type { Finding } from '../model/finding.ts';
import type { Analysis } from '../workspace/api.ts';
import { contained, FAULT, fileFailed } from '../workspace/contained.ts';
import { pathOf, readText } from '../workspace/disk.ts';
import { indexLines, type LineIndex, positionAt } from '../workspace/lines.ts';
import { checkJson } from './check-json.ts';
import { checkText } from './check-text.ts';
import { findingsOfJob } from './one-job.ts';
import { data, type Shown, shown } from './output.ts';
import { sarif } from './sarif.ts';
import { analyseSpec, type Spec, specsAt } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';

export interface CheckOptions {
  readonly variant?: string;
  readonly job?: string;
  readonly format?: string;
  readonly strict?: boolean;
}

export interface CheckedFile {
  readonly spec: Spec;
  readonly index: LineIndex;
  readonly analysis: Analysis;
  readonly findings: readonly Finding[];
}

export interface Checked {
  readonly files: readonly CheckedFile[];
  readonly errors: number;
  readonly warnings: number;
  readonly information: number;
}

type Shows = (checked: Checked, streams: Streams) => Shown;

const SHOW: ReadonlyMap<string, Shows> = new Map<string, Shows>([
  ['text', checkText],
  ['json', (checked, streams) => data(checkJson(checked, streams))],
  ['sarif', (checked, streams) => data(sarif(checked, streams))],
]);

/** Line and column from 1, columns in UTF-16 units. */
export function placeIn(index: LineIndex, offset: number): { readonly line: number; readonly column: number } {
  const { line, character } = positionAt(index, offset);
  return { line: line + 1, column: character + 1 };
}

/** Runs `check`; gives the exit status: 2 where a file could not be read, or Fettle itself failed, though all else was checked. */
export function check(paths: readonly string[], options: CheckOptions, streams: Streams): number {
  const show = SHOW.get(options.format ?? 'text');
  if (show === undefined) throw new CannotDo(`The format is text, json or sarif, not ${options.format}.`);
  const { specs, unreadable } = specsAt(paths, streams);
  const failed: string[] = [];
  const files = specs.flatMap((spec, i) => {
    progress(i, specs.length, streams);
    return contained<CheckedFile | readonly CheckedFile[]>(
      () => checkOne(spec, options),
      (why) => {
        failed.push(`${spec.shown}: ${fileFailed(why, false)}`);
        return [];
      },
    );
  });
  for (const each of [...unreadable, ...failed]) remark(streams, each);
  if (files.length === 0) return 2;
  mustKnow(files, options);
  const count = (severity: string): number =>
    files.reduce((sum, file) => sum + file.findings.filter((finding) => finding.severity === severity).length, 0);
  const checked = { files, errors: count('error'), warnings: count('warning'), information: count('information') };
  streams.out(show(checked, streams));
  if (unreadable.length > 0 || failed.length > 0 || hasFailed(files)) return 2;
  return checked.errors > 0 || (options.strict === true && checked.warnings > 0) ? 1 : 0;
}

/** Whether Fettle itself failed anywhere in these files. */
export function hasFailed(files: readonly CheckedFile[]): boolean {
  return files.some((file) => file.findings.some((finding) => finding.code === FAULT));
}

/** Says on a terminal how far it is, and takes that back at the end. */
function progress(done: number, of: number, streams: Streams): void {
  if (of <= 20) return;
  if (done % 10 === 0) streams.progress?.(shown`${done} of ${of} files checked`);
  if (done === of - 1) streams.progress?.(undefined);
}

function checkOne(spec: Spec, options: CheckOptions): CheckedFile {
  const analysis = analyseSpec(spec);
  const wanted = (finding: Finding): boolean =>
    options.variant === undefined || finding.variants === undefined || finding.variants.includes(options.variant);
  const findings = options.job === undefined ? analysis.findings : findingsOfJob(analysis, options.job);
  return { spec, index: indexLines(spec.text), analysis, findings: findings.filter(wanted) };
}

/** A variant or a job that no file has is a slip of the one who asks. */
function mustKnow(files: readonly CheckedFile[], { variant, job }: CheckOptions): void {
  const all = (names: readonly string[]): string =>
    names.length === 0 ? 'there are none' : `there are ${names.join(', ')}`;
  const variants = [...new Set(files.flatMap((file) => file.analysis.variants))];
  if (variant !== undefined && !variants.includes(variant))
    throw new CannotDo(`There is no variant ${variant} here: ${all(variants)}.`);
  const jobs = [
    ...new Set(files.flatMap((file) => file.analysis.views.flatMap((view) => view.jobs.map((each) => each.name)))),
  ];
  if (job !== undefined && !jobs.includes(job)) throw new CannotDo(`There is no job ${job} here: ${all(jobs)}.`);
}

/** The lines of the file that a related place stands in. */
export function indexFor(address: string, file: CheckedFile): LineIndex {
  if (address === file.analysis.file.file) return file.index;
  const used = file.analysis.used.find((each) => each.file === address);
  if (used !== undefined) return indexLines(used.text);
  const path = pathOf(address);
  const read = path === undefined ? undefined : readText(path);
  return indexLines(read !== undefined && 'text' in read ? read.text : '');
}
