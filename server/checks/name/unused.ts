// A part, supply, fastener or source of this file that nothing uses.
import type { Name } from '../../../grammar/tree.ts';
import { keptByFile } from '../../model/kept-by-file.ts';
import type { Placed, ReadFile, ReadSection } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import { nameSpan, type SpecCheck } from '../check.ts';
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

/** Counts what came and takes off what went; of a long sequence in which one step changed, that step alone. A spec that is built on
 * another may have one declaration several times, once for each variant. */
function recount(tally: Tally, gone: readonly ReadSection[], come: readonly ReadSection[]): void {
  const then = new Map<Placed['parsed'], Placed[]>();
  for (const { every } of gone)
    for (const placed of every) {
      const same = then.get(placed.parsed);
      if (same === undefined) then.set(placed.parsed, [placed]);
      else same.push(placed);
    }
  for (const { every } of come)
    for (const placed of every) if (then.get(placed.parsed)?.pop() === undefined) add(tally, placed, 1);
  for (const left of then.values()) for (const placed of left) add(tally, placed, -1);
}

/** The tally of a file: the last one of its address, brought up to date by the sections that changed. */
function tallyOf(file: ReadFile): Tally {
  let tally = tallies.get(file.file);
  if (tally === undefined) {
    tally = { sections: [], used: new Map(), sources: new Map(), words: new Map() };
    tallies.set(file.file, tally);
  }
  const [old, now] = [tally.sections, file.sections];
  if (old === now) return tally;
  const most = Math.min(old.length, now.length);
  let front = 0;
  while (front < most && old[front]?.trees === now[front]?.trees) front += 1;
  let back = 0;
  while (back < most - front && old[old.length - 1 - back]?.trees === now[now.length - 1 - back]?.trees) back += 1;
  recount(tally, old.slice(front, old.length - back), now.slice(front, now.length - back));
  tally.sections = now;
  return tally;
}

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
      for (const thing of [...view.parts, ...view.supplies, ...view.fasteners]) {
        if (thing.placed.file !== file.file || used.has(thing.name)) continue;
        if (thing.kind === 'fastener' && (!sequences || thing.clamps.length > 0)) continue;
        if (thing.kind === 'part' && (thing.fixedTo !== undefined || thing.covers.length > 0)) continue;
        if (thing.kind === 'part' && sequences && view.sequences.some((sequence) => sequence.phase === 'assemble'))
          continue;
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
