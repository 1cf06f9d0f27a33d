// Helpers of the grammar tests: the faults of a text, and its trees without positions.
import type { Fault } from '../../grammar/fault.ts';
import { type Parsed, parseSection } from '../../grammar/parse.ts';
import { type Section, toFile } from '../../grammar/section.ts';
import { cutSections } from '../../grammar/sections.ts';

/** Every section of a text, steps after their sequence. */
export function everySection(text: string): readonly { readonly section: Section; readonly inSequence: boolean }[] {
  const walk = (
    sections: readonly Section[],
    inSequence: boolean,
  ): readonly { readonly section: Section; readonly inSequence: boolean }[] =>
    sections.flatMap((section) => [{ section, inSequence }, ...walk(section.children, section.word === 'sequence')]);
  return walk(cutSections(text), false);
}

interface Read {
  readonly section: Section;
  readonly inSequence: boolean;
  readonly parsed: Parsed;
}

/** The text that was read last: its faults and its trees are asked for one after the other. */
let last: { readonly text: string; readonly read: readonly Read[] } | undefined;

/** Every section of a text with what is read of it. */
export function readingsOf(text: string): readonly Read[] {
  if (last?.text !== text) {
    const read = everySection(text).map((each) => ({ ...each, parsed: parseSection(each.section, each.inSequence) }));
    last = { text, read };
  }
  return last.read;
}

/** All faults in the order of the file, each with the text that it stands at. */
export function faultsOf(text: string): readonly (Fault & { readonly text: string; readonly at: number })[] {
  return readingsOf(text)
    .flatMap(({ section, parsed }) =>
      parsed.faults.map((fault) => ({
        ...fault,
        text: section.text.slice(fault.start, fault.end),
        at: toFile(section, fault.start),
      })),
    )
    .sort((a, b) => a.at - b.at);
}

const POSITIONS = new Set(['start', 'end', 'wordSpan', 'designationSpan', 'measured']);

/** A tree as plain data, without positions and without what is not there. */
function unplaced(tree: unknown): unknown {
  if (Array.isArray(tree)) return tree.map(unplaced);
  if (typeof tree !== 'object' || tree === null) return tree;
  const plain: Record<string, unknown> = {};
  for (const key of Object.keys(tree)) {
    const value: unknown = Reflect.get(tree, key);
    if (value !== undefined && !POSITIONS.has(key)) plain[key] = unplaced(value);
  }
  return plain;
}

/** The trees of a text without positions, as plain data. */
export function treesOf(text: string): readonly unknown[] {
  return readingsOf(text).map(({ parsed: { declaration, outside } }) => unplaced({ declaration, outside }));
}
