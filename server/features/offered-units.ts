// The units that may follow a number, the usual ones first, and other words that may.
import { told } from '../../grammar/told.ts';
import { UNITS } from '../../grammar/vocabulary/units.ts';
import type { StatementRow, ValueKind } from '../../grammar/vocabulary.ts';
import type { Analysis } from '../model/analysis.ts';
import { blockOf } from '../model/statements.ts';
import { showsInches } from '../model/units-shown.ts';
import type { Thing } from '../model/view.ts';
import type { Cursor } from './cursor.ts';
import type { Completion } from './offered.ts';
import { firstUnit } from './offered-figures.ts';
import { kindsOfLimit } from './offered-values.ts';
import { leadsOf } from './offered-words.ts';

/** Whether the spec shows inches first. */
export function isInch({ views: [view] }: Analysis): boolean {
  return view !== undefined && showsInches(view);
}

/** The units that may stand there, the usual ones first. */
export function unitsFor(
  row: StatementRow | undefined,
  wanted: readonly ValueKind[] | undefined,
  inch: boolean,
  likeliest?: string,
): Completion[] {
  const kinds: readonly ValueKind[] = wanted ?? row?.unit ?? [];
  if (wanted?.length === 0) return [];
  if (row !== undefined && kinds.length === 0 && row.shape === 'number') return [];
  const open = kinds.length === 0 || kinds.includes('any');
  const units = UNITS.filter((unit) => open || (kinds as readonly string[]).includes(unit.kind));
  const usual = new Set(UNITS.map(({ kind }) => firstUnit(kind as ValueKind, inch)));
  // The unit of the first kind that is wanted stands before those of the others.
  const first =
    likeliest ?? (row?.shape === 'rotate' ? 'turn' : firstUnit(open ? 'length' : (kinds[0] ?? 'any'), inch));
  const clock = row !== undefined && ['mark', 'orient', 'centre-distance', 'set', 'confirm'].includes(row.word);
  return [
    ...(clock
      ? [
          {
            label: "o'clock",
            kind: 'unit',
            detail: told`direction`,
            help: told`A direction seen from the front, sump down; 12 is up.`,
            rank: 0,
          } as const,
        ]
      : []),
    ...units.map(
      (unit): Completion => ({
        label: unit.unit,
        kind: 'unit',
        detail: told.term(unit.kind),
        help: told.term(unit.help),
        rank: unit.unit === first ? 0 : usual.has(unit.unit) ? 1 : 2,
      }),
    ),
  ];
}

/** The unit that the bounds of a limit are written with, as far as they are. */
export function unitOfLimit(thing: Thing | undefined): (typeof UNITS)[number] | undefined {
  const within = thing?.kind === 'limit' ? thing.declaration.limit?.within : undefined;
  if (thing === undefined || within === undefined) return undefined;
  const words = thing.placed.section.text.slice(within.start, within.end).split(/[\s(),]+/);
  return UNITS.find(({ unit }) => words.includes(unit));
}

/** What a number behind a clause of a run or a crank is counted in. */
export function kindsBehind(cursor: Cursor): readonly ValueKind[] | undefined {
  const { statement, placed, block } = cursor;
  if (block === undefined && placed !== undefined && blockOf(placed.declaration) === 'limit')
    return kindsOfLimit(placed.declaration.limit);
  if (statement === undefined || !['run', 'crank'].includes(statement.row.shape)) return undefined;
  const clause = statement.behind.findLast((token) => ['at', 'for', 'until'].includes(token.payload))?.payload;
  return clause === 'at'
    ? ['speed']
    : clause === 'for'
      ? ['time']
      : clause === 'until'
        ? ['temperature', 'pressure']
        : undefined;
}

/** Words that may follow a number without a unit: of places, of bolts, of readings. */
export function behindNumber(cursor: Cursor): readonly string[] {
  const isHead = cursor.block === undefined && cursor.placed?.declaration.word === 'limit';
  if (isHead) return cursor.tokens.at(-2)?.payload === 'measured' ? ['readings'] : [];
  const { row } = cursor.statement ?? {};
  return row?.shape === 'places' || row?.shape === 'tightening-order' || row?.shape === 'action' ? leadsOf(cursor) : [];
}
