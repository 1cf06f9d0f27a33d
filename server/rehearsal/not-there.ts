// What has to be in place for a limit to be measured or set, and goes on only after it. Common practice, no source.
import { told } from '../../grammar/told.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Limit } from '../model/view.ts';
import type { Act } from './act.ts';
import { OFF, type PartState } from './part-state.ts';
import { placesNow } from './places.ts';
import { anyOn, type State, sayMissing } from './state.ts';
import { isFittedAfter } from './to-come.ts';

/** Measured over the face that a piston or liner comes up to. */
const AT_FACE = /protrusion|stand-?proud|(?:^|-)deck(?:-|$)/i;
/** Lash is what is left of all of these together. */
const OF_LASH: readonly TradeKind[] = ['camshaft', 'valve', 'valve-spring', 'lifter', 'pushrod', 'rocker'];
/** What a piston runs in, where that is no block. */
const OF_BORE: readonly TradeKind[] = ['barrel', 'liner', 'cylinder'];

const nameOf = (limit: Limit): string => (limit.of ?? limit.each)?.owner.text ?? '';

/** Of parts of some kinds, one that is off and goes on after this, where all of that kind are off. */
function missingOf(state: State, act: Act, kinds: readonly TradeKind[]): PartState | undefined {
  for (const kind of kinds) {
    const parts = state.parts.ofKind(kind);
    if (parts.some((part) => anyOn(part))) continue;
    const missing = parts.find(({ part }) => isFittedAfter(state, act, part.name));
    if (missing !== undefined) return missing;
  }
  return undefined;
}

/** The piston or liner that is to be measured, its rod, or what the piston runs in, at the place in hand. */
function missingAtFace(state: State, limit: Limit, act: Act): PartState | undefined {
  const own = state.parts.get(nameOf(limit));
  if (own === undefined || !isA(own.part, 'piston', 'liner')) return undefined;
  const rod = state.parts.get(own.mate ?? '');
  const rods = rod !== undefined && isA(rod.part, 'rod') ? [rod] : [];
  const bores = isA(own.part, 'piston') ? state.parts.ofKind(...OF_BORE) : [];
  return [own, ...rods, ...bores].find(
    (each) =>
      placesNow(state, each.part, []).every((i) => each.on[i] === OFF) && isFittedAfter(state, act, each.part.name),
  );
}

/** Says that a limit is measured or set before what it is measured at is there; true when it is. */
export function sayIfNotThere(state: State, limit: Limit, word: 'measure' | 'adjust', act: Act): boolean {
  if (act.step.trial) return false;
  const missing =
    limit.sort === 'valve-lash'
      ? missingOf(state, act, OF_LASH)
      : limit.sort === 'protrusion' || AT_FACE.test(limit.name)
        ? missingAtFace(state, limit, act)
        : undefined;
  if (missing === undefined) return false;
  const { name } = missing.part;
  sayMissing(
    state,
    'sequence/not-fitted-yet',
    name,
    act,
    word === 'measure'
      ? told`${told.named(limit.name)} can't be measured yet: ${name} is not on. Fit it first.`
      : told`${told.named(limit.name)} can't be set yet: ${name} is not on. Fit it first.`,
  );
  return true;
}
