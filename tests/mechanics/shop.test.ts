// Fits, repair sizes, grades, slips, rules of thumb and balance against the reference values, sections 8 and 11.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bobweight, massSpread, secondaryForceOfFour, turningForce } from '../../server/mechanics/balance.ts';
import { crankSlider, pistonAcceleration } from '../../server/mechanics/crank-slider.ts';
import { toText } from '../../server/mechanics/exact.ts';
import { fitOf, gradeFaults, gradesFor, isRepairSize, likelySlip, repairSize } from '../../server/mechanics/fits.ts';
import { type Interval, range } from '../../server/mechanics/interval.ts';
import {
  farOutside,
  type LimitKind,
  plasticGaugesFor,
  tradeKinds,
  tradeRange,
} from '../../server/mechanics/trade-ranges.ts';
import { there, written } from './numbers.ts';

const between = (low: string, high: string): Interval => range(written(low), written(high));
const ends = (value: Interval, places: number) => [toText(value.low, places), toText(value.high, places)];

describe('fits', () => {
  it('TM 5-3895-346-14 cam journal: 0.0045 to 0.0060 in of clearance (sizes read, fit computed)', () => {
    const fit = fitOf(between('2.1870', '2.1880'), between('2.1820', '2.1825'));
    expect([fit.kind, ...ends(fit.clearance, 4)]).toEqual(['clearance', '0.0045', '0.0060']);
  });

  // ISO 286 limits from memory, fits computed (8.5).
  it.each([
    ['50 H7/f7', between('50.000', '50.025'), between('49.950', '49.975'), 'clearance', ['0.025', '0.075']],
    ['25 H7/p6', between('25.000', '25.021'), between('25.022', '25.035'), 'interference', ['-0.035', '-0.001']],
    [
      '50 H7/h6 against a slack shaft',
      between('50.000', '50.025'),
      between('49.990', '50.010'),
      'transition',
      ['-0.010', '0.035'],
    ],
  ])('%s', (_name, hole, shaft, kind, clearance) => {
    const fit = fitOf(hole, shaft);
    expect([fit.kind, ends(fit.clearance, 3)]).toEqual([kind, clearance]);
  });
});

describe('repair sizes (TM 5-3805-262-34, read: each is standard less undersize)', () => {
  it.each([
    ['0.010', '2.738', '2.739'],
    ['0.020', '2.728', '2.729'],
    ['0.030', '2.718', '2.719'],
  ])('%s under 2.748 to 2.749', (step, low, high) => {
    const standard = between('2.748', '2.749');
    expect(ends(repairSize(standard, written(step), 'undersize', 'dimension'), 3)).toEqual([low, high]);
    expect(isRepairSize(between(low, high), standard, written(step), 'undersize', 'dimension')).toBe(true);
    expect(isRepairSize(between(low, high), standard, written('0.015'), 'undersize', 'dimension')).toBe(false);
  });

  it('thickens a wall by half the step: the language page’s 1.991..1.995 and 2.116..2.120 for 0.25', () => {
    expect(
      isRepairSize(between('2.116', '2.120'), between('1.991', '1.995'), written('0.25'), 'undersize', 'wall'),
    ).toBe(true);
    expect(
      isRepairSize(between('2.241', '2.245'), between('1.991', '1.995'), written('0.25'), 'undersize', 'wall'),
    ).toBe(false);
    expect(ends(repairSize(between('80.00', '80.02'), written('0.50'), 'oversize', 'dimension'), 2)).toEqual([
      '80.50',
      '80.52',
    ]);
  });
});

