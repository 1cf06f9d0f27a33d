// The table of simple units: kind, exact factor to the base unit, offset, and the unit that the other system would use.
// Base units are mm, tonne, s, degree, kelvin (so N and MPa are 1).
// Sources: NIST SP 811 (2008) App. B; SI Brochure (standard gravity); yard and pound agreement 1959; NIST Handbook 44 App. C (US gallon
// 231 in3); UK Units of Measurement Regulations 1995 (imperial gallon). inHg and mmHg are the conventional ones (13 595.1 kg/m3).

import { type Exact, exact, ONE, over, PI, times } from './exact.ts';
import type { Dimension, UnitKind } from './unit-kinds.ts';

const none: Dimension = { length: 0, mass: 0, time: 0, angle: 0, temperature: 0, current: 0 };
const length: Dimension = { ...none, length: 1 };
const area: Dimension = { ...none, length: 2 };
const volume: Dimension = { ...none, length: 3 };
const mass: Dimension = { ...none, mass: 1 };
const time: Dimension = { ...none, time: 1 };
const angle: Dimension = { ...none, angle: 1 };
const temperature: Dimension = { ...none, temperature: 1 };
const current: Dimension = { ...none, current: 1 };
const force: Dimension = { ...none, length: 1, mass: 1, time: -2 };
const torque: Dimension = { ...none, length: 2, mass: 1, time: -2 };
const pressure: Dimension = { ...none, length: -1, mass: 1, time: -2 };
const springRate: Dimension = { ...none, mass: 1, time: -2 };
const power: Dimension = { ...none, length: 2, mass: 1, time: -3 };
const voltage: Dimension = { ...power, current: -1 };
const often: Dimension = { ...none, time: -1 };
const turning: Dimension = { ...none, angle: 1, time: -1 };

const read = (text: string): Exact => exact(text) ?? ONE;
const product = (...texts: readonly string[]): Exact => texts.reduce((sum, text) => times(sum, read(text)), ONE);
const quotient = (first: Exact, second: Exact): Exact => over(first, second) ?? ONE;

const POUND_FORCE = product('0.45359237', '9.80665');
const KILOGRAM_FORCE = read('9.80665');
const SQUARE_INCH = product('25.4', '25.4');
const CUBIC_INCH = product('25.4', '25.4', '25.4');
const US_GALLON = times(read('231'), CUBIC_INCH);
const IMPERIAL_GALLON = read('4546090');

const ids = [
  ...['mm', 'um', 'cm', 'm', 'in', 'ft', 'thou', 'uin', 'deg', 'rad', 'turn', "'", "''"],
  ...['N', 'kN', 'lbf', 'ozf', 'kgf'],
  ...['N.m', 'dN.m', 'cN.m', 'lbf.ft', 'lbf.in', 'ozf.in', 'kgf.m', 'kgf.cm'],
  ...['Pa', 'kPa', 'MPa', 'bar', 'psi', 'inHg', 'mmHg', 'kgf/cm2', 'atm'],
  ...[
    'cc',
    'cm3',
    'mL',
    'L',
    'in3',
    'US-fl-oz',
    'US-pt',
    'US-qt',
    'US-gal',
    'imp-fl-oz',
    'imp-pt',
    'imp-qt',
    'imp-gal',
  ],
  ...['mm2', 'cm2', 'in2', 'g', 'kg', 'oz', 'lb', 'degC', 'degF', 'K', 's', 'min', 'h', 'rpm', 'km', 'mi'],
  ...['dN', 'daN', 'GPa', 'mbar', 'mm3'],
  ...['N/mm', 'lbf/in', 'W', 'kW', 'hp', 'PS', '%', 'ksi', 'tonf', 'A', 'V', 'Hz'],
] as const;

/** The usual name of a simple unit. A minute and a second of arc are `'` and `''`. */
export type UnitId = (typeof ids)[number];

export const unitIds: readonly UnitId[] = ids;

export type UnitFacts = {
  readonly kind: UnitKind;
  readonly dimension: Dimension;
  readonly factor: Exact;
  readonly offset?: Exact;
  readonly other?: UnitId;
};

function unit(kind: UnitKind, dimension: Dimension, factor: Exact | string, other?: UnitId, offset?: Exact): UnitFacts {
  const known = typeof factor === 'string' ? read(factor) : factor;
  return {
    kind,
    dimension,
    factor: known,
    ...(other === undefined ? {} : { other }),
    ...(offset === undefined ? {} : { offset }),
  };
}

