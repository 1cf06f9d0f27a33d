// `fettle check`: the findings of files and folders. How one file is checked is in check-file.ts, how many are in check-workers.ts, how it is
// shown in check-text.ts, check-json.ts and sarif.ts.
import { type Told, told } from '../../grammar/told.ts';
import { type Checked, hasFailed, type ToldFile } from './check-file.ts';
import { checkJson } from './check-json.ts';
import { checkText } from './check-text.ts';
import { checkFiles, type StartWorker } from './check-workers.ts';
import { data, type Shown, shown } from './output.ts';
import { sarif } from './sarif.ts';
import { filesAt } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';

export interface CheckOptions {
  readonly variant?: string;
  readonly job?: string;
  readonly format?: string;
  readonly strict?: boolean;
  /** List what is left unsaid too. */
  readonly unsaid?: boolean;
}

type Shows = (checked: Checked, streams: Streams, version: string) => Shown;

const SHOW: ReadonlyMap<string, Shows> = new Map<string, Shows>([
  ['text', checkText],
  ['json', (checked) => data(checkJson(checked))],
  ['sarif', (checked, _streams, version) => data(sarif(checked, version))],
]);

/** Runs `check`; gives the exit status: 2 where a file could not be read, or Fettle itself failed, though all else was checked. */
export async function check(
  paths: readonly string[],
  options: CheckOptions,
  streams: Streams,
  start?: StartWorker,
  version = 'unknown',
): Promise<number> {
  const show = SHOW.get(options.format ?? 'text');
  if (show === undefined) throw new CannotDo(told`The format is text, json or sarif, not ${options.format ?? ''}.`);
  const { files: wanted, unreadable } = filesAt(paths, streams);
  const asked = {
    folder: streams.folder,
    ...(streams.words === undefined ? {} : { words: streams.words }),
    ...(options.variant === undefined ? {} : { variant: options.variant }),
    ...(options.job === undefined ? {} : { job: options.job }),
    ...(options.unsaid === undefined ? {} : { unsaid: options.unsaid }),
  };
  const isLong = wanted.length > 20;
  const outcomes = await checkFiles(wanted, asked, start, (done) => {
    if (isLong) streams.progress?.(shown`${told`${done} of ${wanted.length} files checked`}`);
  });
  if (isLong) streams.progress?.(undefined);
  const files = outcomes.flatMap((each) => ('told' in each ? [each.told] : []));
  const unread = [
    ...unreadable.map(streams.say),
    ...outcomes.flatMap((each) => ('unreadable' in each ? [each.unreadable] : [])),
  ];
  const failed = outcomes.flatMap((each) => ('failed' in each ? [each.failed] : []));
  for (const each of [...unread, ...failed]) remark(streams, each);
  if (files.length === 0) return 2;
  mustKnow(files, options);
  const count = (severity: string): number =>
    files.reduce((sum, file) => sum + file.findings.filter((finding) => finding.severity === severity).length, 0);
  const checked = { files, errors: count('error'), warnings: count('warning'), information: count('information') };
  streams.out(show(checked, streams, version));
  if (unread.length > 0 || failed.length > 0 || hasFailed(files)) return 2;
  return checked.errors > 0 || (options.strict === true && checked.warnings > 0) ? 1 : 0;
}

/** A variant or a job that no file has is a slip of the one who asks. */
function mustKnow(files: readonly ToldFile[], { variant, job }: CheckOptions): void {
  const all = (names: readonly string[]): Told =>
    names.length === 0 ? told`there are none` : told`there are ${names.join(', ')}`;
  const variants = [...new Set(files.flatMap((file) => file.variants))];
  if (variant !== undefined && !variants.includes(variant))
    throw new CannotDo(told`There is no variant ${variant} here: ${all(variants)}.`);
  const jobs = [...new Set(files.flatMap((file) => file.jobs))];
  if (job !== undefined && !jobs.includes(job)) throw new CannotDo(told`There is no job ${job} here: ${all(jobs)}.`);
}
