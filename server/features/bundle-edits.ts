// Edits that a declaration needs when it leaves its file for a bundle. What goes along is decided in bundle.ts.
import { type Placed, placeOf, type ReadFile } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';

/** A stretch of a file's text that is written otherwise. */
export interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** A stretch of a text with edits made; edits outside it are left. */
export function edited(
  text: string,
  { start, end }: { readonly start: number; readonly end: number },
  edits: readonly Edit[],
): string {
  let out = '';
  let at = start;
  for (const edit of [...edits].sort((one, other) => one.start - other.start || one.end - other.end)) {
    if (edit.start < at || edit.end > end) continue;
    out += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return out + text.slice(at, end);
}

/** The source that a file's spec names for all that has none. */
function defaultSource(file: ReadFile): string | undefined {
  const spec = file.declarations.find((placed) => placed.declaration.word === 'spec');
  const per = spec?.declaration.body?.statements.find((each) => each.kind === 'per')?.per;
  return per === undefined || spec === undefined ? undefined : spec.section.text.slice(per.start, per.end);
}

/** In whose braces the source for the whole file is said again. */
const WITH_SOURCE = new Set(['part', 'fastener', 'drive', 'valve-timing']);

/**
 * The edits of one declaration: sources under their new names, the source of its file where it has none of its own, and the allows that
 * covered its file.
 */
export function libraryEdits(
  placed: Placed,
  file: ReadFile,
  head: Placed | undefined,
  renamed: ReadonlyMap<string, string>,
  allows: readonly string[],
): readonly Edit[] {
  const edits: Edit[] = [];
  for (const each of [placed, ...placed.steps.filter((step) => step !== undefined)])
    for (const source of usesOf(each).sources) {
      const now = renamed.get(source.text);
      if (now === undefined) continue;
      const { start, end } = placeOf(each, source);
      edits.push({ start, end, text: now });
    }
  const { body, word } = placed.declaration;
  const lines = [...allows];
  const per = head?.file === file.file ? undefined : defaultSource(file);
  const hasOwn = body?.statements.some((each) => each.kind === 'per') ?? false;
  if (per !== undefined && !hasOwn && WITH_SOURCE.has(word)) {
    const name = /^\S+/.exec(per.replace(/^per\s+/i, ''))?.[0] ?? '';
    lines.push(`per ${renamed.get(name) ?? name}${per.replace(/^per\s+/i, '').slice(name.length)}`);
  }
  if (lines.length === 0) return edits;
  const end = placeOf(placed, { start: placed.section.text.length, end: placed.section.text.length }).start;
  if (body === undefined) return edits;
  const close = placeOf(placed, { start: body.end - 1, end: body.end }).start;
  edits.push({ start: Math.min(close, end), end: Math.min(close, end), text: `\n${lines.join('\n')}\n` });
  return edits;
}
