// Ways out that the editor offers: the fixes of findings, and conversions of the quantity at the cursor.

import { type Told, told } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding, FixEdit, QuickFix } from '../model/finding.ts';
import { textOf } from '../model/text-of.ts';
import { missingWork } from './missing-work.ts';
import { otherUnitText, quantityAt } from './quantities.ts';

export interface Action {
  readonly told: Told;
  readonly finding?: Finding;
  readonly edits: readonly FixEdit[];
  /** The first fix of a finding is the one that is preferred. */
  readonly preferred: boolean;
  /** It mends all of a kind at once. */
  readonly forAll?: true;
}

/** The ways out that come with a finding, and those of work left undone. */
export function fixesOf(analysis: Analysis, finding: Finding): readonly QuickFix[] {
  return [...finding.fixes, ...missingWork(analysis, finding)];
}

/** The actions for a stretch of a file. */
export function actions(analysis: Analysis, start: number, end: number): readonly Action[] {
  const file = analysis.file.file;
  const out: Action[] = [];
  const byCode = new Map<string, readonly Finding[]>();
  const mendableLike = ({ code }: Finding): readonly Finding[] => {
    const there = byCode.get(code) ?? analysis.findings.filter((each) => each.code === code && each.fixes.length > 0);
    byCode.set(code, there);
    return there;
  };
  for (const finding of analysis.findings) {
    if (finding.end < start || finding.start > end) continue;
    for (const [i, fix] of fixesOf(analysis, finding).entries())
      out.push({ told: fix.told, finding, edits: fix.edits, preferred: i === 0 });
    const alike = mendableLike(finding);
    const edits = alike.flatMap((each) => each.fixes[0]?.edits ?? []);
    if (alike.length > 1 && finding.fixes.length > 0 && !overlapping(edits))
      out.push({
        told: told`Mend all ${alike.length} of ${finding.code} here`,
        finding,
        edits,
        preferred: false,
        forAll: true,
      });
  }
  const quantity = quantityAt(analysis, start);
  if (quantity !== undefined && !('restated' in quantity.value && quantity.value.restated !== undefined)) {
    const other = otherUnitText(quantity.value);
    const written = textOf(analysis.file, quantity.start, quantity.end);
    if (other !== undefined) {
      out.push({
        told: told`Convert ${written} to ${other}`,
        edits: [{ file, start: quantity.start, end: quantity.end, text: other }],
        preferred: false,
      });
      out.push({
        told: told`Write it in both units: ${written} (${other})`,
        edits: [{ file, start: quantity.end, end: quantity.end, text: ` (${other})` }],
        preferred: false,
      });
    }
  }
  return out;
}

/**
 * The edits that mend what has one way out alone, all at once; nothing of a finding that leaves a choice. Two that would change the same
 * letters are not both made.
 */
export function mendAll(analysis: Analysis): { readonly edits: readonly FixEdit[]; readonly count: number } {
  const edits: FixEdit[] = [];
  let count = 0;
  for (const { fixes } of analysis.findings) {
    const [only] = fixes;
    if (only === undefined || fixes.length > 1 || overlapping([...edits, ...only.edits])) continue;
    edits.push(...only.edits);
    count += 1;
  }
  return { edits, count };
}

function overlapping(edits: readonly FixEdit[]): boolean {
  const sorted = [...edits].sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.start - b.start));
  return sorted.some((edit, i) => {
    const before = sorted[i - 1];
    return before !== undefined && before.file === edit.file && edit.start < before.end;
  });
}
