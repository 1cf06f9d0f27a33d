// What an `allow` silences, and the `allow` that silences nothing.
import { toFile } from '../../grammar/sections.ts';
import { told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import { CHECKS } from '../checks/catalog.ts';
import { type FilePlace, type Finding, said, titled } from '../model/finding.ts';
import { placeOf, type ReadFile, type ReadSection } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import { FAULT } from './contained.ts';

interface AllowAt extends FilePlace {
  readonly code: string;
  /** Where it is written: its code, and the whole of it. The stretch itself is what it covers. */
  readonly at: FilePlace;
  readonly whole: FilePlace;
}

function allowsIn(read: ReadSection, file: ReadFile): readonly AllowAt[] {
  const inside = [...read.every, ...read.whens].flatMap((placed) =>
    usesOf(placed).allows.map((allow) => ({
      code: allow.code.text,
      ...placeOf(placed, allow.covers),
      at: placeOf(placed, allow.code),
      whole: placeOf(placed, allow.span),
    })),
  );
  const outside = [...read.declarations, ...read.whens, ...read.loose].flatMap(({ section, parsed }) =>
    parsed.outside.flatMap((each) => {
      if (each.kind !== 'allow') return [];
      const at = (span: Span): FilePlace => ({
        file: file.file,
        start: toFile(section, span.start),
        end: toFile(section, span.end),
      });
      const covers = { file: file.file, start: 0, end: Number.POSITIVE_INFINITY };
      return [{ code: each.code.text, ...covers, at: at(each.code), whole: at(each) }];
    }),
  );
  return [...inside, ...outside];
}

/** Whether an `allow` of a file covers a place in it. */
export function isSilenced(
  { code, start }: { readonly code: string; readonly start: number },
  file: ReadFile,
): boolean {
  return file.notable
    .filter((section) => section.hasAllows)
    .flatMap((section) => allowsIn(section, file))
    .some((allow) => allow.code === code && start >= allow.start && start <= allow.end);
}

/** Takes out what an `allow` silences; an `allow` that silences nothing is a finding of its own. */
export function silence(findings: readonly Finding[], file: ReadFile): Finding[] {
  const allows = file.notable.filter((section) => section.hasAllows).flatMap((section) => allowsIn(section, file));
  if (allows.length === 0) return [...findings];
  const used = new Set<(typeof allows)[number]>();
  const left = findings.filter((finding) => {
    const hits = allows.filter(
      (allow) =>
        finding.code !== FAULT &&
        allow.code === finding.code &&
        finding.start >= allow.start &&
        finding.start <= allow.end,
    );
    for (const hit of hits) used.add(hit);
    return hits.length === 0;
  });
  for (const allow of allows) {
    if (used.has(allow)) continue;
    const known = CHECKS.some((check) => check.code === allow.code);
    left.push({
      code: 'name/unused',
      severity: 'warning',
      ...allow.at,
      related: [],
      fixes: [{ ...titled(told`Take out this allow`), edits: [{ ...allow.whole, text: '' }] }],
      ...said(
        known
          ? told`This allow silences nothing: ${allow.code} is not found here.`
          : told`There is no check ${allow.code}: this allow silences nothing.`,
      ),
    });
  }
  return left;
}
