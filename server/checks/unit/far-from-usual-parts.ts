// What a part weighs, how stiff a valve spring is and how far apart the links of a chain are, beyond all that there is. Judgement; no source:
// wide enough for engines from a mower to a lorry.
import { type Told, told } from '../../../grammar/told.ts';
import type { PlainValue } from '../../../grammar/tree.ts';
import { toNumber } from '../../mechanics/exact.ts';
import { factorOf, kindOf, unitOf } from '../../mechanics/units.ts';
import { engineMeasure } from '../../model/engine-sums.ts';
import { measureOf, plainValues } from '../../model/measure.ts';
import type { Placed } from '../../model/placed.ts';
import { isA, type TradeKind } from '../../model/trade-names.ts';
import type { Part, View } from '../../model/view.ts';
import type { Report } from '../check.ts';

interface Bounds {
  readonly least: number;
  readonly most: number;
}

/** Kilograms, by what the part is. */
const MASSES: readonly (readonly [TradeKind, Bounds])[] = [
  ['piston', { least: 0.02, most: 15 }],
  ['rod', { least: 0.02, most: 25 }],
  ['piston-pin', { least: 0.005, most: 6 }],
  ['crankshaft', { least: 0.5, most: 1000 }],
  ['camshaft', { least: 0.1, most: 100 }],
  ['flywheel', { least: 0.2, most: 300 }],
  ['liner', { least: 0.1, most: 50 }],
  ['barrel', { least: 0.2, most: 80 }],
  ['block', { least: 2, most: 3000 }],
  ['head', { least: 0.3, most: 500 }],
  ['sump', { least: 0.2, most: 150 }],
];
/** What goes up and down, in grams for each cubic millimetre of the bore's cube: from race pistons to those of old diesels. */
const BY_BORE: readonly (readonly [TradeKind, Bounds])[] = [
  ['piston', { least: 0.0003, most: 0.004 }],
  ['rod', { least: 0.0003, most: 0.008 }],
  ['piston-pin', { least: 0.00004, most: 0.0015 }],
];
/** Of a valve spring: newtons a millimetre, and newtons. */
const SPRING_RATE: Bounds = { least: 4, most: 200 };
const SPRING_LOAD: Bounds = { least: 30, most: 4000 };
/** How much longer a metal gets for each kelvin: from invar to magnesium. */
const EXPANSION: Bounds = { least: 0.5e-6, most: 40e-6 };
/** Pitches that chains and toothed belts have, in mm: ISO 606 and ISO 13050, and others that are about; from memory. */
const PITCHES: readonly number[] = [
  ...[2, 3, 4, 5, 5.08, 6, 6.35, 7, 7.774, 7.9375, 8, 9, 9.4, 9.525, 10, 12.7, 14, 15.875, 19.05, 20, 25.4],
];

/** A value in a unit; both ends. */
function endsIn(value: PlainValue, unit: 'kg' | 'N' | 'N/mm' | 'mm'): { low: number; high: number } | undefined {
  const measure = measureOf(value);
  const own = unit === 'N/mm' ? [{ unit: 'N', power: 1 } as const, { unit: 'mm', power: -1 } as const] : unitOf(unit);
  if (measure === undefined || kindOf(measure.unit) !== kindOf(own)) return undefined;
  const factor = toNumber(factorOf(own));
  return { low: toNumber(measure.interval.low) / factor, high: toNumber(measure.interval.high) / factor };
}

const isBeyond = ({ low, high }: { readonly low: number; readonly high: number }, bounds: Bounds): boolean =>
  low > bounds.most || high < bounds.least;

const written = (part: Part, value: PlainValue): string =>
  part.placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');

function say(part: Part, value: PlainValue, message: Told, report: Report): void {
  report(part.placed, value, told`${message} See whether a point or a unit slipped.`);
}

