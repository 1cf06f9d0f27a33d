// The findings of `fettle check` for people, and for editors that read a line `file:line:column: severity: message [code]`.
import { type ListArgument, type Told, told } from '../../grammar/told.ts';
import { unsaidText } from '../features/unsaid.ts';
import type { Checked, ToldFinding } from './check-file.ts';
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
      (each) => shown`  ${told`see ${`${each.file}:${each.start.line}:${each.start.column}`}, ${each.message}`}\n`,
    ),
    ...finding.fixes.map((fix) => shown`  ${told`way out: ${fix.title}`}\n`),
  ]);
}

/** How many of each there are. */
function counts({ errors, warnings, information }: Checked): ListArgument {
  return told.list(
    [
      errors === 1 ? told`1 error` : told`${errors} errors`,
      warnings === 1 ? told`1 warning` : told`${warnings} warnings`,
      information === 1 ? told`1 piece of information` : told`${information} pieces of information`,
    ],
    ',',
  );
}

function summary(checked: Checked): Told {
  const { files, errors, warnings, information } = checked;
  const looked = files.length === 1 ? told`1 file checked` : told`${files.length} files checked`;
  return errors + warnings + information === 0
    ? told`${looked}: nothing is wrong that Fettle can see.`
    : told`${looked}: ${counts(checked)}. fettle explain CODE says more.`;
}

/** Every finding with its line, its other places and its ways out, then what there was in all; what is left unsaid where it is asked for. */
export function checkText(checked: Checked, streams: Streams): Shown {
  const colours = coloursFor(streams);
  const findings = checked.files.flatMap((file) => file.findings.map((finding) => findingText(finding, colours)));
  const unsaid = checked.files.flatMap((file) =>
    file.unsaid === undefined ? [] : [shown`\n${told`${file.file}: left unsaid`}\n\n${lines(unsaidText(file.unsaid))}`],
  );
  return shown`${joined(findings)}${summary(checked)}\n${joined(unsaid)}`;
}
