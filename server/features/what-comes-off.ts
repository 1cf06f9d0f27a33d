// All that comes off to get at a part, in the order of the work: what is in its way and in the way of that, and what lies under it and
// goes with it. What is in the way of one part is in in-the-way.ts.

import { type Told, told } from '../../grammar/told.ts';
import { targetsOf } from '../model/action-places.ts';
import { isA } from '../model/trade-names.ts';
import type { Part, View } from '../model/view.ts';
import { placesIn } from '../rehearsal/places.ts';
import { isGasket, isRockerGear, isShell } from './comes-with.ts';
import type { Build } from './how-it-went-on.ts';
import { inTheWay, type Surety } from './in-the-way.ts';
import { allPlacesOf, type Places, placesAlong } from './reach-places.ts';

export interface Off {
  readonly part: Part;
  readonly places: Places;
  /** Why, in words; for what was asked for, empty. */
  readonly why: Told | undefined;
  readonly surety: Surety;
  /** The part that it comes off for. */
  readonly of: Part | undefined;
  /** What it is taken off with in one piece. */
  readonly along?: string;
}

interface Found {
  readonly off: ReadonlyMap<string, Off>;
  /** By part: what has to come off before it. */
  readonly before: ReadonlyMap<string, ReadonlySet<string>>;
}

function canBeUnder(part: Part, under: Part, build: Build): boolean {
  if (
    build.view.fasteners.some(({ clamps }) =>
      [part, under].every(({ name }) => clamps.some((clamp) => clamp.part === name)),
    )
  )
    return under.singleUse || isGasket(under.name);
  return under.singleUse && (under.name === `${part.name}-gasket` || under.name === `${part.name}-base-gasket`);
}

/** The places of what was fitted into another part that go with some places of that. */
function placesInto(part: Part, places: Places, under: Part, build: Build): Places {
  const along = placesAlong(part, places, under, build.view);
  const own = new Set<number>();
  for (const { mate, action } of build.fitsOf(under.name)) {
    if (mate !== part.name) continue;
    for (const target of targetsOf(action, build.view))
      if (target.owner.text === under.name) for (const i of placesIn(under, target.places)) own.add(i);
  }
  return own.size === 0 ? along : new Set([...along].filter((i) => own.has(i)));
}

interface Under {
  readonly part: Part;
  readonly places: Places;
  readonly why: Told | undefined;
}

/** What lies under a part or in it, is new each time, and goes with it: gaskets, seals, shells; rockers on their shaft. */
function underIt(part: Part, places: Places, build: Build): readonly Under[] {
  return build.view.parts.flatMap((each): readonly Under[] => {
    if (each === part || build.view.things.get(each.name) !== each) return [];
    if (!isGasket(part.name) && canBeUnder(part, each, build))
      return [{ part: each, places: placesAlong(part, places, each, build.view), why: told`lies under ${part.name}` }];
    const isIn = build.fitsOf(each.name).some(({ mate, order }) => mate === part.name && order < build.last(part.name));
    if (isIn && isRockerGear(each.name) && isRockerGear(part.name))
      return [{ part: each, places: placesInto(part, places, each, build), why: told`comes off with ${part.name}` }];
    if (!each.singleUse || (each.wall === undefined && !isShell(each.name) && !isA(each.name, 'seal'))) return [];
    // A seal that is pressed in when what it sits in is on comes off with that all the same.
    const isSealIn =
      isA(each.name, 'seal') &&
      !isA(part.name, 'head') &&
      build.fitsOf(each.name).some(({ mate }) => mate === part.name);
    const isShellIn = !isA(each.name, 'seal') && isIn;
    if (isSealIn || isShellIn)
      return [{ part: each, places: placesInto(part, places, each, build), why: told`lies in ${part.name}` }];
    const shaft = isA(part, 'crankshaft');
    const below =
      shaft &&
      !isA(each.name, 'seal') &&
      build
        .fitsOf(each.name)
        .some(
          ({ mate, order }) =>
            mate !== undefined && build.mates(part.name).includes(mate) && order < build.last(part.name),
        );
    return below ? [{ part: each, places: allPlacesOf(each), why: told`lies under ${part.name}` }] : [];
  });
}

