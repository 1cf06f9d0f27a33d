// A review as markdown, fit for a comment on a proposed change. Whatever a spec says is shown as text: nothing in it can be markup.
import { WEIGHTS } from './change.ts';
import {
  CAUTION,
  countsText,
  filesText,
  HEADINGS,
  type PlacedChange,
  placeText,
  type ReviewedFiles,
} from './placed-change.ts';

/**
 * A text in which nothing is markup, a link, a mention, a number of a discussion or a tag: each sign that could be is written as a
 * character reference; on one line, without control and text-direction characters. It may stand anywhere but at the start of a line.
 */
export function plainMarkdown(text: string): string {
  const reference = (sign: string): string => `&#${sign.codePointAt(0) ?? 32};`;
  return text
    .replace(/[\p{Cc}\p{Cf}\u2028\u2029]+/gu, ' ')
    .replace(/[^\p{L}\p{M}\p{N} ,;:.°µ×…–'"?%=()/-]/gu, reference)
    .replace(/:(?=\S)|\/(?=\/)|(?<=www)\.|(?<=gh)-|(?<=^\d+)\./gi, reference);
}

function changeLine(change: PlacedChange, files: ReviewedFiles): string {
  const variants = change.variants === undefined ? '' : ` (${change.variants.join(', ')})`;
  const place = placeText(change, files);
  const at = place === '' ? '' : ` *${plainMarkdown(place)}*`;
  return `- **${change.kind}** ${plainMarkdown(change.message + variants)}${at}\n`;
}

/** All pairs of files, the weightiest changes first in each. */
export function reviewMarkdown(reviewed: readonly ReviewedFiles[]): string {
  const all = reviewed.flatMap((files) => files.changes);
  const parts = reviewed
    .filter((files) => files.changes.length > 0)
    .map((files) => {
      const groups = WEIGHTS.flatMap((weight) => {
        const changes = files.changes.filter((each) => each.weight === weight);
        if (changes.length === 0) return [];
        return [`#### ${HEADINGS[weight]}\n\n${changes.map((each) => changeLine(each, files)).join('')}`];
      });
      return `### ${plainMarkdown(filesText(files))}\n\n${groups.join('\n')}`;
    });
  return [`## Review of the build spec\n\n${countsText(all)}\n`, ...parts, `${CAUTION}\n`].join('\n');
}
