// Where a name is declared and used, and what renaming it would change. A name reaches the files that use the file it is declared in,
// and no others: two specs of one folder may each have a part of the same name.
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import { isSpecName } from './first-spec.ts';
import { type NameAt, nameAt, namesIn, namesOfPlaced, sameName } from './place-in-tree.ts';

/** Every declaration of a name that a file sees, with the name's set and owner. */
function declarationsOf(analysis: Analysis, name: NameAt): readonly FilePlace[] {
  return [analysis.file, ...analysis.used]
    .flatMap((file) => file.sections.flatMap((section) => [...section.every, ...section.whens]))
    .flatMap(namesOfPlaced)
    .filter((each) => each.declares && sameName(each, name))
    .map((each) => each.place);
}

/** Where the name at an offset is declared; the declarations of all variants. */
export function definitions(analysis: Analysis, offset: number): readonly FilePlace[] {
  const name = nameAt(analysis, offset);
  return name === undefined ? [] : declarationsOf(analysis, name);
}

/** The analyses in which a name of one of them means the same. */
export function sharing(from: Analysis, name: NameAt, all: readonly Analysis[]): readonly Analysis[] {
  const homes = new Set(declarationsOf(from, name).map((place) => place.file));
  if (homes.size === 0) return [from];
  return all.filter((each) => homes.has(each.file.file) || each.used.some((used) => homes.has(used.file)));
}

/** Every place in one file where the same thing is named. */
export function placesOf(analysis: Analysis, name: NameAt): readonly (FilePlace & { readonly declares: boolean })[] {
  const places = new Map<number, FilePlace & { readonly declares: boolean }>();
  for (const each of namesIn(analysis))
    if (sameName(each, name) && !places.has(each.place.start))
      places.set(each.place.start, { ...each.place, declares: each.declares });
  return [...places.values()];
}

/** Why a name can't be given; undefined where it can. `analyses` are those in which it means the same. */
export function renameObjection(analyses: readonly Analysis[], name: NameAt, to: string): string | undefined {
  if (!isSpecName(to))
    return `${to} can't be a name: letters and digits joined by single hyphens, and none of the words that begin a declaration.`;
  const taken = analyses.some((analysis) =>
    [analysis.file, ...analysis.used].some((file) =>
      file.sections
        .flatMap((section) => section.every)
        .flatMap(namesOfPlaced)
        .some(
          (each) =>
            each.declares &&
            each.set === name.set &&
            each.text.toLowerCase() === to.toLowerCase() &&
            each.text !== name.text &&
            (name.set !== 'feature' || each.thing === name.thing),
        ),
    ),
  );
  return taken ? `${to} is the name of something else already.` : undefined;
}
