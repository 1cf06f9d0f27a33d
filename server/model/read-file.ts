// Reads a whole text into placed declarations. Trees are kept by the text of their section, so that an edit reads one declaration again.
import { type Parsed, parseSection } from '../../grammar/parse.ts';
import { cutSections, type Section } from '../../grammar/sections.ts';
import type { Statement } from '../../grammar/tree.ts';
import type { Placed, ReadFile } from './placed.ts';

/** How many trees are kept. A spec of 10,000 lines has about 1,500 declarations. */
const MOST_KEPT = 40_000;
const kept = new Map<string, Parsed>();

/** Reads a section. The same text twice, in one file or two, gives two trees, so that each has its own place. */
function read(file: string, section: Section, inSequence: boolean, seen: Map<string, number>): Parsed {
  const plain = `${section.word ?? ''}${inSequence ? '+' : ''}${section.unclosedBraces.join()}|${section.unclosedTexts.join()}|${section.text}`;
  const times = seen.get(plain) ?? 0;
  seen.set(plain, times + 1);
  const key = `${file}|${times}|${plain}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  // Tokens and comments are needed for printing alone, which reads for itself.
  const parsed: Parsed = {
    ...parseSection(section, inSequence),
    tokens: [],
    comments: [],
    statementStarts: [],
    clauseStarts: [],
  };
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(key, parsed);
  return parsed;
}

/** What is gathered besides the declarations. */
interface Rest {
  readonly loose: { section: Section; parsed: Parsed }[];
  readonly whens: Placed[];
  readonly seen: Map<string, number>;
}

function place(
  file: string,
  section: Section,
  when: readonly (readonly string[])[],
  inSequence: boolean,
  out: Placed[],
  rest: Rest,
): void {
  const { loose } = rest;
  const parsed = read(file, section, inSequence, rest.seen);
  const declaration = parsed.declaration;
  if (declaration === undefined) {
    loose.push({ section, parsed });
    for (const child of section.children) place(file, child, when, inSequence, out, rest);
    return;
  }
  if (declaration.word === 'when') {
    rest.whens.push({ file, section, parsed, declaration, when, steps: [] });
    const inside = [...when, (declaration.variants ?? []).map((name) => name.text)];
    for (const child of section.children) place(file, child, inside, inSequence, out, rest);
    return;
  }
  const steps: Placed[] = [];
  const inner =
    section.children.length === 0
      ? new Map<number, readonly (readonly string[])[]>()
      : holesInWhen(declaration.body?.statements ?? []);
  section.children.forEach((child, hole) => {
    const own: Placed[] = [];
    place(file, child, [...when, ...(inner.get(hole) ?? [])], declaration.word === 'sequence', own, rest);
    const step = own[0];
    if (step !== undefined) steps[hole] = step;
  });
  out.push({ file, section, parsed, declaration, when, steps });
}

/** The `when` round each step of a sequence, by the number of its hole. */
function holesInWhen(
  statements: readonly Statement[],
  round: readonly (readonly string[])[] = [],
  into = new Map<number, readonly (readonly string[])[]>(),
): ReadonlyMap<number, readonly (readonly string[])[]> {
  for (const each of statements) {
    if (each.kind === 'hole') into.set(each.hole, round);
    if (each.kind === 'when')
      holesInWhen(each.body.statements, [...round, each.variants.map((name) => name.text)], into);
  }
  return into;
}

/** Cuts and reads a text. Never throws. */
export function readFile(file: string, text: string, sections: readonly Section[] = cutSections(text)): ReadFile {
  const declarations: Placed[] = [];
  const rest: Rest = { loose: [], whens: [], seen: new Map() };
  for (const section of sections) place(file, section, [], false, declarations, rest);
  return { file, text, declarations, whens: rest.whens, loose: rest.loose };
}
