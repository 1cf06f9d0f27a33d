// Two declarations that are one, held against each other fact by fact. What is done in order is left over where it has no other side
// here: it may have moved to another step (see moves.ts).
import { type Change, saying, sentence, type Weight } from './change.ts';
import { type Difference, differences, isSame, type Sides } from './differences.ts';
import type { Fact } from './facts.ts';
import type { Item } from './items.ts';
import { type Renames, renamedText } from './names.ts';
import { inOrder } from './order.ts';
import type { Relation } from './printed.ts';
import type { Pair } from './renames.ts';
import { weightOf } from './weights.ts';
import { addedText, changedText, removedText, renamedFeature, renamedItem } from './words.ts';

/** A fact without another side, with the declaration that it stands in. */
export interface Left {
  readonly item: Item;
  readonly fact: Fact;
}

export interface ComparedPair {
  readonly changes: readonly Change[];
  /** Of a step: what may have moved. */
  readonly gone: readonly Left[];
  readonly fresh: readonly Left[];
  /** Which old statement is which new one, where they do the same at the same place. */
  readonly same: readonly (readonly [Fact, Fact])[];
}

/** The path of an old fact under the new names. */
function pathNow(item: Item, fact: Fact, renames: Renames): string {
  const [word = '', ...labels] = fact.path.split('.');
  const names = word === 'source' ? renames.sources : undefined;
  const now = labels.map((label) => names?.get(label) ?? renames.features.get(`${item.name}.${label}`) ?? label);
  return renamedText([word, ...now].join('.'), renames);
}

function without(node: unknown, property: string): unknown {
  if (typeof node !== 'object' || node === null) return node;
  return Object.fromEntries(Object.entries(node).filter(([name]) => name !== property));
}

/** What two facts say differently; a label that was renamed is no difference. */
function differencesOf(old: Fact, now: Fact, sides: Sides): readonly Difference[] {
  if (old.label !== undefined && now.label !== undefined && old.label !== now.label) {
    if (typeof old.node === 'object' && old.node !== null && 'text' in old.node) return [];
    const bare = (fact: Fact): unknown => without(without(fact.node, 'name'), 'feature');
    return differences(bare(old), bare(now), sides);
  }
  return differences(old.node, now.node, sides);
}

const words = (text: string): readonly string[] => text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];

/** Whether two remarks are one that was put otherwise: half of their words are the same. */
function sameRemark(old: string, now: string): boolean {
  const [one, other] = [words(old), [...words(now)]];
  const all = one.length + other.length;
  let common = 0;
  for (const word of one) {
    const at = other.indexOf(word);
    if (at < 0) continue;
    other.splice(at, 1);
    common += 1;
  }
  return all === 0 || 2 * common >= all / 1.5;
}

const TEXTS = new Set(['note', 'caution', 'tool', 'hold-point', 'deviation', 'log', 'photo']);

/** Whether one may have become the other: of several texts with one word those that are alike, and one that stands alone whatever it says. */
function mayBe(old: Fact, now: Fact, { old: before, now: after }: Pair): boolean {
  if (old.word !== now.word) return false;
  if (!TEXTS.has(old.word)) return true;
  return (standsAlone(old, before) && standsAlone(now, after)) || sameRemark(old.text, now.text);
}

function standsAlone(fact: Fact, { facts }: Item): boolean {
  return facts.every((each) => each === fact || each.path !== fact.path);
}

function relationOf(found: readonly Difference[]): Relation | undefined {
  const relations = new Set(found.map((each) => each.figures?.compared.relation ?? 'other'));
  if (relations.size === 1) return [...relations][0];
  return relations.has('other') ? 'other' : 'shifted';
}

export function changed(pair: Pair, old: Fact, now: Fact, found: readonly Difference[]): Change {
  return {
    what: `${pair.now.key}.${now.path}`,
    kind: 'changed',
    weight: weightOf(pair.now.word, now.word, 'changed', relationOf(found)),
    ...{ old: old.text, new: now.text, ...saying(changedText(pair.now, old, now, found), sentence) },
    ...{ oldPlace: old.place, newPlace: now.place },
  };
}

export function removed({ item, fact }: Left): Change {
  return {
    ...{ what: `${item.key}.${fact.path}`, kind: 'removed', weight: weightOf(item.word, fact.word, 'removed') },
    ...{ old: fact.text, ...saying(removedText(item, fact), sentence), oldPlace: fact.place },
  };
}

export function added({ item, fact }: Left): Change {
  return {
    ...{ what: `${item.key}.${fact.path}`, kind: 'added', weight: weightOf(item.word, fact.word, 'added') },
    ...{ new: fact.text, ...saying(addedText(item, fact), sentence), newPlace: fact.place },
  };
}

