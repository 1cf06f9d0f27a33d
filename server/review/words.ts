// The sentences of a review, in the trade's words. What changed is decided elsewhere.
import { lookUp } from '../../grammar/look-up.ts';
import { clipped } from './change.ts';
import type { Difference } from './differences.ts';
import type { Fact } from './facts.ts';
import { figureText } from './figures.ts';
import type { Item } from './items.ts';

const CALLED: Readonly<Record<string, string>> = {
  file: 'The file',
  spec: 'The spec',
  engine: 'The engine',
  'valve-timing': 'Valve timing',
  grades: 'The table of grades',
  use: 'The file used,',
};

/** `Fastener head-bolt`, `The engine`. */
export function calledItem(item: Item): string {
  const word = lookUp(CALLED, item.word) ?? `${item.word.charAt(0).toUpperCase()}${item.word.slice(1)}`;
  return item.name === '' ? word : `${word} ${item.name}`;
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

/** A sentence with its full stop. */
function sentence(text: string): string {
  const short = clipped(text);
  return /[.!?…]["”]?$/.test(short) ? short : `${short}.`;
}

export function addedText(item: Item, fact: Fact): string {
  return sentence(`${calledItem(item)} now says: ${fact.text}`);
}

export function removedText(item: Item, fact: Fact): string {
  return sentence(`${calledItem(item)} no longer says: ${fact.text}`);
}

export function wholeAdded(item: Item): string {
  return sentence(`New: ${wholeText(item)}`);
}

export function wholeRemoved(item: Item): string {
  return sentence(`Gone: ${wholeText(item)}`);
}

export function renamedItem(old: Item, now: Item, unsure: boolean): string {
  return unsure
    ? `${calledItem(old)} is gone, and ${now.name} stands everywhere in its place. Nothing says whether that is the same one under another name.`
    : `${calledItem(old)} is now called ${now.name}; it is the same otherwise unless said here.`;
}

export function renamedFeature(item: Item, fact: Fact, old: string): string {
  return `${calledItem(item)}: ${fact.word} ${old} is now called ${fact.label ?? ''}.`;
}

/** What was and what is now; with the difference where only figures changed. */
export function changedText(item: Item, old: Fact, now: Fact, found: readonly Difference[]): string {
  const called = calledItem(item);
  const figures = found.flatMap(({ where, figures }) => (figures === undefined ? [] : [{ where, ...figures }]));
  if (figures.length === found.length && figures.length > 0) {
    const said = figures.map(({ where, old: before, now: after, compared }) => {
      const at = where === '' ? '' : ` ${where}`;
      const size = compared.byHowMuch === '' ? '' : `: ${compared.byHowMuch}`;
      return `${at} was ${figureText(before)}, is now ${figureText(after)}${size}`;
    });
    return sentence(`${called}: ${calledFact(now)}${said.join(';')}`);
  }
  return sentence(`${called} said: ${old.text}; it now says: ${now.text}`);
}
