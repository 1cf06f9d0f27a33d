// What changes in the `use` lines when files get another name or place.
import type { Analysis } from '../model/analysis.ts';
import type { FixEdit } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';

/** The path of a `use` from one file to another, by their addresses. Undefined where they share no root. */
export function pathBetween(from: string, to: string): string | undefined {
  const [start, target] = [from.split('/').slice(0, -1), to.split('/')];
  // Scheme, authority and the empty piece between them.
  if (start.slice(0, 3).join('/') !== target.slice(0, 3).join('/')) return undefined;
  let same = 0;
  while (same < start.length && same < target.length - 1 && start[same] === target[same]) same += 1;
  const up = start.slice(same).map(() => '..');
  try {
    return [...up, ...target.slice(same).map(decodeURIComponent)].join('/');
  } catch {
    return undefined;
  }
}

/** The edits of all `use` lines that name a file that moves, or stand in one. `moves` gives each old address its new one. */
export function movedUses(
  analyses: readonly Analysis[],
  moves: ReadonlyMap<string, string>,
  resolve: (from: string, path: string) => string | undefined,
): readonly FixEdit[] {
  return analyses.flatMap((analysis) =>
    analysis.file.declarations.flatMap((placed) => {
      const { path } = placed.declaration;
      if (path === undefined) return [];
      const home = analysis.file.file;
      const target = resolve(home, path.value);
      if (target === undefined || (!moves.has(target) && !moves.has(home))) return [];
      const written = pathBetween(moves.get(home) ?? home, moves.get(target) ?? target);
      if (written === undefined || written === path.value || /["\\]/.test(written)) return [];
      return [{ ...placeOf(placed, path), text: `"${written}"` }];
    }),
  );
}
