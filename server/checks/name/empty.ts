// A text in quotes with nothing in it: a source without a title, a signature without a name.
import { told } from '../../../grammar/told.ts';
import type { Span } from '../../../grammar/tree.ts';
import type { DeclarationCheck } from '../check.ts';
import page from './empty.md';

/** Two quotes with nothing but blanks between, behind a blank. Looked for in the text, since a text may stand in any statement. */
const EMPTY = /(?<=\s)["“„]\s*["”“](?=\s|$)/g;

/** Whether a place stands behind a comment's sign on its line, or in a text. */
function isInside(text: string, at: number): boolean {
  const line = text.slice(text.lastIndexOf('\n', at - 1) + 1, at);
  const quotes = line.match(/(?<!\\)["“„”]/g)?.length ?? 0;
  return quotes % 2 === 1 || line.includes('#');
}

export const empty: DeclarationCheck = {
  code: 'name/empty',
  severity: 'warning',
  scope: 'declaration',
  page,
  run(placed, _view, report) {
    const { text } = placed.section;
    const { start, end } = placed.declaration;
    if (!/["“„]\s*["”“]/.test(text)) return;
    for (const found of text.matchAll(EMPTY)) {
      const span: Span = { start: found.index, end: found.index + found[0].length };
      if (span.start < start || span.end > end || isInside(text, span.start)) continue;
      report(placed, span, told`Nothing stands between these quotes. Write what is meant, or take the statement out.`);
    }
  },
};
