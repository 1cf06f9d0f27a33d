// The views of each file, kept from analysis to analysis and brought up to date where that can be done.
import { type BuiltView, buildView } from '../model/build-view.ts';
import { keptByFile } from '../model/kept-by-file.ts';
import { patchView, type ViewChanges } from '../model/patch-view.ts';
import type { ReadFile } from '../model/placed.ts';

export interface SeenView {
  readonly view: BuiltView;
  /** The view that it was made from, and how it differs. */
  readonly before?: BuiltView;
  readonly changes?: ViewChanges;
}

interface Kept {
  readonly files: readonly ReadFile[];
  readonly views: readonly BuiltView[];
}

const keptOf = keptByFile<Kept>();

function again(kept: Kept | undefined, i: number, files: readonly ReadFile[]): SeenView | undefined {
  const before = kept?.views[i];
  const patched = kept === undefined || before === undefined ? undefined : patchView(before, kept.files, files);
  if (before === undefined || patched === undefined) return undefined;
  const { view, changes } = patched;
  return { view, before, changes };
}

/** One view of some files for each variant. `supersedes` says that earlier ones are good no more, so that they may be changed. */
export function keptViews(
  files: readonly ReadFile[],
  variants: readonly (string | undefined)[],
  incomplete: boolean,
  supersedes: boolean,
): readonly SeenView[] {
  const home = files[0]?.file ?? '';
  const kept = supersedes ? keptOf.get(home) : undefined;
  const fits = (view: BuiltView | undefined, i: number): boolean =>
    view !== undefined && view.variant === variants[i] && view.incomplete === incomplete;
  const isLike = kept !== undefined && kept.views.length === variants.length && kept.views.every(fits);
  const seen = variants.map(
    (variant, i): SeenView =>
      (isLike ? again(kept, i, files) : undefined) ?? { view: buildView(files, variant, incomplete) },
  );
  if (supersedes) keptOf.set(home, { files, views: seen.map(({ view }) => view) });
  return seen;
}
