// Numbers, orders, dates, units and threads as people write them. Plain functions on a text and an offset.

import { isBlank, isDigit } from './characters.ts';
import { lookUp } from './look-up.ts';
import { MISWRITTEN, readUnit } from './vocabulary/units.ts';

export interface ReadNumber {
  readonly kind: 'number' | 'order' | 'date';
  readonly end: number;
  /** Plain form: `0.002`, `3/8`, `1 1/2`, `1-3-4-2`, `2026-03-04`. */
  readonly text: string;
  /** The digits on both sides where commas are glued between them. */
  readonly glued?: readonly string[];
}

/** `\s` in a pattern also for characters of no width that are read over, and any number of them together. */
function overBlanks(pattern: RegExp): RegExp {
  const source = pattern.source.replace(
    /\\s([*+?]?)/g,
    (_all, times: string) => `[\\s\\u200b\\u2060]${times === '' || times === '+' ? '+' : '*'}`,
  );
  return new RegExp(source, pattern.flags);
}

const DASH = '[-\u2010-\u2015\u2212]';
const DATE = /(\d{4})[-\u2010-\u2015\u2212](\d{2})[-\u2010-\u2015\u2212](\d{2})(?![\d-])/uy;
const ORDER = new RegExp(`\\d{1,4}(?:${DASH}\\d{1,4})+(?![\\d./])`, 'uy');
const MIXED = overBlanks(/(\d+)(\s+|[-\u2010\u2011])(\d+)\/(\d+)(?![\d/])/uy);
const FRACTION = /(\d+)\/(\d+)(?![\d/])/uy;
const VULGAR = overBlanks(/(\d*)\s?([½¼¾⅛⅜⅝⅞⅓⅔])/uy);
const GLUED = /(\d+(?:\.\d+)?)(?:,(\d+))+/uy;
const DECIMAL = /\d+(?:\.(?!\.)\d+)?|\.\d+/uy;
const VULGAR_PARTS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
};

function match(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

/** The end of the digits that begin at an offset. */
function digitsEnd(text: string, at: number): number {
  let end = at;
  while (isDigit(text.charCodeAt(end))) end += 1;
  return end;
}

/**
 * The end of a number that is nothing but digits, perhaps with a point between them, as most are; undefined where what follows may belong to
 * it, or make something else of it.
 */
function plainEnd(text: string, at: number): number | undefined {
  let end = digitsEnd(text, at);
  const isDecimal = text.charCodeAt(end) === 46 && isDigit(text.charCodeAt(end + 1));
  if (isDecimal) end = digitsEnd(text, end + 1);
  const code = text.charCodeAt(end);
  if (code === 44) return isDigit(text.charCodeAt(end + 1)) ? undefined : end;
  if (isDecimal) return end;
  if (code === 45 || code === 47 || code >= 128) return undefined;
  let next = end;
  while (isBlank(text.charCodeAt(next))) next += 1;
  const behind = text.charCodeAt(next);
  return next > end && (isDigit(behind) || behind >= 128) ? undefined : end;
}

/** Reads the number that starts at `at`, if one does. `word` is the keyword before it. A hyphen in `1-1/2` is left to the parser. */
export function readNumber(text: string, at: number, word: string | undefined): ReadNumber | undefined {
  const code = text.charCodeAt(at);
  const digit = isDigit(code);
  const leadingPoint = code === 46 && isDigit(text.charCodeAt(at + 1)) && !/[\p{L}\d)]/u.test(text[at - 1] ?? '');
  if (!digit && !leadingPoint && lookUp(VULGAR_PARTS, text[at] ?? '') === undefined) return undefined;
  const plain = digit ? plainEnd(text, at) : undefined;
  if (plain !== undefined) return { kind: 'number', end: plain, text: text.slice(at, plain) };
  if (digit) {
    const date = match(DATE, text, at);
    if (date !== null) return { kind: 'date', end: at + date[0].length, text: `${date[1]}-${date[2]}-${date[3]}` };
    const order = match(ORDER, text, at);
    if (order !== null) {
      const pieces = order[0].split(new RegExp(DASH, 'u'));
      if (pieces.length > 2 || word === 'firing-order')
        return { kind: 'order', end: at + order[0].length, text: pieces.join('-') };
    }
    const glued = match(GLUED, text, at);
    if (glued !== null) {
      const pieces = glued[0].split(',');
      return {
        kind: 'number',
        end: at + glued[0].length,
        text: pieces.length === 2 && !(pieces[0] ?? '').includes('.') ? pieces.join('.') : (pieces[0] ?? ''),
        glued: pieces,
      };
    }
    const mixed = match(MIXED, text, at);
    if (mixed !== null && Number(mixed[3]) < Number(mixed[4]) && isBlank((mixed[2] ?? '').charCodeAt(0))) {
      return { kind: 'number', end: at + mixed[0].length, text: `${mixed[1]} ${mixed[3]}/${mixed[4]}` };
    }
    const fraction = match(FRACTION, text, at);
    if (fraction !== null)
      return { kind: 'number', end: at + fraction[0].length, text: `${fraction[1]}/${fraction[2]}` };
  }
  const vulgar = match(VULGAR, text, at);
  if (vulgar !== null) {
    const part = lookUp(VULGAR_PARTS, vulgar[2] ?? '') ?? '';
    return { kind: 'number', end: at + vulgar[0].length, text: vulgar[1] ? `${vulgar[1]} ${part}` : part };
  }
  const decimal = match(DECIMAL, text, at);
  if (decimal === null) return undefined;
  return {
    kind: 'number',
    end: at + decimal[0].length,
    text: decimal[0].startsWith('.') ? `0${decimal[0]}` : decimal[0],
  };
}

