// Reads expectations out of a spec's comments and holds them against what the checker finds. A line of carets in a comment
// stands under the faulty text, with the code behind it:   #    ^^^^^ unit/missing
// Each marked finding must be there; each error and warning must be marked. Information may go unmarked.
import type { Finding } from '../server/model/finding.ts';
import { analyse } from '../server/workspace/analyse.ts';
import type { Analysis, Host } from '../server/workspace/api.ts';

export interface Expected {
  readonly line: number;
  readonly column: number;
  readonly length: number;
  readonly code: string;
}

/** The expectations of a text. Lines and columns count from 1. */
export function expectations(text: string): readonly Expected[] {
  const expected: Expected[] = [];
  let line = 0;
  for (const [i, written] of text.split(/\r?\n/).entries()) {
    const marks = /^#(\s*)(\^+)\s+([a-z-]+\/[a-z-]+)/.exec(written);
    if (marks === null) {
      line = i + 1;
      continue;
    }
    expected.push({ line, column: 2 + (marks[1] ?? '').length, length: (marks[2] ?? '').length, code: marks[3] ?? '' });
  }
  return expected;
}

export function lineAndColumn(text: string, offset: number): { readonly line: number; readonly column: number } {
  const before = text.slice(0, offset);
  return { line: before.split('\n').length, column: offset - (before.lastIndexOf('\n') + 1) + 1 };
}

function shown(text: string, finding: Finding): string {
  const { line, column } = lineAndColumn(text, finding.start);
  const end =
    finding.end > text.indexOf('\n', finding.start) && text.indexOf('\n', finding.start) >= 0
      ? 'over the line end'
      : String(finding.end - finding.start);
  return `${line}:${column}+${end} ${finding.code} (${finding.severity}) ${finding.message}`;
}

/** A host of files in memory, all in one folder. */
export function memoryHost(files: Readonly<Record<string, string>>): Host {
  return {
    resolve: (_from, path) => (/(^|\/)\.\.(\/|$)|^[/\\]|:/.test(path) ? undefined : path),
    read: (file) => files[file],
  };
}

/** What does not agree between the marks in a text and its findings; empty when all do. */
export function disagreements(text: string, analysis: Analysis): readonly string[] {
  const left = [...analysis.findings];
  const wrong: string[] = [];
  for (const expected of expectations(text)) {
    const at = left.findIndex((finding) => {
      const { line, column } = lineAndColumn(text, finding.start);
      const lineEnd = text.indexOf('\n', finding.start);
      const overLine = lineEnd >= 0 && finding.end > lineEnd;
      return (
        finding.code === expected.code &&
        line === expected.line &&
        column === expected.column &&
        (overLine || finding.end - finding.start === expected.length)
      );
    });
    if (at < 0) wrong.push(`missing: ${expected.line}:${expected.column}+${expected.length} ${expected.code}`);
    else left.splice(at, 1);
  }
  for (const finding of left) if (finding.severity !== 'information') wrong.push(`not marked: ${shown(text, finding)}`);
  return wrong;
}

/** Analyses a text on its own, or with files beside it. */
export function analyseText(
  text: string,
  files: Readonly<Record<string, string>> = {},
  name = 'this-file.fettle',
): Analysis {
  return analyse(name, text, memoryHost({ ...files, [name]: text }));
}
