// What is worked out, for people to read: limits and bolts with what is nearest to its bound first, a line each, then the drives, the valve
// timings and the engine. Names as other programs want them, and every figure, are in the JSON (values-text.ts).
import { textOf } from '../../grammar/told.ts';
import { loadBand, percentBand, torqueShown } from '../checks/figures.ts';
import { boltWords, factorWords } from '../checks/torque/bolt-words.ts';
import type { Band } from '../mechanics/preload.ts';
import { otherSystem, type Unit } from '../mechanics/units.ts';
import { type FastenerResult, type StageResult, workOutFastener } from '../model/fastener-sums.ts';
import { unitFrom } from '../model/measure.ts';
import { type ValueRow, valuesOf } from '../model/values.ts';
import type { Drive, Fastener, View } from '../model/view.ts';
import { figure, rangeText } from './values-text.ts';

/** One line, perhaps with another under it, and how near it is to its bound: 0 in the middle, 1 at the bound, more beyond. */
interface Line {
  readonly near: number;
  readonly text: string;
}

const INDENT = '  ';

function section(title: string, lines: readonly Line[]): string {
  if (lines.length === 0) return '';
  const sorted = [...lines].sort((one, other) => other.near - one.near);
  return `${title}\n${sorted.map(({ text }) => `${INDENT}${text}\n`).join('')}`;
}

// Limits

/** How far a range reaches toward its bounds: 1 where it touches one, more where it goes beyond. */
function reach({ low, high, within, verdict }: ValueRow): number {
  if (within === undefined || low === undefined || high === undefined) return -1;
  const first = verdict === 'outside' ? 4 : verdict === 'select' ? 2 : 0;
  const { low: least, high: most } = within;
  if (least !== undefined && most !== undefined && most > least) {
    const half = (most - least) / 2;
    const middle = (most + least) / 2;
    return first + Math.min(2, Math.max(Math.abs(low - middle), Math.abs(high - middle)) / half);
  }
  const share = (value: number, bound: number): number =>
    bound === 0 ? 0.5 : Math.min(2, Math.max(0, 1 - Math.abs(bound - value) / Math.abs(bound)));
  const shares = [
    ...(least === undefined ? [] : [share(low, least)]),
    ...(most === undefined ? [] : [share(high, most)]),
  ];
  return shares.length === 0 ? -1 : first + Math.max(...shares);
}

const VERDICTS = { inside: 'inside', outside: 'OUTSIDE', select: 'select or measure' } as const;

function boundsText({ within, unit }: ValueRow): string {
  if (within === undefined) return '';
  const { low, high } = within;
  const written = unit === '' ? '' : ` ${unit}`;
  if (low !== undefined && high !== undefined) return `${figure(low)} to ${figure(high)}${written}`;
  const edge = low ?? high;
  return edge === undefined ? '' : `at ${low === undefined ? 'most' : 'least'} ${figure(edge)}${written}`;
}

function limitLine(row: ValueRow, title: string): Line {
  const verdict = row.verdict === undefined ? '' : `${VERDICTS[row.verdict]}: `;
  const bounds = row.within === undefined ? '' : `; must be ${boundsText(row)}`;
  const mostly =
    row.statistical === undefined || row.low === row.high || row.verdict !== 'select'
      ? ''
      : `; most engines ${figure(row.statistical.low)} to ${figure(row.statistical.high)}`;
  const rests = row.toMeasure ? '; it rests on what is still to be measured' : '';
  const working = row.working === undefined || row.working === '' ? '' : `\n${INDENT}    = ${row.working}`;
  return { near: reach(row), text: `${verdict}${title}: ${rangeText(row)}${bounds}${mostly}${rests}${working}` };
}

/** The limit that a row is about, and its place: `limit.lash.inlet-1` of a limit called lash is at `inlet 1`. */
function limitTitle(row: ValueRow, view: View): string {
  const name = row.name.replace(/^(?:record\.[^.]+\.)?limit\./, '');
  const [owner = '', ...rest] = name.split('.');
  const limit = view.limits.find((each) => each.name === owner);
  const place = rest.length === 0 ? '' : ` at ${rest.join('.').replace(/-(?=\d+$)/, ' ')}`;
  return `${limit?.title === undefined ? owner : `${limit.title} (${owner})`}${place}`;
}

