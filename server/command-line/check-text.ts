// The findings of `fettle check` for people, and for editors that read a line `file:line:column: severity: message [code]`.
import { unsaidText } from '../features/unsaid.ts';
import type { Checked } from './check.ts';
import type { ToldFinding } from './check-file.ts';
import { type Colours, coloursFor, joined, lines, type Shown, type Streams, shown } from './output.ts';

function tint(colours: Colours, severity: string): Colours['red'] {
  return severity === 'error' ? colours.red : severity === 'warning' ? colours.yellow : colours.cyan;
}

/** The source line of a finding with carets under it. */
function sourceLines({ start, source }: ToldFinding, colour: Colours['red']): Shown {
  const [head, tail] = [source.cutBefore ? '…' : '', source.cutBehind ? '…' : ''];
  const blanks = (head === '' ? '' : ' ') + source.text.slice(0, source.at).replace(/[^\t]/g, ' ');
  const margin = ' '.repeat(String(start.line).length);
  return shown`  ${start.line} | ${head}${source.text}${tail}\n  ${margin} | ${blanks}${colour('^'.repeat(source.width))}\n`;
}

function findingText(finding: ToldFinding, colours: Colours): Shown {
  const { file, start, severity, message, code } = finding;
  const colour = tint(colours, severity);
  const variants = finding.variants === undefined ? '' : ` (${finding.variants.join(', ')})`;
  return joined([
    shown`${file}:${start.line}:${start.column}: ${colour(severity)}: ${message + variants} [${code}]\n`,
    sourceLines(finding, colour),
    ...finding.related.map(
      (each) => shown`  see ${each.file}:${each.start.line}:${each.start.column}, ${each.message}\n`,
    ),
    ...finding.fixes.map((fix) => shown`  way out: ${fix.title}\n`),
  ]);
}

function counted(many: number, one: string, more = `${one}s`): string {
  return `${many} ${many === 1 ? one : more}`;
}

function summary({ files, errors, warnings, information }: Checked): string {
  const checked = `${counted(files.length, 'file')} checked`;
  if (errors + warnings + information === 0) return `${checked}: nothing is wrong that Fettle can see.\n`;
  const pieces = counted(information, 'piece of information', 'pieces of information');
  return `${checked}: ${counted(errors, 'error')}, ${counted(warnings, 'warning')}, ${pieces}. fettle explain CODE says more.\n`;
}

/** Every finding with its line, its other places and its ways out, then what there was in all; what is left unsaid where it is asked for. */
export function checkText(checked: Checked, streams: Streams): Shown {
  const colours = coloursFor(streams);
  const findings = checked.files.flatMap((file) => file.findings.map((finding) => findingText(finding, colours)));
  const unsaid = checked.files.flatMap((file) =>
    file.unsaid === undefined ? [] : [shown`\n${file.file}: left unsaid\n\n${lines(unsaidText(file.unsaid))}`],
  );
  return shown`${joined(findings)}${lines(summary(checked))}${joined(unsaid)}`;
}
