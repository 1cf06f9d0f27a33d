// The cells of a table as it is copied: of a page of the web, of a spreadsheet, of a file of values between commas, semicolons or bars. What
// a cell says is left to whoever reads it; where it can't be told which cells there are, that is said in the cell, so that nobody takes it for a
// figure.
import { type Options, parse } from 'csv-parse/browser/esm/sync';

/** Most rows, cells of a row and letters that are read: a page of a manual, not a book. */
const MOST_ROWS = 400;
const MOST_CELLS = 40;
const MOST_LETTERS = 200_000;

/** The rows of a table, each with its cells. Lines within a cell are kept apart by `\n`. */
export function cellsOf(pasted: string): readonly (readonly string[])[] {
  const text = pasted.slice(0, MOST_LETTERS);
  return /<t[rdh][\s>]/i.test(text) ? pageCells(text) : lineCells(text);
}

// Of a page. What lies in a clipboard was written there by a browser or an office program, so tags are closed and quotes are whole.

const ENTITIES: ReadonlyMap<string, string> = new Map([
  ['amp', '&'],
  ['lt', '<'],
  ['gt', '>'],
  ['quot', '"'],
  ['apos', "'"],
  ['nbsp', ' '],
  ['deg', '°'],
  ['plusmn', '±'],
  ['middot', '·'],
  ['sdot', '·'],
  ['times', '×'],
  ['ndash', '-'],
  ['mdash', '-'],
  ['minus', '-'],
  ['hellip', '..'],
]);

function letter(code: number): string {
  return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : '';
}

