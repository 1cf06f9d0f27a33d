// Texts with a cursor: | marks it in a fixture, [[ and ]] a stretch. The language itself uses none of these.
import type { Analysis } from '../../server/workspace/api.ts';
import { analyseText } from '../annotated.ts';

export interface Marked {
  readonly analysis: Analysis;
  readonly text: string;
  /** Where the | stood. */
  readonly cursor: number;
  /** What stood between each [[ and ]]. */
  readonly stretches: readonly { readonly start: number; readonly end: number }[];
}

/** Analyses a marked text, with files beside it that are not marked. Throws where a mark is not closed. */
export function marked(written: string, files: Readonly<Record<string, string>> = {}): Marked {
  let text = '';
  let cursor = -1;
  let open: number | undefined;
  const stretches: { start: number; end: number }[] = [];
  for (let at = 0; at < written.length; at += 1) {
    const two = written.slice(at, at + 2);
    if (written[at] === '|') cursor = text.length;
    else if (two === '[[') {
      open = text.length;
      at += 1;
    } else if (two === ']]' && open !== undefined) {
      stretches.push({ start: open, end: text.length });
      open = undefined;
      at += 1;
    } else text += written[at];
  }
  if (open !== undefined) throw new Error('a [[ is not closed');
  return { analysis: analyseText(text, files), text, cursor, stretches };
}

/** A text with edits made, from the last to the first. */
export function edited(
  text: string,
  edits: readonly { readonly start: number; readonly end: number; readonly text: string }[],
): string {
  return [...edits]
    .sort((a, b) => b.start - a.start)
    .reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
}
