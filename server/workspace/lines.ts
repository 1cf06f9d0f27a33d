// Offsets to lines and columns and back. Lines end with \n, \r\n or \r; columns are UTF-16 units. Counted from 0.

export interface LineIndex {
  readonly starts: readonly number[];
  readonly text: string;
  readonly length: number;
}

/** The offsets at which the lines of a text begin. */
export function indexLines(text: string): LineIndex {
  const starts = [0];
  if (!text.includes('\r')) {
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
    return { starts, text, length: text.length };
  }
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 10) starts.push(at + 1);
    else if (code === 13) {
      if (text.charCodeAt(at + 1) === 10) at += 1;
      starts.push(at + 1);
    }
  }
  return { starts, text, length: text.length };
}

/** A paste of more lines than this has the whole text looked at again. */
const MOST_ADDED = 1000;

/**
 * The line starts of a text in which a stretch was replaced, from those of before, which are good no more. Only the lines of the
 * stretch are looked at again. `now` is the whole text after the edit.
 */
export function indexAfter(before: LineIndex, start: number, end: number, put: string, now: string): LineIndex {
  // A \r beside the stretch may have become, or been, half of a line end.
  const touches = now.charCodeAt(start - 1) === 13 || now.charCodeAt(start + put.length) === 10;
  if (put.includes('\r') || (touches && now.includes('\r'))) return indexLines(now);
  const by = put.length - (end - start);
  const from = lineOf(before.starts, start) + 1;
  const to = lineOf(before.starts, end) + 1;
  const added: number[] = [];
  for (let at = put.indexOf('\n'); at >= 0; at = put.indexOf('\n', at + 1)) added.push(start + at + 1);
  if (added.length > MOST_ADDED) return indexLines(now);
  const starts = before.starts as number[];
  if (added.length > 0 || to > from) starts.splice(from, to - from, ...added);
  if (by !== 0) for (let i = from + added.length; i < starts.length; i += 1) starts[i] = (starts[i] ?? 0) + by;
  return { starts, text: now, length: now.length };
}

/** The line that an offset stands in. */
function lineOf(starts: readonly number[], offset: number): number {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((starts[middle] ?? 0) <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

export function positionAt(index: LineIndex, offset: number): { readonly line: number; readonly character: number } {
  const line = lineOf(index.starts, offset);
  return { line, character: Math.max(0, Math.min(offset, index.length) - (index.starts[line] ?? 0)) };
}

/** The offset of a position; one beyond its line is brought back to the end of the line. */
export function offsetAt(index: LineIndex, position: { readonly line: number; readonly character: number }): number {
  if (position.line >= index.starts.length) return index.length;
  const line = Math.max(0, position.line);
  const start = index.starts[line] ?? 0;
  let end = index.starts[line + 1] ?? index.length;
  while (line + 1 < index.starts.length && end > start && /[\r\n]/.test(index.text[end - 1] ?? '')) end -= 1;
  return Math.max(start, Math.min(start + position.character, end));
}
