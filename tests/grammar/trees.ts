// Helpers of the grammar tests: the faults of a text, and its trees without positions.
import type { Fault } from '../../grammar/fault.ts';
import { parseSection } from '../../grammar/parse.ts';
import { cutSections, type Section, toFile } from '../../grammar/sections.ts';

/** Every section of a text, steps after their sequence. */
export function everySection(text: string): readonly { readonly section: Section; readonly inSequence: boolean }[] {
  const walk = (
    sections: readonly Section[],
    inSequence: boolean,
  ): readonly { readonly section: Section; readonly inSequence: boolean }[] =>
    sections.flatMap((section) => [{ section, inSequence }, ...walk(section.children, section.word === 'sequence')]);
  return walk(cutSections(text), false);
}

/** All faults in the order of the file, each with the text that it stands at. */
export function faultsOf(text: string): readonly (Fault & { readonly text: string; readonly at: number })[] {
  return everySection(text)
    .flatMap(({ section, inSequence }) =>
      parseSection(section, inSequence).faults.map((fault) => ({
        ...fault,
        text: section.text.slice(fault.start, fault.end),
        at: toFile(section, fault.start),
      })),
    )
    .sort((a, b) => a.at - b.at);
}

const POSITIONS = new Set(['start', 'end', 'wordSpan', 'designationSpan', 'measured']);

/** The trees of a text without positions, as plain data. */
export function treesOf(text: string): readonly unknown[] {
  return everySection(text).map(({ section, inSequence }) => {
    const { declaration, outside } = parseSection(section, inSequence);
    return JSON.parse(
      JSON.stringify({ declaration, outside }, (key, value: unknown) => (POSITIONS.has(key) ? undefined : value)),
    );
  });
}
