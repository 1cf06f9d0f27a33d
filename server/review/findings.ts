// What the checker says of the new spec and did not say of the old one, and the other way round. A finding that moved along, or
// whose figures changed, is the same one: it is told by its code and what it stands in.
import { type Told, told } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import type { Finding } from '../model/finding.ts';
import type { Change, Weight } from './change.ts';
import { clipped, saying } from './change.ts';
import { type Item, idOf } from './items.ts';
import { type Renames, renamedText } from './names.ts';

interface Said {
  readonly finding: Finding;
  /** The declaration that it stands in, by its new name. */
  readonly stands: string;
  readonly said: string;
}

function holds(finding: Finding, variant: string | undefined): boolean {
  return variant === undefined || finding.variants === undefined || finding.variants.includes(variant);
}

function innermost(items: readonly Item[], finding: Finding): Item | undefined {
  return items.findLast(({ own, placed }) => {
    // What is put together out of a base and its changes stands in no one stretch.
    if (!own || placed === undefined || placed.origin !== undefined) return false;
    const { section } = placed;
    return finding.start >= section.start && finding.start <= section.end;
  });
}

function saidOf(
  analysis: Analysis,
  variant: string | undefined,
  items: readonly Item[],
  stands: (item: Item) => string,
  said: (message: string) => string,
): readonly Said[] {
  return analysis.findings
    .filter((finding) => holds(finding, variant))
    .map((finding) => {
      const item = innermost(items, finding);
      return { finding, stands: item === undefined ? '' : stands(item), said: said(finding.message) };
    });
}

const SAID: Readonly<Record<Finding['severity'], readonly [Weight, Weight, Told]>> = {
  error: ['critical', 'matters', told`a contradiction`],
  warning: ['matters', 'matters', told`a warning`],
  information: ['wording', 'wording', told`a piece of information`],
};

function change({ finding }: Said, kind: 'added' | 'removed'): Change {
  const place = { file: finding.file, start: finding.start, end: finding.end };
  const [added, removed, called] = SAID[finding.severity];
  const what = `finding.${finding.code}`;
  return kind === 'added'
    ? {
        ...{ what, kind, weight: added, new: finding.message, newPlace: place },
        ...saying(told`The checker now finds ${called}: ${finding.told} [${finding.code}]`, clipped),
      }
    : {
        ...{ what, kind, weight: removed, old: finding.message, oldPlace: place },
        ...saying(told`The checker no longer finds ${called}: ${finding.told} [${finding.code}]`, clipped),
      };
}

/** One side of a review, for one variant. */
export interface Side {
  readonly analysis: Analysis;
  readonly variant: string | undefined;
  readonly items: readonly Item[];
}

/** New findings and findings that are gone. */
export function findingChanges(
  old: Side,
  now: Side,
  nowOf: ReadonlyMap<Item, Item>,
  renames: Renames,
): readonly Change[] {
  const before = saidOf(
    old.analysis,
    old.variant,
    old.items,
    (item) => idOf(nowOf.get(item) ?? item),
    (message) => renamedText(message, renames),
  );
  const after = saidOf(now.analysis, now.variant, now.items, idOf, (message) => message);
  const drop = (one: readonly Said[], other: readonly Said[], key: (each: Said) => string): readonly Said[] => {
    const many = new Map<string, number>();
    for (const each of other) many.set(key(each), (many.get(key(each)) ?? 0) + 1);
    return one.filter((each) => {
      const left = many.get(key(each)) ?? 0;
      many.set(key(each), left - 1);
      return left <= 0;
    });
  };
  const bySaid = (each: Said): string => `${each.finding.code} ${each.said}`;
  const byPlace = (each: Said): string => `${each.finding.code} ${each.finding.severity} ${each.stands}`;
  const [gone, fresh] = [drop(before, after, bySaid), drop(after, before, bySaid)];
  return [
    ...drop(gone, fresh, byPlace).map((each) => change(each, 'removed')),
    ...drop(fresh, gone, byPlace).map((each) => change(each, 'added')),
  ];
}
