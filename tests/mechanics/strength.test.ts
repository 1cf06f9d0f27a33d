// Strength classes and proof loads against ISO 898-1 and SAE J429 as the reference values, section 3, quote them.

import { describe, expect, it } from 'vitest';
import {
  breakingLoad,
  PROOF_SHARE_OF_TENSILE,
  proofLoad,
  strengthFromTensile,
  strengthNames,
  strengthOf,
} from '../../server/mechanics/strength.ts';
import { parseThread } from '../../server/mechanics/threads.ts';
import { there } from './numbers.ts';

/**
 * The tolerance is half a percent. Three cells miss it and are named here with what they miss it by: the standard multiplies areas that it has
 * rounded (20.1 for 20.123 mm2, 115 for 115.44) and rounds again. They are not explained away for any other cell.
 */
const beyond: Readonly<Record<string, number>> = {
  'proof M6 8.8': 0.0062,
  'proof M14 4.8': 0.0053,
  'break M14 12.9': 0.006,
};
const within = (cell: string) => beyond[cell] ?? 0.005;

const PSI = 0.006894757293168361;
const thread = (text: string) => there(parseThread(text));

it.each([
  ['8', '8.8'],
  ['10', '10.9'],
  ['12', '12.9'],
])('a nut of class %s is that of a bolt of class %s (ISO 898-2, from memory)', (nut, bolt) => {
  expect(strengthOf(nut, 10)?.proof).toBe(strengthOf(bolt, 10)?.proof);
  expect(strengthOf(nut, 10)?.assumed).toContain(bolt);
});

describe('ISO 898-1 Table 3 (proof stress read, tensile and yield minima from memory)', () => {
  it.each([
    ['4.6', 10, 225, 240, 400],
    ['4.8', 10, 310, 340, 420],
    ['5.6', 10, 280, 300, 500],
    ['5.8', 10, 380, 420, 520],
    ['6.8', 10, 440, 480, 600],
    ['8.8', 16, 580, 640, 800],
    ['8.8', 18, 600, 660, 830],
    ['9.8', 16, 650, 720, 900],
    ['10.9', 20, 830, 940, 1040],
    ['12.9', 8, 970, 1100, 1220],
  ])('%s at %i mm', (name, diameter, proof, yieldStress, tensile) => {
    expect(strengthOf(name, diameter)).toMatchObject({ proof, yield: yieldStress, tensile, source: 'ISO 898-1' });
  });

  it('does not give 8.8 the 600 MPa of the large sizes below 16 mm, as one public page does', () => {
    expect(there(strengthOf('8.8', 12)).proof).not.toBe(600);
  });
});

// Table 5, coarse, N: read on a distributor's page; five of the classes also on another, identical.
const classes = ['4.6', '4.8', '5.6', '5.8', '6.8', '8.8', '9.8', '10.9', '12.9'];
const proofLoads: Readonly<Record<string, readonly number[]>> = {
  M5: [3200, 4400, 3980, 5400, 6250, 8230, 9230, 11800, 13800],
  M6: [4520, 6230, 5630, 7640, 8840, 11600, 13100, 16700, 19500],
  M7: [6500, 8960, 8090, 11000, 12700, 16800, 18800, 24000, 28000],
  M8: [8240, 11400, 10200, 13900, 16100, 21200, 23800, 30400, 35500],
  M10: [13000, 18000, 16200, 22000, 25500, 33700, 37700, 48100, 56300],
  M12: [19000, 26100, 23600, 32000, 37100, 48900, 54800, 70000, 81800],
  M14: [25900, 35600, 32200, 43700, 50600, 66700, 74800, 95500, 112000],
  M16: [35300, 48700, 44000, 59700, 69100, 91000, 102000, 130000, 152000],
};

