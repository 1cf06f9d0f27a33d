// What can no longer be measured where it is written, though no line says that it is covered: what stands over the face of the block under a
// head, clearances behind the sump, lash under the rocker cover, the gap of rings that are in their bore. Common practice, no source.
import { told } from '../../grammar/told.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Limit } from '../model/view.ts';
import { type Act, pointAt } from './act.ts';
import { coveredWhere } from './covers.ts';
import { ON, type PartState } from './part-state.ts';
import { overRingsIn } from './shut-in.ts';
import { coverOf, type State, say } from './state.ts';

/** Measured over the face of the block: protrusion of pistons and liners, and how far pistons stand down. */
const OVER_FACE = /protrusion|stand-?proud|deck-(height|clearance)|nip/i;

const nameOf = (limit: Limit): string => (limit.of ?? limit.each)?.owner.text ?? '';

/** The head that is over the face of the block. */
function overFace(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'protrusion' && !OVER_FACE.test(limit.name)) return undefined;
  if (isA(nameOf(limit), 'injector', 'chamber', 'valve', 'head')) return undefined;
  return state.parts
    .ofKind('head')
    .find(({ mate, on, lifted }) => !lifted && mate !== undefined && on.every((each) => each === ON));
}

/** What is said to be over the caps, or the bolts of the caps, of a journal whose clearance is measured. */
function overCaps(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'oil-clearance' && limit.sort !== 'side-clearance') return undefined;
  const of = limit.of ?? limit.each;
  const name = of?.owner.text ?? '';
  const isRod = isA(name, 'rod') || /pin/i.test(of?.feature?.text ?? '');
  if (!isRod && !isA(name, 'crankshaft')) return undefined;
  const kind: TradeKind = isRod ? 'rod-cap' : 'main-cap';
  const caps = state.parts.ofKind(kind).map(({ part }) => part.name);
  const bolts = caps.flatMap((cap) => state.clampedBy.get(cap).map(({ fastener }) => fastener.name));
  for (const each of [...caps, ...bolts]) {
    const cover = coverOf(state, each);
    if (cover?.mate !== undefined) return cover;
  }
  return undefined;
}

/** The cover of the valve gear. */
function overLash(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'valve-lash') return undefined;
  const covers = state.parts.ofKind('rocker-cover');
  // Of several covers some may be off.
  return covers.length > 0 &&
    covers.every(({ on, lifted, mate }) => !lifted && mate !== undefined && on.every((each) => each === ON))
    ? covers[0]
    : undefined;
}

/** The bore that the rings are in, on their pistons: the gap is measured with a ring alone in its bore. */
function overGap(state: State, limit: Limit): PartState | undefined {
  if (limit.sort !== 'ring-gap') return undefined;
  const ring = state.parts.get(nameOf(limit));
  return ring === undefined ? undefined : overRingsIn(state, ring);
}

/** Says that a limit can't be measured, or set, here: something went on before that is in the way. */
export function sayIfOutOfReach(state: State, limit: Limit, word: 'measure' | 'adjust', act: Act): void {
  const ways = word === 'measure' ? [overFace, overCaps, overGap, overLash] : [overLash];
  for (const way of ways) {
    const over = way(state, limit);
    const by = over?.fittedBy.find((each) => each !== undefined);
    // What a finding says already is not said again here.
    if (over === undefined || by === undefined || state.saidSteps.has(act.step.name)) continue;
    if (state.unsure) return;
    over.lifted = true;
    say(
      state,
      word === 'measure' ? 'sequence/measured-late' : 'sequence/covered',
      act,
      way === overFace
        ? told`${told.thing(limit)} is measured over the face of the block, and ${told.thing(over.part)} went on in step ${told.thing(by.step)}. Measure it before the head goes on.`
        : way === overGap
          ? told`${told.thing(limit)} is measured with the ring alone in its bore, and ${told.thing(over.part)} went in with its rings in step ${told.thing(by.step)}. Measure it before they go onto the piston.`
          : word === 'measure'
            ? told`${told.thing(limit)} can no longer be measured here: ${coveredWhere(over)} and is in the way. Measure it before ${told.thing(over.part)} goes on.`
            : told`${told.thing(limit)} can no longer be set here: ${coveredWhere(over)} and is in the way. Set it before ${told.thing(over.part)} goes on.`,
      { related: pointAt(by, told`${told.thing(over.part)} goes on here`) },
    );
    return;
  }
}
