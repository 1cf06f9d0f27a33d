// Where a part belongs: its own rod, saddle or bank, the half that its place goes into, the shaft that it is fixed to. What is said of it in
// the spec comes first; upper and lower shells, left and right go by their names. Common practice, no source.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Action, Place, Reference } from '../../grammar/tree.ts';
import { placesOfFeature } from '../model/feature-places.ts';
import { isA, type TradeKind } from '../model/trade-names.ts';
import type { Part } from '../model/view.ts';
import type { Act } from './act.ts';
import { dimensionCounts } from './at-the-bench.ts';
import type { PartState } from './part-state.ts';
import { placeName, placesIn } from './places.ts';
import { type State, say } from './state.ts';

const SIDES = /(^|-)(left|right)(-|$)/i;
/** Halves of a case, and blocks, carry what belongs to both sides. */
const BOTH_SIDES: readonly TradeKind[] = ['case', 'block', 'timing-case'];

/** Places as they are written one after the other, from 0. */
function inOrder(part: Part, written: readonly Place[]): readonly number[] {
  return [...new Set(written.flatMap((place) => placesIn(part, [place])))];
}

/** The name of the group that a place lies in, and the part that it goes into. */
function groupOf(part: Part, place: number): Part['places'][number] | undefined {
  let first = 0;
  return part.places.find(({ count }) => {
    first += count;
    return place < first;
  });
}

const PAIRED: readonly TradeKind[] = ['rod', 'piston', 'liner', 'barrel'];
/** These go with another only where the spec says that they are matched. */
const NO_PAIR: readonly TradeKind[] = ['shim', 'valve-spring', 'ring', 'o-ring', 'seal', 'gasket'];

/** What comes in pairs though no line says that it is matched. */
function isPair(part: Part, mate: Part): boolean {
  if (isA(part, ...NO_PAIR)) return part.matched;
  if (part.matched || mate.matched) return true;
  return isA(part, 'cap', ...PAIRED) && isA(mate, ...PAIRED);
}

/** Numbers written on both sides, of as many, that are not the same: cap 1 on rod 2. */
function crossed(
  part: Part,
  target: Reference,
  mate: Part,
  onto: Reference,
  inHand: readonly number[] = [],
): Told | undefined {
  if (onto.places.length === 0 || !isPair(part, mate)) return undefined;
  const own = target.places.length === 0 ? inHand : inOrder(part, target.places);
  if (own.length === 0) return undefined;
  if (onto.feature !== undefined) {
    // `block.saddle 3`: numbered, without names.
    const numbers = onto.places.flatMap(({ from, to }) =>
      from === undefined
        ? []
        : Array.from({ length: Math.max(0, Math.min(64, (to ?? from) - from + 1)) }, (_, i) => from + i - 1),
    );
    return placesOfFeature(mate, onto.feature.text) === part.count ? differ(part, own, numbers, String) : undefined;
  }
  if (mate.count !== part.count) return undefined;
  return differ(part, own, inOrder(mate, onto.places), (i) => told.place(placeName(mate, i - 1)));
}

function differ(
  part: Part,
  own: readonly number[],
  others: readonly number[],
  name: (number: number) => Argument,
): Told | undefined {
  if (own.length !== others.length) return undefined;
  const k = own.findIndex((place, i) => place !== others[i]);
  const [place, other] = [own[k], others[k]];
  return place === undefined || other === undefined
    ? undefined
    : told`${told.thing(part)} ${told.place(placeName(part, place))} goes on number ${name(other + 1)}, and each belongs on its own`;
}

/** The half that a place is said to go into, or that its name tells. */
function otherHome(part: Part, places: readonly number[], mate: Part, state: State): Told | undefined {
  const isShell = part.wall !== undefined || isA(part, 'shell');
  for (const place of places) {
    const group = groupOf(part, place);
    if (group?.into !== undefined) {
      if (group.into !== mate.name)
        return told`${told.thing(part)} ${told.place(group.name ?? '')} goes into ${told.named(group.into, 'part')}`;
      continue;
    }
    const other = isShell || isA(part, 'cam-bearing') ? otherHalf(group?.name, mate, state) : undefined;
    if (other !== undefined)
      return told`${told.thing(part)} ${told.place(group?.name ?? '')} goes into ${told.thing(other)}`;
    if (!isShell || group?.name === undefined || (state.view.engine === undefined && !isA(mate, 'block', 'cap', 'rod')))
      continue;
    if (/^lower$/i.test(group.name) && isA(mate, 'block', 'rod'))
      return told`${told.thing(part)} lower goes into the cap`;
    if (/^upper$/i.test(group.name) && isA(mate, 'cap')) {
      if (isA(mate, 'rod-cap')) return told`${told.thing(part)} upper goes into the rod`;
      const block = state.parts.ofKind('block')[0]?.part;
      if (block !== undefined) return told`${told.thing(part)} upper goes into the ${told.thing(block)}`;
    }
  }
  return undefined;
}

