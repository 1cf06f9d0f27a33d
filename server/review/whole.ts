// Declarations that are new or gone as a whole: one change each, which weighs as much as the heaviest thing in it.
import { type Change, heavier, saying, sentence, type Weight } from './change.ts';
import type { Left } from './compare.ts';
import type { Item } from './items.ts';
import { weightOf } from './weights.ts';
import { wholeAdded, wholeRemoved, wholeText } from './words.ts';

/** What a declaration weighs that is new or gone as a whole: as much as the heaviest thing that it says. */
function wholeWeight(item: Item, kind: 'added' | 'removed', steps: readonly Item[]): Weight {
  const least: Weight = item.word === 'file' ? 'wording' : 'matters';
  return [item, ...steps]
    .flatMap(({ word, facts }) => facts.map((fact) => weightOf(word, fact.word, kind)))
    .reduce(heavier, least);
}

/** `all` are the declarations that are new or gone with it: the steps of a sequence weigh with it. */
export function wholeChange(item: Item, kind: 'added' | 'removed', all: readonly Item[]): Change {
  const steps = item.word === 'sequence' ? all.filter((each) => each.sequence === item.name) : [];
  const weight = wholeWeight(item, kind, steps);
  return kind === 'added'
    ? {
        ...{ what: item.key, kind, weight, new: wholeText(item) },
        ...saying(wholeAdded(item), sentence),
        newPlace: item.place,
      }
    : {
        ...{ what: item.key, kind, weight, old: wholeText(item) },
        ...saying(wholeRemoved(item), sentence),
        oldPlace: item.place,
      };
}

/** Steps of a sequence that is new or gone as well are said with it. */
export function standsInOne(item: Item, others: readonly Item[]): boolean {
  return item.word === 'step' && others.some((each) => each.word === 'sequence' && each.name === item.sequence);
}

/** What the steps among them say: it may have moved to another step. */
export function factsOfWhole(items: readonly Item[]): readonly Left[] {
  return items.filter((item) => item.word === 'step').flatMap((item) => item.facts.map((fact) => ({ item, fact })));
}

/** A file without a word outside its declarations is nothing to speak of. */
export function isSaid(item: Item): boolean {
  return item.word !== 'file' || item.facts.length > 0;
}
