// What changes in the `use` lines when files get another name or place.
import type { Analysis } from '../model/analysis.ts';
import type { FixEdit } from '../model/finding.ts';
import { placeOf } from '../model/placed.ts';

/** The path of a `use` from one file to another, by their addresses. Undefined where they share no root. */
export function pathBetween(from: string, to: string): string | undefined {
  const [start, target] = [from.split('/').slice(0, -1), to.split('/')];
  // Scheme, authority and the empty piece between them.
  if (start.slice(0, 3).join('/') !== target.slice(0, -1).slice(0, 3).join('/')) return undefined;
  let same = 0;
  while (same < start.length && same < target.length - 1 && start[same] === target[same]) same += 1;
  const up = start.slice(same).map(() => '..');
  try {
    return [...up, ...target.slice(same).map(decodeURIComponent)].join('/');
  } catch {
    return undefined;
  }
}

/** Where a file comes to lie: what moves may be a folder round it. Undefined for one that stays. */
function movedTo(address: string, moves: ReadonlyMap<string, string>): string | undefined {
  const own = moves.get(address);
  if (own !== undefined) return own;
  for (const [from, to] of moves) {
    const folder = from.replace(/\/$/, '');
    if (address.startsWith(`${folder}/`)) return to.replace(/\/$/, '') + address.slice(folder.length);
  }
  return undefined;
}

/** The edits of all `use` lines that name a file that moves, or stand in one. `moves` gives each old address, of a file or a folder, its new one. */
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
      if (target === undefined) return [];
      const [newHome, newTarget] = [movedTo(home, moves), movedTo(target, moves)];
      if (newHome === undefined && newTarget === undefined) return [];
      const written = pathBetween(newHome ?? home, newTarget ?? target);
      if (written === undefined || written === path.value || /["\\]/.test(written)) return [];
      return [{ ...placeOf(placed, path), text: `"${written}"` }];
    }),
  );
}