function plain(html: string): string {
  return (
    html
      .replace(/&#(\d{1,7});?/g, (_, code: string) => letter(Number(code)))
      .replace(/&#x([\da-f]{1,6});?/gi, (_, code: string) => letter(Number.parseInt(code, 16)))
      // The last, so that no other is made of what it gives.
      .replace(/&([a-z]+);/gi, (whole, name: string) => ENTITIES.get(name.toLowerCase()) ?? whole)
  );
}

/** The words of a cell: blanks are one, lines are kept apart. */
function tidy(text: string): string {
  return plain(text)
    .replace(/[^\S\n]+/g, ' ')
    .replace(/ ?\n\s*/g, '\n')
    .trim();
}

/** Between tags: a comment's ends, a tag with its attributes, what stands between; each letter is looked at once. */
const PIECES = /<!--|<(\/?)([a-z][a-z0-9]*)([^<>]*)>|[^<]+|</gi;
const HIDDEN = new Set(['script', 'style', 'head', 'template']);
const NEW_LINE = new Set(['br', 'p', 'div', 'li']);

function spanOf(attributes: string, name: string): number {
  const said = Number(new RegExp(`\\b${name}\\s*=\\s*["']?(\\d{1,3})`, 'i').exec(attributes)?.[1] ?? 1);
  return Math.min(Math.max(said, 1), MOST_CELLS);
}

interface Cell {
  text: string;
  readonly rows: number;
  readonly columns: number;
}

/** The cells of each row as they are written. A raised figure is no digit of the one before it: 30 with the mark of a footnote is not 301. */
function cellsWritten(html: string): readonly (readonly Cell[])[] {
  const rows: Cell[][] = [];
  let cell: Cell | undefined;
  let hidden: string | undefined;
  for (const [whole, slash, tag = '', attributes = ''] of html.matchAll(PIECES)) {
    const name = tag.toLowerCase();
    if (hidden !== undefined) {
      if (hidden === '-->' ? whole.includes('-->') : slash === '/' && name === hidden) hidden = undefined;
    } else if (whole === '<!--') hidden = '-->';
    else if (slash === '' && HIDDEN.has(name)) hidden = name;
    else if (name === 'tr' || name === 'table') {
      cell = undefined;
      if (name === 'tr' && slash === '') rows.push([]);
      if (rows.length > MOST_ROWS) break;
    } else if (name === 'td' || name === 'th') {
      cell =
        slash === ''
          ? { text: '', rows: spanOf(attributes, 'rowspan'), columns: spanOf(attributes, 'colspan') }
          : undefined;
      if (cell !== undefined && (rows.at(-1)?.length ?? MOST_CELLS) < MOST_CELLS) rows.at(-1)?.push(cell);
    } else if (cell !== undefined) {
      if (tag === '') cell.text += whole.replace(/\s+/g, ' ');
      else if (NEW_LINE.has(name)) cell.text += '\n';
      else if (slash === '' && (name === 'sup' || name === 'sub')) cell.text += '^';
    }
  }
  return rows;
}

/** A cell that reaches over several columns is there once, and empty in the others; below one that reaches over several rows nothing stands. */
function pageCells(html: string): readonly (readonly string[])[] {
  const below = new Map<number, number>();
  return cellsWritten(html)
    .map((row) => {
      const cells: string[] = [];
      const skip = (): void => {
        for (let left = below.get(cells.length) ?? 0; left > 0; left = below.get(cells.length) ?? 0) {
          below.set(cells.length, left - 1);
          cells.push('');
        }
      };
      for (const { text, rows, columns } of row) {
        skip();
        for (let column = 0; column < columns && cells.length < MOST_CELLS; column += 1) {
          if (rows > 1) below.set(cells.length, rows - 1);
          cells.push(column === 0 ? tidy(text) : '');
        }
      }
      skip();
      return cells;
    })
    .filter((cells) => cells.some((cell) => cell !== ''));
}

// Of lines.

function lineCells(text: string): readonly (readonly string[])[] {
  // A line that rules off a heading has no cell.
  const lines = text.split(/\r?\n/).filter((line) => /[^\s|+=_-]/.test(line));
  const by = ['\t', ';', '|'].find((sign) => lines.some((line) => line.includes(sign)));
  if (by === undefined) return commaCells(lines.join('\n'));
  const rows = read(lines.join('\n'), by);
  return by === '|' ? rows.map(withoutFrame) : rows;
}

/** A row between bars has a bar at both ends, too. */
function withoutFrame(cells: readonly string[]): readonly string[] {
  return cells.filter((cell, i) => cell !== '' || (i > 0 && i < cells.length - 1));
}

function read(text: string, delimiter: string): readonly (readonly string[])[] {
  const how: Options = {
    delimiter,
    relax_quotes: true,
    relax_column_count: true,
    skip_empty_lines: true,
    to: MOST_ROWS,
  };
  try {
    return parse(text, how).map((row) =>
      row.slice(0, MOST_CELLS).map((cell) => cell.trim().replace(/\s*\n\s*/g, '\n')),
    );
  } catch {
    // A quote that is not closed: then quotes are letters like others.
    return text
      .split('\n')
      .slice(0, MOST_ROWS)
      .map((line) =>
        line
          .split(delimiter)
          .slice(0, MOST_CELLS)
          .map((cell) => cell.trim()),
      );
  }
}

/** Stands for a comma between two digits while the others are looked at. */
const KEPT = '\u{e000}';

/**
 * Between commas. One between two digits may be a decimal one: it is, or is not, where only so all rows have as many cells as the heading. Where
 * both would do, or neither, or where there is no heading, the cells round it stay one, with a question.
 */
function commaCells(text: string): readonly (readonly string[])[] {
  const every = read(text, ',');
  const decimal = read(text.replace(/(?<=\d),(?=\d)/g, KEPT), ',').map((row) =>
    row.map((cell) => cell.replaceAll(KEPT, ',')),
  );
  const isEven = (rows: readonly (readonly string[])[]): boolean => rows.every((row) => row.length === rows[0]?.length);
  const hasHeading = every[0]?.every((cell) => !/^\d/.test(cell)) === true;
  if (hasHeading && isEven(every) !== isEven(decimal)) return isEven(every) ? every : decimal;
  return decimal.map((row, i) =>
    row.length === every[i]?.length
      ? row
      : row.map((cell) => (/\d,\d/.test(cell) ? `${cell} (one figure, or two?)` : cell)),
  );
}