/** The left half of a case where a left shell is put into the right one. */
function otherHalf(group: string | undefined, mate: Part, state: State): Part | undefined {
  const [own, its] = [sideOf(group), sideOf(mate.name)];
  if (own === undefined || its === undefined || own === its || !isA(mate, 'case')) return undefined;
  return state.parts.get(mate.name.replace(SIDES, `$1${own}$3`))?.part;
}

function sideOf(text: string | undefined): string | undefined {
  return SIDES.exec(text ?? '')?.[2]?.toLowerCase();
}

/** Left onto right: by the names of parts, of places, or the bank that a cylinder lies in. */
function otherSide(part: Part, places: readonly number[], mate: Part, onto: Reference, state: State): Told | undefined {
  if (isA(part, ...BOTH_SIDES) || isA(mate, ...BOTH_SIDES)) return undefined;
  const written = [...new Set(places.map((i) => groupOf(part, i)?.name))];
  const own = sideOf(part.name) ?? (written.length === 1 ? sideOf(written[0]) : undefined);
  if (own === undefined) return undefined;
  const others =
    onto.places.length === 0
      ? [sideOf(mate.name)]
      : placesIn(mate, onto.places).map(
          (i) => sideOf(groupOf(mate, i)?.name) ?? sideOf(mate.name) ?? bankOf(state, mate, i),
        );
  const other = others.find((side) => side !== undefined && side !== own);
  return other === undefined
    ? undefined
    : sideOf(part.name) === undefined
      ? told`${told.thing(part)} ${own} belongs on the ${told.term(own)}, and this is on the ${told.term(other)}`
      : told`${told.thing(part)} belongs on the ${told.term(own)}, and this is on the ${told.term(other)}`;
}

/** The bank of a cylinder, for what there is one of for each cylinder. */
function bankOf(state: State, { count }: Part, place: number): string | undefined {
  const { engine } = state.view;
  const banks = (engine?.statements ?? []).flatMap((each) => (each.kind === 'bank' ? [each] : []));
  const cylinders = (engine?.statements ?? []).flatMap((each) =>
    each.kind === 'cylinders' ? [each.count.value] : [],
  )[0];
  if (cylinders !== count) return undefined;
  return banks.find((bank) => bank.cylinders.some(({ value }) => value === place + 1))?.side.word;
}

/** A wheel on a shaft that neither its `fixed-to` nor its bolt names. */
function otherShaft(part: Part, mate: Part, state: State): Told | undefined {
  if (state.speeds.get(mate.name) === undefined && !isA(mate, 'crankshaft', 'camshaft')) return undefined;
  const holders = state.clampedBy
    .get(part.name)
    .flatMap(({ fastener }) => fastener.clamps.flatMap(({ to }) => to?.owner.text ?? []));
  const said = part.fixedTo === undefined ? holders : [part.fixedTo];
  const shaft = said[0];
  if (shaft === undefined || said.includes(mate.name)) return undefined;
  // A hub between them turns with one of the two.
  const chain = (from: string): readonly string[] => {
    const names: string[] = [];
    for (let name: string | undefined = from; name !== undefined && names.length < 8; ) {
      names.push(name);
      const thing = state.view.things.get(name);
      name = thing?.kind === 'part' ? thing.fixedTo : undefined;
    }
    return names;
  };
  if (said.some((each) => chain(each).includes(mate.name) || chain(mate.name).includes(each))) return undefined;
  // Only a shaft can be mistaken for another.
  if (state.speeds.get(shaft) === undefined && !isA(shaft, 'crankshaft', 'camshaft')) return undefined;
  return told`${told.thing(part)} belongs on ${told.named(shaft, 'part')}`;
}

/** A seal that has a carrier by its name, put straight into what the carrier is bolted to. */
function otherCarrier(part: Part, mate: Part, state: State): Told | undefined {
  if (!isA(part, 'seal') || !isA(mate, 'block', 'case', 'head')) return undefined;
  const carrier = ['carrier', 'housing', 'retainer', 'holder']
    .map((word) => state.parts.get(`${part.name}-${word}`)?.part)
    .find((each) => each !== undefined);
  return carrier === undefined || carrier === mate
    ? undefined
    : told`${told.thing(part)} goes into ${told.thing(carrier)}`;
}