export interface ReadUnitAt {
  readonly end: number;
  readonly usual: string;
  readonly miswritten: boolean;
  /** Minutes of arc may follow: the unit is the degree sign. */
  readonly minutesFollow: boolean;
}

const RUN = /[\p{L}°º˚℃℉%²³][\p{L}\d°º˚%²³·⋅∙•./\u200b\u2060-]*|1\/min|1?\/(?:K|deg[CF]|°[CF])(?![\p{L}\d_-])/uy;

/** Letters with points between them, and nothing behind them that may belong to a unit. */
const PLAIN_UNIT = /[a-z]+(?:\.[a-z]+)*(?![\w.%/\x80-\uffff-])/iy;
/** What a unit begins with that may go on behind a blank, or be miswritten with a point. */
const MAY_GO_ON = /^(?:n$|ft|foot|lb|in|cu)/i;

/** Reads a unit as most are written, and tells of no other. */
function readPlainUnit(text: string, at: number): ReadUnitAt | undefined {
  const [written = ''] = match(PLAIN_UNIT, text, at) ?? [];
  if (written === '' || MAY_GO_ON.test(written)) return undefined;
  const reading = readUnit(written);
  if (reading === undefined) return undefined;
  return { end: at + written.length, usual: reading.usual, miswritten: false, minutesFollow: false };
}

/** Reads the longest known unit at `at`; `numberEnd` is where its number ended. */
export function readUnitAt(text: string, at: number, numberEnd: number): ReadUnitAt | undefined {
  const plain = readPlainUnit(text, at);
  if (plain !== undefined) return plain;
  const run = match(RUN, text, at);
  if (run === null) return undefined;
  const raw = run[0].slice(0, 48);
  for (const [pattern, usual] of MISWRITTEN) {
    const hit = pattern.exec(text.slice(at, at + 24));
    if (hit === null) continue;
    const plain = hit[0];
    if (readUnit(plain) !== undefined) continue;
    return {
      end: at + plain.length,
      usual: usual || plain.replace(/\.$/, '').toLowerCase(),
      miswritten: true,
      minutesFollow: false,
    };
  }
  for (let length = raw.length; length > 0; length -= 1) {
    // What has no width is read over, as everywhere.
    const [next = '', afterNext = ''] = text.slice(at + length, at + length + 8).replace(/[\u200b\u2060]/gu, '');
    if (length < run[0].length && /[\p{L}\d_]/u.test(next)) continue;
    if (/[./·⋅∙•]/u.test(next) && /[\p{L}]/u.test(afterNext)) continue;
    if (next === '-' && /[\p{L}\d]/u.test(afterNext)) continue;
    const candidate = raw.slice(0, length);
    if (/[./\-·\u200b\u2060]$/u.test(candidate)) continue;
    const spelled = candidate.replace(/[º˚]/gu, '°').replace(/[\u200b\u2060]/gu, '');
    const reading = readUnit(spelled);
    if (reading !== undefined)
      return {
        end: at + length,
        usual: reading.usual,
        miswritten: false,
        minutesFollow: spelled === '°' && at === numberEnd,
      };
  }
  // A degree sign may be glued to what follows it: `32°30'`.
  if (/^[°º˚]/u.test(raw)) return { end: at + 1, usual: 'deg', miswritten: false, minutesFollow: at === numberEnd };
  return undefined;
}

