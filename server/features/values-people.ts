// What is worked out, for people to read: limits and bolts with what is nearest to its bound first, a line each, then the drives, the valve
// timings and the engine. Names as other programs want them, and every figure, are in the JSON (values-text.ts).
import { textOf } from '../../grammar/told.ts';
import { loadBand, percentBand, torqueShown } from '../checks/figures.ts';
import { boltWords, factorWords } from '../checks/torque/bolt-words.ts';
import type { Band } from '../mechanics/preload.ts';
import { otherSystem, type Unit } from '../mechanics/units.ts';
import { type FastenerResult, type StageResult, workOutFastener } from '../model/fastener-sums.ts';
import { unitFrom } from '../model/measure.ts';
import { showsInches } from '../model/units-shown.ts';
import { type ValueRow, valuesOf } from '../model/values.ts';
import type { Drive, Fastener, View } from '../model/view.ts';
import { endsText, figure, rangeText } from './values-text.ts';

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
  if (low !== undefined && high !== undefined) return `${endsText(low, high)}${written}`;
  const edge = low ?? high;
  return edge === undefined ? '' : `at ${low === undefined ? 'most' : 'least'} ${figure(edge)}${written}`;
}

function limitLine(row: ValueRow, title: string): Line {
  const verdict = row.verdict === undefined ? '' : `${VERDICTS[row.verdict]}: `;
  const bounds = row.within === undefined ? '' : `; must be ${boundsText(row)}`;
  const { statistical } = row;
  const usual = statistical === undefined ? '' : endsText(statistical.low, statistical.high);
  const isNarrower = row.low !== undefined && row.high !== undefined && usual !== endsText(row.low, row.high);
  const mostly =
    usual === '' || row.verdict !== 'select' || !isNarrower ? '' : `; in most engines ${`${usual} ${row.unit}`.trim()}`;
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

interface BoltLine extends Line {
  /** Its last torque is not where it ends: an angle follows, or it is tightened by how much longer it gets. */
  readonly goesOn: boolean;
}

function boltLine(fastener: Fastener, inchesFirst: boolean): BoltLine | undefined {
  const result = workOutFastener(fastener);
  const last = result.stages.findLastIndex((stage) => stage.torque !== undefined);
  const stage = result.stages[last];
  const kinds = [boltWords(result), ...(fastener.fitted === undefined ? [] : [fastener.fitted])];
  const name = `${fastener.title ?? fastener.name}${fastener.title === undefined ? '' : ` (${fastener.name})`}`;
  const share = (band: Band | undefined): string =>
    band === undefined ? '' : `, ${textOf(percentBand(band))} of its proof load`;
  const { stretchPreload, stretchShare } = result;
  const stretched =
    stretchPreload === undefined
      ? ''
      : `by its stretch it pulls ${pullText(stretchPreload, inchesFirst)}${share(stretchShare)}`;
  const turned = result.stages.slice(last + 1).some(({ angle }) => angle !== undefined);
  const goesOn = turned || stretched !== '';
  const said = (text: string, band: Band | undefined): BoltLine => ({
    near: band?.high ?? -1,
    goesOn,
    text: `${name}, ${kinds.map((each) => textOf(each)).join(', ')}: ${text}`,
  });
  if (stage?.preload === undefined) return stretched === '' ? undefined : said(stretched, stretchShare);
  const before = turned ? ' before its angle' : '';
  const pull = `pulls ${pullText(stage.preload, inchesFirst)}${share(stage.share)}${before}`;
  const after = afterTorque(fastener, result, last);
  return said(
    `${torqueText(fastener, stage)} ${pull}${after}${stretched === '' ? '' : `; ${stretched}`}`,
    stretchShare ?? stage.share,
  );
}

const NEWTONS_PER_POUND = 4.4482216152605;

/** A load in both systems, pounds to four figures: no pull is known better. */
function pullText(newtons: Band, inchesFirst: boolean): string {
  const [low, high] = [newtons.low, newtons.high].map((each) => {
    const pounds = each / NEWTONS_PER_POUND;
    return pounds < 1000 ? Math.round(pounds) : Math.round(pounds / 10) * 10;
  });
  const [kilonewtons, pounds] = [textOf(loadBand(newtons)), `${low} to ${high} lbf`];
  return inchesFirst ? `${pounds} (${kilonewtons})` : `${kilonewtons} (${pounds})`;
}

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
      const words = result.stages.some(({ preload }) => preload !== undefined) ? textOf(factorWords(result)) : '';
      return words === '' ? [] : [words];
    }),
  );
  return factors.size === 0 ? '' : `${INDENT}Reckoned with ${[...factors].sort().join('; ')}.\n`;
}

/** What a spec works out, for people. */
export function valuesForPeople(
  view: View,
  isShown: (thing: Fastener) => boolean,
  ofRecords: readonly ValueRow[],
): string {
  const rows = valuesOf(view);
  const inchesFirst = showsInches(view);
  const limits = rows
    .filter((row) => row.name.startsWith('limit.'))
    .map((row) => limitLine(row, limitTitle(row, view)));
  const records = ofRecords.map((row) => limitLine(row, limitTitle(row, view)));
  const timings = view.valveTimings.flatMap((timing): Line[] => {
    const own = rows.filter((row) => row.name.startsWith(`valve-timing.${timing.name}.`));
    if (own.length === 0) return [];
    const isOther = (row: ValueRow): boolean => row.name.includes('.other-end.');
    const text = (row: ValueRow): string => `${words(row.name.split('.').at(-1) ?? '')} ${rangeText(row, inchesFirst)}`;
    const other = own.filter(isOther).map(text);
    const said = own.filter((row) => !isOther(row)).map(text);
    if (other.length > 0) said.push(`with the phaser at its other end ${other.join(', ')}`);
    return [{ near: 0, text: `${timing.title ?? timing.name}: ${said.join(', ')}` }];
  });
  const engine = rows
    .filter((row) => row.name.startsWith('engine.'))
    .map((row): Line => {
      const working = row.working === undefined || row.working === '' ? '' : `\n${INDENT}    = ${row.working}`;
      return { near: 0, text: `${words(row.name.slice('engine.'.length))}: ${rangeText(row, inchesFirst)}${working}` };
    });
  const fasteners = view.fasteners.filter(isShown);
  const lines = fasteners.flatMap((each) => boltLine(each, inchesFirst) ?? []);
  const bolts = [
    section(
      'Bolts that go on behind their last torque, by an angle or to a stretch',
      lines.filter(({ goesOn }) => goesOn),
    ),
    section(
      'Bolts, nearest to their proof load first',
      lines.filter(({ goesOn }) => !goesOn),
    ),
  ]
    .filter((each) => each !== '')
    .join('\n');
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
