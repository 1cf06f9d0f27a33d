// Pairs the declarations of two specs: by name, and where a name is gone and another is new, by what they say and by what speaks of
// them. What was renamed is found here, so that the rest is compared under the new names.
import { usesOf } from '../model/references.ts';
import { isSame, type Sides } from './differences.ts';
import type { Fact } from './facts.ts';
import { type Item, idOf } from './items.ts';
import { noRenames, type Renames } from './names.ts';

export interface Pair {
  readonly old: Item;
  readonly now: Item;
}

export interface Paired {
  readonly pairs: readonly Pair[];
  readonly removed: readonly Item[];
  readonly added: readonly Item[];
  readonly renames: Renames;
}

/** Two are one under another name where this share of what they say and of what speaks of them agrees. Own choice, no source. */
const ENOUGH = 0.6;

const NEVER_RENAMED = new Set(['use', 'file', 'engine']);

type Uses = ReadonlyMap<string, readonly string[]>;

/** For each name, what speaks of it: the declaration and the statement. */
function usesIn(items: readonly Item[], known: (item: Item) => string): Uses {
  const out = new Map<string, string[]>();
  for (const item of items) {
    if (item.placed === undefined) continue;
    for (const use of usesOf(item.placed).uses) {
      const list = out.get(use.name.text);
      const told = `${known(item)} ${use.word}`;
      if (list === undefined) out.set(use.name.text, [told]);
      else list.push(told);
    }
  }
  return out;
}

function inCommon(one: readonly string[], other: readonly string[]): number {
  const left = [...other];
  let many = 0;
  for (const each of one) {
    const at = left.indexOf(each);
    if (at < 0) continue;
    left.splice(at, 1);
    many += 1;
  }
  return many;
}

function factsInCommon(one: Item, other: Item, renames: Renames): number {
  const sides: Sides = { old: one.placed, now: other.placed, renames };
  const left = [...other.facts];
  let many = 0;
  for (const fact of one.facts) {
    const at = left.findIndex((each) => each.word === fact.word && isSame(fact.node, each.node, sides));
    if (at < 0) continue;
    left.splice(at, 1);
    many += 1;
  }
  return many;
}

/** How much of two declarations agrees, from 0 to 1; what they are called is of no account. */
function likeness(one: Item, other: Item, uses: readonly [Uses, Uses], renames: Renames): number {
  const [old, now] = [uses[0].get(one.name) ?? [], uses[1].get(other.name) ?? []];
  const all = one.facts.length + other.facts.length + old.length + now.length + one.steps.length + other.steps.length;
  if (all === 0) return 0;
  const steps = inCommon(one.steps, other.steps);
  return (2 * (factsInCommon(one, other, renames) + inCommon(old, now) + steps)) / all;
}

function looseNames(removed: readonly Item[], added: readonly Item[]): Renames {
  const names = (items: readonly Item[]): ReadonlySet<string> => new Set(items.map((item) => item.name));
  return { ...noRenames(), loose: { old: names(removed), now: names(added) } };
}

interface Candidate extends Pair {
  readonly likeness: number;
  readonly key: string;
}

/** More than this many of one word that are gone and new are not held against each other one by one. */
const MOST = 60;

function candidates(
  removed: readonly Item[],
  added: readonly Item[],
  uses: readonly [Uses, Uses],
): readonly Candidate[] {
  const loose = looseNames(removed, added);
  const words = new Set(removed.map((item) => item.word).filter((word) => !NEVER_RENAMED.has(word)));
  const found = [...words].flatMap((word) => {
    const [gone, fresh] = [removed, added].map((items) => items.filter((item) => item.word === word));
    if (gone === undefined || fresh === undefined || gone.length * fresh.length > MOST * MOST) return [];
    return gone.flatMap((old) =>
      fresh.map((now) => ({
        ...{ old, now, likeness: likeness(old, now, uses, loose) },
        key: [old.name, now.name].sort().join(' '),
      })),
    );
  });
  return found
    .filter((each) => each.likeness >= ENOUGH)
    .sort((a, b) => b.likeness - a.likeness || (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
}

/** Pairs what is declared in two specs. */
export function pairUp(old: readonly Item[], now: readonly Item[]): Paired {
  const byId = new Map(now.map((item) => [idOf(item), item]));
  const pairs: Pair[] = [];
  const gone: Item[] = [];
  for (const item of old) {
    const other = byId.get(idOf(item));
    if (other === undefined) gone.push(item);
    else {
      pairs.push({ old: item, now: other });
      byId.delete(idOf(item));
    }
  }
  const fresh = [...byId.values()];
  const known = new Set(pairs.flatMap((pair) => [pair.old, pair.now]));
  const told = (item: Item): string => (known.has(item) ? idOf(item) : item.word);
  const renames = noRenames();
  const taken = new Set<Item>();
  if (gone.length > 0 && fresh.length > 0) {
    for (const each of candidates(gone, fresh, [usesIn(old, told), usesIn(now, told)])) {
      if (taken.has(each.old) || taken.has(each.now)) continue;
      taken.add(each.old).add(each.now);
      pairs.push({ old: each.old, now: each.now });
      renames.things.set(each.old.name, each.now.name);
    }
  }
  for (const pair of pairs) renameInside(pair, renames);
  return {
    pairs,
    removed: gone.filter((item) => !taken.has(item)),
    added: fresh.filter((item) => !taken.has(item)),
    renames,
  };
}

const withoutName = (node: unknown): unknown => {
  if (typeof node !== 'object' || node === null) return node;
  const own = Object.entries(node).filter(([property]) => property !== 'name' && property !== 'feature');
  return 'text' in node ? {} : Object.fromEntries(own);
};

/** Features of a part, and sources, that are the same under another name. */
function renameInside({ old, now }: Pair, renames: Renames): void {
  const sides: Sides = { old: old.placed, now: now.placed, renames };
  const labelled = (item: Item, other: Item): readonly Fact[] =>
    item.facts.filter(
      (fact) =>
        fact.label !== undefined && fact.word !== 'variants' && !other.facts.some((each) => each.path === fact.path),
    );
  const left = [...labelled(now, old)];
  for (const fact of labelled(old, now)) {
    const like = left.filter(
      (each) => each.word === fact.word && isSame(withoutName(fact.node), withoutName(each.node), sides),
    );
    const other = like[0];
    if (other?.label === undefined || fact.label === undefined || like.length > 1) continue;
    left.splice(left.indexOf(other), 1);
    if (fact.word === 'source') renames.sources.set(fact.label, other.label);
    else renames.features.set(`${old.name}.${fact.label}`, other.label);
  }
}
