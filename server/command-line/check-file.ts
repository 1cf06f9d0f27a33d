// One file of `fettle check`: read, looked at, and what was found told as plain data, which a worker can hand over. How it is shown is
// in check-text.ts, check-json.ts and sarif.ts.
import { type PackedRows, rowsOf } from '../../grammar/languages.ts';
import { IN_ENGLISH, keyOf } from '../../grammar/told.ts';
import { lineStart } from '../../grammar/written.ts';
import { inWords, type SaidUnsaid, unsaidOf } from '../features/unsaid.ts';
import { evictFile } from '../model/file-cache.ts';
import type { Finding, Severity } from '../model/finding.ts';
import { once } from '../model/questions.ts';
import { type ArgumentJson, argumentsJson } from '../model/told-json.ts';
import type { Analysis } from '../workspace/api.ts';
import { contained, FAULT, fileFailed } from '../workspace/contained.ts';
import { addressOf, pathOf, readText } from '../workspace/disk.ts';
import { indexLines, type LineIndex, positionAt } from '../workspace/lines.ts';
import { findingsOfJob } from './one-job.ts';
import { analyseSpec, type Spec, shownAddress, specIn, type Wanted } from './specs.ts';

/** Line and column from 1, columns in UTF-16 units. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

export interface Stretch {
  /** As it is shown. */
  readonly file: string;
  readonly start: Place;
  readonly end: Place;
}

/** The line that a finding stands in, or the part round it. */
export interface SourceLine {
  readonly text: string;
  /** Where the finding begins in it, from 0, and how wide it is there. */
  readonly at: number;
  readonly width: number;
  readonly cutBefore: boolean;
  readonly cutBehind: boolean;
}

export interface ToldFinding extends Stretch {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  /** The English sentence with `{0}`, `{1}` for its arguments, and these, with figures as numbers. */
  readonly template: string;
  readonly args: readonly ArgumentJson[];
  readonly variants?: readonly string[];
  readonly source: SourceLine;
  readonly related: readonly (Stretch & { readonly message: string })[];
  readonly fixes: readonly {
    readonly title: string;
    readonly edits: readonly (Stretch & { readonly text: string })[];
  }[];
}

/** What came of one file. */
export interface ToldFile {
  readonly file: string;
  readonly findings: readonly ToldFinding[];
  readonly variants: readonly string[];
  readonly jobs: readonly string[];
  /** What it leaves unsaid, where that is asked for. */
  readonly unsaid?: readonly (Stretch & SaidUnsaid)[];
}

/** What came of one file, or why nothing did. */
export type Outcome = { readonly told: ToldFile } | { readonly unreadable: string } | { readonly failed: string };

/** What is asked of every file. */
export interface Asked {
  readonly variant?: string;
  readonly job?: string;
  readonly unsaid?: boolean;
  /** The words of the language that is asked for. */
  readonly words?: PackedRows;
  /** The folder that the command runs in. */
  readonly folder: string;
}

export function placeIn(index: LineIndex, offset: number): Place {
  const { line, character } = positionAt(index, offset);
  return { line: line + 1, column: character + 1 };
}

/** No source line is shown wider; of a longer one, the part round the finding. */
const WIDEST = 160;
const BEFORE = 60;

function sourceLine(text: string, index: LineIndex, finding: Finding): SourceLine {
  const { line, column } = placeIn(index, finding.start);
  const whole = text.slice(lineStart(index, line - 1), lineStart(index, line)).replace(/[\r\n]+$/, '');
  const from = whole.length <= WIDEST ? 0 : Math.max(0, Math.min(column - 1 - BEFORE, whole.length - WIDEST));
  const stretch = whole.slice(from, from + WIDEST);
  const at = column - 1 - from;
  return {
    text: stretch,
    at,
    width: Math.max(1, Math.min(finding.end - finding.start, stretch.length - at)),
    cutBefore: from > 0,
    cutBehind: from + WIDEST < whole.length,
  };
}

/** The lines of each file that a finding points into, made once. */
function indexesOf(analysis: Analysis, own: LineIndex): (address: string) => LineIndex {
  const made = new Map([[analysis.file.file, own]]);
  return (address) => {
    const known = made.get(address);
    if (known !== undefined) return known;
    const path = pathOf(address);
    const used = analysis.used.find((each) => each.file === address);
    const read = used ?? (path === undefined ? undefined : readText(path));
    const index = indexLines(read !== undefined && 'text' in read ? read.text : '');
    made.set(address, index);
    return index;
  };
}

function tell(spec: Spec, asked: Asked): ToldFile {
  const analysis = analyseSpec(spec);
  const wanted = (finding: Finding): boolean =>
    asked.variant === undefined || finding.variants === undefined || finding.variants.includes(asked.variant);
  const findings = asked.job === undefined ? analysis.findings : findingsOfJob(analysis, asked.job);
  const index = indexLines(spec.text);
  const rows = asked.words === undefined ? IN_ENGLISH : rowsOf(asked.words);
  const indexIn = indexesOf(analysis, index);
  const stretch = (place: { readonly file: string; readonly start: number; readonly end: number }): Stretch => ({
    file: place.file === analysis.file.file ? spec.shown : shownAddress(place.file, asked),
    start: placeIn(indexIn(place.file), place.start),
    end: placeIn(indexIn(place.file), place.end),
  });
  return {
    file: spec.shown,
    findings: findings.filter(wanted).map((finding) => ({
      ...{ code: finding.code, severity: finding.severity, message: finding.told.in(rows) },
      template: keyOf(finding.told.sentence),
      args: argumentsJson(finding.told),
      ...(finding.variants === undefined ? {} : { variants: finding.variants }),
      source: sourceLine(spec.text, index, finding),
      related: finding.related.map((each) => ({ message: each.told.in(rows), ...stretch(each) })),
      fixes: finding.fixes.map((fix) => ({
        title: fix.told.in(rows),
        edits: fix.edits.map((edit) => ({ text: edit.text, ...stretch(edit) })),
      })),
      ...stretch(finding),
    })),
    variants: analysis.variants,
    jobs: [...new Set(analysis.views.flatMap((view) => view.jobs.map((each) => each.name)))],
    ...(asked.unsaid === true
      ? {
          unsaid: unsaidOf(analysis).map((each) => ({ ...inWords(each, rows), ...stretch(each.place) })),
        }
      : {}),
  };
}

/** Checks one file. Whatever goes wrong with it is told, and no other file is touched by it. */
export function checkFile(wanted: Wanted, asked: Asked): Outcome {
  const spec = specIn(wanted, asked.folder);
  if ('unreadable' in spec)
    return { unreadable: spec.unreadable.in(asked.words === undefined ? IN_ENGLISH : rowsOf(asked.words)) };
  const outcome = contained<Outcome>(
    () => ({ told: once(() => tell(spec, asked)) }),
    (why) => ({
      failed: `${spec.shown}: ${fileFailed(why, false).in(asked.words === undefined ? IN_ENGLISH : rowsOf(asked.words))}`,
    }),
  );
  // Of a thousand files, what was read of the one before is asked for by no other.
  evictFile(addressOf(spec.path));
  return outcome;
}

/** What a check of files came to. */
export interface Checked {
  readonly files: readonly ToldFile[];
  readonly errors: number;
  readonly warnings: number;
  readonly information: number;
}

/** Whether Fettle itself failed anywhere in these files. */
export function hasFailed(files: readonly ToldFile[]): boolean {
  return files.some((file) => file.findings.some((finding) => finding.code === FAULT));
}
