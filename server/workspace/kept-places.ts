// Where the tree of each declaration stands now. Trees are of one place each, so that a finding told by tree finds its place again.
import { keptByFile } from '../model/kept-by-file.ts';
import type { Placed, ReadFile } from '../model/placed.ts';
import { placedChanges, sectionChanges } from '../model/section-changes.ts';
import type { Parsed } from './kept-findings.ts';

type Places = Map<Parsed, Placed>;

const keptOf = keptByFile<{ file: ReadFile; readonly places: Places }>();

function placesIn(file: ReadFile): Places {
  let kept = keptOf.get(file.file);
  if (kept === undefined) {
    kept = { file, places: new Map() };
    for (const { every, whens } of file.sections) {
      for (const placed of every) kept.places.set(placed.parsed, placed);
      for (const placed of whens) kept.places.set(placed.parsed, placed);
    }
    keptOf.set(file.file, kept);
    return kept.places;
  }
  const { gone, come } = placedChanges(sectionChanges(kept.file, file));
  for (const placed of gone) if (kept.places.get(placed.parsed) === placed) kept.places.delete(placed.parsed);
  for (const placed of come) kept.places.set(placed.parsed, placed);
  kept.file = file;
  return kept.places;
}

/** Tells where a tree stands in these files; undefined for one of another reading. */
export function placesOf(files: readonly ReadFile[]): (tree: Parsed) => Placed | undefined {
  let all: readonly Places[] | undefined;
  return (tree) => {
    all ??= files.map(placesIn);
    for (const places of all) {
      const placed = places.get(tree);
      if (placed !== undefined) return placed;
    }
    return undefined;
  };
}
