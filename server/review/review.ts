// Compares two specs by meaning: for each variant on its own, then what the variants have in common is said once. Each piece of the
// work is in a file beside this one; nothing is printed here.
import { told } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import type { BuiltView } from '../model/build-view.ts';
import { byPhase } from '../rehearsal/plan.ts';
import { type Change, saying, WEIGHTS } from './change.ts';
import { comparePair } from './compare.ts';
import type { Fact } from './facts.ts';
import { findingChanges } from './findings.ts';
import { type Item, itemsOf } from './items.ts';
import { movedSteps, sortLeft } from './moves.ts';
import { inOrder } from './order.ts';
import { judgeMoves } from './rehearsed.ts';
import { type Paired, pairUp } from './renames.ts';
import { couples, type Found, merged, onlyHere } from './variants.ts';
import { factsOfWhole, isSaid, standsInOne, wholeChange } from './whole.ts';
import { calledItem } from './words.ts';

export interface ReviewOptions {
  /** Only what stands in the two files themselves, not in those that they use. */
  readonly ownOnly?: boolean;
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
      ...saying(
        told`${calledItem(pair.now)} moved: the order was ${told.named(before.join(', '))}, and is now ${told.named(after.join(', '))}.`,
      ),
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
