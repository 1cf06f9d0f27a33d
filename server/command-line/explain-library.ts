// `fettle explain library`: what ships with Fettle; `fettle explain fettle:plugs`: what one of them has.
import { told } from '../../grammar/told.ts';
import { inWords } from '../checks/support.ts';
import { readFile } from '../model/read-file.ts';
import { LIBRARIES, libraryAddress, libraryText } from '../workspace/library.ts';
import { lines, type Shown } from './output.ts';
import { CannotDo } from './streams.ts';

interface Declared {
  readonly word: string;
  readonly name: string;
  readonly title: string;
}

function declaredIn(library: string): readonly Declared[] {
  const address = libraryAddress(`fettle:${library}`) ?? '';
  const text = libraryText(address);
  if (text === undefined) return [];
  return readFile(address, text).declarations.flatMap(({ declaration }) => {
    const { word, name, title } = declaration;
    return name === undefined ? [] : [{ word, name: name.text, title: title?.value ?? '' }];
  });
}

/** What is told of the libraries where that is asked for; undefined for anything else, such as the code of a finding. */
export function libraryPage(asked: string): Shown | undefined {
  const wanted = asked.trim().toLowerCase();
  if (wanted === 'library' || wanted === 'libraries') {
    const width = Math.max(...LIBRARIES.map((name) => name.length));
    const rows = LIBRARIES.map((name) => {
      const all = declaredIn(name);
      const spec = all.find(({ word }) => word === 'spec');
      return told`  ${`use "fettle:${name}"`.padEnd(width + 14)}  ${spec?.title ?? ''}, ${all.length - 1} in all\n`;
    });
    return lines(
      told`What ships with Fettle. A use line makes it known; nothing of it is in any sheet or list unless your spec names it.\n\n${told.row(rows)}\nA bolt of your own takes thread, class and finish from one of them: like m8-8-8\nfettle explain fettle:${LIBRARIES[0] ?? ''} tells what is in one.\n`,
    );
  }
  if (!wanted.startsWith('fettle:')) return undefined;
  const name = wanted.slice('fettle:'.length);
  const all = declaredIn(name).filter(({ word }) => word !== 'spec');
  if (all.length === 0)
    throw new CannotDo(
      told`There is no library ${name}. There are ${inWords(LIBRARIES)}: fettle explain library tells of them.`,
    );
  const width = Math.max(...all.map((each) => each.name.length));
  return lines(all.map((each) => `${each.name.padEnd(width)}  ${each.title}\n`).join(''));
}
