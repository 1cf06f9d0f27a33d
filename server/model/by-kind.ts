// The parts of a spec by what the trade takes them for, the fasteners by what they clamp, limits by what they are worked
// out from: for checks that hold one thing against others.
// Who asks for a kind hangs on the parts of that kind, and on no other.
import { leavesOf } from '../../grammar/terms.ts';
import { type Entry, keyed } from './keyed.ts';
import { kindsOf, type TradeKind } from './trade-names.ts';
import type { Fastener, Limit, Part, View } from './view.ts';

const namesOfKind = keyed(
  (view) => view.parts,
  (view, part: Part) =>
    view.things.get(part.name) === part ? [...kindsOf(part.name)].map((kind): Entry<string> => [kind, part.name]) : [],
);
const namesClamping = keyed(
  (view) => view.fasteners,
  (view, fastener: Fastener) =>
    view.things.get(fastener.name) === fastener
      ? [...new Set(fastener.clamps.map(({ part }) => part))].map((part): Entry<string> => [part, fastener.name])
      : [],
);

/** The parts that are of a kind by their names, in the order written. */
export function eachPartOfKind(view: View, kind: TradeKind): readonly Part[] {
  return namesOfKind(view, kind).flatMap((name) => {
    const part = view.things.get(name);
    return part?.kind === 'part' ? [part] : [];
  });
}

/** The fasteners that clamp a part, in the order written. */
export function fastenersClamping(view: View, part: string): readonly Fastener[] {
  return namesClamping(view, part).flatMap((name) => {
    const fastener = view.things.get(name);
    return fastener?.kind === 'fastener' ? [fastener] : [];
  });
}

/** The names of the limits that are worked out from a part, in the order written. */
export const limitsNaming = keyed(
  (view) => view.limits,
  (view, limit: Limit): readonly Entry<string>[] => {
    if (limit.expression === undefined || view.things.get(limit.name) !== limit) return [];
    const names = leavesOf(limit.expression).flatMap((leaf) =>
      leaf.kind === 'reference' ? [leaf.reference.owner.text] : [],
    );
    return [...new Set(names)].map((name) => [name, limit.name]);
  },
);
