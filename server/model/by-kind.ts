// The parts of a spec by what the trade takes them for, limits by what they are worked out from. Who asks for a kind hangs on
// the parts of that kind, and on no other.
import { leavesOf } from '../../grammar/terms.ts';
import { type Entry, keyed } from './keyed.ts';
import { kindsOf, sealedBy, type TradeKind } from './trade-names.ts';
import type { Grades, Limit, Part, View } from './view.ts';

/** What the trade takes a name for, and what it takes that for which it seals, by these. */
export const SEAL_OF = 'seal of ';
const kindsOfName = (name: string): readonly string[] => {
  const sealed = sealedBy(name);
  return [...kindsOf(name), ...(sealed === undefined ? [] : [...kindsOf(sealed)].map((kind) => SEAL_OF + kind))];
};

/** By what the trade takes them for: the names of a list, in the order written. */
const byKind = <thing extends Part | Grades>(
  listOf: (view: View) => readonly thing[],
): ((view: View, kind: string) => readonly string[]) =>
  keyed(listOf, (view, thing: thing) =>
    view.things.get(thing.name) === thing
      ? kindsOfName(thing.name).map((kind): Entry<string> => [kind, thing.name])
      : [],
  );
export const partsOfKind = byKind((view) => view.parts);
export const gradesOfKind = byKind((view) => view.grades);

/** The parts that are of a kind by their names, in the order written. */
export function eachPartOfKind(view: View, kind: TradeKind): readonly Part[] {
  return partsOfKind(view, kind).flatMap((name) => {
    const part = view.things.get(name);
    return part?.kind === 'part' ? [part] : [];
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
