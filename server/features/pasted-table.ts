// A table of torques or clearances as it is copied from a manual (tabs, commas, a page of the web) becomes fasteners and limits. Nothing is
// guessed: a cell that could not be read is left in a comment beside its row, for a person to look through.
import { quoted } from '../model/quoted.ts';

/** What became of a table. */
export interface FromTable {
  readonly text: string;
  /** Rows that became a fastener or a limit. */
  readonly rows: number;
  /** Cells that could not be read. */
  readonly unread: number;
}

/** Most rows and letters that are read: a page of a manual, not a book. */
const MOST_ROWS = 400;
const MOST_LETTERS = 200_000;

const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  nbsp: ' ',
  deg: '°',
  plusmn: '±',
  middot: '·',
  times: '×',
  ndash: '-',
  minus: '-',
  hellip: '..',
};

function plainCell(html: string): string {
  return html
    .replace(/<[^>]*>/g, ' ')
    .replace(/&#(\d{1,6});/g, (_, code: string) => String.fromCodePoint(Math.min(Number(code), 0x10ffff)))
    .replace(/&([a-z]+);/g, (whole, name: string) => new Map(Object.entries(ENTITIES)).get(name) ?? whole)
    .replace(/\s+/g, ' ')
    .trim();
}

/** The rows of a table, each with its cells: of a page, of tabs, of a file of values between commas, semicolons or bars. */
export function cellsOf(pasted: string): readonly (readonly string[])[] {
  const text = pasted.slice(0, MOST_LETTERS);
  if (/<t[rdh][\s>]/i.test(text))
    return text
      .split(/<tr[\s>]/i)
      .slice(1, MOST_ROWS)
      .map((row) =>
        row
          .split(/<t[dh](?:\s[^>]*)?>/i)
          .slice(1)
          .map(plainCell),
      )
      .filter((cells) => cells.length > 0);
  const lines = text
    .split(/\r?\n/)
    .filter((line) => /[^\s|+-]/.test(line))
    .slice(0, MOST_ROWS);
  const by = ['\t', ';', '|'].find((sign) => lines.some((line) => line.includes(sign))) ?? ',';
  return lines.map((line) =>
    (by === ',' ? commaCells(line) : line.split(by).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1'))).filter(
      (cell, i, all) => cell !== '' || by !== '|' || (i > 0 && i < all.length - 1),
    ),
  );
}

/** Cells between commas; those in quotes may have commas in them. A comma between two digits is a decimal one. */
function commaCells(line: string): readonly string[] {
  const cells = line.match(/"(?:[^"]|"")*"|(?:\d,\d|[^,"])+|(?<=,)(?=,)/g) ?? [];
  return cells.map((cell) =>
    cell
      .trim()
      .replace(/^"(.*)"$/, '$1')
      .replace(/""/g, '"')
      .trim(),
  );
}

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const RANGE = String.raw`(${NUMBER})(?:\s*(?:-|–|—|to|\.\.|…)\s*(${NUMBER}))?`;

/** Units as manuals write them, and as they are written here. */
const UNITS: readonly (readonly [pattern: string, unit: string, kind: 'torque' | 'length' | 'angle'])[] = [
  [String.raw`n\s*[.·•*]?\s*m`, 'N.m', 'torque'],
  [String.raw`(?:lbs?f?|pounds?)[\s.·-]*(?:ft|feet|foot)|(?:ft|foot)[\s.·-]*lbs?f?`, 'lbf.ft', 'torque'],
  [String.raw`(?:lbs?f?)[\s.·-]*(?:in|inch)|(?:in|inch)[\s.·-]*lbs?f?`, 'lbf.in', 'torque'],
  [String.raw`kgf?[\s.·-]*m`, 'kgf.m', 'torque'],
  ['mm', 'mm', 'length'],
  ['in(?:ch(?:es)?)?|"|″', 'in', 'length'],
  ['°|deg(?:rees?)?', 'deg', 'angle'],
];

const point = (figure: string): string => figure.replace(',', '.');

interface Figure {
  readonly kind: 'torque' | 'length' | 'angle';
  readonly text: string;
}

/** The unit that a head names: `Torque (N.m)`. */
function unitIn(text: string): readonly [unit: string, kind: Figure['kind']] | undefined {
  const found = UNITS.find(([pattern]) =>
    new RegExp(`(?:^|[\\s(\\[,/])(?:${pattern})(?:$|[\\s)\\],/])`, 'i').test(text),
  );
  return found === undefined ? undefined : [found[1], found[2]];
}

/** One figure with its unit, or with that of the head of its column; undefined where it is none, or not all of the cell. */
function figureIn(piece: string, head: readonly [string, Figure['kind']] | undefined): Figure | undefined {
  const plain = piece.trim().replace(/^\+\s*/, '');
  for (const [pattern, unit, kind] of UNITS) {
    const found = new RegExp(`^${RANGE}\\s*(?:${pattern})\\.?$`, 'i').exec(plain);
    if (found !== null) return { kind, text: figureText(found[1] ?? '', found[2], unit) };
  }
  const bare = new RegExp(`^${RANGE}$`).exec(plain);
  return bare === null || head === undefined
    ? undefined
    : { kind: head[1], text: figureText(bare[1] ?? '', bare[2], head[0]) };
}

function figureText(low: string, high: string | undefined, unit: string): string {
  return `${point(low)}${high === undefined ? '' : `..${point(high)}`} ${unit}`;
}

