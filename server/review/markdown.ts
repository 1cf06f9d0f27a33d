// A review as markdown, fit for a comment on a proposed change. Whatever a spec says is shown as text: nothing in it can be markup.
import { told } from '../../grammar/told.ts';
import { IN_PLAIN_ENGLISH, messageIn, type Say, WEIGHTS } from './change.ts';
import {
  CAUTION,
  countsText,
  filesText,
  HEADINGS,
  KINDS,
  type PlacedChange,
  placeText,
  type ReviewedFiles,
  sidesText,
  TITLE,
} from './placed-change.ts';

/** A blank without width: what stands behind it no service takes for a name, and it is not seen. */
const APART = '\u200b';

/**
 * A text in which nothing is markup, a link, a mention, a number of a discussion or a tag: each sign of markup is written as a character
 * reference, and behind a sign that calls somebody or something stands a blank without width, since services may look for those after
 * they have put the signs back. On one line, without control and text-direction characters. It may stand anywhere but at the start of a line.
 */
export function plainMarkdown(text: string): string {
  const reference = (sign: string): string => `&#${sign.codePointAt(0) ?? 32};`;
  return text
    .replace(/[\p{Cc}\p{Cf}\u2028\u2029]+/gu, ' ')
    .replace(/[@#!$%~^&+](?=[\p{L}\p{N}"'_{[])|(?<=\bgh)-(?=\d)/giu, (sign) => `${sign}${APART}`)
    .replace(/[^\p{L}\p{M}\p{N} \u200b@,;:.°µ×…–'"?%=()/-]/gu, reference)
    .replace(/:(?=\S)|\/(?=\/)|(?<=www)\.|(?<=^\d+)\./gi, reference)
    .replace(/@(?!\u200b)/g, reference);
}

/** A change: what it is, the old and the new text below it, and where it stands; the same words as on the page. */
function changeLine(change: PlacedChange, files: ReviewedFiles, say: Say): string {
  const variants = change.variants === undefined ? '' : ` (${change.variants.join(', ')})`;
  const sides = sidesText(change).map(({ label, text }) => `  - ${say(label)}: ${plainMarkdown(text)}\n`);
  const place = placeText(change, files);
  const at = place === undefined ? '' : ` *${plainMarkdown(say(place))}*`;
  return `- **${say(KINDS[change.kind])}** ${plainMarkdown(messageIn(change, say) + variants)}${at}\n${sides.join('')}`;
}

/** A comment longer than this is taken by few services. In characters. */
const LONGEST = 50_000;

/** All pairs of files, the weightiest changes first in each; what would make it too long for a comment is counted, not shown. */
export function reviewMarkdown(reviewed: readonly ReviewedFiles[], say: Say = IN_PLAIN_ENGLISH): string {
  let [length, left] = [0, 0];
  const shown = (line: string): string => {
    length += line.length;
    if (length <= LONGEST) return line;
    left += 1;
    return '';
  };
  const parts = reviewed
    .filter((files) => files.changes.length > 0)
    .map((files) => {
      const groups = WEIGHTS.flatMap((weight) => {
        const changes = files.changes.filter((each) => each.weight === weight);
        const lines = changes.map((each) => shown(changeLine(each, files, say))).join('');
        return lines === '' ? [] : [`#### ${say(HEADINGS[weight])}\n\n${lines}`];
      });
      return groups.length === 0 ? '' : `### ${plainMarkdown(say(filesText(files)))}\n\n${groups.join('\n')}`;
    })
    .filter((part) => part !== '');
  const rest =
    left === 0 ? [] : [`${say(told`${left} more changes are left out here; fettle review shows them all.`)}\n`];
  const counts = countsText(reviewed.flatMap((files) => files.changes));
  return [`## ${say(TITLE)}\n\n${say(counts)}\n`, ...parts, ...rest, `${say(CAUTION)}\n`].join('\n');
}