describe('grades', () => {
  it('finds holes and overlaps, in any order of writing', () => {
    expect(gradeFaults([between('0.45', '0.55'), between('0.55', '0.65')])).toEqual([]);
    expect(gradeFaults([between('0.56', '0.65'), between('0.45', '0.55')], written('0.01'))).toEqual([]);
    const hole = gradeFaults([between('0.45', '0.55'), between('0.60', '0.65')], written('0.01'));
    expect(hole).toMatchObject([{ kind: 'hole', after: 0, before: 1 }]);
    const overlap = gradeFaults([between('0.45', '0.70'), between('0.55', '0.60'), between('0.70', '0.80')]);
    expect(overlap.map((fault) => [fault.kind, ends({ ...fault, nominal: fault.low }, 2)])).toEqual([
      ['overlap', ['0.55', '0.60']],
    ]);
    expect(gradeFaults([])).toEqual([]);
  });

  it('names the grades of a measurement, two on a shared end', () => {
    const grades = [between('0.45', '0.55'), between('0.55', '0.65')];
    expect([
      gradesFor(grades, written('0.5')),
      gradesFor(grades, written('0.55')),
      gradesFor(grades, written('0.7')),
    ]).toEqual([[0], [0, 1], []]);
  });

  it('leaves no measured value without a grade where it finds no fault', () => {
    const cuts = fc.uniqueArray(fc.integer({ min: 0, max: 400 }), { minLength: 3, maxLength: 8 });
    fc.assert(
      fc.property(cuts, fc.integer({ min: 0, max: 1000 }), (points, share) => {
        const sorted = [...points].sort((first, second) => first - second).map((value) => written(`${value}/100`));
        const grades = sorted.slice(1).map((high, at) => range(there(sorted[at]), high));
        expect(gradeFaults(grades)).toEqual([]);
        const [low, high] = [there(sorted[0]), there(sorted.at(-1))];
        expect(gradesFor(grades, low.add(high.sub(low).mul(share).div(1000))).length).toBeGreaterThan(0);
        const holed = grades.filter((_, at) => at !== 1 || grades.length < 3);
        if (holed.length < grades.length) expect(gradeFaults(holed).map((fault) => fault.kind)).toContain('hole');
      }),
      { seed: 20260304, numRuns: 200 },
    );
  });
});

describe('slips in a record', () => {
  it.each([
    ['0.42', '1/10'],
    ['0.0042', '10'],
    ['0.00165', '25.4'],
    ['1.05', '1/25.4'],
    ['0.042', undefined],
    ['0.08', undefined],
    ['0', undefined],
  ])('%s within 0.020 to 0.060: times %s', (measured, factor) => {
    expect(likelySlip(written(measured), written('0.020'), written('0.060'))).toBe(factor);
  });
});

describe('rules of thumb hold the published clearances (8.2, all read), in inches', () => {
  it.each<[string, LimitKind, number, number, number?]>([
    ['TM 9-2815-237-34 main', 'oil-clearance', 0.002, 0.004, 2.95],
    ['TM 9-2815-237-34 crankpin', 'oil-clearance', 0.002, 0.004, 2.398],
    ['TM 9-2815-254-24 main', 'oil-clearance', 0.0007, 0.0025, 2.75],
    ['TM 5-3895-346-14 cam journal', 'oil-clearance', 0.0045, 0.006, 2.182],
    ['TM 9-2815-237-34 rod side', 'rod-side-clearance', 0.007, 0.025],
    ['TM 5-6115-584-34 rod side', 'rod-side-clearance', 0.002, 0.016],
    ['TM 55-1905-223-24-1 rod pair side', 'rod-side-clearance', 0.012, 0.02],
    ['TM 9-2815-237-34 crank', 'end-play', 0.004, 0.01],
    ['TM 5-3895-346-14 crank', 'end-play', 0.004, 0.011],
    ['TM 5-6115-593-34 crank', 'end-play', 0.006, 0.013],
    ['TM 5-6640-212-14 crank', 'end-play', 0.003, 0.005],
    ['TM 5-6115-584-34 cam', 'end-play', 0.007, 0.039],
    ['TM 9-2815-237-34 piston', 'piston-clearance', 0.0035, 0.0045, 3.98],
    ['TM 5-3895-369-14 skirt', 'piston-clearance', 0.0041, 0.0115, 4.016],
    ['TM 9-2815-237-34 top ring', 'ring-gap', 0.012, 0.022, 3.98],
    ['TM 9-2815-237-34 second ring', 'ring-gap', 0.03, 0.039, 3.98],
    ['TM 9-2815-237-34 oil ring', 'ring-gap', 0.01, 0.02, 3.98],
    ['TM 9-2815-247-34 compression', 'ring-gap', 0.04, 0.05, 5.75],
    ['TM 9-2815-237-34 ring side', 'ring-side-clearance', 0.003, 0.007],
    ['TM 5-1940-277-34 ring groove', 'ring-side-clearance', 0.0025, 0.004],
    ['TM 5-6640-212-14 ring groove', 'ring-side-clearance', 0.0015, 0.003],
    ['TM 9-2815-237-34 stem', 'stem-clearance', 0.001, 0.003],
    ['TM 5-2420-222-34 camshaft gear', 'backlash', 0.0028, 0.0185],
    ['TM 5-6115-584-34 cam to crank', 'backlash', 0.005, 0.01],
    ['common practice', 'squish', 0.035, 0.045],
    ['common practice', 'piston-to-valve', 0.08, 0.1],
  ])('%s %s', (_source, kind, low, high, diameter) => {
    const rule = there(tradeRange(kind, diameter === undefined ? undefined : diameter * 25.4));
    expect(farOutside(rule, { low: low * 25.4, high: high * 25.4 })).toBeUndefined();
    expect(low * 25.4).toBeGreaterThanOrEqual(rule.far.low);
    expect(high * 25.4).toBeLessThanOrEqual(rule.far.high * (1 + 1e-9));
  });

  it('finds slips of the point far outside', () => {
    expect(farOutside(there(tradeRange('oil-clearance', 60)), { low: 0.2, high: 0.6 })).toBe('large');
    expect(farOutside(there(tradeRange('oil-clearance', 60)), { low: 0.002, high: 0.006 })).toBe('small');
    expect(farOutside(there(tradeRange('ring-gap', 80)), { low: 2, high: 3 })).toBe('large');
    expect(farOutside(there(tradeRange('end-play')), { low: 0.004, high: 0.02 })).toBe('small');
    expect(tradeRange('oil-clearance')).toBeUndefined();
  });

  it('has the rule inside what is not far, for every kind', () => {
    for (const kind of tradeKinds) {
      const rule = there(tradeRange(kind, 70));
      expect(
        rule.far.low < rule.usual.low && rule.usual.low < rule.usual.high && rule.usual.high < rule.far.high,
        kind,
      ).toBe(true);
    }
  });
});

