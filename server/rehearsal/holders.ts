// Fasteners by what they hold: caps and plates of a kind, wheels on turning shafts. Told fastener by fastener, so that one costs what it says.
import { type Entry, keyed } from '../model/keyed.ts';
import { isA, kindsOf, type TradeKind } from '../model/trade-names.ts';
import type { Fastener, View } from '../model/view.ts';
import { inOrder } from './things.ts';

/** What a fastener holds of what is fixed to another part, or of caps that the crankshaft runs in. */
export interface Holder {
  readonly fastener: string;
  readonly held: readonly string[];
}

const ALL = '';

const holdersOfWheels = keyed(
  (view) => view.fasteners,
  (view, fastener: Fastener) => {
    if (view.things.get(fastener.name) !== fastener) return [];
    const held = fastener.clamps.flatMap((clamp) => {
      const part = view.things.get(clamp.part);
      if (part?.kind !== 'part') return [];
      return part.fixedTo !== undefined || isA(clamp.part, 'main-cap', 'rod-cap') ? [clamp.part] : [];
    });
    return held.length === 0 ? [] : [[ALL, { fastener: fastener.name, held }] satisfies Entry<Holder>];
  },
);

/** The fasteners that clamp something fixed to another part, which may be a shaft, or a cap that the crankshaft runs in. */
export const holdersOfTurning = (view: View): readonly Holder[] => holdersOfWheels(view, ALL);

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
