// Helpers of the tests of specs that are built on others: a base, changes of it, and the same base with the changes made by hand.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { rehearsalText, tellRehearsal } from '../../server/features/rehearsal-text.ts';
import { valuesOf } from '../../server/model/values.ts';
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseText } from '../annotated.ts';

export const BASE = readFileSync(join(import.meta.dirname, '../grammar/language-1.fettle'), 'utf8');

/** The text of a spec built on Brindle Four. */
function derivedText(changes: string, besides = ''): string {
  return `use "brindle-four.fettle"\n\nspec quarry-four "Ours" extends brindle-four {\n${changes}\n}\n${besides}`;
}

export function analyseDerived(changes: string, besides = '', base = BASE): Analysis {
  return analyseText(derivedText(changes, besides), { 'brindle-four.fettle': base }, 'quarry.fettle');
}

/** All that is worked out, without where it stands. */
export function valuesIn(analysis: Analysis): unknown {
  return analysis.views.map((view) => ({
    variant: view.variant,
    rows: valuesOf(view).map(({ place: _place, ...row }) => row),
  }));
}

/** The rehearsal of each variant as it is told. */
export function rehearsalIn(analysis: Analysis): readonly string[] {
  return analysis.views.map((view) =>
    tellRehearsal(view, analysis.file.file, [], undefined)
      .map((job) => rehearsalText(job).text)
      .join('\n'),
  );
}

/** What is found, without places. */
export function saidIn(analysis: Analysis): readonly string[] {
  return analysis.findings
    .map(({ code, message }) => `${code} ${message.replace(/ It stands in [^ ]+, line \d+\.$/, '')}`)
    .sort();
}
