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

/** Takes the findings of all jobs; the same fault at the same place is kept once. */
export interface Findings {
  readonly list: RehearsalFinding[];
  say(
    code: string,
    placed: Placed,
    span: Span,
    message: string,
    extra?: { readonly related?: RehearsalFinding['related']; readonly missing?: boolean },
  ): void;
}

export function newFindings(): Findings {
  const list: RehearsalFinding[] = [];
  const known = new Map<Placed['parsed'], Set<string>>();
  return {
    list,
    say(code, placed, span, message, extra = {}) {
      let keys = known.get(placed.parsed);
      if (keys === undefined) {
        keys = new Set();
        known.set(placed.parsed, keys);
      }
      const key = `${code} ${span.start}`;
      if (keys.has(key)) return;
      keys.add(key);
      list.push({ code, placed, span, message, related: extra.related ?? [], missing: extra.missing ?? false });
    },
  };
}
