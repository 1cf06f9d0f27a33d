// Restated values against printed pairs of public army manuals: reference values, section 14 and the rows that it names honest.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toText } from '../../server/mechanics/exact.ts';
import { compareRestated } from '../../server/mechanics/restated.ts';
import { convert, sameDimension, type UnitId, unitIds, unitOf } from '../../server/mechanics/units.ts';
import { there, written } from './numbers.ts';

const held = (first: string, firstUnit: UnitId, second: string, secondUnit: UnitId) =>
  there(compareRestated({ text: first, unit: unitOf(firstUnit) }, { text: second, unit: unitOf(secondUnit) }));

type Row = readonly [source: string, first: string, firstUnit: UnitId, second: string, secondUnit: UnitId];

describe('printed pairs that do not agree (section 14, all read)', () => {
  it.each<Row>([
    ['TM 5-3895-369-14 bore out-of-round', '0.00015', 'in', '0.038', 'mm'],
    ['the same, taper', '0.003', 'in', '0.76', 'mm'],
    ['TM 9-2815-254-24 main journal, one end', '2.7548', 'in', '69.920', 'mm'],
    ['TM 9-2815-254-24 main journal, other end', '2.7533', 'in', '69.632', 'mm'],
    ['TM 9-2815-254-24 crankpin, low', '2.0849', 'in', '52.918', 'mm'],
    ['TM 9-2815-254-24 crankpin, high', '2.0854', 'in', '52.930', 'mm'],
    ['TM 9-2815-254-24 wear limit', '2.7560', 'in', '69.95', 'mm'],
    ['TM 9-2815-254-24 wear limit', '2.0862', 'in', '52.95', 'mm'],
    ['TM 9-2815-202-34 ring gap', '0.0230', 'in', '0.0286', 'cm'],
    ['TM 10-4930-247-13&P grade 7', '110', 'lbf.ft', '141', 'N.m'],
    ['TM 5-4310-452-14 flash point, upper end', '130', 'degF', '59', 'degC'],
    ['TM 9-2320-366-34-4 flash point', '130', 'degF', '50', 'degC'],
  ])('%s', (_source, ...pair) => {
    expect(held(...pair).verdict).toBe('differs');
  });

  it.each<Row>([
    ['TM 55-1905-223-24-1', '270', 'lbf.ft', '365', 'N.m'],
    ['section 14', '200', 'degF', '94', 'degC'],
  ])('%s misses by one in the last place', (_source, ...pair) => {
    expect(held(...pair).verdict).toBe('near');
  });

  // Cut off at the last place a one-digit figure would pass for half of itself more.
  it.each<Row>([
    ['2 in are 50.8 mm', '2', 'in', '76', 'mm'],
    ['0.007 in are 0.178 mm', '0.1', 'mm', '0.007', 'in'],
    ['9 lbf.ft are 12.2 N.m', '9', 'lbf.ft', '18', 'N.m'],
  ])('%s', (_source, ...pair) => {
    expect(held(...pair).verdict).toBe('differs');
  });

  // 0.01 mm are 0.000394 in; 5 degC of difference are 9 degF.
  it('compares tolerances as differences', () => {
    const mm = unitOf('mm');
    const inch = unitOf('in');
    const both = (first: string, second: string) =>
      there(compareRestated({ text: first, unit: mm }, { text: second, unit: inch }, 'difference')).verdict;
    expect(both('0.01', '0.0004')).toBe('agrees');
    expect(both('0.01', '0.040')).toBe('differs');
    const heat = there(
      compareRestated({ text: '5', unit: unitOf('degC') }, { text: '9', unit: unitOf('degF') }, 'difference'),
    );
    expect(heat.verdict).toBe('agrees');
  });

  it('says what each should read', () => {
    expect(held('110', 'lbf.ft', '141', 'N.m')).toEqual({
      verdict: 'differs',
      firstInSecond: '149',
      secondInFirst: '104',
    });
    expect(held('0.0230', 'in', '0.0286', 'cm').firstInSecond).toBe('0.0584');
    expect(held('0.003', 'in', '0.76', 'mm')).toMatchObject({ firstInSecond: '0.08', secondInFirst: '0.030' });
  });
});

