// A table of torques or clearances as it is copied from a manual (tabs, commas, a page of the web) becomes fasteners and limits. Nothing is
// guessed: a cell that could not be read is left in a comment beside its row, for a person to look through.
import { quoted } from '../model/quoted.ts';
import { cellsOf } from './table-cells.ts';

/** What became of a table. */
export interface FromTable {
  readonly text: string;
  /** Rows that became a fastener or a limit. */
  readonly rows: number;
  /** Cells, and whole rows, that could not be read: a remark each. */
  readonly unread: number;
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
  const pieces = cell.split(/\s*(?:\n|\+|;|,\s|\bthen\b|\band\b|\/(?=\s*\d))\s*/i).filter((each) => each !== '');
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
  /** Whether a cell of it names a stage. */
  readonly isStage: boolean;
  readonly unread: readonly string[];
}

const THREAD = /^(?:M\d+(?:[.,]\d+)?(?:\s*[x×]\s*\d+(?:[.,]\d+)?)?|\d+\/\d+\s*(?:-\s*\d+\s*)?(?:UNC|UNF|BSW|BSF))$/i;
/** What names a stage, in a column of its own or where the name of the bolt would stand. */
const STAGE =
  /^(?:(?:\d{1,2}(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth|final|initial)(?:\s+(?:stage|step|pass))?|(?:stage|step|pass)\s*\d{1,2})[:.]?$/i;
const CLASS = /^(?:\d{1,2}\.\d)$/;

function readRow(cells: readonly string[], heads: readonly string[]): RowRead {
  const [before = '', ...rest] = cells;
  const first = before.replace(/\n/g, ' ');
  const isStage = cells.some((cell) => STAGE.test(cell));
  const isLater = first === '' || STAGE.test(first);
  let [torque, bounds, thread, grade, count]: [readonly Figure[], Figure | undefined, string?, string?, string?] = [
    [],
    undefined,
  ];
  const unread: string[] = [];
  for (const [i, cell] of rest.entries()) {
    if (cell === '' || /^[-–—]$/.test(cell) || STAGE.test(cell)) continue;
    const head = unitIn(` ${heads[i + 1] ?? ''} `);
    const figures = stagesIn(cell, head);
    const kind = figures?.[0]?.kind;
    if (THREAD.test(cell) && thread === undefined) thread = cell.replace(/\s*[x×]\s*/, 'x').replace(',', '.');
    else if (CLASS.test(cell) && /class|grade|strength/i.test(heads[i + 1] ?? '') && grade === undefined) grade = cell;
    else if (/^\d{1,3}$/.test(cell) && /^(?:qty|quantity|no\.?|number|count|off)/i.test(heads[i + 1] ?? ''))
      count = cell;
    else if (figures !== undefined && (kind === 'torque' || (kind === 'angle' && (torque.length > 0 || isLater))))
      // A column in another unit restates the torque, and two of them are not two stages.
      torque = torque.length === 0 || kind === 'angle' ? [...torque, ...figures] : torque;
    else if (figures?.length === 1 && kind === 'length' && bounds === undefined) [bounds] = figures;
    else if (figures?.length !== 1 || kind !== 'length') unread.push(cell);
  }
  return { name: nameFrom(first), title: first, torque, bounds, thread, grade, count, isStage, unread };
}

/**
 * A row without a name, below one that has it, is a later stage of it where it says so or turns on by an angle, or another of that name where it has
 * a thread of its own. Else it is left to a person: it may be either.
 */
function joined(rows: readonly RowRead[]): readonly RowRead[] {
  const found: RowRead[] = [];
  let named = -1;
  for (const row of rows) {
    const above = found[named];
    const isNameless = row.name === undefined || STAGE.test(row.title);
    if (!isNameless || above === undefined || row.torque.length === 0) {
      if (!isNameless && row.torque.length > 0) named = found.length;
      found.push(row);
    } else if (row.thread !== undefined && row.thread !== above.thread) {
      named = found.length;
      found.push({ ...row, name: above.name, title: above.title });
    } else if (row.isStage || row.torque.every((each) => each.kind === 'angle'))
      found[named] = {
        ...above,
        torque: [...above.torque, ...row.torque],
        unread: [...above.unread, ...row.unread],
      };
    else found.push({ ...row, name: undefined, unread: [...row.torque.map((each) => each.text), ...row.unread] });
  }
  return found;
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

/** The words above each column, where there are some: of the first row without a figure, and of those below it that name units alone. */
function headsOf(all: readonly (readonly string[])[]): {
  readonly heads: readonly string[];
  readonly below: readonly (readonly string[])[];
} {
  const isHead = (cells: readonly string[]): boolean => cells.slice(1).every((cell) => !/^[\d+]/.test(cell));
  const [first, ...below] = all;
  if (first === undefined || below.length === 0 || !isHead(first)) return { heads: [], below: all };
  const heads = [...first];
  while (below.length > 1 && below[0]?.[0] === '' && isHead(below[0]))
    for (const [i, cell] of (below.shift() ?? []).entries()) heads[i] = `${heads[i] ?? ''} ${cell}`.trim();
  return { heads, below };
}

/** A table as declarations; undefined where nothing in it is a torque or a clearance. */
export function fromTable(pasted: string, known: ReadonlySet<string> = new Set()): FromTable | undefined {
  const { heads, below } = headsOf(cellsOf(pasted));
  const rows = joined(below.map((cells) => readRow(cells, heads)));
  const read = rows.filter((row) => row.name !== undefined && (row.torque.length > 0 || row.bounds !== undefined));
  if (read.length === 0) return undefined;
  const taken = new Set(known);
  const pieces = rows.flatMap((row) => written(row, taken));
  // A row that is left is one remark.
  const unread = rows.reduce((sum, row) => sum + (read.includes(row) ? row.unread.length : 1), 0);
  return {
    text: `# From a table: look through each of them against the manual.\n${pieces.join('\n\n')}\n`,
    rows: read.length,
    unread,
  };
}
