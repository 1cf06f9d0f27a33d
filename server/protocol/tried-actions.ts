// Ways out are tried before they are offered: the spec is read with one made, and it stands only if its finding is gone and no other came.
import { type PossibleWay, possibleWays } from '../features/possible-ways.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding } from '../model/finding.ts';
import { analyse } from '../workspace/analyse.ts';
import type { Host } from '../workspace/api.ts';

/** Ways that are tried for one finding, and that are offered. */
const MOST_TRIED = 16;
const MOST_OFFERED = 2;

function count({ findings }: Analysis, which: (finding: Finding) => boolean): number {
  return findings.filter((each) => each.severity !== 'information' && which(each)).length;
}

/** Whether a finding is gone after an edit, and nothing else came. */
export function mends(before: Analysis, after: Analysis, finding: Finding): boolean {
  const same = ({ code, message }: Finding): boolean => code === finding.code && message === finding.message;
  const times = (analysis: Analysis): number => analysis.findings.filter(same).length;
  const codes = new Set(after.findings.map((each) => each.code));
  return (
    times(after) < times(before) &&
    [...codes].every(
      (code) => count(after, (each) => each.code === code) <= count(before, (each) => each.code === code),
    )
  );
}

/** The ways out of a finding that were tried and mend it. */
export function triedWays(analysis: Analysis, finding: Finding, text: string, host: Host): readonly PossibleWay[] {
  const good: PossibleWay[] = [];
  for (const way of possibleWays(analysis, finding).slice(0, MOST_TRIED)) {
    const edited = [...way.edits]
      .sort((a, b) => b.start - a.start)
      .reduce((now, edit) => now.slice(0, edit.start) + edit.text + now.slice(edit.end), text);
    if (mends(analysis, analyse(analysis.file.file, edited, host), finding)) good.push(way);
    if (good.length === MOST_OFFERED) break;
  }
  return good;
}
