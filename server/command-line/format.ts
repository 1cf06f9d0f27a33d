// `fettle format`: the canonical layout, written whole or not at all. The layout itself is grammar/printer.ts.

import { formatText } from '../../grammar/printer.ts';
import { told } from '../../grammar/told.ts';
import { contained, fileFailed } from '../workspace/contained.ts';
import { shown } from './output.ts';
import { readSpec, specsAt } from './specs.ts';
import { CannotDo, remark, type Streams } from './streams.ts';
import { writeWhole } from './write.ts';

export interface FormatOptions {
  readonly check?: boolean;
  readonly stdin?: boolean;
  /** To standard output, the file left as it is. */
  readonly print?: boolean;
}

/** Runs `format`; gives the exit status: 2 where a file could not be read or laid out, though the others were. */
export async function format(paths: readonly string[], options: FormatOptions, streams: Streams): Promise<number> {
  if (options.stdin === true) {
    if (paths.length > 0) throw new CannotDo(told`Name files to format, or use --stdin, not both.`);
    return formatStdin(await streams.stdin(), options, streams);
  }
  if (paths.length === 0) throw new CannotDo(told`Name the files or folders to format, or use --stdin.`);
  if (options.print === true) return formatPrinted(paths, options, streams);
  const { specs, unreadable } = specsAt(paths, streams);
  const left = [...unreadable];
  let changed = 0;
  for (const spec of specs) {
    const formatted = contained<ReturnType<typeof formatText>>(
      () => formatText(spec.text),
      (why) => ({ kind: 'unchanged', why: fileFailed(why, false).text }),
    );
    if (formatted.kind === 'unchanged') {
      left.push(told`${spec.shown}: ${told.term(formatted.why)}`);
      continue;
    }
    if (formatted.text === spec.text) continue;
    changed += 1;
    if (options.check === true) streams.out(shown`${spec.shown}\n`);
    else {
      writeWhole(spec.path, formatted.text, spec.folder);
      streams.err(shown`${told`${spec.shown}: laid out anew`}\n`);
    }
  }
  for (const each of left) remark(streams, each);
  if (left.length > 0) return 2;
  return options.check === true && changed > 0 ? 1 : 0;
}

function formatStdin(text: string, options: FormatOptions, streams: Streams): number {
  const formatted = formatText(text);
  const result = formatted.kind === 'formatted' ? formatted.text : text;
  if (options.check !== true) streams.file(result);
  if (formatted.kind === 'unchanged') {
    remark(streams, told`${told.term(formatted.why)}`);
    return 2;
  }
  return options.check === true && result !== text ? 1 : 0;
}

/** One file, laid out, to standard output; one that can't be laid out as it stands, so that git can still compare it. */
function formatPrinted(paths: readonly string[], options: FormatOptions, streams: Streams): number {
  const [path, ...more] = paths;
  if (path === undefined || more.length > 0 || options.check === true)
    throw new CannotDo(told`Name one file with --print, and no --check.`);
  const spec = readSpec(path, streams);
  const formatted = formatText(spec.text);
  streams.file(formatted.kind === 'formatted' ? formatted.text : spec.text);
  if (formatted.kind === 'unchanged') remark(streams, told`${spec.shown}: ${formatted.why}`);
  return 0;
}