/** The name at the bench is the title where there is one; a step without one is called by its name there. */
function renamed({ old, now, unsure = false }: Pair): Change {
  const seen = now.word === 'step' && now.placed?.declaration.title === undefined;
  const weight: Weight = seen || unsure ? 'matters' : 'wording';
  return {
    ...{ what: `${now.key}.name`, kind: 'changed', weight, old: old.name, new: now.name },
    ...{ ...saying(renamedItem(old, now, unsure)), oldPlace: old.place, newPlace: now.place },
  };
}

function compareLoose(pair: Pair, renames: Renames): ComparedPair {
  const sides: Sides = { old: pair.old.placed, now: pair.now.placed, renames };
  const changes: Change[] = [];
  const left = pair.now.facts.filter((fact) => !fact.ordered);
  const take = (old: Fact, fits: (now: Fact) => boolean): Fact | undefined => {
    const path = pathNow(pair.old, old, renames);
    const at = left.findIndex((now) => now.path === path && fits(now));
    return at < 0 ? undefined : left.splice(at, 1)[0];
  };
  const same: (readonly [Fact, Fact])[] = [];
  const unlike = pair.old.facts.filter((old) => {
    if (old.ordered) return false;
    const now = take(old, (each) => differencesOf(old, each, sides).length === 0);
    if (now === undefined) return true;
    same.push([old, now]);
    if (old.label !== now.label && old.label !== undefined && old.path === `${old.word}.${old.label}`)
      changes.push({
        ...{ what: `${pair.now.key}.${now.path}.name`, kind: 'changed', weight: 'wording' },
        ...{ old: old.label, new: now.label ?? '', ...saying(renamedFeature(pair.now, now, old.label)) },
        ...{ oldPlace: old.place, newPlace: now.place },
      });
    return false;
  });
  const gone = unlike.filter((old) => {
    const now = take(old, (each) => mayBe(old, each, pair));
    if (now !== undefined) changes.push(changed(pair, old, now, differencesOf(old, now, sides)));
    return now === undefined;
  });
  return {
    changes,
    gone: gone.map((fact) => ({ item: pair.old, fact })),
    fresh: left.map((fact) => ({ item: pair.now, fact })),
    same,
  };
}

/** What is done in order: the longest run that kept it, and beside that what has another side here. */
function compareOrdered(pair: Pair, renames: Renames): ComparedPair {
  const sides: Sides = { old: pair.old.placed, now: pair.now.placed, renames };
  const [old, now] = [pair.old, pair.now].map((item) => item.facts.filter((fact) => fact.ordered));
  if (old === undefined || now === undefined) return { changes: [], gone: [], fresh: [], same: [] };
  const paths = new Map(old.map((fact) => [fact, pathNow(pair.old, fact, renames)]));
  const pairs = inOrder(old, now, (one, other) => {
    const isOne = isSame(one.node, other.node, sides) && one.word === other.word;
    const key = other.path;
    if (isOne) return { degree: 2, key };
    return { degree: paths.get(one) === other.path && mayBe(one, other, pair) ? 1 : 0, key };
  });
  const changes: Change[] = [];
  const same: (readonly [Fact, Fact])[] = [];
  const [goneAt, freshAt] = [new Set(old.keys()), new Set(now.keys())];
  for (const [i, j] of pairs) {
    const [one, other] = [old[i], now[j]];
    if (one === undefined || other === undefined) continue;
    goneAt.delete(i);
    freshAt.delete(j);
    const found = differences(one.node, other.node, sides);
    same.push([one, other]);
    if (found.length > 0) changes.push(changed(pair, one, other, found));
  }
  const rest = (facts: readonly Fact[], at: ReadonlySet<number>, item: Item): readonly Left[] =>
    facts.filter((_, i) => at.has(i)).map((fact) => ({ item, fact }));
  return { changes, gone: rest(old, goneAt, pair.old), fresh: rest(now, freshAt, pair.now), same };
}

/** Everything that one declaration says differently from another that is the same thing. */
export function comparePair(pair: Pair, renames: Renames): ComparedPair {
  const loose = compareLoose(pair, renames);
  const ordered = compareOrdered(pair, renames);
  const isRenamed = pair.old.name !== pair.now.name;
  const changes = [...(isRenamed ? [renamed(pair)] : []), ...loose.changes, ...ordered.changes];
  const [gone, fresh] = [
    [...loose.gone, ...ordered.gone],
    [...loose.fresh, ...ordered.fresh],
  ];
  const same = [...loose.same, ...ordered.same];
  if (pair.now.word === 'step') return { changes, gone, fresh, same };
  return { changes: [...changes, ...gone.map(removed), ...fresh.map(added)], gone: [], fresh: [], same };
}
