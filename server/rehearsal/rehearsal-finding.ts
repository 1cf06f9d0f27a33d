// What the rehearsal says, by place in a declaration. Codes with their severity and pages are in checks; nothing is worked out here.
import type { Span } from '../../grammar/tree.ts';
import type { Placed } from '../model/placed.ts';

export interface RehearsalFinding {
  readonly code: string;
  readonly placed: Placed;
  readonly span: Span;
  readonly message: string;
  readonly related: readonly { readonly placed: Placed; readonly span: Span; readonly message: string }[];
  /** Something is left undone rather than done wrong: information in a draft. */
  readonly missing: boolean;
}

/** What is said, in the order in which it is found. */
export type Said = RehearsalFinding[];

/** The findings of all jobs; the same fault at the same place is kept once. */
export function eachOnce(lists: Iterable<readonly RehearsalFinding[]>): readonly RehearsalFinding[] {
  const found: RehearsalFinding[] = [];
  const known = new Map<Placed['parsed'], Set<string>>();
  for (const list of lists)
    for (const finding of list) {
      let keys = known.get(finding.placed.parsed);
      if (keys === undefined) {
        keys = new Set();
        known.set(finding.placed.parsed, keys);
      }
      const key = `${finding.code} ${finding.span.start}`;
      if (keys.has(key)) continue;
      keys.add(key);
      found.push(finding);
    }
  return found;
}
