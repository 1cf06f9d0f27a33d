// The canonical layout as edits: of a whole file, of a stretch of it, of a declaration that was just closed.
import { formatText } from '../../grammar/printer.ts';
import type { Analysis } from '../model/analysis.ts';
import { placeOf } from '../model/placed.ts';
import { type LineEdit, lineEdits } from './line-edits.ts';

export type Layout =
  | { readonly kind: 'edits'; readonly edits: readonly LineEdit[] }
  | { readonly kind: 'left'; readonly why: string };

/** Lays out a whole text; says why where it is left as it is. */
export function layoutWhole(text: string): Layout {
  const formatted = formatText(text);
  return formatted.kind === 'unchanged'
    ? { kind: 'left', why: formatted.why }
    : { kind: 'edits', edits: lineEdits(text, formatted.text) };
}

/** Lays out what lies between two offsets: whole lines of the declarations that they touch, each declaration by itself. */
export function layoutStretch(analysis: Analysis, start: number, end: number): Layout {
  const { text, sections } = analysis.file;
  const edits: LineEdit[] = [];
  for (const { section } of sections) {
    if (section.end < start || section.start > end) continue;
    const own = text.slice(section.start, section.end);
    // The blank lines up to the next declaration are no part of it.
    const body = own.trimEnd();
    const formatted = formatText(`${body}\n`);
    if (formatted.kind === 'unchanged') return { kind: 'left', why: formatted.why };
    for (const edit of lineEdits(body, formatted.text.trimEnd())) {
      const [from, to] = [section.start + edit.start, section.start + edit.end];
      if (to >= start && from <= end) edits.push({ start: from, end: to, text: edit.text });
    }
  }
  return { kind: 'edits', edits };
}

/** Lays out the declaration that a brace before an offset has closed; nothing where it closes something inside one. */
export function layoutClosed(analysis: Analysis, offset: number): Layout {
  const closed = analysis.file.sections.find(
    ({ hasFaults, declarations }) =>
      !hasFaults && declarations.some((placed) => placeOf(placed, placed.declaration).end === offset),
  );
  return closed === undefined ? { kind: 'edits', edits: [] } : layoutStretch(analysis, closed.section.start, offset);
}
