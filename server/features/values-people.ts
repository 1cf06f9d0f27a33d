// What is worked out, for people to read: limits and bolts with what is nearest to its bound first, a line each, then the drives, the valve
// timings and the engine. Names as other programs want them, and every figure, are in the JSON (values-text.ts).
import { type Argument, type Told, told } from '../../grammar/told.ts';
import { loadBand, percentBand, torqueShown } from '../checks/figures.ts';
import { boltWords, factorWords } from '../checks/torque/bolt-words.ts';
import type { Band } from '../mechanics/preload.ts';
import { otherSystem, type Unit } from '../mechanics/units.ts';
import { type FastenerResult, type StageResult, workOutFastener } from '../model/fastener-sums.ts';
import { unitFrom } from '../model/measure.ts';
import { showsInches } from '../model/units-shown.ts';
import { type ValueRow, valuesOf } from '../model/values.ts';
import type { Drive, Fastener, View } from '../model/view.ts';
import { boundPlaces, endsText, figure, printedFigure, rangeText } from './values-text.ts';

/** One line, perhaps with another under it, and how near it is to its bound: 0 in the middle, 1 at the bound, more beyond. */
interface Line {
  readonly near: number;
  readonly text: Told;
}

const INDENT = '  ';

function section(title: Told, lines: readonly Line[]): readonly Told[] {
  if (lines.length === 0) return [];
  const sorted = [...lines].sort((one, other) => other.near - one.near);
  return [told.row([title, '\n', ...sorted.flatMap(({ text }) => [INDENT, text, '\n'])])];
}