describe('honest pairs', () => {
  it.each<Row>([
    ['section 14', '1.8', 'in', '46.0', 'mm'],
    ['section 14', '0.632', 'in', '16.055', 'mm'],
    ['section 14', '0.010', 'in', '0.250', 'mm'],
    ['section 14', '66', 'lbf.ft', '90', 'N.m'],
    ['section 14', '7', 'lbf.ft', '10', 'N.m'],
    ['section 14', '61.5', 'lbf.ft', '83.3', 'N.m'],
    ['section 14', '0.0040', 'in', '0.0101', 'cm'],
    ['section 14', '0.022', 'in', '0.55', 'mm'],
    ['TM 5-4310-452-14 flash point, lower end', '100', 'degF', '38', 'degC'],
    ['TM 9-2815-237-34 main journal', '2.949', 'in', '74.905', 'mm'],
    ['TM 9-2815-237-34 main journal', '2.950', 'in', '74.930', 'mm'],
    ['TM 9-2815-237-34 crankpin', '2.398', 'in', '60.909', 'mm'],
    ['TM 9-2815-237-34 crankpin', '2.399', 'in', '60.935', 'mm'],
    ['TM 9-2815-237-34 clearance', '0.002', 'in', '0.051', 'mm'],
    ['TM 9-2815-237-34 clearance', '0.004', 'in', '0.102', 'mm'],
    ['TM 9-2815-237-34 rod side', '0.007', 'in', '0.178', 'mm'],
    ['TM 9-2815-237-34 rod side', '0.025', 'in', '0.635', 'mm'],
    ['TM 9-2815-237-34 bore', '3.978', 'in', '101.041', 'mm'],
    ['TM 9-2815-237-34 bore', '3.981', 'in', '101.12', 'mm'],
    ['TM 9-2815-237-34 piston clearance', '0.0035', 'in', '0.0889', 'mm'],
    ['TM 9-2815-237-34 piston pin', '1.2203', 'in', '30.9956', 'mm'],
    ['TM 9-2815-237-34 piston pin', '1.2206', 'in', '31.0032', 'mm'],
    ['TM 9-2815-237-34 valve spring', '80', 'lbf', '356', 'N'],
    ['TM 9-2815-237-34 valve spring', '230', 'lbf', '1023', 'N'],
    ['TM 9-2815-254-24 main cap', '123', 'lbf.ft', '166.8', 'N.m'],
    ['TM 5-6115-593-34 end clearance', '0.026', 'in', '0.66', 'mm'],
    ['TM 5-6115-593-34 rod bore', '4.0018', 'in', '101.646', 'mm'],
    ['TM 55-1905-223-24-1 stretch', '0.0135', 'in', '0.343', 'mm'],
    ['TM 55-1905-223-24-1 stretch', '0.0185', 'in', '0.470', 'mm'],
    ['TM 10-3930-669-20', '29.5', 'lbf.ft', '40', 'N.m'],
    ['TM 5-2420-222-34 backlash', '0.0027', 'in', '0.0686', 'mm'],
    ['TM 5-2420-222-34 backlash', '0.0166', 'in', '0.4216', 'mm'],
    ['TM 9-2320-387-24-2 deflection', '0.5', 'in', '12.7', 'mm'],
    ['TM 9-2320-280-34 chain limit', '0.810', 'in', '20.6', 'mm'],
    ['29 CFR 1910.242(b)', '30', 'psi', '207', 'kPa'],
    ['P-D-680 type II flash point', '140', 'degF', '60', 'degC'],
    ['language page', '24', 'N.m', '18', 'lbf.ft'],
    ['language page', '0.0105', 'in', '0.267', 'mm'],
    ['language page', '0.0130', 'in', '0.330', 'mm'],
  ])('%s: %s %s (%s %s)', (_source, ...pair) => {
    expect(held(...pair).verdict).toBe('agrees');
    const [first, firstUnit, second, secondUnit] = pair;
    expect(held(second, secondUnit, first, firstUnit).verdict).toBe('agrees');
  });

  // TM 10-5430-232-12&P Table I-2, lbf.in (N.m), and TM 10-4930-247-13&P app. I, lbf.ft (N.m) without its misprint. Read.
  it.each([
    ['2.0', '0.23'],
    ['3.5', '0.40'],
    ['6.5', '0.73'],
    ['9.5', '1.07'],
    ['14', '1.58'],
    ['18', '2.03'],
    ['24', '2.71'],
    ['32', '3.62'],
    ['50', '5.65'],
    ['70', '7.91'],
    ['90', '10.17'],
    ['117', '13.22'],
  ])('locknut breakaway %s lbf.in (%s N.m)', (pounds, newtons) => {
    expect(held(pounds, 'lbf.in', newtons, 'N.m').verdict).toBe('agrees');
  });

  it('all other cells of the army table by SAE grade', () => {
    const rows = [
      [
        [6, 8],
        [12, 16],
        [20, 27],
        [32, 44],
        [47, 64],
        [69, 94],
      ],
      [
        [9, 12],
        [17, 23],
        [30, 41],
        [47, 64],
        [69, 94],
        [103, 140],
      ],
      [
        [10, 14],
        [19, 26],
        [33, 45],
        [54, 73],
        [78, 106],
        [114, 155],
      ],
      [
        [12, 16],
        [24, 33],
        [43, 58],
        [69, 94],
        [106, 144],
        [150, 203],
      ],
      [
        [13, 18],
        [25, 34],
        [44, 60],
        [71, 96],
        [154, 209],
      ],
      [
        [14, 19],
        [29, 39],
        [47, 64],
        [78, 106],
        [119, 161],
        [169, 229],
      ],
    ];
    for (const [pounds, newtons] of rows.flat()) {
      expect(held(`${pounds}`, 'lbf.ft', `${newtons}`, 'N.m').verdict, `${pounds} (${newtons})`).toBe('agrees');
    }
  });
});

