// Where the tree of each declaration stands now. Trees are of one place each, so that a finding told by tree finds its place again.
import type { Placed, ReadFile } from '../model/placed.ts';
import { placedChanges, sectionChanges } from '../model/section-changes.ts';
import type { Parsed } from './kept-findings.ts';

type Places = Map<Parsed, Placed>;

const keptByFile = new Map<string, { file: ReadFile; readonly places: Places }>();
const MOST_FILES = 500;

function placesIn(file: ReadFile): Places {
  let kept = keptByFile.get(file.file);
  if (kept === undefined) {
    if (keptByFile.size >= MOST_FILES) keptByFile.clear();
    kept = { file, places: new Map() };
    for (const { every, whens } of file.sections) {
      for (const placed of every) kept.places.set(placed.parsed, placed);
      for (const placed of whens) kept.places.set(placed.parsed, placed);
    }
    keptByFile.set(file.file, kept);
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
