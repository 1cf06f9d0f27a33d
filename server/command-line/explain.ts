// `fettle explain`: the help page of a code, laid out for a terminal. The pages stand beside the checks.

import { nearest } from '../../grammar/nearest.ts';
import { told } from '../../grammar/told.ts';
import { CHECKS, helpPage, pageTold } from '../checks/catalog.ts';
import { libraryPage } from './explain-library.ts';
import { type Colours, coloursFor, joined, lines, type Shown, shown } from './output.ts';
import { CannotDo, type Streams } from './streams.ts';

const WIDTH = 78;

/** Prints the page of a code. */
export function explain(code: string, streams: Streams): number {
  const library = libraryPage(code);
  if (library !== undefined) {
    streams.out(library);
    return 0;
  }
  const page = helpPage(
    code
      .trim()
      .toLowerCase()
      .replace(/^\[|\]$/g, ''),
  );
  if (page === undefined) {
    const near = nearest(
      code,
      CHECKS.map((check) => check.code),
    );
    throw new CannotDo(
      near === undefined
        ? told`There is no finding ${code}. fettle check shows the codes in brackets.`
        : told`There is no finding ${code}. Did you mean ${near}?`,
    );
  }
  streams.out(shown`${pageText(streams.say(pageTold(page)), coloursFor(streams))}\n`);
  return 0;
}

/** A page for a terminal: headings bold, examples set in, paragraphs broken anew. */
function pageText(page: string, colours: Colours): Shown {
  const blocks = page.trim().split(/(^```\w*\n[\s\S]*?^```$)/m);
  const pieces = blocks.flatMap((block) =>
    block.startsWith('```')
      ? [
          joined(
            block
              .split('\n')
              .slice(1, -1)
              .map((line) => exampleLine(line, colours)),
            '\n',
          ),
        ]
      : block
          .trim()
          .split(/\n\s*\n/)
          .filter((paragraph) => paragraph !== '')
          .map((paragraph) => paragraphText(paragraph, colours)),
  );
  return joined(pieces, '\n\n');
}

function exampleLine(line: string, colours: Colours): Shown {
  if (line.trim() === '') return shown``;
  return shown`    ${/^#\s*\^/.test(line) ? colours.red(line.trimEnd()) : line.trimEnd()}`;
}

function paragraphText(paragraph: string, colours: Colours): Shown {
  const heading = /^#+ (.*)$/.exec(paragraph);
  if (heading !== null) return colours.bold(heading[1] ?? '');
  const broken = [''];
  for (const word of paragraph.replace(/`/g, '').split(/\s+/)) {
    const last = broken[broken.length - 1] ?? '';
    if (last !== '' && last.length + word.length + 1 > WIDTH) broken.push(word);
    else broken[broken.length - 1] = last === '' ? word : `${last} ${word}`;
  }
  return lines(broken.join('\n'));
}
