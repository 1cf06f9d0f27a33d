// What an `allow` silences, and the `allow` that silences nothing.
import { toFile } from '../../grammar/section.ts';
import { told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import { CHECKS } from '../checks/catalog.ts';
import { type FilePlace, type Finding, said, titled } from '../model/finding.ts';
import { placeOf, type ReadFile, type ReadSection } from '../model/placed.ts';
import { usesOf } from '../model/references.ts';
import { FAULT } from './contained.ts';

const CODES: ReadonlySet<string> = new Set(CHECKS.map(({ code }) => code));

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

/** The stretches that some `allow`s of one code cover: by place, none within another. */
type Covered = readonly { readonly start: number; readonly end: number }[];

function coveredBy(allows: readonly AllowAt[]): Covered {
  const covered: { start: number; end: number }[] = [];
  for (const { start, end } of [...allows].sort((one, other) => one.start - other.start)) {
    const last = covered.at(-1);
    if (last !== undefined && start <= last.end) last.end = Math.max(last.end, end);
    else covered.push({ start, end });
  }
  return covered;
}

/** How many of some things in order come before the first of which something holds. */
function before<item>(items: readonly item[], holds: (item: item) => boolean): number {
  let [low, high] = [0, items.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    const item = items[middle];
    if (item === undefined || holds(item)) high = middle;
    else low = middle + 1;
  }
  return low;
}

function isCovered(start: number, covered: Covered): boolean {
  const at = covered[before(covered, (each) => each.start > start) - 1];
  return at !== undefined && start <= at.end;
}

function byCode<told extends { readonly code: string }>(all: readonly told[]): ReadonlyMap<string, readonly told[]> {
  const found = new Map<string, told[]>();
  for (const each of all) {
    const there = found.get(each.code);
    if (there === undefined) found.set(each.code, [each]);
    else there.push(each);
  }
  return found;
}

const allowsOf = (file: ReadFile): readonly AllowAt[] =>
  file.notable.filter((section) => section.hasAllows).flatMap((section) => allowsIn(section, file));

/** Tells whether an `allow` of a file covers a place in it. */
export function silencedIn(file: ReadFile): (finding: { readonly code: string; readonly start: number }) => boolean {
  const covered = new Map([...byCode(allowsOf(file))].map(([code, allows]) => [code, coveredBy(allows)]));
  return ({ code, start }) => isCovered(start, covered.get(code) ?? []);
}

/** Takes out what an `allow` silences; an `allow` that silences nothing is a finding of its own. */
export function silence(findings: readonly Finding[], file: ReadFile): Finding[] {
  const allows = allowsOf(file);
  if (allows.length === 0) return [...findings];
  const used = new Set<AllowAt>();
  const silenced = new Set<Finding>();
  const found = byCode(findings);
  for (const [code, own] of byCode(allows)) {
    if (code === FAULT) continue;
    const covered = coveredBy(own);
    const hit = (found.get(code) ?? []).filter((finding) => isCovered(finding.start, covered));
    for (const finding of hit) silenced.add(finding);
    const starts = hit.map(({ start }) => start).sort((one, other) => one - other);
    for (const allow of own) {
      const first = starts[before(starts, (start) => start >= allow.start)];
      if (first !== undefined && first <= allow.end) used.add(allow);
    }
  }
  const left = findings.filter((finding) => !silenced.has(finding));
  for (const allow of allows) {
    if (used.has(allow)) continue;
    const known = CODES.has(allow.code);
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
