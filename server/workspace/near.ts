// What stands round a place of a long text that is still being read, so that a question there is answered meanwhile: from the words, the
// declaration and what is declared next to it. All else of the text is left out, at its length, so that offsets are those of the text.
import { stretchOf, type Written } from '../../grammar/written.ts';
import { analyse } from './analyse.ts';
import type { Analysis } from './api.ts';

/** Characters on each side of a place that are looked at. */
const NEAR = 4096;
/** Characters before those, in which the beginning of the declaration round them is looked for. */
const BEFORE = 65_536;

/** The text up to a little behind a place, with blanks for all but what is near it and the head of the declaration round it. */
export function nearby(text: Written, offset: number): string {
  const place = Math.max(0, Math.min(offset, text.length));
  const before = stretchOf(text, place - NEAR, place);
  const start = place - before.length;
  // It begins with a line, and ends with one.
  const from = start === 0 ? 0 : start + before.indexOf('\n') + 1;
  const behind = stretchOf(text, place, place + NEAR);
  const lastEnd = behind.lastIndexOf('\n') + 1;
  const to = place + (lastEnd === 0 ? behind.length : lastEnd);
  const head = headBefore(text, from);
  const near = stretchOf(text, from, to);
  return head === undefined
    ? ' '.repeat(from) + near
    : ' '.repeat(head.start) + head.line + ' '.repeat(from - head.start - head.line.length) + near;
}

/** The first line of the declaration that a place stands in. */
function headBefore(text: Written, place: number): { readonly start: number; readonly line: string } | undefined {
  const start = Math.max(0, place - BEFORE);
  const before = stretchOf(text, start, place);
  for (let end = before.length; end > 0; ) {
    const lineStart = before.lastIndexOf('\n', end - 2) + 1;
    const code = before.charCodeAt(lineStart);
    if (code >= 97 && code <= 122) return { start: start + lineStart, line: before.slice(lineStart, end) };
    end = lineStart;
  }
  return undefined;
}

/** The address under which what is round a place of a file is kept. */
export const nearAddress = (file: string): string => `${file}#near`;

/** What is known round a place. No other file is looked at, and nothing is kept of it but what the next question near there needs. */
export function analyseNear(file: string, text: Written, offset: number): Analysis {
  return analyse(nearAddress(file), nearby(text, offset), {
    supersedes: true,
    resolve: () => undefined,
    read: () => undefined,
  });
}