// Bolts

/** A torque as it is written, and in the other system where only one stands. */
function torqueText(fastener: Fastener, stage: StageResult): string {
  const { start, end } = stage.stage.span;
  const written = fastener.placed.section.text.slice(start, end).replace(/\s+/g, ' ');
  const value = stage.stage.value;
  if (stage.torque === undefined || value === undefined || value.kind === 'by-place') return written;
  if ('restated' in value && value.restated !== undefined) return written;
  const unit = 'unit' in value ? unitFrom(value.unit?.parts) : undefined;
  const other = unit === undefined ? undefined : otherSystem(unit);
  return other === undefined ? written : `${written} (${torqueIn(stage.torque, other)})`;
}

/** A torque in N·m in another unit, as a wrench is set: `44 lbf.ft`, `6.6 lbf.ft`. */
function torqueIn({ low, high }: Band, unit: Unit): string {
  const [from, to] = [torqueShown(low, unit), torqueShown(high, unit)];
  return from.text === to.text ? from.text : `${from.text.split(' ')[0]} to ${to.text}`;
}

/** What comes behind the last torque, in words: `then 90 deg and 60 deg further`. */
function afterTorque(fastener: Fastener, result: FastenerResult, last: number): string {
  const rest = result.stages.slice(last + 1);
  const turns = rest.flatMap((stage) => (stage.angle === undefined ? [] : [`${figure(stage.angle)} deg`]));
  const stretch = rest.reduce((sum, stage) => sum + (stage.stretch ?? 0), 0);
  const slot = rest.some((stage) => stage.stage.kind === 'next-slot');
  const further = turns.length === 0 ? '' : `, then ${turns.join(' and ')} further`;
  const inches = figure(Number((stretch / 25.4).toFixed(4)));
  const long = stretch === 0 ? '' : `, which stretches it by ${figure(stretch)} mm (${inches} in) at most`;
  const yields = turns.length > 0 && fastener.singleUse ? ', past yield as meant' : '';
  return `${further}${yields}${long}${slot ? ', then on to the next slot' : ''}`;
}

function boltLine(fastener: Fastener): Line | undefined {
  const result = workOutFastener(fastener);
  const last = result.stages.findLastIndex((stage) => stage.torque !== undefined);
  const stage = result.stages[last];
  const kinds = [boltWords(result), ...(fastener.fitted === undefined ? [] : [fastener.fitted])];
  const name = `${fastener.title ?? fastener.name}${fastener.title === undefined ? '' : ` (${fastener.name})`}`;
  const stretched =
    result.stretchPreload === undefined
      ? ''
      : `; its stretch says ${textOf(loadBand(result.stretchPreload))}${result.stretchShare === undefined ? '' : `, ${textOf(percentBand(result.stretchShare))} of its proof load`}`;
  if (stage?.preload === undefined)
    return stretched === '' ? undefined : { near: -1, text: `${name}, ${kinds.join(', ')}${stretched}` };
  const share = stage.share === undefined ? '' : `, ${textOf(percentBand(stage.share))} of its proof load`;
  const after = afterTorque(fastener, result, last);
  const before = after.startsWith(', then') && result.stages[last + 1]?.angle !== undefined ? ' before its angle' : '';
  const pull = `${textOf(loadBand(stage.preload))} (${pounds(stage.preload)})`;
  return {
    near: stage.share?.high ?? -1,
    text: `${name}, ${kinds.join(', ')}: ${torqueText(fastener, stage)} pulls ${pull}${share}${before}${after}${stretched}`,
  };
}

const NEWTONS_PER_POUND = 4.4482216152605;
const pounds = ({ low, high }: Band): string =>
  `${Math.round(low / NEWTONS_PER_POUND)} to ${Math.round(high / NEWTONS_PER_POUND)} lbf`;

// Drives, valve timings, engine

