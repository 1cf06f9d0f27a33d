// Unit factors against their legal definitions (exactly), the NIST table (at its printed digits) and an independent unit library.

import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equal, times, toNumber, toText } from '../../server/mechanics/exact.ts';
import {
  convert,
  convertDifference,
  dimensionOf,
  factorOf,
  folded,
  hasExactFactor,
  inverseUnit,
  kindName,
  kindOf,
  multiplyUnits,
  otherSystem,
  sameDimension,
  sameKind,
  type Unit,
  type UnitId,
  unitIds,
  unitOf,
  unitText,
} from '../../server/mechanics/units.ts';
import { there, unitFor, written } from './numbers.ts';

const convertOne = (from: Unit, to: Unit) => there(convert(written('1'), from, to));
const m3 = unitFor(['m', 3]);

// Reference values 1.1: NIST SP 811 (2008) App. B, SI Brochure, yard and pound agreement 1959, NIST Handbook 44 App. C,
// UK Units of Measurement Regulations 1995. Legal definitions, compared exactly.
const definitions: readonly [UnitId, Unit, string][] = [
  ['in', unitFor('mm'), '25.4'],
  ['ft', unitFor('m'), '0.3048'],
  ['thou', unitFor('um'), '25.4'],
  ['lb', unitFor('kg'), '0.45359237'],
  ['oz', unitFor('g'), '28.349523125'],
  ['lbf', unitFor('N'), '4.4482216152605'],
  ['kgf', unitFor('N'), '9.80665'],
  ['lbf.ft', unitFor('N.m'), '1.3558179483314004'],
  ['lbf.in', unitFor('N.m'), '0.1129848290276167'],
  ['ozf.in', unitFor('N.m'), '0.00706155181422604375'],
  ['kgf.m', unitFor('N.m'), '9.80665'],
  ['kgf.cm', unitFor('N.m'), '0.0980665'],
  ['dN.m', unitFor('N.m'), '0.1'],
  ['lbf.ft', unitFor('lbf.in'), '12'],
  ['lbf.ft', unitFor('ozf.in'), '192'],
  ['bar', unitFor('kPa'), '100'],
  ['kgf/cm2', unitFor('kPa'), '98.0665'],
  ['atm', unitFor('kPa'), '101.325'],
  ['in3', unitFor('cm3'), '16.387064'],
  ['US-gal', unitFor('L'), '3.785411784'],
  ['US-qt', unitFor('L'), '0.946352946'],
  ['US-pt', unitFor('L'), '0.473176473'],
  ['imp-gal', unitFor('L'), '4.54609'],
  ['imp-qt', unitFor('L'), '1.1365225'],
  ['imp-pt', unitFor('L'), '0.56826125'],
  ['hp', unitFor('W'), '745.69987158227022'],
  ['PS', unitFor('W'), '735.49875'],
];

describe('definitions', () => {
  it.each(definitions)('1 %s', (from, to, value) => {
    expect(equal(convertOne(unitOf(from), to), written(value))).toBe(true);
  });

  // The same section, lines that do not end: compared at the printed places, cut off.
  it.each<[UnitId, Unit, string]>([
    ['psi', unitFor('Pa'), '6894.7572931683613'],
    ['bar', unitFor('psi'), '14.5037737730209'],
    ['L', unitFor('in3'), '61.02374409473228'],
    ['lbf.ft', unitFor('kgf.m'), '0.138254954376'],
    ['kW', unitFor('hp'), '1.341022089595'],
    ['kW', unitFor('PS'), '1.359621617304'],
    ['N.m', unitFor('lbf.ft'), '0.737562149277265'],
    ['N.m', unitFor('lbf.in'), '8.85074579132718'],
    ['N.m', unitFor('kgf.m'), '0.101971621297793'],
    ['US-qt', unitFor('imp-qt'), '0.832674184629'],
    ['inHg', unitFor('Pa'), '3386.388640341'],
  ])('1 %s, unending', (from, to, value) => {
    const places = (value.split('.')[1] ?? '').length;
    expect(Math.abs(toNumber(convertOne(unitOf(from), to)) - Number(value))).toBeLessThanOrEqual(
      1.01 * 10 ** -places + 1e-15 * Number(value),
    );
  });

  it('1 oz.in of unbalance is 720.077 887 375 g.mm', () => {
    expect(equal(convertOne(unitFor('oz', 'in'), unitFor('g', 'mm')), written('720.077887375'))).toBe(true);
  });
});

