// What the rehearsal says, by place in a declaration. Codes with their severity and pages are in checks; nothing is worked out here.
import type { Argument, Told } from '../../grammar/told.ts';
import type { Span } from '../../grammar/tree.ts';
import type { Severity } from '../model/finding.ts';
import type { Placed } from '../model/placed.ts';
import type { Step } from '../model/view.ts';

export interface RehearsalFinding {
  readonly code: string;
  readonly placed: Placed;
  readonly span: Span;
  readonly message: Told;
  readonly related: readonly { readonly placed: Placed; readonly span: Span; readonly message: Told }[];
  /** Something is left undone rather than done wrong: information in a draft. */
  readonly missing: boolean;
  /** Where it is not the code's usual one. */
  readonly severity?: Severity;
}

/** What several things have in common: the step that does it, or a statement of it by its place. */
export interface Shared {
  readonly step: Step;
  readonly at?: number;
}

/** A finding that several things may share: it is said once, of all of them. */
export interface Saying extends RehearsalFinding {
  readonly share?: {
    readonly by: Shared;
    readonly name: Argument;
    readonly tell: (names: readonly Argument[]) => Told;
  };
}

/** What is said, in the order in which it is found. */
export type Said = Saying[];

/** What is said of one job, with what several things share said once: where it stands first in the text. */
export function joined(said: readonly Saying[]): readonly RehearsalFinding[] {
  const found: RehearsalFinding[] = [];
  const shared = new Map<Step, Map<number | undefined, { at: number; names: Argument[] }>>();
  for (const { share, ...finding } of said) {
    const known = share === undefined ? undefined : shared.get(share.by.step)?.get(share.by.at);
    const first = known === undefined ? undefined : found[known.at];
    if (share === undefined || known === undefined || first === undefined) {
      if (share !== undefined) {
        const { step, at } = share.by;
        const own = shared.get(step) ?? new Map<number | undefined, { at: number; names: Argument[] }>();
        shared.set(step, own.set(at, { at: found.length, names: [share.name] }));
      }
      found.push(finding);
      continue;
    }
    known.names.push(share.name);
    const span = finding.span.start < first.span.start ? finding.span : first.span;
    found[known.at] = { ...first, span, message: share.tell(known.names) };
  }
  return found;
}

/** The findings of all jobs; the same fault at the same place is kept once. */
export function eachOnce(lists: readonly (readonly RehearsalFinding[])[]): readonly RehearsalFinding[] {
  const found: RehearsalFinding[] = [];
  const known = new Map<Placed, Set<string>>();
  for (const list of lists)
    for (const finding of list) {
      let keys = known.get(finding.placed);
      if (keys === undefined) {
        keys = new Set();
        known.set(finding.placed, keys);
      }
      const key = `${finding.code} ${finding.span.start}`;
      if (keys.has(key)) continue;
      keys.add(key);
      found.push(finding);
    }
  return found;
}
