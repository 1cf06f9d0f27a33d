// What the checks report as findings with their places in the file, and what is found for several variants as one. What is reported again
// is the same finding again where it stands where it stood: the sentences are long, and there may be hundreds in a long spec.
import type { InPieces } from '../../grammar/give-way.ts';
import { toFile } from '../../grammar/section.ts';
import type { Span } from '../../grammar/tree.ts';
import type { FilePlace, Finding, FixEdit, QuickFix, Related } from '../model/finding.ts';
import { said, titled } from '../model/finding.ts';
import { type Placed, placeOf } from '../model/placed.ts';
import { LAST, type Raw } from './run-checks.ts';

/** Findings that are gone over in one piece. */
export const FINDINGS_OF_PIECE = 32;

/** Whether a stretch of a declaration stands where it stood. */
function standsAt(known: FilePlace, placed: Placed, span: Span): boolean {
  if (placed.origin !== undefined) return isSamePlace(known, placeOf(placed, span));
  const { section } = placed;
  return (
    known.start === toFile(section, span.start) && known.end === toFile(section, span.end) && known.file === placed.file
  );
}

const isSamePlace = (one: FilePlace, other: FilePlace): boolean =>
  one.start === other.start && one.end === other.end && one.file === other.file;

/** A stretch of a declaration. */
interface Extended {
  readonly placed: Placed;
  readonly span: Span;
}

/** Whether all that a finding speaks of stands where it stood when it was made. */
function isWhereItWas(finding: Finding, { placed, span, extra: { related, fixes } }: Raw): boolean {
  if (!standsAt(finding, placed, span)) return false;
  const isThere = (known: FilePlace, each: Extended | undefined): boolean =>
    each !== undefined && standsAt(known, each.placed, each.span);
  return (
    finding.related.every((known, i) => isThere(known, related?.[i])) &&
    finding.fixes.every((known, i) => known.edits.every((edit, at) => isThere(edit, fixes?.[i]?.edits[at])))
  );
}

const NONE: readonly never[] = [];

/** What a check reported as a finding of this file; undefined for what stands in another. */
export function place(raw: Raw, draft: boolean, file: string): Finding | undefined {
  const { placed, extra } = raw;
  if (placed.file !== file) return undefined;
  const severity = draft && (extra.missing === true || raw.severity === 'warning') ? 'information' : raw.severity;
  const before = raw[LAST];
  if (before?.severity === severity && isWhereItWas(before, raw)) return before;
  const finding: Finding = {
    code: raw.code,
    severity,
    ...placeOf(placed, raw.span),
    ...said(raw.told),
    related:
      extra.related?.map((each): Related => ({ ...placeOf(each.placed, each.span), ...said(each.message) })) ?? NONE,
    fixes:
      extra.fixes?.map(
        (fix): QuickFix => ({
          ...titled(fix.title),
          edits: fix.edits.map((edit): FixEdit => ({ ...placeOf(edit.placed, edit.span), text: edit.text })),
        }),
      ) ?? NONE,
  };
  raw[LAST] = finding;
  return finding;
}

/** A finding, the variants that it holds for, and the next one that begins at the same place. */
interface Merged {
  readonly finding: Finding;
  readonly variants: (string | undefined)[];
  next: Merged | undefined;
}

const saysTheSame = (one: Finding, other: Finding): boolean =>
  one === other ||
  (one.code === other.code &&
    one.severity === other.severity &&
    isSamePlace(one, other) &&
    one.message === other.message);

/** Findings of all variants that agree are one; others name theirs. */
export function* mergingVariants(
  perView: readonly { readonly variant: string | undefined; readonly findings: readonly Finding[] }[],
): InPieces<Finding[]> {
  const byStart = new Map<number, Merged>();
  const merged: Merged[] = [];
  for (const { variant, findings } of perView) {
    let gone = 0;
    for (const finding of findings) {
      gone += 1;
      if (gone % FINDINGS_OF_PIECE === 0) yield;
      const first = byStart.get(finding.start);
      let known = first;
      while (known !== undefined && !saysTheSame(known.finding, finding)) known = known.next;
      if (known === undefined) {
        const made: Merged = { finding, variants: [variant], next: first };
        merged.push(made);
        byStart.set(finding.start, made);
      } else if (!known.variants.includes(variant)) known.variants.push(variant);
    }
  }
  return merged.map(({ finding, variants }) =>
    variants.length === perView.length
      ? finding
      : { ...finding, variants: variants.filter((name) => name !== undefined) },
  );
}
