// Where a name is declared and used, and what renaming it would change, over all files that are given.
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import { isSpecName } from './first-spec.ts';
import { type NameAt, nameAt, namesIn, namesOfPlaced, sameName } from './place-in-tree.ts';

/** Where the name at an offset is declared; the declarations of all variants. */
export function definitions(analysis: Analysis, offset: number): readonly FilePlace[] {
  const name = nameAt(analysis, offset);
  if (name === undefined) return [];
  const files = [analysis.file, ...analysis.used];
  return files
    .flatMap((file) =>
      file.declarations.flatMap((placed) => [placed, ...placed.steps.filter((step) => step !== undefined)]),
    )
    .flatMap(namesOfPlaced)
    .filter((each) => each.declares && sameName(each, name))
    .map((each) => each.place);
}

/** Every place in one file where the same thing is named. */
export function placesOf(analysis: Analysis, name: NameAt): readonly (FilePlace & { readonly declares: boolean })[] {
  const seen = new Set<number>();
  return namesIn(analysis)
    .filter((each) => sameName(each, name))
    .filter((each) => {
      if (seen.has(each.place.start)) return false;
      seen.add(each.place.start);
      return true;
    })
    .map((each) => ({ ...each.place, declares: each.declares }));
}

/** Why a name can't be given; undefined where it can. */
export function renameObjection(analyses: readonly Analysis[], name: NameAt, to: string): string | undefined {
  if (!isSpecName(to))
    return `${to} can't be a name: letters and digits joined by single hyphens, and none of the words that begin a declaration.`;
  if (name.set !== 'thing' || to === name.thing) return undefined;
  const taken = analyses.some((analysis) =>
    analysis.views.some((view) =>
      [...view.things.keys()].some((known) => known.toLowerCase() === to.toLowerCase() && known !== name.thing),
    ),
  );
  return taken ? `${to} is the name of something else already.` : undefined;
}
