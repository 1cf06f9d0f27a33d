// The canonical layout of a text. Blanks and line ends are all that changes, and words take their usual form. No comment is
// ever lost, and the meaning never changes: the result is held against what was written, and where anything differs the text is
// given back as it was. How it is laid out is in layout.ts.
import { saysTheSame } from './layout-guard.ts';
import { type LineSeam, layOutText, lineSeams, type ReadText } from './layout-pieces.ts';
import { cutSections } from './sections.ts';

export type Formatted =
  | { readonly kind: 'formatted'; readonly text: string }
  | { readonly kind: 'unchanged'; readonly why: string };

/** The same, and where both texts can be cut in two to find what differs. */
export type FormattedRead = Formatted & { readonly seams: readonly LineSeam[] };

/** A text in the canonical layout, with the line ends that most of its lines have. */
export function formatText(text: string): Formatted {
  const { seams, ...formatted } = formatRead({ text, sections: cutSections(text) });
  return formatted;
}

/** The same of a text that was cut before, and perhaps read. */
export function formatRead(read: ReadText): FormattedRead {
  const { text, sections } = read;
  const layout = layOutText(read);
  const plain = layout.pieces.map((piece) => piece.text).join('');
  // What stands in its layout already says what it says.
  if (plain === text) return { kind: 'formatted', text, seams: [] };
  if (!saysTheSame(text, sections, plain, layout))
    return {
      kind: 'unchanged',
      why: 'Laid out anew, this text would not read the same, so it was left as it is.',
      seams: [],
    };
  if (hasCrlf(text)) return { kind: 'formatted', text: plain.replace(/\r?\n/g, '\r\n'), seams: [] };
  return { kind: 'formatted', text: plain, seams: lineSeams(text, layout) };
}

/** Whether most lines of a text end with a carriage return and a line feed. */
function hasCrlf(text: string): boolean {
  if (!text.includes('\r\n')) return false;
  return (text.match(/\r\n/g) ?? []).length > (text.match(/\n/g) ?? []).length / 2;
}