const BLANKS = overBlanks(/\s+/gu);
const METRIC = overBlanks(/M\s?(\d{1,3}(?:[.,]\d+)?)(?:\s*[x×*]\s*(\.?\d+(?:[.,]\d+)?))?/iuy);
const INCH = overBlanks(
  /(?:No\.?\s?)?(\d{1,2}(?:\s\d+\/\d+|\/\d+)?|\d?\.\d+)\s?[-\u2010\u2011\u2013\u2212]\s?(\d{1,2})(?!\d)(?:\s*(UNC|UNF|UNEF|UNS|UNR|UNJF|UNJC|UN|BSF|BSW|BSPT|BSP|BSC|BA|NPTF|NPT|NPSM|NF|NC|CEI|Whitworth|Whit))?/iuy,
);
const PIPE = overBlanks(
  /(?:(G|R|Rc|Rp)\s?(\d+(?:\s\d+\/\d+|\/\d+)?)|(\d+(?:\s\d+\/\d+|\/\d+)?)\s(BSPT|BSP|NPTF|NPT|BSW|BSF))(?![\p{L}\d])/iuy,
);
const HAND = overBlanks(/\s*(?:left[\u200b\u2060]*-[\u200b\u2060]*hand(?:ed)?|left\s+hand|LH)(?![\p{L}\d-])/iuy);

export interface ReadThread {
  readonly end: number;
  readonly usual: string;
  /** True for a comma where decimals have a point: `M8x1,25`. */
  readonly hasComma: boolean;
}

/** Reads the thread at `at` in its usual form: `M8x1.25`, `3/8-16 UNC`, `1/8-27 NPT`, `M10x1 left-hand`. */
export function readThread(text: string, at: number): ReadThread | undefined {
  let end = at;
  let usual: string | undefined;
  const metric = match(METRIC, text, at);
  if (metric !== null && !/^[\p{L}_-]/u.test(text.slice(at + metric[0].length))) {
    end = at + metric[0].length;
    usual = `M${metric[1]}${metric[2] === undefined ? '' : `x${metric[2].startsWith('.') ? '0' : ''}${metric[2]}`}`;
    usual = usual.replaceAll(',', '.');
  } else {
    const inch = match(INCH, text, at) ?? undefined;
    const pipe = inch === undefined ? match(PIPE, text, at) : null;
    if (inch !== undefined) {
      end = at + inch[0].length;
      usual = `${(inch[1] ?? '').replace(BLANKS, ' ')}-${inch[2]}${inch[3] === undefined ? '' : ` ${seriesName(inch[3])}`}`;
    } else if (pipe !== null) {
      end = at + pipe[0].length;
      usual =
        pipe[1] === undefined
          ? `${(pipe[3] ?? '').replace(BLANKS, ' ')} ${(pipe[4] ?? '').toUpperCase()}`
          : `${pipe[1].toUpperCase()}${(pipe[2] ?? '').replace(BLANKS, ' ')}`;
    }
  }
  if (usual === undefined) return undefined;
  const hand = match(HAND, text, end);
  const hasComma = text.slice(at, end).includes(',');
  return hand === null
    ? { end, usual, hasComma }
    : { end: end + hand[0].length, usual: `${usual} left-hand`, hasComma };
}

function seriesName(series: string): string {
  const upper = series.toUpperCase();
  return upper === 'NF' ? 'UNF' : upper === 'NC' ? 'UNC' : upper.startsWith('WHIT') ? 'BSW' : upper;
}
