// `fettle explain`: the help page of a code, laid out for a terminal. The pages stand beside the checks.
import { nearest } from '../../grammar/nearest.ts';
import { CHECKS, helpPage } from '../checks/catalog.ts';
import { CannotDo, type Colours, coloursFor, printable, type Streams } from './streams.ts';

const WIDTH = 78;

/** Prints the page of a code. */
export function explain(code: string, streams: Streams): number {
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
      `There is no finding ${code}.${near === undefined ? ' fettle check shows the codes in brackets.' : ` Did you mean ${near}?`}`,
    );
  }
  streams.out(`${pageText(page, coloursFor(streams))}\n`);
  return 0;
}

/** A page for a terminal: headings bold, examples set in, paragraphs broken anew. */
export function pageText(page: string, colours: Colours): string {
  const blocks = page.trim().split(/(^```\w*\n[\s\S]*?^```$)/m);
  return blocks
    .map((block) =>
      block.startsWith('```')
        ? block
            .split('\n')
            .slice(1, -1)
            .map((line) => `    ${/^#\s*\^/.test(line) ? colours.red(printable(line)) : printable(line)}`.trimEnd())
            .join('\n')
        : block
            .trim()
            .split(/\n\s*\n/)
            .map((paragraph) => paragraphText(paragraph, colours))
            .join('\n\n'),
    )
    .join('\n\n')
    .replace(/\n{3,}/g, '\n\n');
}

function paragraphText(paragraph: string, colours: Colours): string {
  const heading = /^#+ (.*)$/.exec(paragraph);
  if (heading !== null) return colours.bold(heading[1] ?? '');
  const lines = [''];
  for (const word of paragraph.replace(/`/g, '').split(/\s+/)) {
    const last = lines[lines.length - 1] ?? '';
    if (last !== '' && last.length + word.length + 1 > WIDTH) lines.push(word);
    else lines[lines.length - 1] = last === '' ? word : `${last} ${word}`;
  }
  return lines.join('\n');
}
