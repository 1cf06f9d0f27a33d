// Compares two specs by meaning: for each variant on its own, then what the variants have in common is said once. Each piece of the
// work is in a file beside this one; nothing is printed here.
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import { byPhase } from '../rehearsal/plan.ts';
import { type Change, heavier, WEIGHTS, type Weight } from './change.ts';
import { comparePair, type Left } from './compare.ts';
import type { Fact } from './facts.ts';
import { findingChanges } from './findings.ts';
import { type Item, itemsOf } from './items.ts';
import { movedSteps, sortLeft } from './moves.ts';
import { inOrder } from './order.ts';
import { judgeMoves } from './rehearsed.ts';
import { type Paired, pairUp } from './renames.ts';
import { weightOf } from './weights.ts';
import { addedText, calledItem, removedText, wholeAdded, wholeRemoved, wholeText } from './words.ts';

export interface ReviewOptions {
  /** Only what stands in the two files themselves, not in those that they use. */
  readonly ownOnly?: boolean;
}

/** What a declaration weighs that is new or gone as a whole: as much as the heaviest thing that it says. */
function wholeWeight(item: Item, kind: 'added' | 'removed', steps: readonly Item[]): Weight {
  const least: Weight = item.word === 'file' ? 'wording' : 'matters';
  return [item, ...steps]
    .flatMap(({ word, facts }) => facts.map((fact) => weightOf(word, fact.word, kind)))
    .reduce(heavier, least);
}

function wholeChange(item: Item, kind: 'added' | 'removed', all: readonly Item[]): Change {
  const steps = item.word === 'sequence' ? all.filter((each) => each.sequence === item.name) : [];
  const weight = wholeWeight(item, kind, steps);
  return kind === 'added'
    ? { ...{ what: item.key, kind, weight, new: wholeText(item) }, message: wholeAdded(item), newPlace: item.place }
    : { ...{ what: item.key, kind, weight, old: wholeText(item) }, message: wholeRemoved(item), oldPlace: item.place };
}

/** Steps of a sequence that is new or gone as well are said with it. */
function standsInOne(item: Item, others: readonly Item[]): boolean {
  return item.word === 'step' && others.some((each) => each.word === 'sequence' && each.name === item.sequence);
}

function factsOfWhole(items: readonly Item[]): readonly Left[] {
  return items.filter((item) => item.word === 'step').flatMap((item) => item.facts.map((fact) => ({ item, fact })));
}

/** Sequences that run in another order, where no job says the order. */
function movedSequences(
  old: BuiltView,
  now: BuiltView,
  files: readonly [string, string],
  { pairs }: Paired,
): readonly Change[] {
  const own = (view: BuiltView, file: string): readonly string[] | undefined =>
    view.jobs.some((job) => job.placed.file === file)
      ? undefined
      : byPhase(view.sequences.filter((each) => each.placed.file === file)).map((each) => each.name);
  const [before, after] = [own(old, files[0]), own(now, files[1])];
  if (before === undefined || after === undefined) return [];
  const both = pairs.filter(
    (pair) => pair.now.word === 'sequence' && before.includes(pair.old.name) && after.includes(pair.now.name),
  );
  const nowOf = new Map(both.map((pair) => [pair.old.name, pair.now.name]));
  const kept = inOrder(before, after, (one, other) => ({ degree: nowOf.get(one) === other ? 2 : 0, key: other }));
  const stayed = new Set(kept.map(([, j]) => after[j]));
  return both
    .filter((pair) => !stayed.has(pair.now.name))
    .map((pair) => ({
      ...{ what: pair.now.key, kind: 'moved', weight: 'matters' },
      ...{ old: before.join(', '), new: after.join(', '), oldPlace: pair.old.place, newPlace: pair.now.place },
      message: `${calledItem(pair.now)} moved: the order was ${before.join(', ')}, and is now ${after.join(', ')}.`,
    }));
}

interface Sight {
  readonly analysis: Analysis;
  readonly view: BuiltView;
  readonly items: readonly Item[];
}