describe('ISO 898-1 Table 5, proof loads (read), within 0.5 % but for named cells', () => {
  it.each(Object.keys(proofLoads))('%s', (size) => {
    classes.forEach((name, at) => {
      const printed = proofLoads[size]?.[at] ?? 0;
      const found = proofLoad(thread(size), there(strengthOf(name, thread(size).diameter)));
      expect(Math.abs(found / printed - 1), `${name} ${found}`).toBeLessThan(within(`proof ${size} ${name}`));
    });
  });

  it.each([
    ['M18', 115000],
    ['M20', 147000],
  ])('%s 8.8 takes the higher stress', (size, printed) => {
    expect(
      Math.abs(proofLoad(thread(size), there(strengthOf('8.8', thread(size).diameter))) / printed - 1),
    ).toBeLessThan(0.005);
  });
});

describe('least breaking loads (read), within 0.5 % but for a named cell', () => {
  it.each([
    ['M6', 16100, 20900, 24500],
    ['M8', 29200, 38100, 44600],
    ['M10', 46400, 60300, 70800],
    ['M12', 67400, 87700, 103000],
    ['M14', 92000, 120000, 140000],
    ['M16', 125000, 163000, 192000],
  ])('%s', (size, ...printed) => {
    ['8.8', '10.9', '12.9'].forEach((name, at) => {
      expect(
        Math.abs(breakingLoad(thread(size), there(strengthOf(name, thread(size).diameter))) / (printed[at] ?? 0) - 1),
        name,
      ).toBeLessThan(within(`break ${size} ${name}`));
    });
  });

  it('finds M4 10.9 misprinted: 91 130 N for 9 130', () => {
    const found = breakingLoad(thread('M4'), there(strengthOf('10.9', 4)));
    expect(Math.abs(found / 9130 - 1)).toBeLessThan(0.005);
    expect(Math.abs(found / 91130 - 1)).toBeGreaterThan(0.8);
  });
});

describe('SAE J429 Table 1 (from memory; grades 2 and 5 also read)', () => {
  it.each([
    ['grade-1', 0.5, 33, 36, 60],
    ['grade-2', 0.75, 55, 57, 74],
    ['grade-2', 0.875, 33, 36, 60],
    ['grade-5', 1, 85, 92, 120],
    ['grade-5', 1.125, 74, 81, 105],
    ['grade-8', 0.4375, 120, 130, 150],
  ])('%s at %f in', (name, inches, proof, yieldStress, tensile) => {
    const found = there(strengthOf(name, inches * 25.4));
    expect([found.proof, found.yield, found.tensile].map((stress) => Math.round(stress / PSI / 100) / 10)).toEqual([
      proof,
      yieldStress,
      tensile,
    ]);
    expect(found.source).toBe('SAE J429');
  });

  it('does not take the 72 000 psi of one page for the tensile strength of grade 2', () => {
    expect(Math.round(there(strengthOf('grade 2', 12)).tensile / PSI)).toBe(74000);
  });
});

describe('names and limits', () => {
  it('reads a grade however it is written', () => {
    expect(strengthOf('Grade 5', 10)).toEqual(strengthOf('grade-5', 10));
    expect(strengthOf('SAE grade 8', 10)?.name).toBe('grade-8');
  });

  it.each([
    ['9.8', 18],
    ['8.8', 45],
    ['grade-5', 50],
    ['11.9', 10],
    ['A9-70', 10],
    ['', 10],
    ['8.8', 0],
    ['constructor', 10],
    ['grade-9', 10],
  ])('has no %j at %i mm', (name, diameter) => {
    expect(strengthOf(name, diameter)).toBeUndefined();
  });

  it('knows every name that it lists', () => {
    for (const name of strengthNames()) expect(strengthOf(name, 10), name).toBeDefined();
  });

  it('says what it takes for proof where no proof is stated', () => {
    const found = there(strengthFromTensile(1500));
    expect(found.proof).toBe(1500 * PROOF_SHARE_OF_TENSILE);
    expect(found.assumed).toContain('75 %');
    expect(there(strengthOf('A2-70', 8)).assumed).toContain('0.2 %');
    expect(strengthFromTensile(0)).toBeUndefined();
  });
});
