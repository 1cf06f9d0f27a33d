// Threads: reading a designation, and the diameters and stress area that follow from diameter and pitch. Tables are in thread-tables.ts.

import { exact, toNumber } from './exact.ts';
import { BA_SERIES, INCH_SERIES, type InchFamily, METRIC_PITCHES, PIPE_SERIES } from './thread-tables.ts';

export type ThreadFamily = 'metric' | InchFamily | 'BA';

/** Lengths in mm, the area in mm². `designation` is the usual spelling; `listed` says whether a standard's table has the pair. */
export type Thread = {
  readonly designation: string;
  readonly family: ThreadFamily;
  readonly diameter: number;
  readonly pitch: number;
  readonly pitchDiameter: number;
  readonly rootDiameter: number;
  readonly minorDiameter: number;
  readonly stressArea: number;
  readonly listed: boolean;
  readonly leftHand: boolean;
  readonly tapered: boolean;
  readonly inch: boolean;
  readonly threadsPerInch?: number;
};

type Size = { readonly key: string; readonly shown: string; readonly inches: number };

/** More threads than the fasteners of many engines have. */
const MOST_READ = 1000;
const read = new Map<string, Thread | undefined>();

/**
 * Reads `M8x1.25`, `M10`, `3/8-16 UNC`, `10-24`, `1 1/8-12 UNF`, `1/4-26 BSF`, `1/8-27 NPT`, `G 1/4`, `2 BA`, each with `left-hand` after
 * it or not. A metric size alone has its coarse pitch, an inch size with its series alone the listed one. `undefined` for what is no
 * thread, or has a pitch too coarse for its diameter.
 */
export function parseThread(text: string): Thread | undefined {
  if (text.length > 60) return undefined;
  // The same few threads are asked for again and again.
  if (!read.has(text)) {
    if (read.size >= MOST_READ) read.clear();
    read.set(text, readThread(text));
  }
  return read.get(text);
}

function readThread(text: string): Thread | undefined {
  const plain = text.replace(/[×✕]/g, 'x').replace(/\s+/g, ' ').trim();
  const left = /[ -]?(?:left[- ]hand|lh)$/i.exec(plain);
  const body = left ? plain.slice(0, left.index) : plain;
  const thread = metric(body) ?? numberedBa(body) ?? pipe(body) ?? inch(body);
  if (thread === undefined) return undefined;
  return left ? { ...thread, leftHand: true, designation: `${thread.designation} left-hand` } : thread;
}

/**
 * Diameters and area of a thread of any diameter and pitch (mm). ISO 68-1, ISO 724 and ISO 898-1 (metric), ASME B1.1 (unified), BS 84
 * (Whitworth forms, 55 degrees), BS 93 (BA): d2, root d3, internal minor D1, and (π/4)·((d2+d3)/2)². From memory of the standards,
 * recomputed. `undefined` where the pitch leaves no core.
 */
export function threadGeometry(
  diameter: number,
  pitch: number,
  family: ThreadFamily = 'metric',
): Pick<Thread, 'pitchDiameter' | 'rootDiameter' | 'minorDiameter' | 'stressArea'> | undefined {
  if (!(diameter > 0) || !(pitch > 0) || !Number.isFinite(diameter)) return undefined;
  const [toPitch, toRoot, toMinor] = formDepths(family);
  const pitchDiameter = diameter - toPitch * pitch;
  const rootDiameter = diameter - toRoot * pitch;
  const minorDiameter = diameter - toMinor * pitch;
  if (rootDiameter <= diameter / 4) return undefined;
  // ASME B1.1 rounds the same mean diameter to D - 0.9743/n where the metric standards take D - 0.9382 P.
  const mean = isUnified(family) ? diameter - 0.9743 * pitch : (pitchDiameter + rootDiameter) / 2;
  return { pitchDiameter, rootDiameter, minorDiameter, stressArea: (Math.PI / 4) * mean ** 2 };
}

/** The coarse pitch (mm) of a metric diameter; `undefined` where there is none in ISO 261. */
export function coarsePitch(diameter: number): number | undefined {
  return METRIC_PITCHES.get(diameter)?.[0] || undefined;
}

