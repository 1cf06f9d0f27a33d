// What the ways out are put together from: whole lines, the end of a step, a line cut short for a title.
import type { Told } from '../../grammar/told.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FixEdit } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { textOf } from '../model/text-of.ts';

/** Edits that may mend a finding. */
export interface PossibleWay {
  readonly told: Told;
  readonly edits: readonly FixEdit[];
}

/** A statement with the declaration that it stands in. */
export interface StatementAt {
  readonly placed: Placed;
  readonly statement: Statement;
}

/** A stretch with the line that it alone stands on. */
export function wholeLines(
  analysis: Analysis,
  start: number,
  end: number,
): { readonly start: number; readonly end: number } {
  const before = /[ \t]*$/.exec(textOf(analysis.file, Math.max(0, start - 80), start))?.[0].length ?? 0;
  const behind = /^[ \t]*\r?\n/.exec(textOf(analysis.file, end, end + 80))?.[0].length ?? 0;
  return behind === 0 ? { start, end } : { start: start - before, end: end + behind };
}

/** Behind the last line in the braces of a step. */
export function endOf(step: Placed): number | undefined {
  const { body } = step.declaration;
  const last = body?.statements[body.statements.length - 1];
  return last === undefined ? undefined : placeOf(step, last).end;
}

/** A text cut short for a title. */
export function asOneLine(text: string): string {
  const line = text.replace(/\s+/g, ' ');
  return line.length > 50 ? `${line.slice(0, 49)}…` : line;
}
