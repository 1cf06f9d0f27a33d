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
  /** Under another name, and only what speaks of it tells that it is the same: it may be another thing in its place. */
  readonly unsure?: boolean;
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

interface Use {
  readonly told: string;
  /** What speaks of it has another side: it is known to be the same. */
  readonly known: boolean;
}

/** For each name, what speaks of it: the declaration and the statement. */
function usesIn(items: readonly Item[], known: ReadonlySet<Item>): ReadonlyMap<string, readonly Use[]> {
  const out = new Map<string, Use[]>();
  for (const item of items) {
    if (item.placed === undefined) continue;
    const isKnown = known.has(item);
    const by = isKnown ? idOf(item) : item.word;
    for (const use of usesOf(item.placed).uses) {
      const told = { told: `${by} ${use.word}`, known: isKnown };
      const list = out.get(use.name.text);
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

/** What is itself without another side speaks of a thing with less weight. Own choice, no source. */
const HALF_KNOWN = 0.25;

interface Likeness {
  /** How much of two declarations agrees, from 0 to 1; what they are called is of no account. */
  readonly share: number;
  /** How much that was, in facts. */
  readonly evidence: number;
  readonly unsure: boolean;
}

function nameWords(item: Item): readonly string[] {
  return item.name.toLowerCase().split(/[-_]/);
}

function likeness(one: Item, other: Item, uses: readonly (readonly Use[])[], renames: Renames): Likeness {
  const [old = [], now = []] = uses;
  const told = (list: readonly Use[], known: boolean): readonly string[] =>
    list.filter((use) => use.known === known).map((use) => use.told);
  const weighed = (list: readonly Use[]): number => told(list, true).length + HALF_KNOWN * told(list, false).length;
  const common = inCommon(told(old, true), told(now, true)) + HALF_KNOWN * inCommon(told(old, false), told(now, false));
  const facts = factsInCommon(one, other, renames);
  const steps = inCommon(one.steps, other.steps);
  const all =
    one.facts.length + other.facts.length + one.steps.length + other.steps.length + weighed(old) + weighed(now);
  const evidence = facts + steps + common;
  const words = [nameWords(one), nameWords(other)] as const;
  const alike = 2 * inCommon(words[0], words[1]) >= (words[0].length + words[1].length) / 2;
  return {
    share: all === 0 ? 0 : (2 * evidence) / all,
    evidence: alike ? evidence + 1 : evidence,
    unsure: facts + steps === 0 && !alike,
  };
}

function looseNames(removed: readonly Item[], added: readonly Item[]): Renames {
  const names = (items: readonly Item[]): ReadonlySet<string> => new Set(items.map((item) => item.name));
  return { ...noRenames(), loose: { old: names(removed), now: names(added) } };
}

interface Candidate extends Pair {
  readonly share: number;
  readonly key: string;
}

/** More than this many of one word that are gone and new are not held against each other one by one. */
const MOST = 60;

function candidates(
  removed: readonly Item[],
  added: readonly Item[],
  uses: readonly ReadonlyMap<string, readonly Use[]>[],
): readonly Candidate[] {
  const loose = looseNames(removed, added);
  const words = new Set(removed.map((item) => item.word).filter((word) => !NEVER_RENAMED.has(word)));
  const found: Candidate[] = [];
  for (const word of words) {
    const [gone = [], fresh = []] = [removed, added].map((items) => items.filter((item) => item.word === word));
    if (gone.length * fresh.length > MOST * MOST) continue;
    for (const old of gone)
      for (const now of fresh) {
        const both = [uses[0]?.get(old.name) ?? [], uses[1]?.get(now.name) ?? []];
        const { share, evidence, unsure } = likeness(old, now, both, loose);
        if (share < ENOUGH || evidence < 1) continue;
        found.push({ ...{ old, now, share, unsure }, key: [old.name, now.name].sort().join(' ') });
      }
  }
  return found.sort((a, b) => b.share - a.share || (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
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
  const renames = noRenames();
  const taken = new Set<Item>();
  if (gone.length > 0 && fresh.length > 0) {
    for (const each of candidates(gone, fresh, [usesIn(old, known), usesIn(now, known)])) {
      if (taken.has(each.old) || taken.has(each.now)) continue;
      taken.add(each.old).add(each.now);
      pairs.push({ old: each.old, now: each.now, ...(each.unsure === true ? { unsure: true } : {}) });
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
