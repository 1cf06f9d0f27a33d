// Fasteners by what they hold: caps and plates of a kind, wheels on turning shafts. Told fastener by fastener, so that one costs what it says.
import { type Entry, keyed } from '../model/keyed.ts';
import { isA, kindsOf, type TradeKind } from '../model/trade-names.ts';
import type { Fastener, View } from '../model/view.ts';
import { question } from '../model/view-questions.ts';
import { inOrder } from './things.ts';

const ALL = '';

/** By fastener: what it clamps of what may turn, which is fixed to another part, or a cap that the crankshaft runs in. */
const heldBy = keyed(
  (view) => view.fasteners,
  (view, fastener: Fastener) => {
    if (view.things.get(fastener.name) !== fastener) return [];
    return fastener.clamps.flatMap(({ part: name }): readonly Entry<string>[] => {
      const part = view.things.get(name);
      if (part?.kind !== 'part') return [];
      return part.fixedTo !== undefined || isA(name, 'main-cap', 'rod-cap') ? [[ALL, name]] : [];
    });
  },
);
/** All that a fastener holds of what may turn, in the order written: wheels, and caps over the crankshaft. */
export const heldTurning = question((view, _all: 'parts'): readonly string[] =>
  inOrder(view, 'parts', heldBy(view, ALL)),
);

/** By what the trade takes a part for: the fasteners that clamp one. A camshaft's cap is asked for by itself, a rod's never. */
const holdersByKind = keyed(
  (view) => view.fasteners,
  (view, { name, clamps }: Fastener) => {
    const kinds = new Set(
      clamps.flatMap(({ part }) => {
        if (isA(part, 'rod-cap') || view.things.get(part)?.kind !== 'part') return [];
        return isA(part, 'cam-cap') ? ['cam-cap'] : [...kindsOf(part)];
      }),
    );
    return [...kinds].map((kind): Entry<string> => [kind, name]);
  },
);

/** The fasteners that clamp a part of one of some kinds, in the order written. */
export function holdersOfKinds(view: View, kinds: readonly TradeKind[]): readonly string[] {
  return inOrder(
    view,
    'fasteners',
    kinds.flatMap((kind) => holdersByKind(view, kind)),
  );
}
