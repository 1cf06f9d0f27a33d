// Where a name is declared and used, and what renaming it would change. A name reaches the files that use the file it is declared in,
// and no others: two specs of one folder may each have a part of the same name.
import { type Told, told } from '../../grammar/told.ts';
import { CLAUSES, statementRow, usualForm } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import type { FilePlace } from '../model/finding.ts';
import type { Placed } from '../model/placed.ts';
import { isSpecName } from './first-spec.ts';
import { everyPlaced, everyPlacedIn, type NameAt, nameAt, namesOfPlaced, sameName, withHome } from './place-in-tree.ts';

/** The names in those of some declarations that have a word in their text: the others need not be gone through, of a folder of specs most. */
const namesAmong = (all: readonly Placed[], word: string): readonly NameAt[] =>
  all.filter(({ section }) => section.text.includes(word)).flatMap(namesOfPlaced);

/** Every declaration of a name that a file sees, with the name's set and owner. */
function declarationsOf(analysis: Analysis, name: NameAt): readonly FilePlace[] {
  return [analysis.file, ...analysis.used]
    .flatMap((file) => namesAmong(everyPlacedIn(file), name.text))
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
  for (const each of namesAmong(everyPlaced(analysis), name.text)) {
    if (each.set !== name.set || each.text !== name.text || places.has(each.place.start)) continue;
    const found = withHome(analysis, each);
    if (found !== undefined && sameName(found, name))
      places.set(each.place.start, { ...each.place, declares: each.declares });
  }
  return [...places.values()];
}

/** What a word says of a part or of what else has features, where a name can't be that word: its line of help. */
function meansAlready(name: NameAt, to: string): string | undefined {
  if (name.set !== 'feature' && name.set !== 'place') return undefined;
  const word = usualForm(to);
  return name.set === 'place'
    ? CLAUSES.find((each) => each.word === word)?.help
    : (statementRow('part', word) ?? statementRow('size', word))?.help;
}

/** Why a name can't be given, told by what the spec says with it: undefined where it says the same as before. */
export function renameSpoils(before: Analysis, after: Analysis, to: string): Told | undefined {
  const count = ({ findings }: Analysis, code: string): number => findings.filter((each) => each.code === code).length;
  const worse = after.findings.find((each) => count(after, each.code) > count(before, each.code));
  return worse === undefined
    ? undefined
    : told`${to} can't be the name here, since the spec would be read in another way: ${worse.told}`;
}

/** Why a name can't be given; undefined where it can. `analyses` are those in which it means the same. */
export function renameObjection(analyses: readonly Analysis[], name: NameAt, to: string): Told | undefined {
  if (!isSpecName(to))
    return told`${to} can't be a name: letters and digits joined by single hyphens, and none of the words that begin a declaration.`;
  const meaning = meansAlready(name, to);
  if (meaning !== undefined)
    return name.set === 'place'
      ? told`${to} can't be the name of a place: the word says something else there. ${told.term(meaning)}`
      : told`${to} can't be the name of a feature: the word says something else there. ${told.term(meaning)}`;
  const small = to.toLowerCase();
  // Files that many use are gone through once.
  const files = new Set(analyses.flatMap((analysis) => [analysis.file, ...analysis.used]));
  const taken = [...files].some((file) =>
    file.sections
      .filter(({ section }) => section.text.toLowerCase().includes(small))
      .flatMap((section) => section.every)
      .flatMap(namesOfPlaced)
      .some(
        (each) =>
          each.declares &&
          each.set === name.set &&
          each.text.toLowerCase() === small &&
          each.text !== name.text &&
          ((name.set !== 'feature' && name.set !== 'place') || each.thing === name.thing),
      ),
  );
  return taken ? told`${to} is the name of something else already.` : undefined;
}