function driveLine(drive: Drive, rows: readonly ValueRow[]): Line | undefined {
  const get = (what: string): number | undefined =>
    rows.find((row) => row.name === `drive.${drive.name}.${what}`)?.nominal;
  const [ratio, tooth, length] = [get('ratio'), get('one-tooth'), get('length')];
  const [marks, links] = [get('marks-return'), get('links-return')];
  const said = [
    ...(ratio === undefined
      ? []
      : [
          `${figure(ratio)} turns of the ${drive.ratios[0]?.first ?? 'first shaft'} to one of the ${drive.ratios[0]?.second ?? 'last'}`,
        ]),
    ...(tooth === undefined ? [] : [`one tooth out is ${figure(tooth)} deg of the crankshaft`]),
    ...(length === undefined ? [] : [`${figure(length)} pitches reach round`]),
    ...(marks === undefined ? [] : [`its marks agree again after ${turns(marks)}`]),
    ...(links === undefined ? [] : [`its marked links are back after ${turns(links)}`]),
  ];
  return said.length === 0 ? undefined : { near: 0, text: `${drive.title ?? drive.name}: ${said.join('; ')}` };
}

const turns = (count: number): string => `${figure(count)} ${count === 1 ? 'turn' : 'turns'}`;

const words = (name: string): string => name.replace(/-/g, ' ');

/** What the pulls were reckoned with, each once: `K 0.16 to 0.20 (oiled)`. */
function reckonedWith(fasteners: readonly Fastener[]): string {
  const factors = new Set(
    fasteners.flatMap((each) => {
      const result = workOutFastener(each);
      const words = result.stages.some(({ preload }) => preload !== undefined) ? factorWords(result) : '';
      return words === '' ? [] : [words];
    }),
  );
  return factors.size === 0 ? '' : `${INDENT}Reckoned with ${[...factors].sort().join('; ')}.\n`;
}

/** What a spec works out, for people. Empty where there is nothing. */
export function valuesForPeople(
  view: View,
  isShown: (thing: Fastener) => boolean,
  ofRecords: readonly ValueRow[],
): string {
  const rows = valuesOf(view);
  const limits = rows
    .filter((row) => row.name.startsWith('limit.'))
    .map((row) => limitLine(row, limitTitle(row, view)));
  const records = ofRecords.map((row) => limitLine(row, limitTitle(row, view)));
  const timings = view.valveTimings.flatMap((timing): Line[] => {
    const own = rows.filter((row) => row.name.startsWith(`valve-timing.${timing.name}.`));
    if (own.length === 0) return [];
    const isOther = (row: ValueRow): boolean => row.name.includes('.other-end.');
    const text = (row: ValueRow): string => `${words(row.name.split('.').at(-1) ?? '')} ${rangeText(row)}`;
    const other = own.filter(isOther).map(text);
    const said = own.filter((row) => !isOther(row)).map(text);
    if (other.length > 0) said.push(`with the phaser at its other end ${other.join(', ')}`);
    return [{ near: 0, text: `${timing.title ?? timing.name}: ${said.join(', ')}` }];
  });
  const engine = rows
    .filter((row) => row.name.startsWith('engine.'))
    .map((row): Line => {
      const working = row.working === undefined || row.working === '' ? '' : `\n${INDENT}    = ${row.working}`;
      return { near: 0, text: `${words(row.name.slice('engine.'.length))}: ${rangeText(row)}${working}` };
    });
  const fasteners = view.fasteners.filter(isShown);
  const bolts = section(
    'Bolts, nearest to their proof load first',
    fasteners.flatMap((each) => boltLine(each) ?? []),
  );
  const all = [
    section('Limits, nearest to a bound first', limits),
    section('From what was measured', records),
    bolts === '' ? '' : `${bolts}${reckonedWith(fasteners)}`,
    section(
      'Drives',
      view.drives.flatMap((drive) => driveLine(drive, rows) ?? []),
    ),
    section('Valve timing', timings),
    section('Engine', engine),
  ].filter((each) => each !== '');
  return all.length === 0 ? 'There is nothing to work out here yet.\n' : all.join('\n');
}
