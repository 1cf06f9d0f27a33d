// A part, supply, fastener or source of this file that nothing uses.
import type { Name } from '../../../grammar/tree.ts';
import { keptByFile } from '../../model/kept-by-file.ts';
import type { Placed, ReadFile } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import { placedChanges, sectionChanges } from '../../model/section-changes.ts';
import { sifting } from '../../model/sifted.ts';
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
  file: ReadFile;
  readonly used: Count;
  readonly sources: Count;
  readonly words: Count;
}

const tallies = keptByFile<Tally>();

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

/** Counts what came and takes off what went. A spec that is built on another may have one declaration several times, once for each variant. */
function recount(tally: Tally, gone: readonly Placed[], come: readonly Placed[]): void {
  const isCounted = ({ declaration }: Placed): boolean => declaration.word !== 'when';
  for (const placed of gone) if (isCounted(placed)) add(tally, placed, -1);
  for (const placed of come) if (isCounted(placed)) add(tally, placed, 1);
}

/** The tally of a file: the last one of its address, brought up to date by the sections that changed. */
function tallyOf(file: ReadFile): Tally {
  let tally = tallies.get(file.file);
  if (tally === undefined) {
    tally = { file, used: new Map(), sources: new Map(), words: new Map() };
    tallies.set(file.file, tally);
    for (const { every } of file.sections) recount(tally, [], every);
    return tally;
  }
  const { gone, come } = placedChanges(sectionChanges(tally.file, file));
  recount(tally, gone, come);
  tally.file = file;
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
