// Grey text behind figures, and lines above declarations: what is worked out, shown beside the statement that it belongs to.
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Analysis } from '../model/analysis.ts';
import { placeOf } from '../model/placed.ts';
import type { ValueRow } from '../model/values.ts';
import { figureText, figureWord, sharedRows, verdictText } from './figures-text.ts';
import { placedAt } from './place-in-tree.ts';
import { otherUnitText, quantitiesIn } from './quantities.ts';
import { angleAfter } from './tightening-text.ts';

export interface Hint {
  readonly offset: number;
  readonly text: Told;
  /** What it is, for who looks at it. */
  readonly why?: Told;
  /** Where the name of the thing stands that it tells of. */
  readonly nameAt?: number;
}

/** Each quantity in the other unit system, behind it. */
export function unitHints(analysis: Analysis, start: number, end: number): readonly Hint[] {
  return quantitiesIn(analysis, start, end).flatMap(({ value, end: to }) => {
    if ('restated' in value && value.restated !== undefined) return [];
    const other = otherUnitText(value);
    return other === undefined
      ? []
      : [
          {
            offset: to,
            text: told.asIs(`= ${other}`),
            why: told`The same in the other system, rounded as far as the figure was written. Nothing is written into the file.`,
          },
        ];
  });
}

function headline(row: ValueRow, inchesFirst: boolean): Told | undefined {
  const text = figureText(row, inchesFirst);
  const verdict = verdictText(row);
  if (row.name.startsWith('limit.')) return verdict === undefined ? text : told`${text}, ${verdict}`;
  if (row.name.endsWith('.proof-share')) return told`${text} of proof load`;
  if (row.name.endsWith('.links-return')) return told`marked links are back after ${text}`;
  if (row.name.endsWith('.one-tooth')) return told`one tooth is ${text} of crankshaft`;
  if (row.name === 'engine.compression-ratio') return told`compression ${text}:1`;
  if (row.name === 'engine.displacement') return text;
  if (row.name === 'engine.squish') return told`squish ${text}`;
  if (row.name.endsWith('.separation')) return told`separation ${text}`;
  if (row.name.endsWith('.inlet-duration')) return told`inlet ${text}`;
  if (row.name.endsWith('.exhaust-duration')) return told`exhaust ${text}`;
  return undefined;
}

/** The figures of a fastener belong to its torque; the line stands above the whole. */
function startOfFastener(analysis: Analysis, key: string): number | undefined {
  if (!key.startsWith('fastener.')) return undefined;
  const name = key.slice('fastener.'.length);
  for (const { things } of analysis.views) {
    const thing = things.get(name);
    if (thing?.kind !== 'fastener') continue;
    // A bolt of a base has its torque here where it is changed: the line stands at that.
    const place = placeOf(thing.placed, thing.declaration.wordSpan);
    return place.file === analysis.file.file ? place.start : undefined;
  }
  return undefined;
}

function angleOf(analysis: Analysis, name: string): number | undefined {
  for (const { things } of analysis.views) {
    const thing = things.get(name);
    if (thing?.kind === 'fastener') return angleAfter(thing);
  }
  return undefined;
}

/** All figures that belong to the thing at an offset, a line each; undefined where there are none. */
export function figuresTold(analysis: Analysis, offset: number): Told | undefined {
  const lines = sharedRows(analysis).flatMap(({ row, variants, inchesFirst }): readonly Told[] => {
    if (row.place.file !== analysis.file.file) return [];
    const thing = row.name.startsWith('engine.') ? 'engine' : row.name.split('.').slice(0, 2).join('.');
    if ((startOfFastener(analysis, thing) ?? row.place.start) !== offset) return [];
    const verdict = verdictText(row);
    const worked = figureText(row, inchesFirst);
    const figure = verdict === undefined ? worked : told`${worked}, ${verdict}`;
    const said = told`${calledRow(row)}: ${figure}`;
    return [variants.length === 0 ? said : told`${said} (${variants.join(', ')})`];
  });
  const all = [...new Map(lines.map((line) => [line.text, line])).values()];
  return all.length === 0 ? undefined : told.row(all.flatMap((line, i) => (i === 0 ? [line] : ['\n', line])));
}

/** What a figure is called where it stands alone: `head-bolt, stage 1, preload`. */
function calledRow({ name }: ValueRow): Argument {
  const [kind = '', ...rest] = name.split('.');
  const [first = '', ...more] = rest;
  return told.list(kind === 'engine' ? rest.map(figureWord) : [first, ...more.map(figureWord)], ',');
}

/** One line above each engine, limit, fastener, drive and valve timing: its headline figures, of each variant where they differ. */
export function headlines(analysis: Analysis): readonly Hint[] {
  const byThing = new Map<string, { offset: number; texts: Map<string, Told> }>();
  for (const { row, variants, inchesFirst } of sharedRows(analysis)) {
    const text = row.place.file === analysis.file.file ? headline(row, inchesFirst) : undefined;
    if (text === undefined) continue;
    const thing = row.name.startsWith('engine.') ? 'engine' : row.name.split('.').slice(0, 2).join('.');
    const offset = startOfFastener(analysis, thing) ?? row.place.start;
    const key = `${thing} ${offset}`;
    const known = byThing.get(key) ?? { offset, texts: new Map<string, Told>() };
    byThing.set(key, known);
    const whose = variants.join(', ');
    const angle = thing.startsWith('fastener.') ? angleOf(analysis, thing.slice('fastener.'.length)) : undefined;
    // What a torque comes to is not what the bolt ends on where an angle follows.
    const shown = angle === undefined ? text : told`${text} before ${String(Number(angle.toFixed(1)))} degrees more`;
    // Of the stages of a fastener the last one counts.
    const figure = thing.startsWith('fastener.') ? whose : `${row.name} ${whose}`;
    if (known.texts.has(figure) || known.texts.size < 4)
      known.texts.set(figure, whose === '' ? shown : told`${shown} (${whose})`);
  }
  return [...byThing.values()].map(({ offset, texts }) => {
    const placed = placedAt(analysis, offset);
    const name = placed?.declaration.name;
    return {
      offset,
      text: told.row([...texts.values()].flatMap((text, i) => (i === 0 ? [text] : ['; ', text]))),
      ...(placed === undefined || name === undefined ? {} : { nameAt: placeOf(placed, name).start }),
    };
  });
}
