// The language page's whole example, and what is worked out from it or from a changed copy. No test lives here.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type ValueRow, valuesOf } from '../../server/model/values.ts';
import { analyseText } from '../annotated.ts';

export const BRINDLE_FOUR = readFileSync(join(import.meta.dirname, 'brindle-four.fettle'), 'utf8');

/** The example with some of its text changed; throws where a text to be changed is not there, so that no test passes by a slip. */
export function changed(...changes: readonly (readonly [from: string, to: string])[]): string {
  return changes.reduce((text, [from, to]) => {
    if (!text.includes(from)) throw new Error(`not in the example: ${from}`);
    return text.replace(from, to);
  }, BRINDLE_FOUR);
}

/** The values of a text by name, for its first variant. */
export function rowsOf(text: string): ReadonlyMap<string, ValueRow> {
  const view = analyseText(text).views[0];
  return new Map((view === undefined ? [] : valuesOf(view)).map((row) => [row.name, row]));
}

/** The codes of all errors and warnings of a text, sorted. */
export function wrongIn(text: string): readonly string[] {
  return analyseText(text)
    .findings.filter((finding) => finding.severity !== 'information')
    .map((finding) => finding.code)
    .sort();
}