describe('fractions and signs', () => {
  it('holds a fraction against its decimal', () => {
    expect(held('3/8', 'in', '9.525', 'mm').verdict).toBe('agrees');
    expect(held('3/8', 'in', '9.53', 'mm').verdict).toBe('agrees');
    expect(held('1 1/2', 'in', '38.1', 'mm').verdict).toBe('agrees');
    expect(held('3/8', 'in', '9.6', 'mm')).toMatchObject({ verdict: 'near', firstInSecond: '9.5' });
    expect(held('3/8', 'in', '8', 'mm').verdict).toBe('differs');
    expect(held('9.5', 'mm', '3/8', 'in').verdict).toBe('agrees');
  });

  it('holds a negative fit', () => {
    expect(held('-0.0010', 'in', '-0.025', 'mm').verdict).toBe('agrees');
    expect(held('-0.0010', 'in', '0.025', 'mm').verdict).toBe('differs');
  });

  it('calls a whole number that is rounded to three figures near', () => {
    expect(held('2600', 'lbf', '11600', 'N').verdict).toBe('near');
  });

  it('has no verdict for what cannot be compared', () => {
    expect(compareRestated({ text: '1', unit: unitOf('mm') }, { text: '1', unit: unitOf('N') })).toBeUndefined();
    expect(compareRestated({ text: 'one', unit: unitOf('mm') }, { text: '1', unit: unitOf('in') })).toBeUndefined();
  });
});

it('agrees with every honest rounding of a conversion', () => {
  const pairs = unitIds.flatMap((from) =>
    unitIds.filter((to) => to !== from && sameDimension(unitOf(from), unitOf(to))).map((to) => [from, to] as const),
  );
  fc.assert(
    fc.property(
      fc.constantFrom(...pairs),
      fc.integer({ min: 1, max: 999999 }),
      fc.integer({ min: 0, max: 4 }),
      ([from, to], value, places) => {
        const text = toText(written(`${value}/1000`), 3);
        const second = toText(there(convert(written(text), unitOf(from), unitOf(to))), places);
        expect(held(text, from, second, to).verdict).toBe('agrees');
      },
    ),
    { seed: 20260304, numRuns: 400 },
  );
});