/** The stages of a torque in one cell: `30 N.m + 90°`, `20, 40 N.m`; undefined where a piece is none. */
function stagesIn(cell: string, head: readonly [string, Figure['kind']] | undefined): readonly Figure[] | undefined {
  const pieces = cell.split(/\s*(?:\+|;|,\s|\bthen\b|\band\b|\/(?=\s*\d))\s*/i).filter((each) => each !== '');
  // Of stages that share a unit the last one says it.
  const last = unitIn(` ${pieces[pieces.length - 1] ?? ''}`.replace(/(\d)(?=[^\d.,\s])/g, '$1 '));
  const figures = pieces.map(
    (piece) => figureIn(piece, head) ?? (last === undefined ? undefined : figureIn(piece, last)),
  );
  return figures.every((each) => each !== undefined) && figures.length > 0 ? (figures as readonly Figure[]) : undefined;
}

/** A name as the language has them, from the words of a cell. */
function nameFrom(words: string): string | undefined {
  const name = words
    .normalize('NFC')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
    .replace(/^[-\d]+|-+$/g, '');
  return name === '' ? undefined : name.slice(0, 60).replace(/-+$/, '');
}

interface RowRead {
  readonly name: string | undefined;
  readonly title: string;
  readonly torque: readonly Figure[];
  readonly bounds: Figure | undefined;
  readonly thread: string | undefined;
  readonly grade: string | undefined;
  readonly count: string | undefined;
  readonly unread: readonly string[];
}

const THREAD = /^(?:M\d+(?:[.,]\d+)?(?:\s*[x×]\s*\d+(?:[.,]\d+)?)?|\d+\/\d+\s*(?:-\s*\d+\s*)?(?:UNC|UNF|BSW|BSF))$/i;
const CLASS = /^(?:\d{1,2}\.\d)$/;

function readRow(cells: readonly string[], heads: readonly string[]): RowRead {
  const [first = '', ...rest] = cells;
  let [torque, bounds, thread, grade, count]: [readonly Figure[], Figure | undefined, string?, string?, string?] = [
    [],
    undefined,
  ];
  const unread: string[] = [];
  for (const [i, cell] of rest.entries()) {
    if (cell === '' || /^[-–—]$/.test(cell)) continue;
    const head = unitIn(` ${heads[i + 1] ?? ''} `);
    const figures = stagesIn(cell, head);
    const kind = figures?.[0]?.kind;
    if (THREAD.test(cell) && thread === undefined) thread = cell.replace(/\s*[x×]\s*/, 'x').replace(',', '.');
    else if (CLASS.test(cell) && /class|grade|strength/i.test(heads[i + 1] ?? '') && grade === undefined) grade = cell;
    else if (/^\d{1,3}$/.test(cell) && /^(?:qty|quantity|no\.?|number|count|off)/i.test(heads[i + 1] ?? ''))
      count = cell;
    else if (figures !== undefined && (kind === 'torque' || (kind === 'angle' && torque.length > 0)))
      // A column in another unit restates the torque, and two of them are not two stages.
      torque = torque.length === 0 || kind === 'angle' ? [...torque, ...figures] : torque;
    else if (figures?.length === 1 && kind === 'length' && bounds === undefined) [bounds] = figures;
    else if (figures?.length !== 1 || kind !== 'length') unread.push(cell);
  }
  return { name: nameFrom(first), title: first, torque, bounds, thread, grade, count, unread };
}

function comment(text: string): string {
  return text.replace(/[\p{Cc}\u2028\u2029]+/gu, ' ').trim();
}

function written(row: RowRead, taken: Set<string>): readonly string[] {
  const left = row.unread.map((cell) => `# Could not be read: ${comment(cell)}`);
  if (row.name === undefined || (row.torque.length === 0 && row.bounds === undefined))
    return [[`# Could not be read: ${comment([row.title, ...row.unread].join(' | '))}`].join('\n')];
  let name = row.name;
  for (let more = 2; taken.has(name); more += 1) name = `${row.name}-${more}`;
  taken.add(name);
  if (row.torque.length > 0)
    return [
      [
        `fastener ${name}${row.count === undefined ? '' : ` x${row.count}`} ${quoted(row.title)} {`,
        ...(row.thread === undefined ? [] : [`  thread ${row.thread}`]),
        ...(row.grade === undefined ? [] : [`  class ${row.grade}`]),
        `  torque ${row.torque.map((each) => each.text).join(', ')}`,
        ...left.map((each) => `  ${each}`),
        '}',
      ].join('\n'),
    ];
  return [
    [...left, `limit ${name} ${quoted(row.title)}`, '  measured', `  within ${row.bounds?.text ?? ''}`].join('\n'),
  ];
}

/** A table as declarations; undefined where nothing in it is a torque or a clearance. */
export function fromTable(pasted: string, known: ReadonlySet<string> = new Set()): FromTable | undefined {
  const all = cellsOf(pasted);
  const [head = []] = all;
  // A head has words and no figure with a unit behind it.
  const isHead = head.slice(1).every((cell) => !/^[\d+]/.test(cell)) && all.length > 1;
  const rows = (isHead ? all.slice(1) : all).map((cells) => readRow(cells, isHead ? head : []));
  const read = rows.filter((row) => row.name !== undefined && (row.torque.length > 0 || row.bounds !== undefined));
  if (read.length === 0) return undefined;
  const taken = new Set(known);
  const pieces = rows.flatMap((row) => written(row, taken));
  const unread = rows.reduce((sum, row) => sum + (read.includes(row) ? row.unread.length : 1 + row.unread.length), 0);
  return {
    text: `# From a table: look through each of them against the manual.\n${pieces.join('\n\n')}\n`,
    rows: read.length,
    unread,
  };
}