/** What other parts are bolted to. */
const CASTINGS: readonly TradeKind[] = ['block', 'head', 'case', 'timing-cover', 'timing-case', 'sump', 'manifold'];

/** A part on another casting than the one that its bolts clamp it to. What lies between the two is clamped with it. */
function otherCasting(part: Part, mate: Part, state: State): Told | undefined {
  if (!isA(mate, ...CASTINGS)) return undefined;
  const holders = state.clampedBy.get(part.name).map(({ fastener }) => fastener);
  const targets = holders.map(
    ({ clamps, to }) => clamps.find((clamp) => clamp.part === part.name)?.to?.owner.text ?? to?.part,
  );
  const [target] = targets;
  if (
    target === undefined ||
    targets.some((each) => each === undefined || each === mate.name || !isA(each, ...CASTINGS))
  )
    return undefined;
  if (holders.some(({ clamps }) => clamps.some((clamp) => clamp.part === mate.name))) return undefined;
  // Halves of a case are one when it is shut.
  if (isA(mate, 'case') && targets.every((each) => isA(each ?? '', 'case'))) return undefined;
  return told`${told.named(holders[0]?.name ?? '', 'fastener')} clamps ${told.thing(part)} to ${told.named(target, 'part')}`;
}

/** More of a part in one thing than that has places for, as its sizes tell: `lifter-bore x4` in each half of a case. */
function tooMany(
  { view }: State,
  { part, fittedBy }: PartState,
  places: readonly number[],
  mate: Part,
): Told | undefined {
  const counts = dimensionCounts(view, mate);
  const bore = ['bore', 'hole', 'seat', 'pocket']
    .map((word) => `${part.name}-${word}`)
    .find((name) => counts.has(name));
  const count = bore === undefined ? undefined : counts.get(bore);
  // One without a count is the size of all of them.
  if (bore === undefined || count === undefined || count < 2 || mate.count !== 1) return undefined;
  const there = fittedBy.filter(
    (by, i) =>
      !places.includes(i) && by?.statement.kind === 'action' && by.statement.mate?.reference.owner.text === mate.name,
  );
  const all = there.length + places.length;
  return all > count
    ? told`${told.thing(mate)} has ${count} of ${told.named(bore)}, and ${told.thing(part)} would be ${all} in it`
    : undefined;
}

/** `fit piston 1, connecting-rod 2 together`: made up as a pair that none is. */
function sayIfCrossedTogether(state: State, { part }: PartState, target: Reference, action: Action, act: Act): boolean {
  if (state.saidElsewhere.has(part.name)) return false;
  // Told at the first of the two.
  for (const other of action.targets.slice(action.targets.indexOf(target) + 1)) {
    const mate = state.parts.get(other.owner.text)?.part;
    const why = mate === undefined || mate === part ? undefined : crossed(part, target, mate, other);
    if (mate === undefined || why === undefined || state.unsure) continue;
    if (!state.muted) state.saidElsewhere.add(part.name);
    say(
      state,
      'sequence/wrong-place',
      act,
      told`${why}: here it goes together with ${told.thing(mate)}. Fit it where it belongs, or set the name or the number right.`,
    );
    return true;
  }
  return false;
}

/** Says that a part goes where it does not belong; once for each part. True when it does. */
export function sayIfElsewhere(
  state: State,
  part: PartState,
  target: Reference,
  places: readonly number[],
  action: Action,
  act: Act,
): boolean {
  const onto = action.mate?.reference;
  if (onto === undefined && action.together) return sayIfCrossedTogether(state, part, target, action, act);
  const mate = onto === undefined ? undefined : state.parts.get(onto.owner.text)?.part;
  if (onto === undefined || mate === undefined || state.saidElsewhere.has(part.part.name)) return false;
  // In a step that is done for each place the one in hand is meant.
  const inHand = state.turn !== undefined && places.length === 1 ? places : [];
  const why =
    crossed(part.part, target, mate, onto, inHand) ??
    // Where no place is written all of them are meant, and the spec tells no more.
    (target.places.length === 0 ? undefined : otherHome(part.part, places, mate, state)) ??
    tooMany(state, part, places, mate) ??
    otherSide(part.part, places, mate, onto, state) ??
    otherShaft(part.part, mate, state) ??
    otherCarrier(part.part, mate, state) ??
    otherCasting(part.part, mate, state);
  if (why === undefined || state.unsure) return false;
  if (!state.muted) state.saidElsewhere.add(part.part.name);
  say(
    state,
    'sequence/wrong-place',
    act,
    told`${why}: here it goes ${action.mate?.word ?? 'onto'} ${told.thing(mate)}. Fit it where it belongs, or set the name or the number right.`,
  );
  return true;
}
