// From offsets and findings to what the Language Server Protocol calls them. Addresses are spelled as the editor spells them.
import {
  type Diagnostic,
  DiagnosticSeverity,
  DiagnosticTag,
  type Location,
  type Range,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Rows } from '../../grammar/told.ts';
import type { FilePlace, Finding, FixEdit } from '../model/finding.ts';
import type { Documents } from '../workspace/documents.ts';
import { type LineIndex, positionAt } from '../workspace/lines.ts';
import type { FindingData } from './messages.ts';

export function rangeOf(lines: LineIndex, start: number, end: number): Range {
  return { start: positionAt(lines, start), end: positionAt(lines, end) };
}

export function locationOf(documents: Documents, place: FilePlace): Location {
  return { uri: documents.spelled(place.file), range: rangeOf(documents.lines(place.file), place.start, place.end) };
}

const SEVERITY = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
} as const;

/**
 * A finding as a diagnostic; the variants that it holds for stand at its end, its ways out go with it. `help`: the address of the page with
 * the help of every code, for an editor that opens links.
 */
export function diagnosticOf(documents: Documents, finding: Finding, rows: Rows, help?: string): Diagnostic {
  const variants = finding.variants === undefined ? '' : ` (${finding.variants.join(', ')})`;
  const data: FindingData = {
    fixes: finding.fixes.map((fix) => ({ title: fix.told.in(rows), changes: changesOf(documents, fix.edits) })),
  };
  return {
    range: rangeOf(documents.lines(finding.file), finding.start, finding.end),
    severity: SEVERITY[finding.severity],
    code: finding.code,
    ...(help === undefined ? {} : { codeDescription: { href: `${help}#${finding.code}` } }),
    source: 'fettle',
    message: finding.told.in(rows) + variants,
    ...(finding.related.length === 0
      ? {}
      : {
          relatedInformation: finding.related.map((each) => ({
            location: locationOf(documents, each),
            message: each.told.in(rows),
          })),
        }),
    ...(finding.code === 'name/unused' ? { tags: [DiagnosticTag.Unnecessary] } : {}),
    ...(data.fixes.length === 0 ? {} : { data }),
  };
}

export function textEditOf(lines: LineIndex, edit: Omit<FixEdit, 'file'>): TextEdit {
  return { range: rangeOf(lines, edit.start, edit.end), newText: edit.text };
}

/** Edits by file. */
function changesOf(documents: Documents, edits: readonly FixEdit[]): Record<string, TextEdit[]> {
  const changes = new Map<string, TextEdit[]>();
  for (const edit of edits) {
    const uri = documents.spelled(edit.file);
    const list = changes.get(uri) ?? [];
    list.push(textEditOf(documents.lines(edit.file), edit));
    changes.set(uri, list);
  }
  return Object.fromEntries(changes);
}

/** Edits for the editor to make; with the versions that they are for, where it heeds them. */
export function workspaceEdit(documents: Documents, edits: readonly FixEdit[], versioned: boolean): WorkspaceEdit {
  const changes = changesOf(documents, edits);
  if (!versioned) return { changes };
  return {
    documentChanges: Object.entries(changes).map(([uri, list]) => ({
      textDocument: { uri, version: documents.get(uri)?.version ?? null },
      edits: list,
    })),
  };
}
