// The findings of `fettle check` for people, and for editors that read a line `file:line:column: severity: message [code]`.
import { lineStart } from '../../grammar/written.ts';
import type { Finding } from '../model/finding.ts';
import { type Checked, type CheckedFile, indexFor, placeIn } from './check.ts';
import { type Colours, coloursFor, joined, lines, type Shown, type Streams, shown } from './output.ts';
import { shownAddress } from './specs.ts';

/** No source line is shown wider; of a longer one, the part round the finding. */
const WIDEST = 160;
const BEFORE = 60;

function tint(colours: Colours, severity: string): Colours['red'] {
  return severity === 'error' ? colours.red : severity === 'warning' ? colours.yellow : colours.cyan;
}

/** The source line of a finding with carets under it. */
function sourceLines(file: CheckedFile, finding: Finding, colour: Colours['red']): Shown {
  const { line, column } = placeIn(file.index, finding.start);
  const start = lineStart(file.index, line - 1);
  const next = lineStart(file.index, line);
  const whole = file.spec.text.slice(start, next).replace(/[\r\n]+$/, '');
  const from = whole.length <= WIDEST ? 0 : Math.max(0, Math.min(column - 1 - BEFORE, whole.length - WIDEST));
  const [head, tail] = [from > 0 ? '…' : '', from + WIDEST < whole.length ? '…' : ''];
  const stretch = whole.slice(from, from + WIDEST);
  const at = column - 1 - from;
  const width = Math.max(1, Math.min(finding.end - finding.start, stretch.length - at));
  const blanks = (head === '' ? '' : ' ') + stretch.slice(0, at).replace(/[^\t]/g, ' ');
  const number = String(line);
  const margin = ' '.repeat(number.length);
  return shown`  ${number} | ${head}${stretch}${tail}\n  ${margin} | ${blanks}${colour('^'.repeat(width))}\n`;
}

function findingText(finding: Finding, file: CheckedFile, colours: Colours, streams: Streams): Shown {
  const { line, column } = placeIn(file.index, finding.start);
  const colour = tint(colours, finding.severity);
  const variants = finding.variants === undefined ? '' : ` (${finding.variants.join(', ')})`;
  const related = finding.related.map((each) => {
    const there = placeIn(indexFor(each.file, file), each.start);
    return shown`  see ${shownAddress(each.file, streams)}:${there.line}:${there.column}, ${each.message}\n`;
  });
  return joined([
    shown`${file.spec.shown}:${line}:${column}: ${colour(finding.severity)}: ${finding.message + variants} [${finding.code}]\n`,
    sourceLines(file, finding, colour),
    ...related,
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

/** Every finding with its line, its other places and its ways out, then what there was in all. */
export function checkText(checked: Checked, streams: Streams): Shown {
  const colours = coloursFor(streams);
  const findings = checked.files.flatMap((file) =>
    file.findings.map((finding) => findingText(finding, file, colours, streams)),
  );
  return shown`${joined(findings)}${lines(summary(checked))}`;
}
