// Worked-out values beside the statements they belong to, in the words of the trade: for the hover and for the lines above
// declarations. Where variants differ each is told. The sums are in server/model/values.ts.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import { showsInches } from '../model/units-shown.ts';
import { type ValueRow, valuesOf } from '../model/values.ts';
import { rangeText } from './values-text.ts';

/** A value, with the variants that it holds for where others have another one. */
export interface SharedRow {
  readonly row: ValueRow;
  /** Empty where all variants that have the value agree. */
  readonly variants: readonly string[];
  /** The spec shows inches first. */
  readonly inchesFirst: boolean;
}

const VERDICTS = { inside: told`inside`, outside: told`outside`, select: told`select or measure` } as const;

/** A value with its unit; a share of the proof load in percent. */
export function figureText(row: ValueRow, inchesFirst = false): Told {
  if (!row.name.endsWith('.proof-share')) return rangeText(row, inchesFirst);
  const [low, high] = [row.low ?? row.nominal, row.high ?? row.nominal].map((each) => Math.round((each ?? 0) * 100));
  return low === high ? told`${low ?? 0} %` : told`${low ?? 0} to ${high ?? 0} %`;
}

/** What a limit comes to: inside, outside, or in between; nothing for other values. */
export function verdictText(row: ValueRow): Told | undefined {
  return row.verdict === undefined ? undefined : VERDICTS[row.verdict];
}

/** The values of all variants, or of one thing (see valuesOf); one that comes to the same in all is told once. */
export function sharedRows(analysis: Analysis, only?: string): readonly SharedRow[] {
  const groups = new Map<string, Map<string, { readonly row: ValueRow; readonly variants: string[] }>>();
  let inchesFirst = false;
  for (const view of analysis.views) {
    inchesFirst ||= showsInches(view);
    for (const row of valuesOf(view, only)) {
      const key = `${row.name} ${row.place.file} ${row.place.start}`;
      const text = `${figureText(row).text} ${row.verdict ?? ''} ${row.working ?? ''}`;
      const group = groups.get(key) ?? new Map<string, { readonly row: ValueRow; readonly variants: string[] }>();
      groups.set(key, group);
      const known = group.get(text);
      if (known !== undefined) known.variants.push(view.variant ?? '');
      else group.set(text, { row, variants: [view.variant ?? ''] });
    }
  }
  return [...groups.values()].flatMap((group) =>
    [...group.values()].map(({ row, variants }) => ({
      row,
      variants: group.size === 1 ? [] : variants,
      inchesFirst,
    })),
  );
}

/** `stage 1, preload` for `fastener.head-bolt.stage-1.preload`. */
export function figureName(row: ValueRow, thing: string): Argument {
  if (row.name === thing) return told`worked out`;
  const words = row.name.slice(thing.length + 1).split('.');
  return told.list(
    words.map((word) => figureWord(word)),
    ',',
  );
}

/** The words of the names of figures: `one tooth`, `stage 1`; a name of the spec's own as it is. */
export function figureWord(word: string): Argument {
  const stage = /^stage-(\d+)$/.exec(word)?.[1];
  if (stage !== undefined) return told`stage ${stage}`;
  return told.term(word === 'proof-share' ? 'share of proof load' : word.replaceAll('-', ' '));
}
