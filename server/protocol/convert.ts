// From offsets and findings to what the Language Server Protocol calls them, and back.
import {
  type Diagnostic,
  DiagnosticSeverity,
  DiagnosticTag,
  type Location,
  type Range,
  type TextEdit,
} from 'vscode-languageserver';
import type { FilePlace, Finding, FixEdit } from '../model/finding.ts';
import type { Documents } from '../workspace/documents.ts';
import { type LineIndex, positionAt } from '../workspace/lines.ts';

export function rangeOf(lines: LineIndex, start: number, end: number): Range {
  return { start: positionAt(lines, start), end: positionAt(lines, end) };
}

export function locationOf(documents: Documents, place: FilePlace): Location {
  return { uri: place.file, range: rangeOf(documents.lines(place.file), place.start, place.end) };
}

const SEVERITY = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
} as const;

/** A finding as a diagnostic; the variants that it holds for stand at its end. */
export function diagnosticOf(documents: Documents, finding: Finding): Diagnostic {
  const lines = documents.lines(finding.file);
  const variants = finding.variants === undefined ? '' : ` (${finding.variants.join(', ')})`;
  return {
    range: rangeOf(lines, finding.start, finding.end),
    severity: SEVERITY[finding.severity],
    code: finding.code,
    source: 'fettle',
    message: finding.message + variants,
    ...(finding.related.length === 0
      ? {}
      : {
          relatedInformation: finding.related.map((each) => ({
            location: locationOf(documents, each),
            message: each.message,
          })),
        }),
    ...(finding.code === 'name/unused' ? { tags: [DiagnosticTag.Unnecessary] } : {}),
  };
}

/** Edits by file. */
export function changesOf(documents: Documents, edits: readonly FixEdit[]): Record<string, TextEdit[]> {
  const changes: Record<string, TextEdit[]> = {};
  for (const edit of edits) {
    const list = changes[edit.file] ?? [];
    list.push({ range: rangeOf(documents.lines(edit.file), edit.start, edit.end), newText: edit.text });
    changes[edit.file] = list;
  }
  return changes;
}

/** The few lines that differ between two texts, as one edit; none where they are alike. */
export function lineEdits(before: string, after: string, lines: LineIndex): TextEdit[] {
  if (before === after) return [];
  let start = 0;
  const most = Math.min(before.length, after.length);
  while (start < most && before.charCodeAt(start) === after.charCodeAt(start)) start += 1;
  let end = 0;
  while (end < most - start && before.charCodeAt(before.length - 1 - end) === after.charCodeAt(after.length - 1 - end))
    end += 1;
  return [{ range: rangeOf(lines, start, before.length - end), newText: after.slice(start, after.length - end) }];
}