describe('NIST SP 811 App. B, printed to seven figures (read in a public source file that quotes it)', () => {
  it.each<[UnitId, Unit, number]>([
    ['lbf', unitFor('N'), 4.448222],
    ['ozf', unitFor('N'), 2.780139e-1],
    ['thou', unitFor('m'), 2.54e-5],
    ['uin', unitFor('m'), 2.54e-8],
    ['um', unitFor('m'), 1.0e-6],
    ['lb', unitFor('kg'), 4.535924e-1],
    ['oz', unitFor('kg'), 2.834952e-2],
    ['hp', unitFor('W'), 7.456999e2],
    ['PS', unitFor('W'), 7.354988e2],
    ['kgf/cm2', unitFor('Pa'), 9.80665e4],
    ['psi', unitFor('Pa'), 6.894757e3],
    ['inHg', unitFor('Pa'), 3.386389e3],
    ['mmHg', unitFor('Pa'), 1.333224e2],
    ['US-gal', m3, 3.785412e-3],
    ['US-qt', m3, 9.463529e-4],
    ['US-pt', m3, 4.731765e-4],
    ['imp-gal', m3, 4.54609e-3],
    ['US-fl-oz', m3, 2.957353e-5],
    ['imp-fl-oz', m3, 2.841306e-5],
    ['deg', unitFor('rad'), 1.745329e-2],
    ['lbf.ft', unitFor('N.m'), 1.355818],
    ['lbf.in', unitFor('N.m'), 1.129848e-1],
    ['ozf.in', unitFor('N.m'), 7.061552e-3],
  ])('%s', (from, to, printed) => {
    // Half a unit in the seventh figure; 735.498 75 W lies on the half itself.
    const half = 0.5 * 10 ** (Math.floor(Math.log10(printed)) - 6);
    expect(Math.abs(toNumber(convertOne(unitOf(from), to)) - printed)).toBeLessThanOrEqual(half * (1 + 1e-6));
  });
});

describe('temperatures', () => {
  it.each([
    ['212', '100.00'],
    ['-40', '-40.00'],
    ['32', '0.00'],
  ])('%s °F (reference values 1.1)', (fahrenheit, celsius) => {
    expect(toText(there(convert(written(fahrenheit), unitFor('degF'), unitFor('degC'))), 2)).toBe(celsius);
  });

  it('takes no offset for a difference: 9 °F are 5 K', () => {
    expect(equal(there(convertDifference(written('9'), unitFor('degF'), unitFor('K'))), written('5'))).toBe(true);
  });
});

describe('a second opinion: ucum-lhc', () => {
  const ucum = UcumLhcUtils.getInstance();
  const code: Partial<Record<UnitId, string>> = {
    mm: 'mm',
    um: 'um',
    cm: 'cm',
    m: 'm',
    in: '[in_i]',
    ft: '[ft_i]',
    thou: '[mil_i]',
    km: 'km',
    mi: '[mi_i]',
    deg: 'deg',
    rad: 'rad',
    turn: 'circ',
    "'": "'",
    "''": "''",
    N: 'N',
    kN: 'kN',
    lbf: '[lbf_av]',
    kgf: 'kgf',
    'N.m': 'N.m',
    'dN.m': 'dN.m',
    'cN.m': 'cN.m',
    'lbf.ft': '[ft_i].[lbf_av]',
    'lbf.in': '[in_i].[lbf_av]',
    'kgf.m': 'kgf.m',
    'kgf.cm': 'kgf.cm',
    Pa: 'Pa',
    kPa: 'kPa',
    MPa: 'MPa',
    bar: 'bar',
    psi: '[psi]',
    'kgf/cm2': 'kgf/cm2',
    atm: 'atm',
    cc: 'cm3',
    cm3: 'cm3',
    mL: 'mL',
    L: 'L',
    in3: '[cin_i]',
    'US-fl-oz': '[foz_us]',
    'US-pt': '[pt_us]',
    'US-qt': '[qt_us]',
    'US-gal': '[gal_us]',
    'imp-fl-oz': '[foz_br]',
    'imp-pt': '[pt_br]',
    'imp-qt': '[qt_br]',
    'imp-gal': '[gal_br]',
    mm2: 'mm2',
    cm2: 'cm2',
    in2: '[sin_i]',
    g: 'g',
    kg: 'kg',
    oz: '[oz_av]',
    lb: '[lb_av]',
    degC: 'Cel',
    degF: '[degF]',
    K: 'K',
    s: 's',
    min: 'min',
    h: 'h',
    W: 'W',
    kW: 'kW',
    hp: '[HP]',
    'N/mm': 'N/mm',
    'lbf/in': '[lbf_av]/[in_i]',
  };
  const known = unitIds.filter((id) => code[id] !== undefined);

  it('knows most of our units', () => {
    expect(known.length).toBeGreaterThan(55);
  });

  it.each(known)('%s into every unit of its dimension', (from) => {
    for (const to of known) {
      if (!sameDimension(unitOf(from), unitOf(to))) continue;
      const theirs = ucum.convertUnitTo(code[from] ?? '', 37.25, code[to] ?? '');
      expect(theirs.status, `${from} to ${to}`).toBe('succeeded');
      const ours = toNumber(there(convert(written('37.25'), unitOf(from), unitOf(to))));
      expect(
        Math.abs(ours - (theirs.toVal ?? Number.NaN)) / Math.max(Math.abs(ours), 1e-9),
        `${from} to ${to}`,
      ).toBeLessThan(1e-10);
    }
  });
});