function isGasketUnder(part: Part, under: Part, build: Build): boolean {
  return !isGasket(part.name) && canBeUnder(part, under, build);
}

/** Whether the places that are concerned go into other parts than this one. */
function isElsewhere(mate: Part, { part, places }: Off, build: Build): boolean {
  if (places.size === Math.max(1, part.count) || !build.mates(part.name).includes(mate.name)) return false;
  const into = placesInto(mate, allPlacesOf(mate), part, build);
  return ![...places].some((i) => into.has(i));
}

function find(asked: readonly Off[], build: Build): Found {
  const off = new Map<string, Off>(asked.map((each) => [each.part.name, each]));
  const before = new Map<string, Set<string>>();
  const comesBefore = (name: string, other: string): void => {
    const list = before.get(other);
    if (list === undefined) before.set(other, new Set([name]));
    else list.add(name);
  };
  const open = [...off.keys()];
  // What goes with another part is taken out of it on the bench.
  const goesAlong = new Set<string>();
  const enter = (
    part: Part,
    places: Places,
    why: Told | undefined,
    surety: Surety,
    of: Part,
    isUnder = false,
  ): void => {
    const there = off.get(part.name);
    const all = new Set([...(there?.places ?? []), ...places]);
    if (there !== undefined && there.places.size === all.size) {
      // That it lies over its own gasket is no reason for it to come off.
      if (there.surety === 'guess' && surety !== 'guess' && !isUnder) off.set(part.name, { ...there, why, surety, of });
      return;
    }
    off.set(part.name, there === undefined ? { part, places: all, why, surety, of } : { ...there, places: all });
    open.push(part.name);
  };
  for (let name = open.shift(); name !== undefined; name = open.shift()) {
    const each = off.get(name);
    if (each === undefined) continue;
    for (const { name: other, why, surety } of goesAlong.has(name) ? [] : inTheWay(each.part, build)) {
      const part = build.part(other);
      if (part === undefined || isElsewhere(part, each, build)) continue;
      // What goes on and off together has no order of its own.
      if (!why?.text.startsWith('goes on and off together')) comesBefore(other, name);
      enter(
        part,
        placesAlong(each.part, each.places, part, build.view),
        why,
        surety,
        each.part,
        each.why?.text.startsWith('lies under'),
      );
    }
    for (const { part, places, why } of underIt(each.part, each.places, build)) {
      if (!off.has(part.name) || goesAlong.has(part.name)) comesBefore(name, part.name);
      if (!off.has(part.name) && !isGasketUnder(each.part, part, build)) goesAlong.add(part.name);
      enter(part, places, why, 'known', each.part);
      const there = off.get(part.name);
      if (there !== undefined && why?.text.startsWith('comes off with')) off.set(part.name, { ...there, along: name });
    }
  }
  return { off, before };
}

/** What went on last comes off first, and nothing before what is in its way. */
function inOrder({ off, before }: Found, build: Build): readonly Off[] {
  const left = new Set(off.keys());
  const order: Off[] = [];
  while (left.size > 0) {
    const names = [...left].sort((one, other) => build.last(other) - build.last(one));
    const isFree = (name: string): boolean =>
      [...(before.get(name) ?? [])].every((other) => other === name || !left.has(other));
    // Parts that cover each other come off as they went on.
    const next = names.find(isFree) ?? names[0];
    if (next === undefined) break;
    left.delete(next);
    const each = off.get(next);
    if (each !== undefined) order.push(each);
  }
  return order;
}

/** All that comes off, the part itself and the others that are named included, in the order of the work. */
export function whatComesOff(asked: readonly Off[], build: Build): readonly Off[] {
  return inOrder(find(asked, build), build);
}

/** What covers a part that has to be got at for a measurement. */
export function coversOf(name: string, view: View): readonly string[] {
  return view.parts
    .filter((part) => part.covers.some((cover) => cover.part === name && cover.mark === undefined))
    .map((part) => part.name);
}