/** How much the thread goes on for a turn of so many degrees, mm: pitch · angle / 360. Bolt and joint share it. */
export function advance(thread: Pick<Thread, 'pitch'>, degrees: number): number {
  return (thread.pitch * degrees) / 360;
}

function formDepths(family: ThreadFamily): readonly [number, number, number] {
  const height = Math.sqrt(3) / 2;
  if (family === 'BSW' || family === 'BSF' || family === 'BSP' || family === 'BSPT')
    return [0.640327, 1.280654, 1.280654];
  if (family === 'BA') return [0.6, 1.2, 1.2];
  if (family === 'BSC') return [0.5327, 1.0654, 1.0654];
  if (family === 'NPT') return [0.8, 1.6, 1.6];
  return [0.75 * height, (17 / 12) * height, 1.25 * height];
}

function isUnified(family: ThreadFamily): boolean {
  return family === 'UNC' || family === 'UNF' || family === 'UNEF' || family === 'UNS';
}

function metric(text: string): Thread | undefined {
  const found = /^m ?(\d+(?:\.\d+)?)(?: ?x ?(\d+(?:\.\d+)?|\.\d+))?(?: ?- ?\d[a-h](?:\d[a-h])?)?$/i.exec(text);
  if (!found) return undefined;
  const diameter = Number(found[1]);
  const pitch = found[2] === undefined ? coarsePitch(diameter) : Number(found[2]);
  if (pitch === undefined) return undefined;
  const listed = METRIC_PITCHES.get(diameter)?.includes(pitch) ?? false;
  return build('metric', `M${diameter}x${pitch}`, diameter, pitch, { listed });
}

