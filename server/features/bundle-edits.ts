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
const WITH_SOURCE = new Set(['part', 'fastener', 'supply', 'drive', 'valve-timing', 'grades', 'engine']);

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
  const per = head?.file === file.file ? undefined : sourceLine(file, renamed);
  const hasOwn =
    placed.declaration.per !== undefined || (body?.statements.some((each) => each.kind === 'per') ?? false);
  const isMissing = per !== undefined && !hasOwn;
  // At the end of a limit's clauses; elsewhere first in the braces, where it stands for all of them.
  if (isMissing && word === 'limit') {
    const { end } = placeOf(placed, { start: 0, end: body?.start ?? placed.declaration.end });
    edits.push({ start: end, end, text: `\n${per}\n` });
  }
  const lines = [...(isMissing && WITH_SOURCE.has(word) ? [per] : []), ...allows];
  if (lines.length === 0) return edits;
  if (body !== undefined) {
    const { end } = placeOf(placed, { start: body.start, end: body.start + 1 });
    edits.push({ start: end, end, text: `\n${lines.join('\n')}\n` });
  } else if (allows.length > 0) {
    const { end } = placeOf(placed, placed.declaration);
    edits.push({ start: end, end, text: ` {\n${allows.join('\n')}\n}` });
  }
  return edits;
}

/** `per shop "page"`, with the source under its new name. */
function sourceLine(file: ReadFile, renamed: ReadonlyMap<string, string>): string | undefined {
  const per = defaultSource(file)?.replace(/^per\s+/i, '');
  if (per === undefined) return undefined;
  const name = /^\S+/.exec(per)?.[0] ?? '';
  return `per ${renamed.get(name) ?? name}${per.slice(name.length)}`;
}
