// What is put into a message, as plain data for machines: each with its kind, and figures as numbers, in SI units too.
import { type Argument, Told, textOf } from '../../grammar/told.ts';
import { exact, toNumber } from '../mechanics/exact.ts';
import { dimensionOf, inverseUnit, isUnitId, multiplyUnits, toBase, type Unit, unitOf } from '../mechanics/units.ts';

/** One argument of a message. `si` is the figure in SI units (m, kg, s, rad, K, A), where its unit is one that is known. */
export type ArgumentJson =
  | { readonly kind: 'name'; readonly text: string; readonly of?: string }
  | { readonly kind: 'count'; readonly text: string; readonly value: number }
  | { readonly kind: 'place' | 'text' | 'term'; readonly text: string }
  | {
      readonly kind: 'quantity';
      readonly text: string;
      readonly value: number;
      readonly unit: string;
      readonly si?: number;
    }
  | {
      readonly kind: 'range';
      readonly text: string;
      readonly low?: number;
      readonly high?: number;
      readonly unit: string;
      readonly si?: { readonly low?: number; readonly high?: number };
    }
  | { readonly kind: 'list' | 'words'; readonly text: string; readonly args: readonly ArgumentJson[] };

/** A unit as the language writes it: one, or one over another. */
function unitWritten(text: string): Unit | undefined {
  if (text === '') return [];
  if (isUnitId(text)) return unitOf(text);
  const [over, under, ...more] = text.split('/');
  if (over === undefined || under === undefined || more.length > 0 || !isUnitId(over) || !isUnitId(under))
    return undefined;
  return multiplyUnits(unitOf(over), inverseUnit(unitOf(under)));
}

/** A figure in SI units; undefined where the unit is none that is known. */
function inSi(value: number, text: string): number | undefined {
  const unit = unitWritten(text);
  const figure = exact(String(value));
  if (unit === undefined || figure === undefined) return undefined;
  const { length, mass, angle } = dimensionOf(unit);
  // Base units are mm, tonne and degree.
  const scale = 10 ** (3 * (mass - length)) * (Math.PI / 180) ** angle;
  return Number((toNumber(toBase(figure, unit)) * scale).toPrecision(12));
}

function present<key extends string>(key: key, value: number | undefined): { readonly [name in key]?: number } {
  return (value === undefined ? {} : { [key]: value }) as { readonly [name in key]?: number };
}

function argumentJson(argument: Argument): ArgumentJson {
  if (typeof argument === 'object' && !(argument instanceof Told) && argument.kind === 'capital')
    return argumentJson(argument.of);
  if (typeof argument === 'string') return { kind: 'text', text: argument };
  if (typeof argument === 'number') return { kind: 'count', text: String(argument), value: argument };
  const text = textOf(argument);
  if (argument instanceof Told) return { kind: 'words', text, args: argumentsJson(argument) };
  switch (argument.kind) {
    case 'name':
      return { kind: 'name', text, ...(argument.of === undefined ? {} : { of: argument.of }) };
    case 'quantity': {
      const { value, unit } = argument;
      return { kind: 'quantity', text, value, unit, ...present('si', inSi(value, unit)) };
    }
    case 'range': {
      const { low, high, unit } = argument;
      const of = (edge: number | undefined): number | undefined => (edge === undefined ? undefined : inSi(edge, unit));
      const si = { ...present('low', of(low)), ...present('high', of(high)) };
      const edges = { ...present('low', low), ...present('high', high) };
      return { kind: 'range', text, ...edges, unit, ...(Object.keys(si).length === 0 ? {} : { si }) };
    }
    case 'list':
      return { kind: 'list', text, args: argument.items.map(argumentJson) };
    default:
      return { kind: argument.kind, text };
  }
}

/** What is put into a message, in the order of the English sentence; `{0}` of its template is the first. */
export function argumentsJson(told: Told): readonly ArgumentJson[] {
  return told.args.map(argumentJson);
}
