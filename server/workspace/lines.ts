// Offsets to lines and columns and back. Lines end with \n, \r\n or \r; columns are UTF-16 units. Counted from 0.

export interface LineIndex {
  readonly starts: readonly number[];
  readonly length: number;
}

/** The offsets at which the lines of a text begin. */
export function indexLines(text: string): LineIndex {
  const starts = [0];
  if (!text.includes('\r')) {
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
    return { starts, length: text.length };
  }
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 10) starts.push(at + 1);
    else if (code === 13) {
      if (text.charCodeAt(at + 1) === 10) at += 1;
      starts.push(at + 1);
    }
  }
  return { starts, length: text.length };
}

export function positionAt(index: LineIndex, offset: number): { readonly line: number; readonly character: number } {
  let low = 0;
  let high = index.starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((index.starts[middle] ?? 0) <= offset) low = middle;
    else high = middle - 1;
  }
  return { line: low, character: Math.max(0, Math.min(offset, index.length) - (index.starts[low] ?? 0)) };
}

/** The offset of a position; one beyond its line is brought back to the end of the line. */
export function offsetAt(index: LineIndex, position: { readonly line: number; readonly character: number }): number {
  if (position.line >= index.starts.length) return index.length;
  const start = index.starts[Math.max(0, position.line)] ?? 0;
  const next = index.starts[position.line + 1] ?? index.length;
  return Math.max(start, Math.min(start + position.character, next));
}
