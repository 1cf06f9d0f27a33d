// A part, supply, fastener or source of this file that nothing uses.
import type { Name } from '../../../grammar/tree.ts';
import type { Placed, ReadFile } from '../../model/placed.ts';
import { usesOf } from '../../model/references.ts';
import { nameSpan, type SpecCheck } from '../check.ts';
import page from './unused.md';

/** A file that others use need not use what it declares: it has no engine, no work and no limits of its own. */
function isLibrary(words: ReadonlySet<string>): boolean {
  return !['engine', 'sequence', 'limit', 'job', 'drive', 'record'].some((word) => words.has(word));
}

const kept = new WeakMap<
  ReadFile,
  { readonly used: ReadonlySet<string>; readonly sources: ReadonlySet<string>; readonly words: ReadonlySet<string> }
>();

/** All names that a file uses, and the words of its declarations; gathered once for all variants. */
function namedIn(file: ReadFile): {
  readonly used: ReadonlySet<string>;
  readonly sources: ReadonlySet<string>;
  readonly words: ReadonlySet<string>;
} {
  const known = kept.get(file);
  if (known !== undefined) return known;
  const used = new Set<string>();
  const sources = new Set<string>();
  const words = new Set<string>();
  const add = (placed: Placed): void => {
    words.add(placed.declaration.word);
    const own = placed.declaration.name?.text;
    const uses = usesOf(placed);
    for (const use of uses.uses) if (use.name.text !== own) used.add(use.name.text);
    for (const source of uses.sources) sources.add(source.text);
    for (const step of placed.steps) if (step !== undefined) add(step);
  };
  for (const placed of file.declarations) add(placed);
  const named = { used, sources, words };
  kept.set(file, named);
  return named;
}

export const unused: SpecCheck = {
  code: 'name/unused',
  severity: 'warning',
  scope: 'spec',
  page,
  run({ view, file, report }) {
    const { used, sources, words } = namedIn(file);
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

function sayUnusedSources(spec: Placed, used: ReadonlySet<string>, say: (name: Name) => void): void {
  for (const statement of spec.declaration.body?.statements ?? []) {
    if (statement.kind === 'source' && !used.has(statement.name.text)) say(statement.name);
  }
}