function numberedBa(text: string): Thread | undefined {
  const found = /^(?:(?:no\.? ?|#)?(\d{1,2}) ?ba|ba ?(\d{1,2}))$/i.exec(text);
  const number = Number(found?.[1] ?? found?.[2] ?? Number.NaN);
  const size = BA_SERIES.get(number);
  return size && build('BA', `${number} BA`, size[0], size[1], { listed: true });
}

function pipe(text: string): Thread | undefined {
  const before = /^(g|rp|rc|r) ?(\S.*)$/i.exec(text);
  const after = /^(.+?) ?(bspp|bspt|bsp|nptf|npt|nps)$/i.exec(text);
  const word = (before?.[1] ?? after?.[2] ?? '').toLowerCase();
  if (word === '') return undefined;
  const parts = sizeAndPitch(before?.[2] ?? after?.[1] ?? '');
  if (parts === undefined) return undefined;
  const american = word.startsWith('np');
  const row = PIPE_SERIES[american ? 'NPT' : 'BSP'].get(parts.size.key);
  if (row === undefined) return undefined;
  const [diameter, usual] = row;
  const perInch = parts.perInch ?? usual;
  const tapered = word === 'npt' || word === 'nptf' || word === 'bspt' || word === 'r' || word === 'rc';
  const family = american ? 'NPT' : tapered ? 'BSPT' : 'BSP';
  const name = `${parts.size.shown}-${perInch} ${american && !tapered ? 'NPS' : family}`;
  return build(family, name, diameter, 25.4 / perInch, { listed: perInch === usual, tapered, threadsPerInch: perInch });
}

function inch(text: string): Thread | undefined {
  const found = /^(.+?)(?: ?(unc|unf|unef|uns|un|bsw|whitworth|bsf|bsc|cei)(?: ?- ?[123][ab])?)?$/i.exec(text);
  const parts = sizeAndPitch(found?.[1] ?? '');
  if (parts === undefined) return undefined;
  const { size } = parts;
  const asked = family(found?.[2]);
  const listedPitch = asked === undefined || asked === 'UNS' ? undefined : INCH_SERIES[asked].get(size.key);
  const perInch = parts.perInch ?? listedPitch;
  if (perInch === undefined) return undefined;
  const series = asked ?? seriesOf(size.key, perInch);
  const usualFourteen = size.key === '1in' && perInch === 14 && (series === 'UNS' || series === 'UNF');
  const listed = usualFourteen || (series !== 'UNS' && INCH_SERIES[series].get(size.key) === perInch);
  return build(series, `${size.shown}-${perInch} ${series}`, size.inches * 25.4, 25.4 / perInch, {
    listed,
    threadsPerInch: perInch,
  });
}

function family(word: string | undefined): 'UNC' | 'UNF' | 'UNEF' | 'UNS' | 'BSW' | 'BSF' | 'BSC' | undefined {
  const upper = word?.toUpperCase();
  if (upper === undefined) return undefined;
  if (upper === 'WHITWORTH') return 'BSW';
  if (upper === 'CEI') return 'BSC';
  if (upper === 'UN') return 'UNS';
  return upper as 'UNC' | 'UNF' | 'UNEF' | 'UNS' | 'BSW' | 'BSF' | 'BSC';
}

function seriesOf(size: string, perInch: number): 'UNC' | 'UNF' | 'UNEF' | 'UNS' {
  return (['UNC', 'UNF', 'UNEF'] as const).find((name) => INCH_SERIES[name].get(size) === perInch) ?? 'UNS';
}

/** `3/8-16`, `1 1/8-12`, `1-1/8-12`, `#10-24`, `10-24`, `0.190-32`, or a size alone. */
function sizeAndPitch(text: string): { readonly size: Size; readonly perInch: number | undefined } | undefined {
  const trimmed = text.trim().replace(/^(?:no\.? ?|#)/i, '');
  const found =
    /^((?:\d+[ -])?\d+\/\d+|\d*\.\d+|\d+)(?: ?(?:in|")?)(?: ?[-x] ?(\d+(?:\.\d+)?|\d+ 1\/2))?(?: ?tpi)?$/i.exec(
      trimmed,
    );
  if (!found) return undefined;
  const written = found[1] ?? '';
  const pitchText = found[2];
  const pitchRead = pitchText === undefined ? undefined : exact(pitchText);
  const perInch = pitchRead === undefined ? undefined : toNumber(pitchRead);
  if (perInch !== undefined && !(perInch >= 1 && perInch <= 200)) return undefined;
  const size = sizeOf(written, perInch);
  return size && { size, perInch };
}

/** A whole number is an inch size from 1 to 6 or a numbered size: `1-8` and `2-4.5` are inches, `2-56` and `10-24` numbers. */
function sizeOf(written: string, perInch: number | undefined): Size | undefined {
  if (/^\d+$/.test(written)) {
    const number = Number(written);
    if (number >= 1 && number <= 6 && (perInch === undefined || perInch <= 20))
      return { key: `${number}in`, shown: written, inches: number };
    return number <= 14 ? { key: written, shown: written, inches: 0.06 + 0.013 * number } : undefined;
  }
  const value = exact(written.replace('-', ' '));
  if (value === undefined) return undefined;
  const inches = toNumber(value);
  const numbered = Math.round((inches - 0.06) / 0.013);
  if (written.includes('.') && Math.abs(0.06 + 0.013 * numbered - inches) < 1e-9 && numbered >= 0 && numbered <= 12) {
    return { key: `${numbered}`, shown: `${numbered}`, inches };
  }
  const whole = Number(value.n / value.d);
  const rest = value.sub(whole);
  if (rest.n === 0n) return { key: `${whole}in`, shown: `${whole}`, inches };
  const part = `${rest.n}/${rest.d}`;
  return { key: whole === 0 ? part : `${whole}-${part}`, shown: whole === 0 ? part : `${whole} ${part}`, inches };
}

function build(
  series: ThreadFamily,
  designation: string,
  diameter: number,
  pitch: number,
  more: { readonly listed: boolean; readonly tapered?: boolean; readonly threadsPerInch?: number },
): Thread | undefined {
  const geometry = threadGeometry(diameter, pitch, series);
  if (geometry === undefined) return undefined;
  return {
    designation,
    family: series,
    diameter,
    pitch,
    ...geometry,
    leftHand: false,
    tapered: false,
    inch: series !== 'metric' && series !== 'BA',
    ...more,
  };
}
