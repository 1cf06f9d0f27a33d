// The canonical layout as edits: of a whole file, of a stretch of it, of a declaration that was just closed.
import type { Parsed } from '../../grammar/parse.ts';
import { formatRead, formatText } from '../../grammar/printer.ts';
import type { Section } from '../../grammar/section.ts';
import type { Analysis } from '../model/analysis.ts';
import { placeOf, type ReadFile } from '../model/placed.ts';
import { type LineEdit, lineEdits } from './line-edits.ts';

export type Layout =
  | { readonly kind: 'edits'; readonly edits: readonly LineEdit[] }
  | { readonly kind: 'left'; readonly why: string };

/** What was read of each section of a file; gathered when it is first asked for, since most of what is asked is laid out already. */
function treesOf({ sections }: ReadFile): (section: Section) => Parsed | undefined {
  let trees: Map<Section, Parsed> | undefined;
  return (asked) => {
    if (trees !== undefined) return trees.get(asked);
    trees = new Map();
    for (const { every, whens, loose } of sections)
      for (const all of [every, whens, loose]) for (const { section, parsed } of all) trees.set(section, parsed);
    return trees.get(asked);
  };
}

/** Lays out a whole file; says why where it is left as it is. */
export function layoutWhole(file: ReadFile): Layout {
  const { text } = file;
  const formatted = formatRead({ text, sections: file.sections.map(({ section }) => section), treeOf: treesOf(file) });
  return formatted.kind === 'unchanged'
    ? { kind: 'left', why: formatted.why }
    : { kind: 'edits', edits: lineEdits(text, formatted.text, formatted.seams) };
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
