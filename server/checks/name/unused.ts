// A part, supply, fastener or source of this file that nothing uses.
import type { Name } from '../../../grammar/tree.ts';
import type { Placed, ReadFile, ReadSection } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import { sharedEnds, sifting } from '../../model/sifted.ts';
import type { Fastener, Part } from '../../model/view.ts';
import { keyOf, nameSpan, type SpecCheck } from '../check.ts';
import page from './unused.md';

/** A file that others use need not use what it declares: it has no engine, no work and no limits of its own. */
function isLibrary(words: Count): boolean {
  return !['engine', 'sequence', 'limit', 'job', 'drive', 'record'].some((word) => words.has(word));
}

type Count = Map<string, number>;

/** How often the declarations of a file name each thing and source, and begin with each word. */
interface Tally {
  sections: readonly ReadSection[];
  readonly used: Count;
  readonly sources: Count;
  readonly words: Count;
}

const tallies = new Map<string, Tally>();

function count(counts: Count, name: string, by: number): void {
  const many = (counts.get(name) ?? 0) + by;
  if (many === 0) counts.delete(name);
  else counts.set(name, many);
}

function add(tally: Tally, placed: Placed, by: 1 | -1): void {
  count(tally.words, placed.declaration.word, by);
  const own = placed.declaration.name?.text;
  const { uses, sources } = usesOf(placed);
  for (const use of uses) if (use.name.text !== own) count(tally.used, use.name.text, by);
  for (const source of sources) count(tally.sources, source.text, by);
}

const treesOf = (sections: readonly ReadSection[]): readonly Placed[] => sections.flatMap(({ every }) => every);

/** Counts what came and takes off what went; of a long sequence in which one step changed, that step alone. A spec that is built on
 * another may have one declaration several times, once for each variant. */
function recount(tally: Tally, gone: readonly ReadSection[], come: readonly ReadSection[]): void {
  const [old, now] = [treesOf(gone), treesOf(come)];
  const then = new Map<Placed['parsed'], Placed[]>();
  const isSame = (i: number): boolean => old[i]?.parsed === now[i]?.parsed;
  for (const [i, placed] of old.entries()) {
    if (isSame(i)) continue;
    const same = then.get(placed.parsed);
    if (same === undefined) then.set(placed.parsed, [placed]);
    else same.push(placed);
  }
  for (const [i, placed] of now.entries())
    if (!isSame(i) && then.get(placed.parsed)?.pop() === undefined) add(tally, placed, 1);
  for (const left of then.values()) for (const placed of left) add(tally, placed, -1);
}

/** The tally of a file: the last one of its address, brought up to date by the sections that changed. */
function tallyOf(file: ReadFile): Tally {
  let tally = tallies.get(file.file);
  if (tally === undefined) {
    if (tallies.size > 500) tallies.clear();
    tally = { sections: [], used: new Map(), sources: new Map(), words: new Map() };
    tallies.set(file.file, tally);
  }
  const [old, now] = [tally.sections, file.sections];
  if (old === now) return tally;
  const { front, back } = sharedEnds(old, now);
  recount(tally, old.slice(front, old.length - back), now.slice(front, now.length - back));
  tally.sections = now;
  return tally;
}

const looseParts = sifting((part: Part) => part.fixedTo === undefined && part.covers.length === 0);

const clampless = sifting((fastener: Fastener) => fastener.clamps.length === 0);

export const unused: SpecCheck = {
  code: 'name/unused',
  severity: 'warning',
  scope: 'spec',
  page,
  run({ view, file, report }) {
    const { used, sources, words } = tallyOf(file);
    // What a fastener clamps is used by it, and the fastener by what it clamps, where no step names it yet.
    const sequences = words.has('sequence');
    if (!isLibrary(words)) {
      const key = keyOf(view, file);
      const isBuilt = sequences && view.sequences.some((sequence) => sequence.phase === 'assemble');
      for (const thing of [
        ...(isBuilt ? [] : looseParts(view.parts, key)),
        ...view.supplies,
        ...(sequences ? clampless(view.fasteners, key) : []),
      ]) {
        if (thing.placed.file !== file.file || used.has(thing.name)) continue;
        report(
          thing.placed,
          nameSpan(thing.placed),
          `Nothing uses ${thing.name}: no step, rule, bolt or limit names it. Use it, or take it out.`,
          { missing: true },
        );
      }
    }
    for (const placed of view.specs)
      if (placed.file === file.file)
        sayUnusedSources(placed, sources, (name) =>
          report(
            placed,
            name,
            `Nothing is said to come from ${name.text}. Name it after per where a value comes from it, or take it out.`,
            { missing: true },
          ),
        );
  },
};

function sayUnusedSources(spec: Placed, used: Count, say: (name: Name) => void): void {
  for (const statement of spec.declaration.body?.statements ?? []) {
    if (statement.kind === 'source' && !used.has(statement.name.text)) say(statement.name);
  }
}