describe('plastic gauge strips (TM 5-2420-222-34 para 1-16, read)', () => {
  it('says which colour reads a range', () => {
    expect(plasticGaugesFor({ low: 0.03, high: 0.07 })).toEqual(['green']);
    expect(plasticGaugesFor({ low: 0.055, high: 0.07 })).toEqual(['green', 'red']);
    expect(plasticGaugesFor({ low: 0.02, high: 0.3 })).toEqual([]);
  });
});

describe('balance (11)', () => {
  const masses = {
    rods: 2,
    bigEnd: 420,
    shells: 45,
    oil: 4,
    smallEnd: 160,
    piston: 430,
    pin: 120,
    locks: 4,
    rings: 40,
  };

  it('synthetic bobweight: 934 turning, 754 up and down, 1688 g (computed)', () => {
    expect(bobweight(masses, 0.5)).toEqual({ rotating: 934, reciprocating: 754, total: 1688 });
    expect(bobweight({ ...masses, oil: -1 }, 0.5)).toBeUndefined();
  });

  it('primary forces of the two pistons on a pin of a 90 degree vee add to one that turns with the crank', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 360, noNaN: true }), (degrees) => {
        const angle = (degrees * Math.PI) / 180;
        const [left, right] = [Math.cos(angle + Math.PI / 4), Math.cos(angle - Math.PI / 4)];
        // Along each bank's own axis, 45 degrees either side of upright.
        const up = (left + right) * Math.cos(Math.PI / 4);
        const across = (right - left) * Math.sin(Math.PI / 4);
        expect(Math.hypot(up, across)).toBeCloseTo(1, 9);
      }),
      { seed: 20260304, numRuns: 100 },
    );
  });

  it('an in-line four leaves 4·m·r·ω²·(r/l)·cos 2θ, as the sum of its four pistons does but for the fourth order', () => {
    const crank = there(crankSlider(86, 200));
    for (const degrees of [0, 30, 45, 90, 120]) {
      const sum = [0, 180, 180, 0].reduce(
        (total, at) => total + 500 * pistonAcceleration(crank, degrees + at, 6000) * 1e-6,
        0,
      );
      expect(Math.abs(secondaryForceOfFour(500, 43, 200, 6000, degrees) - sum)).toBeLessThan(
        0.02 * 4 * turningForce(500, 43, 6000),
      );
    }
  });

  it('spreads a set by its heaviest and lightest', () => {
    expect([massSpread([430, 432, 429]), massSpread([])]).toEqual([3, undefined]);
  });
});
