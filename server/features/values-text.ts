// Worked-out values as text for a terminal and as JSON for other programs.
import { exact, toNumber } from '../mechanics/exact.ts';
import { convert, convertDifference, isUnitId, otherSystem, type Unit, unitOf, unitText } from '../mechanics/units.ts';
import type { ValueRow } from '../model/values.ts';

function shown(number: number): string {
  const size = Math.abs(number);
  const digits = size === 0 ? 0 : size < 1 ? 4 : size < 10 ? 3 : size < 1000 ? 2 : 0;
  return String(Number(number.toFixed(digits)));
}

function unitOfRow(row: ValueRow): Unit | undefined {
  return isUnitId(row.unit) ? unitOf(row.unit) : undefined;
}

function converted(number: number, from: Unit, to: Unit, isDifference: boolean): number | undefined {
  const value = exact(number.toFixed(9));
  const by = isDifference ? convertDifference : convert;
  const result = value === undefined ? undefined : by(value, from, to);
  return result === undefined ? undefined : toNumber(result);
}

/** `0.020 to 0.060 mm (0.0008 to 0.0024 in)`. */
export function rangeText(row: ValueRow): string {
  if (row.values !== undefined) return `${row.values.map(shown).join(', ')} ${row.unit}`.trim();
  const figures = (scale: (number: number) => number | undefined): string | undefined => {
    const [low, high, nominal] = [row.low, row.high, row.nominal].map((number) =>
      number === undefined ? undefined : scale(number),
    );
    if (low !== undefined && high !== undefined && shown(low) !== shown(high)) return `${shown(low)} to ${shown(high)}`;
    return nominal === undefined ? undefined : shown(nominal);
  };
  const own = figures((number) => number) ?? '';
  const unit = unitOfRow(row);
  const other = unit === undefined ? undefined : otherSystem(unit);
  const also =
    unit === undefined || other === undefined
      ? undefined
      : figures((number) => converted(number, unit, other, row.difference ?? false));
  const unitShown = row.unit === 'pitch' ? 'pitches' : row.unit === 'turn' && row.nominal !== 1 ? 'turns' : row.unit;
  return (
    `${own} ${unitShown}`.trim() + (also === undefined || other === undefined ? '' : ` (${also} ${unitText(other)})`)
  );
}

const VERDICTS = { inside: 'inside', outside: 'OUTSIDE', select: 'select or measure' } as const;

/** One value a line, names aligned, with verdict and working. */
export function valuesText(rows: readonly ValueRow[]): string {
  if (rows.length === 0) return 'There is nothing to work out here yet.\n';
  const width = Math.min(60, Math.max(...rows.map((row) => row.name.length)));
  return rows
    .map((row) => {
      const share =
        row.name.endsWith('proof-share') && row.nominal !== undefined
          ? ` (about ${Math.round(row.nominal * 100)} %)`
          : '';
      const within =
        row.within === undefined
          ? ''
          : `; within ${[row.within.low, row.within.high].map((bound) => (bound === undefined ? 'open' : shown(bound))).join(' to ')}${row.verdict === undefined ? '' : `: ${VERDICTS[row.verdict]}`}`;
      const likely =
        row.statistical === undefined || row.low === row.high
          ? ''
          : `; mostly ${shown(row.statistical.low)} to ${shown(row.statistical.high)}`;
      const rests = row.toMeasure ? '; it rests on what is still to be measured' : '';
      const working = row.working === undefined || row.working === '' ? '' : `\n${' '.repeat(width + 2)}${row.working}`;
      return `${row.name.padEnd(width)}  ${rangeText(row)}${share}${likely}${within}${rests}${working}\n`;
    })
    .join('');
}

/** The rows without their places, as `fettle values --format json` gives them. */
export function valuesJson(rows: readonly ValueRow[]): { readonly values: readonly Omit<ValueRow, 'place'>[] } {
  return { values: rows.map(({ place: _place, ...row }) => row) };
}
