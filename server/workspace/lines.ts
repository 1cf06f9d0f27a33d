// Offsets to lines and columns and back. Lines end with \n, \r\n or \r; columns are UTF-16 units. Counted from 0.
import { lineAt, lineStart, stretchOf, type Written, writtenAs } from '../../grammar/written.ts';

/** A text that knows where its lines begin. */
export type LineIndex = Written;

/** The lines of a text. */
export function indexLines(text: string): LineIndex {
  return writtenAs(text);
}

export function positionAt(index: LineIndex, offset: number): { readonly line: number; readonly character: number } {
  const line = lineAt(index, offset);
  return { line, character: columnAt(index, offset, line) };
}

/** The column of an offset, whose line is known. */
export function columnAt(index: LineIndex, offset: number, line: number): number {
  return Math.max(0, Math.min(offset, index.length) - lineStart(index, line));
}

/** The offset of a position; one beyond its line is brought back to the end of the line. */
export function offsetAt(index: LineIndex, position: { readonly line: number; readonly character: number }): number {
  if (position.line >= index.lines) return index.length;
  const line = Math.max(0, position.line);
  const start = lineStart(index, line);
  const next = lineStart(index, line + 1);
  const end =
    line + 1 < index.lines
      ? next - (/\r?\n?$/.exec(stretchOf(index, Math.max(start, next - 2), next))?.[0].length ?? 0)
      : next;
  return Math.max(start, Math.min(start + position.character, end));
}