export const unitTable: Readonly<Record<UnitId, UnitFacts>> = {
  mm: unit('length', length, '1', 'in'),
  um: unit('length', length, '0.001', 'thou'),
  cm: unit('length', length, '10', 'in'),
  m: unit('length', length, '1000', 'ft'),
  in: unit('length', length, '25.4', 'mm'),
  ft: unit('length', length, '304.8', 'm'),
  thou: unit('length', length, '0.0254', 'um'),
  uin: unit('length', length, '0.0000254', 'um'),
  deg: unit('angle', angle, '1'),
  rad: unit('angle', angle, quotient(read('180'), PI)),
  turn: unit('angle', angle, '360'),
  "'": unit('angle', angle, '1/60'),
  "''": unit('angle', angle, '1/3600'),
  N: unit('force', force, '1', 'lbf'),
  kN: unit('force', force, '1000', 'lbf'),
  dN: unit('force', force, '0.1', 'lbf'),
  daN: unit('force', force, '10', 'lbf'),
  lbf: unit('force', force, POUND_FORCE, 'N'),
  ozf: unit('force', force, quotient(POUND_FORCE, read('16')), 'N'),
  kgf: unit('force', force, KILOGRAM_FORCE, 'lbf'),
  'N.m': unit('torque', torque, '1000', 'lbf.ft'),
  'dN.m': unit('torque', torque, '100', 'lbf.in'),
  'cN.m': unit('torque', torque, '10', 'lbf.in'),
  'lbf.ft': unit('torque', torque, times(POUND_FORCE, read('304.8')), 'N.m'),
  'lbf.in': unit('torque', torque, times(POUND_FORCE, read('25.4')), 'N.m'),
  'ozf.in': unit('torque', torque, quotient(times(POUND_FORCE, read('25.4')), read('16')), 'cN.m'),
  'kgf.m': unit('torque', torque, times(KILOGRAM_FORCE, read('1000')), 'lbf.ft'),
  'kgf.cm': unit('torque', torque, times(KILOGRAM_FORCE, read('10')), 'lbf.in'),
  Pa: unit('pressure', pressure, '0.000001', 'psi'),
  kPa: unit('pressure', pressure, '0.001', 'psi'),
  MPa: unit('pressure', pressure, '1', 'psi'),
  GPa: unit('pressure', pressure, '1000', 'psi'),
  mbar: unit('pressure', pressure, '0.0001', 'psi'),
  bar: unit('pressure', pressure, '0.1', 'psi'),
  psi: unit('pressure', pressure, quotient(POUND_FORCE, SQUARE_INCH), 'bar'),
  inHg: unit('pressure', pressure, product('0.0135951', '9.80665', '0.0254'), 'kPa'),
  mmHg: unit('pressure', pressure, product('0.0135951', '9.80665', '0.001'), 'inHg'),
  'kgf/cm2': unit('pressure', pressure, quotient(KILOGRAM_FORCE, read('100')), 'psi'),
  atm: unit('pressure', pressure, '0.101325', 'psi'),
  cc: unit('volume', volume, '1000', 'in3'),
  cm3: unit('volume', volume, '1000', 'in3'),
  mL: unit('volume', volume, '1000', 'US-fl-oz'),
  L: unit('volume', volume, '1000000', 'US-qt'),
  mm3: unit('volume', volume, '1', 'in3'),
  in3: unit('volume', volume, CUBIC_INCH, 'cc'),
  'US-fl-oz': unit('volume', volume, quotient(US_GALLON, read('128')), 'mL'),
  'US-pt': unit('volume', volume, quotient(US_GALLON, read('8')), 'L'),
  'US-qt': unit('volume', volume, quotient(US_GALLON, read('4')), 'L'),
  'US-gal': unit('volume', volume, US_GALLON, 'L'),
  'imp-fl-oz': unit('volume', volume, quotient(IMPERIAL_GALLON, read('160')), 'mL'),
  'imp-pt': unit('volume', volume, quotient(IMPERIAL_GALLON, read('8')), 'L'),
  'imp-qt': unit('volume', volume, quotient(IMPERIAL_GALLON, read('4')), 'L'),
  'imp-gal': unit('volume', volume, IMPERIAL_GALLON, 'L'),
  mm2: unit('area', area, '1', 'in2'),
  cm2: unit('area', area, '100', 'in2'),
  in2: unit('area', area, SQUARE_INCH, 'mm2'),
  g: unit('mass', mass, '0.000001', 'oz'),
  kg: unit('mass', mass, '0.001', 'lb'),
  oz: unit('mass', mass, product('0.00045359237', '1/16'), 'g'),
  lb: unit('mass', mass, '0.00045359237', 'kg'),
  degC: unit('temperature', temperature, '1', 'degF', read('273.15')),
  degF: unit('temperature', temperature, '5/9', 'degC', product('459.67', '5/9')),
  K: unit('temperature', temperature, '1', 'degF'),
  s: unit('time', time, '1'),
  min: unit('time', time, '60'),
  h: unit('time', time, '3600'),
  rpm: unit('speed', turning, '6'),
  km: unit('distance', length, '1000000', 'mi'),
  mi: unit('distance', length, '1609344', 'km'),
  'N/mm': unit('spring-rate', springRate, '1', 'lbf/in'),
  'lbf/in': unit('spring-rate', springRate, quotient(POUND_FORCE, read('25.4')), 'N/mm'),
  W: unit('power', power, '1000', 'hp'),
  kW: unit('power', power, '1000000', 'hp'),
  hp: unit('power', power, times(POUND_FORCE, product('304.8', '550')), 'kW'),
  PS: unit('power', power, product('75000', '9.80665'), 'hp'),
  '%': unit('share', none, '0.01'),
  ksi: unit('pressure', pressure, quotient(times(POUND_FORCE, read('1000')), SQUARE_INCH), 'MPa'),
  tonf: unit('force', force, times(POUND_FORCE, read('2240')), 'kN'),
  A: unit('current', current, '1'),
  V: unit('voltage', voltage, '1000'),
  Hz: unit('frequency', often, '1'),
};

export function isUnitId(text: string): text is UnitId {
  return Object.hasOwn(unitTable, text);
}
