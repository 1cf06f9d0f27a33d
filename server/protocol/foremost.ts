// Of many findings those that an editor is given.
import { told } from '../../grammar/told.ts';
import { type Finding, type Severity, said } from '../model/finding.ts';

/** Findings of one file that an editor is given: more can't be read, and take long to send. */
const MOST_SHOWN = 1000;

/** The code under which it is told that there are more. */
const MORE = 'fettle/more';

const BY_WEIGHT: readonly Severity[] = ['error', 'warning', 'information'];

/** The weightiest findings of a file, by place; where some are left out the first says how many. */
export function foremost(findings: readonly Finding[], file: string, most = MOST_SHOWN): readonly Finding[] {
  if (findings.length <= most) return findings;
  const shown = new Set<Finding>();
  for (const severity of BY_WEIGHT)
    for (const finding of findings) {
      if (shown.size === most) break;
      if (finding.severity === severity) shown.add(finding);
    }
  const message = told`There are ${findings.length} findings in this file. Here are the ${most} weightiest; fettle check tells all. Look at the first ones first: so many often have one cause.`;
  const more: Finding = {
    code: MORE,
    severity: 'information',
    file,
    start: 0,
    end: 0,
    ...said(message),
    related: [],
    fixes: [],
  };
  return [more, ...findings.filter((finding) => shown.has(finding))];
}