function reviewOne(old: Sight, now: Sight): readonly Change[] {
  const paired = pairUp(old.items, now.items);
  const { pairs, removed, added, renames } = paired;
  const compared = pairs.map((pair) => comparePair(pair, renames));
  const whole = new Set([...removed, ...added]);
  const steps = movedSteps(paired, old.items, now.items);
  const sorted = sortLeft(
    [...compared.flatMap((each) => each.gone), ...factsOfWhole(removed)],
    [...compared.flatMap((each) => each.fresh), ...factsOfWhole(added)],
    whole,
    renames,
  );
  const files = [old.analysis.file.file, now.analysis.file.file] as const;
  const factNow = new Map<Fact, Fact>(compared.flatMap((each) => each.same));
  const stepNow = new Map(
    pairs.filter((pair) => pair.now.word === 'step').map((pair) => [pair.old.name, pair.now.name]),
  );
  const bench = { old: old.view, now: now.view, oldFile: files[0], file: files[1], renames, stepNow, factNow };
  const nowOf = new Map(pairs.map((pair) => [pair.old, pair.now]));
  const variant = (sight: Sight) => ({ analysis: sight.analysis, variant: sight.view.variant, items: sight.items });
  return [
    ...compared.flatMap((each) => each.changes),
    ...sorted.changes,
    ...judgeMoves([...steps, ...sorted.moves], { ...bench, oldItems: old.items }),
    ...movedSequences(old.view, now.view, files, paired),
    ...removed
      .filter((item) => isSaid(item) && !standsInOne(item, removed))
      .map((item) => wholeChange(item, 'removed', removed)),
    ...added
      .filter((item) => isSaid(item) && !standsInOne(item, added))
      .map((item) => wholeChange(item, 'added', added)),
    ...findingChanges(variant(old), variant(now), nowOf, renames),
  ];
}

/** A file without a word outside its declarations is nothing to speak of. */
function isSaid(item: Item): boolean {
  return item.word !== 'file' || item.facts.length > 0;
}

interface Couple {
  readonly old: BuiltView | undefined;
  readonly now: BuiltView | undefined;
  readonly name: string | undefined;
}

/** The views that are held against each other: those of one variant, or all with the only one of a spec without variants. */
function couples(old: Analysis, now: Analysis): readonly Couple[] {
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
function onlyHere(couple: Couple, all: readonly Couple[], analysis: Analysis): readonly Change[] {
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
    return facts.map((fact) =>
      isOld
        ? {
            ...{ what: `${item.key}.${fact.path}`, kind, weight: weightOf(item.word, fact.word, kind), old: fact.text },
            ...{ message: removedText(item, fact), oldPlace: fact.place },
          }
        : {
            ...{ what: `${item.key}.${fact.path}`, kind, weight: weightOf(item.word, fact.word, kind), new: fact.text },
            ...{ message: addedText(item, fact), newPlace: fact.place },
          },
    );
  });
}

const placeKey = (fact: Fact): string => `${fact.place.file} ${fact.place.start} ${fact.path}`;

interface Found {
  readonly name: string | undefined;
  readonly changes: readonly Change[];
}

/** What all variants have in common is said once, without them. */
function merged(found: readonly Found[]): readonly Change[] {
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

/** Where a change stands, for a steady order: what is in the two files themselves first, then what they use. */
function inWork({ oldPlace, newPlace, what }: Change, own: ReadonlySet<string>): string {
  const place = newPlace ?? oldPlace;
  const file = place === undefined || own.has(place.file) ? '' : place.file;
  return `${file} ${String(place?.start ?? 0).padStart(9, '0')} ${what}`;
}

/**
 * Everything that the new spec means otherwise than the old one, the weightiest first, then by place. Another layout, another unit,
 * a comment, another order of declarations, a new name for the same thing used throughout: no change but that name.
 */
export function reviewSpecs(old: Analysis, now: Analysis, options: ReviewOptions = {}): readonly Change[] {
  const all = couples(old, now);
  const both: Found[] = [];
  const alone: Change[] = [];
  for (const couple of all) {
    const { name } = couple;
    if (couple.old === undefined || couple.now === undefined) {
      const changes = onlyHere(couple, all, couple.old === undefined ? now : old);
      alone.push(...changes.map((change) => ({ ...change, ...(name === undefined ? {} : { variants: [name] }) })));
      continue;
    }
    const before: Sight = { analysis: old, view: couple.old, items: itemsOf(old, couple.old) };
    const after: Sight = { analysis: now, view: couple.now, items: itemsOf(now, couple.now) };
    both.push({ name, changes: reviewOne(before, after) });
  }
  const own = new Set([old.file.file, now.file.file]);
  const isOwn = (change: Change): boolean =>
    change.oldPlace?.file === old.file.file || change.newPlace?.file === now.file.file;
  return [...merged(both), ...alone]
    .filter((change) => options.ownOnly !== true || isOwn(change))
    .sort(
      (a, b) =>
        WEIGHTS.indexOf(a.weight) - WEIGHTS.indexOf(b.weight) ||
        (inWork(a, own) < inWork(b, own) ? -1 : inWork(a, own) > inWork(b, own) ? 1 : 0),
    );
}
