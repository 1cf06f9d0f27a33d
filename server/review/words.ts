// The sentences of a review, in the trade's words. What changed is decided elsewhere.
import { type Told, told } from '../../grammar/told.ts';
import type { Difference } from './differences.ts';
import type { Fact } from './facts.ts';
import { figureText } from './figures.ts';
import type { Item } from './items.ts';

const CALLED: ReadonlyMap<string, Told> = new Map([
  ['file', told`The file`],
  ['spec', told`The spec`],
  ['engine', told`The engine`],
  ['valve-timing', told`Valve timing`],
  ['grades', told`The table of grades`],
  ['use', told`The file used,`],
]);

/** `Fastener head-bolt`, `The engine`. */
export function calledItem(item: Item): Told {
  const word = CALLED.get(item.word) ?? told`${told.capital(told.named(item.word))}`;
  return item.name === '' ? word : told`${word} ${told.named(item.name)}`;
}

/** `dimension main-journal wear-limit`. */
function calledFact(fact: Fact): string {
  return fact.path.replaceAll('.', ' ');
}

/** A declaration with what it says, on one line. */
export function wholeText(item: Item): string {
  const says = [
    ...item.facts.filter((fact) => fact.word !== 'title' && fact.word !== 'count').map((fact) => fact.text),
    ...item.steps.map((step) => `step ${step}`),
  ];
  return says.length === 0 || item.placed === undefined ? item.head : `${item.head}: ${says.join('; ')}`;
}

export function addedText(item: Item, fact: Fact): Told {
  return told`${calledItem(item)} now says: ${told.named(fact.text)}`;
}

export function removedText(item: Item, fact: Fact): Told {
  return told`${calledItem(item)} no longer says: ${told.named(fact.text)}`;
}

export function wholeAdded(item: Item): Told {
  return told`New: ${told.named(wholeText(item))}`;
}

export function wholeRemoved(item: Item): Told {
  return told`Gone: ${told.named(wholeText(item))}`;
}

export function renamedItem(old: Item, now: Item, unsure: boolean): Told {
  const [called, name] = [calledItem(old), told.named(now.name)];
  return unsure
    ? told`${called} is gone, and ${name} stands everywhere in its place. Nothing says whether that is the same one under another name.`
    : told`${called} is now called ${name}; it is the same otherwise unless said here.`;
}

export function renamedFeature(item: Item, fact: Fact, old: string): Told {
  const feature = `${fact.word} ${old}`;
  return told`${calledItem(item)}: ${told.named(feature)} is now called ${told.named(fact.label ?? '')}.`;
}

/** What was and what is now; with the difference where only figures changed. */
export function changedText(item: Item, old: Fact, now: Fact, found: readonly Difference[]): Told {
  const called = calledItem(item);
  const figures = found.flatMap(({ where, figures }) => (figures === undefined ? [] : [{ where, ...figures }]));
  if (figures.length === found.length && figures.length > 0) {
    const said = figures.map(({ where, old: before, now: after, compared }) => {
      const at = where === '' ? told.nothing : told` ${told.named(where)}`;
      const change = told`${at} was ${told.named(figureText(before))}, is now ${told.named(figureText(after))}`;
      return compared.byHowMuch === undefined ? change : told`${change}: ${compared.byHowMuch}`;
    });
    return told`${called}: ${told.named(calledFact(now))}${told.row(said.flatMap((each, i) => (i === 0 ? [each] : [';', each])))}`;
  }
  return told`${called} said: ${told.named(old.text)}; it now says: ${told.named(now.text)}`;
}
