// `fettle explain`: the help page of a code.
import { nearest } from '../../grammar/nearest.ts';
import { CHECKS, helpPage } from '../checks/catalog.ts';
import { CannotDo, coloursFor, type Streams } from './streams.ts';

/** Prints the page of a code. */
export function explain(code: string, streams: Streams): number {
  const page = helpPage(code.trim().toLowerCase());
  if (page === undefined) {
    const near = nearest(
      code,
      CHECKS.map((check) => check.code),
    );
    throw new CannotDo(
      `There is no finding ${code}.${near === undefined ? ' fettle check shows the codes in brackets.' : ` Did you mean ${near}?`}`,
    );
  }
  const colours = coloursFor(streams);
  let inExample = false;
  const lines = page
    .trimEnd()
    .split('\n')
    .flatMap((line) => {
      if (line.startsWith('```')) {
        inExample = !inExample;
        return [];
      }
      if (inExample) return [`    ${/^#\s*\^/.test(line) ? colours.red(line) : line}`];
      return [line.startsWith('# ') ? colours.bold(line.slice(2)) : line];
    });
  streams.out(`${lines.join('\n')}\n`);
  return 0;
}
