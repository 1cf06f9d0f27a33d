// Bounds that differ by repair size or grade: `within 0.15..0.30 mm for standard, 0.18..0.43 mm for over-50`. Which of them hold is told
// by what a record says was fitted; without one it is the standard.
import type { PlaceEntry, Value } from '../../grammar/tree.ts';
import { tableOf } from './brought-sizes.ts';
import type { Limit, View } from './view.ts';

const STANDARD = 'standard';

/** The repair sizes and grades that bounds may be given for, by name. */
function sizeNames(view: View): ReadonlySet<string> {
  const names = new Set<string>([STANDARD]);
  for (const part of view.parts) {
    for (const name of part.sizes.keys()) names.add(name);
    for (const row of tableOf(part.name, view)?.rows ?? []) names.add(row.name.text);
  }
  for (const table of view.grades) for (const row of table.rows) names.add(row.name.text);
  return names;
}

/** Whether an entry is for a size or a grade, and not for places of the limit. */
export function isBySize(entry: PlaceEntry, limit: Limit, view: View): boolean {
  const names = entry.places.map((place) => place.name?.text);
  if (names.length === 0 || !names.every((name) => name !== undefined)) return false;
  const part = limit.each === undefined ? undefined : view.things.get(limit.each.owner.text);
  const places = part?.kind === 'part' ? part.places.map((group) => group.name) : [];
  const sizes = sizeNames(view);
  return names.every((name) => name !== undefined && sizes.has(name) && !places.includes(name));
}

/** A value of a limit for what was fitted: the entries of that size, or of the standard, without the others. */
export function forFitted(value: Value | undefined, limit: Limit, view: View): Value | undefined {
  if (value?.kind !== 'by-place') return value;
  const bySize = value.entries.filter((entry) => isBySize(entry, limit, view));
  if (bySize.length === 0) return value;
  const others = value.entries.filter((entry) => !bySize.includes(entry));
  const isFor = (entry: PlaceEntry, name: string): boolean => entry.places.some((place) => place.name?.text === name);
  const fitted = bySize.filter((entry) => (view.fitted ?? []).some((each) => isFor(entry, each.name)));
  const standard = bySize.filter((entry) => isFor(entry, STANDARD));
  const held = fitted.length > 0 ? fitted : standard;
  // Where a size is fitted at some places alone, the standard holds at the others.
  const entries = held.flatMap((entry) => {
    const at = (view.fitted ?? []).filter((each) => isFor(entry, each.name));
    const places = at.some((each) => each.places.length === 0) ? [] : at.flatMap((each) => each.places);
    return places.length === 0
      ? [{ ...entry, places: [{ start: entry.start, end: entry.start }] }]
      : [{ ...entry, places }];
  });
  const rest =
    fitted.length === 0
      ? []
      : standard.map((entry) => ({ ...entry, places: [{ start: entry.start, end: entry.start }] }));
  return { ...value, entries: [...entries, ...others, ...rest] };
}