/** Several, with something between them. */
function between(pieces: readonly Argument[], by: string): Told {
  return told.row(pieces.flatMap((piece, i) => (i === 0 ? [piece] : [by, piece])));
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

const VERDICTS = { inside: told`inside`, outside: told`OUTSIDE`, select: told`select or measure` } as const;

function boundsText(row: ValueRow): Told {
  const { low, high } = row.within ?? {};
  const { unit } = row;
  const places = boundPlaces(row);
  if (low !== undefined && high !== undefined) return withUnit(endsText(low, high, places, row.places), unit);
  const edge = low ?? high;
  if (edge === undefined) return told.nothing;
  const shown = withUnit(told.asIs(printedFigure(edge, places, row.places)), unit);
  return low === undefined ? told`at most ${shown}` : told`at least ${shown}`;
}

function withUnit(figures: Told, unit: string): Told {
  return unit === '' ? figures : told`${figures} ${unit}`;
}

function workingText({ working }: ValueRow): readonly Argument[] {
  return working === undefined || working === '' ? [] : [`\n${INDENT}    = `, told.term(working)];
}

function limitLine(row: ValueRow, title: Argument): Line {
  const { statistical, within, verdict, low, high } = row;
  const usual = statistical === undefined ? undefined : endsText(statistical.low, statistical.high);
  const isNarrower = low !== undefined && high !== undefined && usual?.text !== endsText(low, high).text;
  const said = [
    told`${title}: ${rangeText(row)}`,
    ...(within === undefined ? [] : [told`must be ${boundsText(row)}`]),
    ...(usual === undefined || verdict !== 'select' || !isNarrower
      ? []
      : [told`in most engines ${withUnit(usual, row.unit)}`]),
    ...(row.toMeasure ? [told`it rests on what is still to be measured`] : []),
  ];
  const whole = between(said, '; ');
  const judged = verdict === undefined ? whole : told`${VERDICTS[verdict]}: ${whole}`;
  return { near: reach(row), text: told.row([judged, ...workingText(row)]) };
}

/** The limit that a row is about, and its place: `limit.lash.inlet-1` of a limit called lash is at `inlet 1`. */
function limitTitle(row: ValueRow, view: View): Told {
  const name = row.name.replace(/^(?:record\.[^.]+\.)?limit\./, '');
  const [owner = '', ...rest] = name.split('.');
  const limit = view.limits.find((each) => each.name === owner);
  const called = told.asIs(limit?.title === undefined ? owner : `${limit.title} (${owner})`);
  return rest.length === 0 ? called : told`${called} at ${told.place(rest.join('.').replace(/-(?=\d+$)/, ' '))}`;
}

// Bolts

/** A torque as it is written, and in the other system where only one stands. */
function torqueText(fastener: Fastener, stage: StageResult): Told {
  const { start, end } = stage.stage.span;
  const written = told.asIs(fastener.placed.section.text.slice(start, end).replace(/\s+/g, ' '));
  const value = stage.stage.value;
  if (stage.torque === undefined || value === undefined || value.kind === 'by-place') return written;
  if ('restated' in value && value.restated !== undefined) return written;
  const unit = 'unit' in value ? unitFrom(value.unit?.parts) : undefined;
  const other = unit === undefined ? undefined : otherSystem(unit);
  return other === undefined ? written : told`${written} (${torqueIn(stage.torque, other)})`;
}

/** A torque in N·m in another unit, as a wrench is set: `44 lbf.ft`, `6.6 lbf.ft`. */
function torqueIn({ low, high }: Band, unit: Unit): Told {
  const [from, to] = [torqueShown(low, unit), torqueShown(high, unit)];
  return from.text === to.text ? told.asIs(from.text) : told`${from.text.split(' ')[0] ?? ''} to ${to.text}`;
}

/** What comes behind the last torque, in words: `then 90 deg and 60 deg further`. */
function afterTorque(fastener: Fastener, result: FastenerResult, last: number): readonly Told[] {
  const rest = result.stages.slice(last + 1);
  const turns = rest.flatMap((stage) => (stage.angle === undefined ? [] : [told`${figure(stage.angle)} deg`]));
  const stretch = rest.reduce((sum, stage) => sum + (stage.stretch ?? 0), 0);
  const slot = rest.some((stage) => stage.stage.kind === 'next-slot');
  const inches = figure(Number((stretch / 25.4).toFixed(4)));
  return [
    ...(turns.length === 0 ? [] : [told`then ${told.list(turns)} further`]),
    ...(turns.length > 0 && fastener.singleUse ? [told`past yield as meant`] : []),
    ...(stretch === 0 ? [] : [told`which stretches it by ${figure(stretch)} mm (${inches} in) at most`]),
    ...(slot ? [told`then on to the next slot`] : []),
  ];
}

interface BoltLine extends Line {
  /** Its last torque is not where it ends: an angle follows, or it is tightened by how much longer it gets. */
  readonly goesOn: boolean;
}

function boltLine(fastener: Fastener, inchesFirst: boolean): BoltLine | undefined {
  const result = workOutFastener(fastener);
  const last = result.stages.findLastIndex((stage) => stage.torque !== undefined);
  const stage = result.stages[last];
  const kinds = [boltWords(result), ...(fastener.fitted === undefined ? [] : [told.term(fastener.fitted)])];
  const name = fastener.title === undefined ? fastener.name : `${fastener.title} (${fastener.name})`;
  const shared = (pull: Told, band: Band | undefined): Told =>
    band === undefined ? pull : told`${pull}, ${percentBand(band)} of its proof load`;
  const { stretchPreload, stretchShare } = result;
  const stretched =
    stretchPreload === undefined
      ? undefined
      : shared(told`by its stretch it pulls ${pullText(stretchPreload, inchesFirst)}`, stretchShare);
  const turned = result.stages.slice(last + 1).some(({ angle }) => angle !== undefined);
  const goesOn = turned || stretched !== undefined;
  const said = (text: Told, band: Band | undefined): BoltLine => ({
    near: band?.high ?? -1,
    goesOn,
    text: told`${between([name, ...kinds], ', ')}: ${text}`,
  });
  if (stage?.preload === undefined) return stretched === undefined ? undefined : said(stretched, stretchShare);
  const pull = shared(told`${torqueText(fastener, stage)} pulls ${pullText(stage.preload, inchesFirst)}`, stage.share);
  const after = between([turned ? told`${pull} before its angle` : pull, ...afterTorque(fastener, result, last)], ', ');
  return said(stretched === undefined ? after : told`${after}; ${stretched}`, stretchShare ?? stage.share);
}

const NEWTONS_PER_POUND = 4.4482216152605;

/** A load in both systems, pounds to four figures: no pull is known better. */
function pullText(newtons: Band, inchesFirst: boolean): Told {
  const [low, high] = [newtons.low, newtons.high].map((each) => {
    const pounds = each / NEWTONS_PER_POUND;
    return pounds < 1000 ? Math.round(pounds) : Math.round(pounds / 10) * 10;
  });
  const [kilonewtons, pounds] = [loadBand(newtons), told`${low ?? 0} to ${high ?? 0} lbf`];
  return inchesFirst ? told`${pounds} (${kilonewtons})` : told`${kilonewtons} (${pounds})`;
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
          told`${figure(ratio)} turns of ${shaft(drive.ratios[0]?.first, told`the first shaft`)} to one of ${shaft(drive.ratios[0]?.second, told`the last`)}`,
        ]),
    ...(tooth === undefined ? [] : [told`one tooth out is ${figure(tooth)} deg of the crankshaft`]),
    ...(length === undefined ? [] : [told`${figure(length)} pitches reach round`]),
    ...(marks === undefined ? [] : [told`its marks agree again after ${turns(marks)}`]),
    ...(links === undefined ? [] : [told`its marked links are back after ${turns(links)}`]),
  ];
  return said.length === 0 ? undefined : { near: 0, text: told`${drive.title ?? drive.name}: ${between(said, '; ')}` };
}

