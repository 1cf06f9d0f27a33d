// Where the tree of each declaration stands now. Trees are of one place each, so that a finding told by tree finds its place again.
import { keptByFile } from '../model/kept-by-file.ts';
import type { Placed, ReadFile, ReadSection } from '../model/placed.ts';
import { sectionChanges } from '../model/section-changes.ts';
import type { Parsed } from './kept-findings.ts';

type Places = Map<Parsed, Placed>;

const keptOf = keptByFile<{ file: ReadFile; readonly places: Places }>();

function enter(places: Places, { every, whens }: ReadSection): void {
  for (const placed of every) places.set(placed.parsed, placed);
  for (const placed of whens) places.set(placed.parsed, placed);
}

function leave(places: Places, { every, whens }: ReadSection): void {
  for (const placed of every) if (places.get(placed.parsed) === placed) places.delete(placed.parsed);
  for (const placed of whens) if (places.get(placed.parsed) === placed) places.delete(placed.parsed);
}

function placesIn(file: ReadFile): Places {
  let kept = keptOf.get(file.file);
  if (kept === undefined) {
    kept = { file, places: new Map() };
    for (const section of file.sections) enter(kept.places, section);
    keptOf.set(file.file, kept);
    return kept.places;
  }
  const { gone, come } = sectionChanges(kept.file, file);
  for (const section of gone) leave(kept.places, section);
  for (const section of come) enter(kept.places, section);
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
