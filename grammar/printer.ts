// The canonical layout of a text. Blanks and line ends are all that changes, and words take their usual form. No comment is
// ever lost, and the meaning never changes: the result is read again and compared, and where anything differs the text is
// given back as it was. How it is laid out is in layout.ts.
import { commentsBefore } from './comments.ts';
import { layOut } from './layout.ts';
import { parseSection } from './parse.ts';
import { itemsOf } from './print-items.ts';
import { cutSections, type Section } from './sections.ts';

export { WIDTH } from './lines.ts';

export type Formatted =
  | { readonly kind: 'formatted'; readonly text: string }
  | { readonly kind: 'unchanged'; readonly why: string };

const POSITIONS = new Set(['start', 'end', 'wordSpan', 'designationSpan', 'measured']);

/** The trees of a text without positions, and its comments: what formatting must keep. */
function meaningOf(text: string): string {
  const sections = cutSections(text);
  const out: unknown[] = commentsBefore(text, sections[0]?.start ?? text.length).map((comment) => comment.text);
  const walk = (inner: readonly Section[], inSequence: boolean): void => {
    for (const section of inner) {
      const { declaration, outside, comments, faults } = parseSection(section, inSequence);
      // Of what can't be read, the text itself must stay.
      if (faults.length > 0) out.push(section.text.replace(/\s+/g, ' ').trim());
      else
        out.push(
          declaration,
          outside,
          comments.map((comment) => comment.text),
        );
      walk(section.children, section.word === 'sequence');
    }
  };
  walk(sections, false);
  return JSON.stringify(out, (key, value: unknown) => (POSITIONS.has(key) ? undefined : value));
}

/** A text in the canonical layout, with the line ends that most of its lines have. */
export function formatText(text: string): Formatted {
  const plain = layOut(itemsOf(text));
  if (meaningOf(plain) !== meaningOf(text.replace(/^\ufeff/, ''))) {
    return { kind: 'unchanged', why: 'Laid out anew, this text would not read the same, so it was left as it is.' };
  }
  const crlf = (text.match(/\r\n/g) ?? []).length > (text.match(/\n/g) ?? []).length / 2;
  return { kind: 'formatted', text: crlf ? plain.replace(/\r?\n/g, '\r\n') : plain };
}