const shaft = (name: string | undefined, otherwise: Told): Told =>
  name === undefined ? otherwise : told`the ${told.named(name)}`;

const turns = (count: number): Told => (count === 1 ? told`${figure(count)} turn` : told`${figure(count)} turns`);

/** The words of a figure of ours: `overlap`, `compression ratio`. */
const words = (name: string): Argument => told.term(name.replace(/-/g, ' '));

/** What the pulls were reckoned with, each once: `K 0.16 to 0.20 (oiled)`. */
function reckonedWith(fasteners: readonly Fastener[]): readonly Argument[] {
  const factors = new Map(
    fasteners.flatMap((each) => {
      const result = workOutFastener(each);
      const factor = factorWords(result);
      const isAsked = result.stages.some(({ preload }) => preload !== undefined);
      return isAsked && factor.text !== '' ? [[factor.text, factor] as const] : [];
    }),
  );
  const sorted = [...factors].sort(([one], [other]) => (one < other ? -1 : 1)).map(([, factor]) => factor);
  return sorted.length === 0 ? [] : [INDENT, told`Reckoned with ${between(sorted, '; ')}.`, '\n'];
}

/** What a spec works out, for people. */
export function valuesForPeople(
  view: View,
  isShown: (thing: Fastener) => boolean,
  ofRecords: readonly ValueRow[],
): Told {
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
    const text = (row: ValueRow): Told =>
      told`${words(row.name.split('.').at(-1) ?? '')} ${rangeText(row, inchesFirst)}`;
    const other = own.filter(isOther).map(text);
    const said = own.filter((row) => !isOther(row)).map(text);
    if (other.length > 0) said.push(told`with the phaser at its other end ${between(other, ', ')}`);
    return [{ near: 0, text: told`${timing.title ?? timing.name}: ${between(said, ', ')}` }];
  });
  const engine = rows
    .filter((row) => row.name.startsWith('engine.'))
    .map((row): Line => {
      const said = told`${words(row.name.slice('engine.'.length))}: ${rangeText(row, inchesFirst)}`;
      return { near: 0, text: told.row([said, ...workingText(row)]) };
    });
  const fasteners = view.fasteners.filter(isShown);
  const lines = fasteners.flatMap((each) => boltLine(each, inchesFirst) ?? []);
  const bolts = [
    ...section(
      told`Bolts that go on behind their last torque, by an angle or to a stretch`,
      lines.filter(({ goesOn }) => goesOn),
    ),
    ...section(
      told`Bolts, nearest to their proof load first`,
      lines.filter(({ goesOn }) => !goesOn),
    ),
  ];
  const all = [
    ...section(told`Limits, nearest to a bound first`, limits),
    ...section(told`From what was measured`, records),
    ...(bolts.length === 0 ? [] : [told.row([between(bolts, '\n'), ...reckonedWith(fasteners)])]),
    ...section(
      told`Drives`,
      view.drives.flatMap((drive) => driveLine(drive, rows) ?? []),
    ),
    ...section(told`Valve timing`, timings),
    ...section(told`Engine`, engine),
  ];
  return all.length === 0 ? told`There is nothing to work out here yet.\n` : between(all, '\n');
}
