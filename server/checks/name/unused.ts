// A part, supply, fastener or source of this file that nothing uses.
import { told } from '../../../grammar/told.ts';
import type { Name } from '../../../grammar/tree.ts';
import type { DeclarationIndex } from '../../model/declaration-index.ts';
import type { Placed } from '../../model/placed.ts';
import type { Part } from '../../model/view.ts';
import { nameSpan, type SpecCheck } from '../check.ts';
import page from './unused.md';

/** A file that others use need not use what it declares: it has no engine, no work and no limits of its own. */
function isLibrary(index: DeclarationIndex): boolean {
  return !['engine', 'sequence', 'limit', 'job', 'drive', 'record'].some((word) => index.hasWord(word));
}

const isLoose = ({ fixedTo, covers }: Part): boolean => fixedTo === undefined && covers.length === 0;

export const unused: SpecCheck = {
  code: 'name/unused',
  severity: 'warning',
  scope: 'spec',
  page,
  run({ view, file, index, report }) {
    // What a fastener clamps is used by it, and the fastener by what it clamps, where no step names it yet.
    const sequences = index.hasWord('sequence');
    if (!isLibrary(index)) {
      const isBuilt = sequences && view.sequences.some((sequence) => sequence.phase === 'assemble');
      for (const thing of [
        ...(isBuilt ? [] : view.parts.filter(isLoose)),
        ...view.supplies,
        ...(sequences ? view.fasteners.filter(({ clamps }) => clamps.length === 0) : []),
      ]) {
        if (thing.placed.file !== file.file || index.isUsed(thing.name)) continue;
        report(
          thing.placed,
          nameSpan(thing.placed),
          told`Nothing uses ${told.thing(thing)}: no step, rule, bolt or limit names it. Use it, or take it out.`,
          { missing: true },
        );
      }
    }
    for (const placed of view.specs)
      if (placed.file === file.file)
        sayUnusedSources(placed, index, (name) =>
          report(
            placed,
            name,
            told`Nothing is said to come from ${told.named(name.text)}. Name it after per where a value comes from it, or take it out.`,
            { missing: true },
          ),
        );
  },
};

function sayUnusedSources(spec: Placed, index: DeclarationIndex, say: (name: Name) => void): void {
  for (const statement of spec.declaration.body?.statements ?? []) {
    if (statement.kind === 'source' && !index.isSource(statement.name.text)) say(statement.name);
  }
}
