// `fettle format`: the canonical layout, written whole or not at all.
import { renameSync, statSync, unlinkSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { formatText } from '../../grammar/printer.ts';
import { specsAt } from './specs.ts';
import { CannotDo, type Streams } from './streams.ts';

export interface FormatOptions {
  readonly check?: boolean;
  readonly stdin?: boolean;
}

/** Writes beside the file and renames, so that it is there whole or as it was. Throws CannotDo with what to do. */
export function writeWhole(path: string, text: string): void {
  const beside = join(dirname(path), `.${basename(path)}.${process.pid}.new`);
  try {
    let mode = 0o644;
    try {
      mode = statSync(path).mode;
    } catch {
      // A new file.
    }
    writeFileSync(beside, text, { mode });
    renameSync(beside, path);
  } catch (error) {
    try {
      unlinkSync(beside);
    } catch {
      // It was not written at all.
    }
    throw new CannotDo(
      `${path} can't be written (${(error as { code?: string }).code ?? 'unknown reason'}). Look at who may write there.`,
    );
  }
}

/** Runs `format`; gives the exit status. */
export async function format(paths: readonly string[], options: FormatOptions, streams: Streams): Promise<number> {
  if (options.stdin === true) {
    const text = await streams.stdin();
    const formatted = formatText(text);
    if (formatted.kind === 'unchanged') streams.err(`${formatted.why}\n`);
    const result = formatted.kind === 'formatted' ? formatted.text : text;
    if (options.check === true) return result === text ? 0 : 1;
    streams.out(result);
    return 0;
  }
  if (paths.length === 0) throw new CannotDo('Name the files or folders to format, or use --stdin.');
  let changed = 0;
  for (const spec of specsAt(paths, streams)) {
    const formatted = formatText(spec.text);
    if (formatted.kind === 'unchanged') {
      streams.err(`${spec.shown}: ${formatted.why}\n`);
      continue;
    }
    if (formatted.text === spec.text) continue;
    changed += 1;
    if (options.check === true) streams.out(`${spec.shown}\n`);
    else {
      writeWhole(spec.path, formatted.text);
      streams.err(`${spec.shown}: laid out anew\n`);
    }
  }
  return options.check === true && changed > 0 ? 1 : 0;
}
