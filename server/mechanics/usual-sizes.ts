// Usual sizes of what a limit is about, by its kind or by the words in its name, wide enough that what lies beyond is a slip of the point
// or of the unit. Rules of thumb (common practice, no source), never limits. What goes by a diameter is in trade-ranges.ts.

import type { UnitId } from './unit-table.ts';

/** A usual range, both ends in `unit`. */
export type UsualSize = { readonly what: string; readonly low: number; readonly high: number; readonly unit: UnitId };

type Row = UsualSize & {
  readonly kinds: readonly string[];
  /** Where the kind alone does not tell: what the name, or what it is of, has in it. */
  readonly of?: RegExp;
  readonly words?: RegExp;
  readonly also?: RegExp;
};

const ROWS: readonly Row[] = [
  {
    what: 'valve lash',
    kinds: ['valve-lash'],
    words: /\b(valve|tappet)-(lash|clearance)\b|^lash\b/,
    low: 0.05,
    high: 0.6,
    unit: 'mm',
  },
  {
    what: 'preload of a hydraulic lifter',
    kinds: [],
    words: /lifter|tappet|hydraulic|plunger/,
    also: /preload/,
    low: 0.1,
    high: 2.5,
    unit: 'mm',
  },
  { what: 'run-out of a shaft', kinds: ['runout'], of: /crank|cam|shaft/, low: 0.005, high: 0.12, unit: 'mm' },
  { what: 'run-out', kinds: ['runout'], words: /run-?out/, low: 0.005, high: 0.3, unit: 'mm' },
  {
    what: 'out-of-round',
    kinds: ['out-of-round', 'taper'],
    words: /out-of-round|taper/,
    low: 0.002,
    high: 0.2,
    unit: 'mm',
  },
  { what: 'flatness', kinds: ['flatness'], words: /flatness|warp/, low: 0.01, high: 0.4, unit: 'mm' },
  { what: 'protrusion', kinds: ['protrusion'], words: /protrusion/, low: 0.02, high: 1.5, unit: 'mm' },
  { what: 'slack of a chain', kinds: ['chain-slack'], low: 0.5, high: 20, unit: 'mm' },
  { what: 'pin clearance', kinds: ['pin-clearance'], low: 0.001, high: 0.04, unit: 'mm' },
  {
    what: 'material taken off a face',
    kinds: [],
    words: /deck|face|head|skim/,
    also: /off|skim|removed/,
    low: 0.02,
    high: 0.8,
    unit: 'mm',
  },
  { what: 'a fillet', kinds: [], words: /fillet/, low: 0.5, high: 8, unit: 'mm' },
  {
    what: 'a plug or contact gap',
    kinds: [],
    words: /(spark|plug|points|contact|breaker).*gap|gap.*(spark|plug|points|contact)/,
    low: 0.2,
    high: 1.6,
    unit: 'mm',
  },
  {
    what: 'nozzle opening pressure',
    kinds: [],
    words: /nozzle|injector|injection/,
    also: /pressure|open/,
    low: 90,
    high: 400,
    unit: 'bar',
  },
  { what: 'compression pressure', kinds: [], words: /compression/, also: /pressure/, low: 4, high: 50, unit: 'bar' },
  { what: 'pressure of an oil relief valve', kinds: [], words: /oil.*relief/, low: 1, high: 10, unit: 'bar' },
  { what: 'oil pressure', kinds: [], words: /oil/, also: /pressure/, low: 0.3, high: 8, unit: 'bar' },
];

/** The row for a limit of this kind, of this, else for its name; undefined for what has none. */
export function usualSize(kind: string | undefined, name: string, of = ''): UsualSize | undefined {
  const text = name.toLowerCase();
  return (
    ROWS.find((row) => kind !== undefined && row.kinds.includes(kind) && (row.of?.test(`${text} ${of}`) ?? true)) ??
    (kind === undefined || kind === 'other'
      ? ROWS.find((row) => (row.words?.test(text) ?? false) && (row.also?.test(text) ?? true))
      : undefined)
  );
}

/** A slip with the factor that puts it right, and the unit that it would then have where it is one of a unit. */
export type Slip = { readonly factor: number; readonly unit?: UnitId };

/** Units that are taken for one another, with what a figure in the first becomes when it is read in the second. */
const OTHER_UNITS: readonly { readonly from: UnitId; readonly to: UnitId; readonly factor: number }[] = [
  { from: 'in', to: 'mm', factor: 1 / 25.4 },
  { from: 'mm', to: 'in', factor: 25.4 },
  { from: 'um', to: 'thou', factor: 25.4 },
  { from: 'thou', to: 'um', factor: 1 / 25.4 },
  { from: 'psi', to: 'bar', factor: 14.503773773020923 },
  { from: 'bar', to: 'psi', factor: 1 / 14.503773773020923 },
  { from: 'mm', to: 'um', factor: 1 / 1000 },
  { from: 'um', to: 'mm', factor: 1000 },
  { from: 'kPa', to: 'bar', factor: 100 },
  { from: 'bar', to: 'kPa', factor: 1 / 100 },
];
const POINTS: readonly number[] = [1 / 10, 10, 1 / 1000, 1000, 1 / 100, 100];

/**
 * What puts a range right that lies wholly beyond `far`: read in a unit that is taken for its own, or with the point moved, it comes to lie
 * within `usual`, best within what is `quoted` of it. All in one unit; `written` is the unit that the figure has. `undefined` where it lies in
 * reach, or nothing puts it right.
 */
export function slipOf(
  range: { readonly low: number; readonly high: number },
  usual: { readonly low: number; readonly high: number },
  far: { readonly low: number; readonly high: number },
  written: UnitId | undefined,
  quoted = usual,
): Slip | undefined {
  // One end beyond what is too far, and the other beyond the usual: nothing of it is usual.
  const isAbove = range.low > far.high || (range.low > usual.high && range.high > far.high);
  const isBelow = range.high < far.low || (range.high < usual.low && range.low < far.low);
  if (!isAbove && !isBelow) return undefined;
  for (const within of [quoted, usual]) {
    const fits = (factor: number): boolean =>
      range.low * factor >= within.low * (1 - 1e-9) && range.high * factor <= within.high * (1 + 1e-9);
    const other = OTHER_UNITS.find((each) => each.from === written && fits(each.factor));
    if (other !== undefined) return { factor: other.factor, unit: other.to };
    const point = POINTS.find(fits);
    if (point !== undefined) return { factor: point };
  }
  return undefined;
}