describe('kinds and dimensions', () => {
  it('tells a torque from its parts and whole', () => {
    expect(kindOf(unitFor('N', 'm'))).toBe('torque');
    expect(kindOf(unitFor('lbf.ft'))).toBe('torque');
    expect(equal(factorOf(unitFor('N', 'm')), factorOf(unitFor('N.m')))).toBe(true);
    expect(folded(unitFor('N', 'm'))).toEqual(unitFor('N.m'));
  });

  it('makes products come out right: mm by mm, N by mm, N over mm2', () => {
    expect(kindOf(unitFor('mm', 'mm'))).toBe('area');
    expect(kindOf(multiplyUnits(unitFor('mm'), unitFor('mm2')))).toBe('volume');
    expect(equal(convertOne(unitFor('N', ['mm', -2]), unitFor('MPa')), written('1'))).toBe(true);
    expect(kindOf(multiplyUnits(unitFor('lbf'), inverseUnit(unitFor('in'))))).toBe('spring-rate');
    expect(kindOf(multiplyUnits(unitFor('mm'), inverseUnit(unitFor('mm'))))).toBe('ratio');
    expect(kindOf(unitFor('N', 's'))).toBeUndefined();
    expect(equal(factorOf(multiplyUnits(unitFor('N.m'), unitFor('rpm'))), times(written('1000'), written('6')))).toBe(
      true,
    );
  });

  it('keeps a distance run apart from a length', () => {
    expect(sameDimension(unitFor('km'), unitFor('mm'))).toBe(true);
    expect(sameKind(unitFor('km'), unitFor('mm'))).toBe(false);
    expect(kindName('angle')).toBe('an angle');
  });

  it('does not turn a length into a torque', () => {
    expect(convert(written('1'), unitFor('mm'), unitFor('N.m'))).toBeUndefined();
    expect(convertDifference(written('1'), unitFor('degC'), unitFor('deg'))).toBeUndefined();
  });

  it('calls only the radian inexact', () => {
    expect(unitIds.filter((id) => !hasExactFactor(unitOf(id)))).toEqual(['rad']);
  });

  it('knows the other system, of the same kind, and back in the same system', () => {
    expect(otherSystem(unitFor('mm'))).toEqual(unitFor('in'));
    expect(otherSystem(unitFor('N', 'm'))).toEqual(unitFor('lbf.ft'));
    expect(otherSystem(unitFor('rpm'))).toBeUndefined();
    for (const id of unitIds) {
      const other = otherSystem(unitOf(id));
      if (other) expect(sameKind(other, unitOf(id)), id).toBe(true);
      if (other) expect(otherSystem(other), id).toBeDefined();
    }
  });

  it('writes compound units the usual way', () => {
    expect(unitText(unitFor('N', ['mm', -1]))).toBe('N/mm');
    expect(unitText(unitFor('g', 'mm'))).toBe('g.mm');
    expect(unitText([])).toBe('');
    expect(unitText(unitFor(['s', -1]))).toBe('1/s');
    expect(unitText(unitFor(['mm', 3]))).toBe('mm3');
  });

  it('adds dimensions up', () => {
    expect(dimensionOf(unitFor('kg', ['m', 2], ['s', -2]))).toEqual(dimensionOf(unitFor('N.m')));
  });
});

describe('round trips', () => {
  it('come back exactly, by any unit of the dimension', () => {
    const pairs = unitIds.flatMap((from) =>
      unitIds.filter((to) => sameDimension(unitOf(from), unitOf(to))).map((to) => [from, to] as const),
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...pairs),
        fc.integer({ min: -1_000_000_000, max: 1_000_000_000 }),
        ([from, to], value) => {
          const start = written(`${value}/1000`);
          const there1 = there(convert(start, unitOf(from), unitOf(to)));
          expect(equal(there(convert(there1, unitOf(to), unitOf(from))), start)).toBe(true);
        },
      ),
      { seed: 20260304, numRuns: 500 },
    );
  });
});
