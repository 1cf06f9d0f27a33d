// Grey text behind figures, and lines above declarations: what is worked out, shown beside the statement that it belongs to.
import type { Analysis } from '../model/analysis.ts';
import { type ValueRow, valuesOf } from '../model/values.ts';
import { otherUnitText, quantitiesIn } from './quantities.ts';
import { rangeText } from './values-text.ts';

export interface Hint {
  readonly offset: number;
  readonly text: string;
}

/** Each quantity in the other unit system, behind it. */
export function unitHints(analysis: Analysis, start: number, end: number): readonly Hint[] {
  return quantitiesIn(analysis, start, end).flatMap(({ value, end: to }) => {
    if ('restated' in value && value.restated !== undefined) return [];
    const other = otherUnitText(value);
    return other === undefined ? [] : [{ offset: to, text: `= ${other}` }];
  });
}

const VERDICT = { inside: 'inside', outside: 'outside', select: 'select or measure' } as const;

function ownRows(analysis: Analysis): readonly ValueRow[] {
  const view = analysis.views[0];
  return view === undefined ? [] : valuesOf(view).filter((row) => row.place.file === analysis.file.file);
}

function headline(row: ValueRow): string | undefined {
  if (row.name.startsWith('limit.'))
    return `${rangeText(row)}${row.verdict === undefined ? '' : `, ${VERDICT[row.verdict]}`}`;
  if (row.name.endsWith('.proof-share') && row.nominal !== undefined && row.low !== undefined && row.high !== undefined)
    return `${Math.round(row.low * 100)} to ${Math.round(row.high * 100)} % of proof load`;
  if (row.name.endsWith('.links-return')) return `marked links are back after ${rangeText(row)}`;
  if (row.name.endsWith('.one-tooth')) return `one tooth is ${rangeText(row)} of crankshaft`;
  if (row.name === 'engine.compression-ratio') return `compression ${rangeText(row)}:1`;
  if (row.name === 'engine.displacement') return rangeText(row);
  if (row.name === 'engine.squish') return `squish ${rangeText(row)}`;
  if (row.name.endsWith('.separation')) return `separation ${rangeText(row)}`;
  if (row.name.endsWith('.inlet-duration')) return `inlet ${rangeText(row)}`;
  if (row.name.endsWith('.exhaust-duration')) return `exhaust ${rangeText(row)}`;
  return undefined;
}

/** One line above each engine, limit, fastener, drive and valve timing: its headline figures. */
export function headlines(analysis: Analysis): readonly Hint[] {
  const byThing = new Map<string, { offset: number; texts: string[] }>();
  for (const row of ownRows(analysis)) {
    const text = headline(row);
    if (text === undefined) continue;
    const key = row.name.startsWith('engine.') ? 'engine' : row.name.split('.').slice(0, 2).join('.');
    const known = byThing.get(key);
    if (known === undefined) byThing.set(key, { offset: row.place.start, texts: [text] });
    else if (key.startsWith('fastener.')) known.texts = [text];
    else if (known.texts.length < 3) known.texts.push(text);
  }
  return [...byThing.values()].map(({ offset, texts }) => ({ offset, text: texts.join('; ') }));
}
