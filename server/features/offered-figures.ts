// What is offered where a figure is wanted next, or a text: a gap for the figure with the unit that the spec shows first, and no word.
import { type Told, told } from '../../grammar/told.ts';
import type { StatementRow, ValueKind } from '../../grammar/vocabulary.ts';
import type { Cursor } from './cursor.ts';
import { piecesOf } from './forms.ts';
import type { Completion } from './offered.ts';

/** The unit that a figure of a kind is given in, in a metric spec and in one that shows inches. */
const FIRST_UNITS: Readonly<Partial<Record<ValueKind, readonly [metric: string, inch: string]>>> = {
  length: ['mm', 'in'],
  angle: ['deg', 'deg'],
  torque: ['N.m', 'lbf.ft'],
  force: ['N', 'lbf'],
  pressure: ['bar', 'psi'],
  volume: ['cc', 'cc'],
  mass: ['g', 'oz'],
  temperature: ['degC', 'degF'],
  time: ['min', 'min'],
  speed: ['rpm', 'rpm'],
  distance: ['km', 'mi'],
  'spring-rate': ['N/mm', 'lbf/in'],
  unbalance: ['g.mm', 'ozf.in'],
};

/** What the pieces of a form call a figure, with what it is counted in. */
const FIGURES: ReadonlyMap<string, readonly ValueKind[]> = new Map<string, readonly ValueKind[]>(
  Object.entries({
    ANGLE: ['angle'],
    TEMPERATURE: ['temperature'],
    SPEED: ['speed'],
    TIME: ['time'],
    SIZE: ['length'],
    STEP: ['length'],
    DISTANCE: ['length'],
    LENGTH: ['length'],
    TORQUE: ['torque'],
    STAGE: ['torque'],
    LIFT: ['length'],
    AMOUNT: ['volume'],
  } as const),
);

/** The unit that a spec writes first for a kind of figure. */
export function firstUnit(kind: ValueKind, inch: boolean): string | undefined {
  return FIRST_UNITS[kind]?.[inch ? 1 : 0];
}

/** A figure to write over, with its unit. */
export function figureGap(unit: string, detail: Told, help: Told): Completion {
  return { label: `0 ${unit}`, kind: 'unit', detail, help, snippet: `\${1:0} ${unit}`, rank: 0 };
}

/** A gap for a figure of each of some kinds; with `bounds` two of them, from lowest to highest, before the single one. */
export function figuresOf(kinds: readonly ValueKind[], inch: boolean, bounds = false): readonly Completion[] {
  const open = kinds.includes('any') ? (['length', 'angle'] as const) : kinds;
  const units = [...new Set(open.flatMap((kind) => firstUnit(kind, inch) ?? []))];
  return units.flatMap((unit, order): Completion[] => [
    ...(bounds
      ? [
          {
            label: `0..0 ${unit}`,
            kind: 'unit' as const,
            detail: told`lowest to highest`,
            help: told`From the lowest to the highest, with one unit at the end.`,
            snippet: `\${1:0}..\${2:0} ${unit}`,
            rank: 0,
            order,
          },
        ]
      : []),
    { ...figureGap(unit, told`a figure`, told`A figure with its unit.`), rank: bounds ? 1 : 0, order },
  ]);
}

const OCLOCK: Completion = {
  label: "12 o'clock",
  kind: 'unit',
  detail: told`direction`,
  help: told`A direction seen from the front, sump down; 12 is up.`,
  snippet: `\${1:12} o'clock`,
  rank: 0,
};

/** Statements whose figures have a lowest and a highest as often as not. */
const BETWEEN: ReadonlySet<string> = new Set(['dimension', 'wall', 'stretch']);

/** Behind the word of a statement that is nothing but a figure, a number or a text. */
function afterItsWord(row: StatementRow, inch: boolean): readonly Completion[] | undefined {
  switch (row.shape) {
    case 'value':
    case 'wait':
    case 'wall':
    case 'reuse':
    case 'lift-at':
    case 'phaser':
    case 'retorque':
    case 'draw-up': {
      if (row.shape === 'reuse') return undefined;
      const kinds: readonly ValueKind[] =
        row.unit?.slice(0, 1) ?? (row.shape === 'wait' ? ['time'] : row.shape === 'phaser' ? ['angle'] : []);
      return kinds.length === 0 ? undefined : figuresOf(kinds, inch, BETWEEN.has(row.word));
    }
    case 'number':
    case 'text':
    case 'dimension':
    case 'figure':
    case 'source':
      return [];
    default:
      return undefined;
  }
}

/** What the piece that a clause begins is written with, behind that clause: `"instrument"`, `CLOCK or ANGLE`. */
function wantedBehind(cursor: Cursor): string | undefined {
  const { last, statement, block } = cursor;
  if (last === undefined || statement === undefined || block === undefined || statement.behind.length === 0)
    return undefined;
  const piece = piecesOf(statement.row, block).find((each) => each.leads.includes(last.payload));
  return piece?.text.slice(piece.text.indexOf(' ') + 1);
}

/**
 * Where a figure or a text has to follow: gaps for figures, or nothing for what only the writer knows. Undefined where a name or a word may
 * stand there, and on a new line, where the next statement may begin.
 */
export function figuresWanted(cursor: Cursor, inch: boolean): readonly Completion[] | undefined {
  const { statement, newLine } = cursor;
  if (statement === undefined || newLine) return undefined;
  if (statement.behind.length === 0) return afterItsWord(statement.row, inch);
  const wanted = wantedBehind(cursor);
  if (wanted === undefined) return undefined;
  if (wanted.startsWith('"')) return [];
  const words = wanted.split(' or ');
  const figures = words.flatMap((word) =>
    word === 'CLOCK'
      ? [OCLOCK]
      : figuresOf(FIGURES.get(word) ?? (word === 'VALUE' ? (statement.row.unit ?? []) : []), inch),
  );
  return figures.length === 0 ? undefined : figures;
}
