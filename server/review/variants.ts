// Which views of two specs are held against each other, and what their variants have in common: that is said once. What differs
// between two views is found in review.ts.
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import { type Change, heavier } from './change.ts';
import { added, removed } from './compare.ts';
import type { Fact } from './facts.ts';
import { type Item, itemsOf } from './items.ts';
import { standsInOne, wholeChange } from './whole.ts';

export interface Couple {
  readonly old: BuiltView | undefined;
  readonly now: BuiltView | undefined;
  readonly name: string | undefined;
}

/** The views that are held against each other: those of one variant, or all with the only one of a spec without variants. */
export function couples(old: Analysis, now: Analysis): readonly Couple[] {
  const [first, second] = [old.views[0], now.views[0]];
  if (old.variants.length === 0) return now.views.map((view) => ({ old: first, now: view, name: view.variant }));
  if (now.variants.length === 0) return old.views.map((view) => ({ old: view, now: second, name: view.variant }));
  const names = [...new Set([...now.variants, ...old.variants])];
  const all = names.map((name) => ({
    old: old.views.find((view) => view.variant === name),
    now: now.views.find((view) => view.variant === name),
    name,
  }));
  // No variant is left: the first of the one is what comes closest to the first of the other.
  return all.some((each) => each.old !== undefined && each.now !== undefined)
    ? all
    : [{ old: first, now: second, name: undefined }, ...all];
}

const keyOf = (change: Change): string =>
  [
    change.what,
    change.kind,
    change.old,
    change.new,
    change.oldPlace?.start,
    change.newPlace?.start,
    // What the rehearsal says of a move may differ from variant to variant; it is one move.
    change.kind === 'moved' ? '' : change.message,
  ].join('\n');

/** What stands in a variant that the other spec has not, and in none that both have: gone or new with it. */
export function onlyHere(couple: Couple, all: readonly Couple[], analysis: Analysis): readonly Change[] {
  const view = couple.old ?? couple.now;
  if (view === undefined) return [];
  const isOld = couple.now === undefined;
  const others = all.flatMap((each) =>
    each.old !== undefined && each.now !== undefined ? [isOld ? each.old : each.now] : [],
  );
  const seen = new Set(others.flatMap((other) => itemsOf(analysis, other).flatMap((item) => item.facts.map(placeKey))));
  const heads = new Set(
    others.flatMap((other) => itemsOf(analysis, other).map((item) => item.place.start + item.place.file)),
  );
  const here = itemsOf(analysis, view);
  const isNew = (item: Item): boolean => !heads.has(item.place.start + item.place.file);
  return here.flatMap((item): readonly Change[] => {
    const kind = isOld ? 'removed' : 'added';
    if (item.word === 'file') return [];
    if (isNew(item)) return standsInOne(item, here.filter(isNew)) ? [] : [wholeChange(item, kind, here)];
    const facts = item.facts.filter((fact) => !seen.has(placeKey(fact)));
    return facts.map((fact) => (isOld ? removed({ item, fact }) : added({ item, fact })));
  });
}

const placeKey = (fact: Fact): string => `${fact.place.file} ${fact.place.start} ${fact.path}`;

export interface Found {
  readonly name: string | undefined;
  readonly changes: readonly Change[];
}

/** What all variants have in common is said once, without them. */
export function merged(found: readonly Found[]): readonly Change[] {
  const all = new Map<string, { change: Change; names: Set<string | undefined> }>();
  for (const { name, changes } of found) {
    const many = new Map<string, number>();
    for (const change of changes) {
      const same = keyOf(change);
      const number = (many.get(same) ?? 0) + 1;
      many.set(same, number);
      const key = `${same}\n${number}`;
      const known = all.get(key);
      if (known === undefined) all.set(key, { change, names: new Set([name]) });
      else {
        known.names.add(name);
        if (heavier(known.change.weight, change.weight) !== known.change.weight) known.change = change;
      }
    }
  }
  return [...all.values()].map(({ change, names }) => {
    if (names.size === found.length) return change;
    return { ...change, variants: [...names].flatMap((name) => name ?? []) };
  });
}
