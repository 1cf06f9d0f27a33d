// A text with edits made in it.

/** What is put in the place of a stretch of a text. */
export interface TextEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The text with edits in it that do not overlap, in whatever order they are given. Offsets are of the text as it was. */
export function edited(text: string, edits: readonly TextEdit[]): string {
  return [...edits]
    .sort((one, other) => other.start - one.start || other.end - one.end)
    .reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
}
