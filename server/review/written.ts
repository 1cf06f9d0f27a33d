// The text of a piece of a declaration as it is written, and where it stands without the clauses that are told apart from it.
import type { Parsed } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/section.ts';
import type { Span } from '../../grammar/tree.ts';
import type { Origin } from '../model/placed.ts';

/** What a declaration, or a remark outside all of them, is taken from. */
export interface Source {
  readonly file: string;
  readonly section: Section;
  readonly parsed: Parsed;
  /** Where it is taken from, of a spec that is built on another. */
  readonly origin?: Origin;
}

/** A stretch as written, on one line, without comments. */
export function writtenText(source: Source, span: Span): string {
  let text = '';
  let at = span.start;
  for (const comment of source.parsed.comments) {
    if (comment.start < at || comment.start >= span.end) continue;
    text += `${source.section.text.slice(at, comment.start)} `;
    at = comment.end;
  }
  return (text + source.section.text.slice(at, span.end)).replace(/\s+/g, ' ').trim();
}

/** A statement as written, without those of its clauses that are facts of their own. */
export function writtenWithout(source: Source, whole: Span, without: readonly Span[]): string {
  let [text, from] = ['', whole.start];
  for (const each of [...without].sort((a, b) => a.start - b.start)) {
    text += `${writtenText(source, { start: from, end: Math.max(from, each.start) })} `;
    from = Math.max(from, each.end);
  }
  text += writtenText(source, { start: from, end: Math.max(from, whole.end) });
  return without.length === 0
    ? text
    : text
        .replace(/\b(?:per|wear-limit) /gi, ' ')
        .replace(/\s+/g, ' ')
        .trim();
}

/** Where a statement stands, without those of its clauses at its end that are facts of their own. */
export function spanWithout(source: Source, whole: Span, without: readonly Span[]): Span {
  const first = Math.min(...without.map((each) => each.start));
  const after = writtenWithout(source, { start: Math.min(first, whole.end), end: whole.end }, without);
  if (without.length === 0 || !/^[}\s]*$/.test(after)) return whole;
  const text = source.section.text.slice(whole.start, first).replace(/\s*(?:wear-limit)?\s*$/i, '');
  return { start: whole.start, end: whole.start + text.length };
}

export function isSpan(value: unknown): value is Span {
  return typeof value === 'object' && value !== null && 'start' in value && 'end' in value;
}