/** Says in words that no such part weighs so much; undefined where one may, or it is no weight. */
export function massBeyond(part: Part, placed: Placed, value: PlainValue, view: View): Told | undefined {
  const usual = MASSES.find(([kind]) => isA(part, kind));
  const mass = usual === undefined ? undefined : endsIn(value, 'kg');
  if (usual === undefined || mass === undefined || mass.low <= 0) return undefined;
  const text = placed.section.text.slice(value.start, value.end).replace(/\s+/g, ' ');
  if (isBeyond(mass, usual[1])) return told`${text} is more or less than ${told.thing(part)} weighs in any engine.`;
  const byBore = BY_BORE.find(([kind]) => isA(part, kind))?.[1];
  const bore = byBore === undefined ? undefined : engineMeasure('bore', view);
  if (byBore === undefined || bore === undefined || kindOf(bore.unit) !== 'length') return undefined;
  const mm = toNumber(bore.stack.interval.nominal);
  const share = { low: (mass.low * 1000) / mm ** 3, high: (mass.high * 1000) / mm ** 3 };
  return mm > 0 && isBeyond(share, byBore)
    ? told`${text} is more or less than ${told.thing(part)} weighs in an engine with a bore of ${mm.toFixed(0)} mm.`
    : undefined;
}

function sayMass(part: Part, view: View, report: Report): void {
  for (const statement of part.statements) {
    if (statement.kind !== 'value' || statement.word !== 'mass') continue;
    for (const value of plainValues(statement.value)) {
      const message = massBeyond(part, part.placed, value, view);
      if (message !== undefined) say(part, value, message, report);
    }
  }
}

function saySpring(part: Part, report: Report): void {
  if (!isA(part, 'valve-spring')) return;
  for (const { value: all } of part.figures.values()) {
    for (const value of plainValues(all)) {
      const [rate, load] = [endsIn(value, 'N/mm'), endsIn(value, 'N')];
      if ((rate !== undefined && isBeyond(rate, SPRING_RATE)) || (load !== undefined && isBeyond(load, SPRING_LOAD)))
        say(part, value, told`No valve spring has ${written(part, value)}.`, report);
    }
  }
}

/** How far the figures may lie from the pitch that they are shuffled from. */
const SHUFFLED = 0.1;

const digitsOf = (text: string): string => text.replace('.', '').replace(/^0+|0+$/g, '');

/** The pitch that is meant: the same figures in another order, or with the point moved. */
function pitchMeant(text: string): string | undefined {
  const digits = digitsOf(text);
  const sorted = [...digits].sort().join('');
  const found = PITCHES.find((pitch) => {
    const own = digitsOf(String(pitch));
    const isNear = Math.abs(Number(text) - pitch) <= pitch * SHUFFLED;
    return own === digits || (isNear && own.length > 1 && [...own].sort().join('') === sorted);
  });
  return found === undefined ? undefined : String(found);
}

/** So much of its length for each kelvin. */
function sayExpansion(part: Part, report: Report): void {
  for (const { value: all } of part.figures.values()) {
    for (const value of plainValues(all)) {
      const measure = measureOf(value);
      if (measure === undefined || kindOf(measure.unit) !== 'expansion') continue;
      const ends = { low: toNumber(measure.interval.low), high: toNumber(measure.interval.high) };
      if (isBeyond(ends, EXPANSION)) say(part, value, told`No metal grows by ${written(part, value)}.`, report);
    }
  }
}

function sayPitch(part: Part, report: Report): void {
  const value = part.pitch;
  if (value?.kind !== 'quantity' || (part.links === undefined && part.teeth === undefined)) return;
  const pitch = endsIn(value, 'mm');
  if (pitch === undefined || PITCHES.some((each) => Math.abs(each - pitch.low) <= each * 0.002)) return;
  const meant = value.unit?.text === 'mm' ? pitchMeant(value.number.text) : undefined;
  if (meant === undefined) {
    if (isBeyond(pitch, { least: 1.5, most: 60 }))
      say(part, value, told`No chain or belt has a pitch of ${written(part, value)}.`, report);
    return;
  }
  report(
    part.placed,
    value,
    told`${written(part, value)} is no pitch that chains and belts have, and ${meant} mm is. See whether two figures changed places or a point slipped.`,
  );
}

/** Masses, springs, pitches. */
export function sayFarPart(part: Part, view: View, report: Report): void {
  sayMass(part, view, report);
  saySpring(part, report);
  sayExpansion(part, report);
  sayPitch(part, report);
}
