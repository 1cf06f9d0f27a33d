// Trees of sections, kept by the text that they were read from, so that an undo reads nothing.
import { type Parsed, parseSection } from '../../grammar/parse.ts';
import type { Section } from '../../grammar/sections.ts';

/**
 * Characters of text whose trees are kept for when they stand there again; a spec of 10,000 lines has about 250,000. Of a longer one
 * as many as it has, so that an edit that cuts the whole anew (a quote, a brace) does not read the whole anew.
 */
const MOST_KEPT = 300_000;
let mostKept = MOST_KEPT;

/** Trees by text: the newer half, and the older one, which goes as a whole when the newer is full. */
let keptTrees = new Map<string, Parsed>();
let olderTrees = new Map<string, Parsed>();
let keptLength = 0;

function keptTree(key: string): Parsed | undefined {
  const known = keptTrees.get(key);
  if (known !== undefined) return known;
  const older = olderTrees.get(key);
  if (older !== undefined) keepTree(key, older);
  return older;
}

function keepTree(key: string, tree: Parsed): void {
  keptLength += key.length;
  if (keptLength > mostKept) {
    olderTrees = keptTrees;
    keptTrees = new Map();
    keptLength = key.length;
  }
  keptTrees.set(key, tree);
}

/** Says how many characters the file at hand has. */
export function keepFor(length: number): void {
  mostKept = MOST_KEPT + length;
}

/** Gives the tree of a section, read now or before. Two sections of one file never share a tree, so that each tree has one place. */
export type Read = (section: Section, inSequence: boolean) => Parsed;

/** Reads the sections of a file; `taken` are the trees that stand in it. */
export function reader(file: string, taken: Set<Parsed>): Read {
  return (section, inSequence) => {
    const written = `${section.word ?? ''}${inSequence ? '+' : ''}${section.unclosedBraces.join()}|${section.unclosedTexts.join()}|${section.text}`;
    for (let times = 0; ; times += 1) {
      const key = `${file}|${times}|${written}`;
      const known = keptTree(key);
      if (known !== undefined && taken.has(known)) continue;
      const tree = known ?? readNow(section, inSequence);
      if (known === undefined) keepTree(key, tree);
      taken.add(tree);
      return tree;
    }
  };
}

/** Tokens and comments are needed for printing alone, which reads for itself. */
function readNow(section: Section, inSequence: boolean): Parsed {
  return { ...parseSection(section, inSequence), tokens: [], comments: [], statementStarts: [], clauseStarts: [] };
}
