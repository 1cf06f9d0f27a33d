// `fettle check`: the findings of files and folders, as text, JSON or SARIF.
import type { Finding } from '../model/finding.ts';
import type { Analysis } from '../workspace/api.ts';
import { pathOf, readText } from '../workspace/disk.ts';
import { indexLines, type LineIndex, positionAt } from '../workspace/lines.ts';
import { sarif } from './sarif.ts';
import { analyseSpec, type Spec, shownAddress, specsAt } from './specs.ts';
import { CannotDo, type Colours, coloursFor, type Streams } from './streams.ts';

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

/** Line and column from 1, columns in UTF-16 units. */
export function placeIn(index: LineIndex, offset: number): { readonly line: number; readonly column: number } {
  const { line, character } = positionAt(index, offset);
  return { line: line + 1, column: character + 1 };
}

/** Runs `check`; gives the exit status. */
export function check(paths: readonly string[], options: CheckOptions, streams: Streams): number {
  const format = options.format ?? 'text';
  if (!['text', 'json', 'sarif'].includes(format))
    throw new CannotDo(`The format is text, json or sarif, not ${format}.`);
  const specs = specsAt(paths, streams);
  const checked: CheckedFile[] = [];
  for (const [i, spec] of specs.entries()) {
    if (streams.terminal && specs.length > 20 && i % 20 === 0) streams.err(`\rchecking ${i} of ${specs.length}`);
    checked.push(checkOne(spec, options));
  }
  if (streams.terminal && specs.length > 20) streams.err('\r\u001b[K');
  if (options.variant !== undefined && !checked.some((file) => file.analysis.variants.includes(options.variant ?? '')))
    throw new CannotDo(`There is no variant ${options.variant} in ${specs.map((spec) => spec.shown).join(', ')}.`);
  const jobs = new Set(
    checked.flatMap((file) => file.analysis.views.flatMap((view) => view.jobs.map((job) => job.name))),
  );
  if (options.job !== undefined && !jobs.has(options.job))
    throw new CannotDo(`There is no job ${options.job} in ${specs.map((spec) => spec.shown).join(', ')}.`);
  const all = checked.flatMap((file) => file.findings);
  const count = (severity: string): number => all.filter((finding) => finding.severity === severity).length;
  const [errors, warnings, information] = [count('error'), count('warning'), count('information')];
  if (format === 'json')
    streams.out(
      `${JSON.stringify({ files: checked.map((file) => jsonFile(file, streams)), errors, warnings, information }, null, 2)}\n`,
    );
  else if (format === 'sarif') streams.out(`${JSON.stringify(sarif(checked, streams), null, 2)}\n`);
  else printText(checked, { errors, warnings, information }, streams);
  return errors > 0 || (options.strict === true && warnings > 0) ? 1 : 0;
}

function checkOne(spec: Spec, options: CheckOptions): CheckedFile {
  const analysis = analyseSpec(spec);
  const wanted = (finding: Finding): boolean =>
    options.variant === undefined || finding.variants === undefined || finding.variants.includes(options.variant);
  return { spec, index: indexLines(spec.text), analysis, findings: analysis.findings.filter(wanted) };
}

function jsonFile(file: CheckedFile, streams: Streams): unknown {
  const at = (index: LineIndex, place: { readonly start: number; readonly end: number }): object => ({
    start: placeIn(index, place.start),
    end: placeIn(index, place.end),
  });
  return {
    file: file.spec.shown,
    findings: file.findings.map((finding) => ({
      code: finding.code,
      severity: finding.severity,
      message: finding.message,
      help: `fettle explain ${finding.code}`,
      ...at(file.index, finding),
      ...(finding.variants === undefined ? {} : { variants: finding.variants }),
      related: finding.related.map((each) => ({
        file: shownAddress(each.file, streams),
        ...at(indexFor(each.file, file), each),
        message: each.message,
      })),
      fixes: finding.fixes.map((fix) => fix.title),
    })),
  };
}

/** The lines of the file that a related place stands in. */
export function indexFor(address: string, file: CheckedFile): LineIndex {
  if (address === file.analysis.file.file) return file.index;
  const used = file.analysis.used.find((each) => each.file === address);
  const path = pathOf(address);
  const text = used?.text ?? (path === undefined ? undefined : textAt(path)) ?? '';
  return indexLines(text);
}

function textAt(path: string): string | undefined {
  const read = readText(path);
  return 'text' in read ? read.text : undefined;
}

function tint(colours: Colours, severity: string): (text: string) => string {
  return severity === 'error' ? colours.red : severity === 'warning' ? colours.yellow : colours.cyan;
}

/** The source line of a finding with carets under it. */
function sourceLines(text: string, index: LineIndex, finding: Finding, colour: (text: string) => string): string {
  const { line, column } = placeIn(index, finding.start);
  const start = index.starts[line - 1] ?? 0;
  const next = index.starts[line] ?? text.length + 1;
  const source = text.slice(start, next).replace(/[\r\n]+$/, '');
  const end = Math.min(finding.end, start + source.length);
  const before = source.slice(0, column - 1).replace(/[^\t]/g, ' ');
  const carets = '^'.repeat(Math.max(1, end - finding.start));
  const number = String(line);
  const shown = source.length > 200 ? `${source.slice(0, 200)}…` : source;
  return `  ${number} | ${printable(shown)}\n  ${' '.repeat(number.length)} | ${before.length > 200 ? '' : before}${colour(before.length > 200 ? '' : carets.slice(0, 200))}\n`;
}

/** Control characters would move the cursor of a terminal: they are shown as ?. */
function printable(text: string): string {
  return [...text].map((letter) => ((letter < ' ' && letter !== '\t') || letter === '\u007f' ? '?' : letter)).join('');
}

function printText(
  checked: readonly CheckedFile[],
  counts: { readonly errors: number; readonly warnings: number; readonly information: number },
  streams: Streams,
): void {
  const colours = coloursFor(streams);
  for (const file of checked) {
    for (const finding of file.findings) {
      const { line, column } = placeIn(file.index, finding.start);
      const colour = tint(colours, finding.severity);
      const variants = finding.variants === undefined ? '' : ` (${finding.variants.join(', ')})`;
      streams.out(
        `${file.spec.shown}:${line}:${column}: ${colour(finding.severity)}: ${finding.message}${variants} [${finding.code}]\n`,
      );
      streams.out(sourceLines(file.spec.text, file.index, finding, colour));
      for (const each of finding.related) {
        const there = placeIn(indexFor(each.file, file), each.start);
        streams.out(`  see ${shownAddress(each.file, streams)}:${there.line}:${there.column}, ${each.message}\n`);
      }
      for (const fix of finding.fixes) streams.out(`  way out: ${fix.title}\n`);
    }
  }
  const words = (many: number, one: string, more = `${one}s`): string => `${many} ${many === 1 ? one : more}`;
  const files = words(checked.length, 'file');
  const { errors, warnings, information } = counts;
  if (errors + warnings + information === 0) streams.out(`${files} checked: nothing is wrong that Fettle can see.\n`);
  else
    streams.out(
      `${files} checked: ${words(errors, 'error')}, ${words(warnings, 'warning')}, ${words(information, 'piece of information', 'pieces of information')}. fettle explain CODE says more.\n`,
    );
}
