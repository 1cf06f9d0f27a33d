// A fault of Fettle itself while it looks at a spec: it is told as a finding, once, and the rest of the work goes on.
import type { InPieces } from '../../grammar/give-way.ts';
import { type Told, told } from '../../grammar/told.ts';
import type { Check } from '../checks/check.ts';
import { type Finding, said } from '../model/finding.ts';

/** The code under which a fault of Fettle itself is told. No `allow` silences it. */
export const FAULT = 'fettle/fault';

/** What goes wrong is told to whoever called for the work, for a log. */
let tell: ((error: unknown) => void) | undefined;

/** Tells each fault in a piece of work, as it happens. */
function tellingFaults<result>(to: ((error: unknown) => void) | undefined, work: () => result): result {
  const outer = tell;
  tell = to;
  try {
    return work();
  } finally {
    tell = outer;
  }
}

/** Does a piece of work; what goes wrong in it is handed on instead of ending everything. */
export function contained<result>(work: () => result, failed: (why: string) => result): result {
  try {
    return work();
  } catch (error) {
    tell?.(error);
    return failed(whyOf(error));
  }
}

/** The same for work in pieces; each fault is told as it happens. */
export function* containedInPieces<result>(
  to: ((error: unknown) => void) | undefined,
  work: InPieces<result>,
  failed: (why: string) => result,
): InPieces<result> {
  for (;;) {
    const next = tellingFaults(to, () =>
      contained(
        () => work.next(),
        (why): IteratorReturnResult<result> => ({ done: true, value: failed(why) }),
      ),
    );
    if (next.done === true) return next.value;
    yield;
  }
}

/** What an error says of itself, in one line. */
export function whyOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return text.replace(/\s+/g, ' ').trim() || 'unknown reason';
}

/** The checks of the rehearsal are one piece of work. */
const whatFailed = ({ code }: Pick<Check, 'code'>): Told =>
  code.startsWith('sequence/') ? told`the rehearsal of the work (sequence/…) failed` : told`the check ${code} failed`;

const REPORT = told`Please report it, with this file.`;

/** What is said where a check failed. */
export function checkFailed(check: Pick<Check, 'code'>, why: string): Told {
  return told`Something went wrong inside Fettle itself, not in your spec: ${whatFailed(check)} (${why}). All else was looked at. ${REPORT}`;
}

/** What is said of a file in which more than a check failed; `read` tells whether it could be read at all. */
export function fileFailed(why: string, read: boolean): Told {
  const done = read ? told`It was read, and no more than that could be done` : told`Nothing in it was looked at`;
  return told`Something went wrong inside Fettle itself, not in your spec, while it looked at this file (${why}). ${done}; other files are not touched by this. ${REPORT}`;
}

/** A finding at the top of a file. */
export function atTheTop(file: string, failure: Told): Finding {
  return { code: FAULT, severity: 'error', file, start: 0, end: 0, ...said(failure), related: [], fixes: [] };
}

/** Leaves each fault once: what fails in one declaration often fails in the next. */
export function eachFaultOnce(findings: readonly Finding[]): readonly Finding[] {
  if (!findings.some((finding) => finding.code === FAULT)) return findings;
  const known = new Set<string>();
  return findings.filter((finding) => {
    if (finding.code !== FAULT) return true;
    const isNew = !known.has(finding.message);
    known.add(finding.message);
    return isNew;
  });
}
