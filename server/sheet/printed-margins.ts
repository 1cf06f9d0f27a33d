// What stands on each printed page: which engine, revision, variant and job it belongs to, and its number.
import { spoken } from '../../grammar/spoken.ts';

/** A text as a string of a style sheet: every letter that is not plain is written as its number. */
function styleString(text: string): string {
  return `"${[...text].map((letter) => (/^[A-Za-z0-9 .,:-]$/.test(letter) ? letter : letter.codePointAt(0) === 0 ? '' : `\\${letter.codePointAt(0)?.toString(16)} `)).join('')}"`;
}

/** Where the browser counts. */
const COUNTED: ReadonlyMap<string, string> = new Map([
  ['«page»', 'counter(page)'],
  ['«pages»', 'counter(pages)'],
]);

/** `page 2 of 5`, as a style sheet says it. */
function pageOf(): string {
  const [page = '', pages = ''] = COUNTED.keys();
  return spoken`page ${page} of ${pages}`
    .split(/(«pages?»)/)
    .filter((piece) => piece !== '')
    .map((piece) => COUNTED.get(piece) ?? styleString(piece))
    .join(' ');
}

/** Rules for the margins of a page; `text` stands at its head. `name`: of the pages of that name alone. */
export function printedMargins(text: string, name = ''): string {
  const font = 'font: 8.5pt "Liberation Sans", Arial, Helvetica, sans-serif; color: #000;';
  const named = name === '' ? '' : ` ${name}`;
  return `@page${named} { margin: 11mm 10mm 10mm; @top-left { content: ${styleString(text)}; ${font} vertical-align: bottom; padding-bottom: 2mm; } @bottom-left { content: ${styleString(spoken`engine number`).slice(0, -1)} ______________________"; ${font} } @bottom-right { content: ${pageOf()}; ${font} } }\n`;
}

/** The name of the pages of a job by its number, from 0. */
export function pageName(job: number): string {
  return `job-${job + 1}`;
}
