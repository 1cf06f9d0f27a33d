// Chains, belts, gears and marked links against the reference values, section 5, and against plain step-by-step turning.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beltLength,
  centreByFormula,
  centreFor,
  chainLength,
  chainLengthByFormula,
  chordalVariation,
  linksBetweenMarks,
  loopFit,
  oddLinks,
  sprocketDiameter,
} from '../../server/mechanics/chain.ts';
import { equal, ratioOf, toNumber, toText, ZERO } from '../../server/mechanics/exact.ts';
import { type Coupling, camRing, solveDrive, speedRatio, trainRatio } from '../../server/mechanics/gears.ts';
import {
  chainReturn,
  finestStep,
  isBack,
  linksPassed,
  turnsUntilBack,
  vernierSetting,
} from '../../server/mechanics/links-return.ts';
import { there, written } from './numbers.ts';

const HALF = there(ratioOf(1, 2));
const fraction = (over: number, under: number) => there(ratioOf(over, under));

describe('sprockets (5.2, computed; equal to ISO 606 Annex A, from memory)', () => {
  const printed =
    '9 2.9238 · 10 3.2361 · 11 3.5495 · 17 5.4422 · 18 5.7588 · 19 6.0755 · 20 6.3925 · 21 6.7095 · 24 7.6613 · 34 10.8380 · 36 11.4737 · 38 12.1096 · 40 12.7455 · 42 13.3815 · 48 15.2898 · 60 19.1073';
  it.each(printed.split(' · ').map((pair) => pair.split(' ')))('%s teeth: %s pitches', (teeth, diameter) => {
    expect(there(sprocketDiameter(Number(teeth))).toFixed(4)).toBe(diameter);
  });

  it.each([
    [9.525, 18, '54.852'],
    [9.525, 36, '109.287'],
    [9.525, 19, '57.869'],
    [9.525, 38, '115.344'],
    [8, 21, '53.676'],
    [8, 42, '107.052'],
    [12.7, 20, '81.184'],
  ])('pitch %f, %i teeth: %s mm', (pitch, teeth, diameter) =>
    expect((pitch * there(sprocketDiameter(teeth))).toFixed(3)).toBe(diameter),
  );

  it.each([
    [9, '6.03'],
    [11, '4.05'],
    [17, '1.70'],
    [19, '1.36'],
    [21, '1.12'],
    [24, '0.86'],
  ])('%i teeth: speed varies by %s %%', (teeth, printedShare) => {
    expect((100 * there(chordalVariation(teeth))).toFixed(2)).toBe(printedShare);
  });
});

describe('chain length (5.3; formula from memory and read on one page, values computed)', () => {
  it.each([
    [21, 42, 12.5, '57.3937', '57.3991', 58, '12.81413'],
    [18, 36, 15, '57.5471', '57.5488', 58, '15.23057'],
    [19, 38, 14, '57.1532', '57.1557', 58, '14.43322'],
    [24, 48, 20, '76.7295', '76.7318', 76, '19.62834'],
    [17, 34, 16, '57.9575', '57.9586', 58, '16.02154'],
    [20, 40, 40, '110.2533', '110.2534', 110, '39.87294'],
    [15, 45, 30, '90.7599', '90.7615', 90, '29.61511'],
  ])('%i/%i at %f', (first, second, centre, formula, exactLength, even, evenCentre) => {
    expect(there(chainLengthByFormula(first, second, centre)).toFixed(4)).toBe(formula);
    expect(there(chainLength(first, second, centre)).toFixed(4)).toBe(exactLength);
    expect(there(centreByFormula(first, second, even)).toFixed(5)).toBe(evenCentre);
    expect(Math.abs(there(centreFor('chain', first, second, even)) - Number(evenCentre))).toBeLessThan(0.004);
    expect(there(chainLength(second, first, centre))).toBeCloseTo(there(chainLength(first, second, centre)), 9);
  });

  it('comes back to its centre distance', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 9, max: 40 }),
        fc.integer({ min: 9, max: 60 }),
        fc.integer({ min: 60, max: 160 }),
        (first, second, links) => {
          const centre = centreFor('chain', first, second, links);
          if (centre !== undefined) expect(there(chainLength(first, second, centre))).toBeCloseTo(links, 5);
          const belted = centreFor('belt', first, second, links);
          if (belted !== undefined) expect(there(beltLength(first, second, belted))).toBeCloseTo(links, 5);
        },
      ),
      { seed: 20260304, numRuns: 200 },
    );
  });

  it('has no length where wheels would overlap or have no teeth', () => {
    expect([
      chainLength(18, 36, 2),
      chainLength(0, 36, 15),
      chainLengthByFormula(18, 36, 0),
      centreByFormula(18, 36, 10),
      centreFor('chain', 18, 36, 20),
      sprocketDiameter(2),
    ]).toEqual(Array(6).fill(undefined));
  });

  it('knows spare and missing links, and odd ones', () => {
    expect(there(loopFit('chain', 18, 36, 15, 58)).spare).toBeCloseTo(0.4512, 4);
    expect(there(loopFit('chain', 18, 36, 15, 56)).spare).toBeLessThan(-1.5);
    expect([oddLinks(57), oddLinks(58)]).toEqual([true, false]);
  });
});

describe('belt length (5.4, computed)', () => {
  it.each([
    [8, 20, 40, 200, '643.247', '80.406'],
    [8, 24, 48, 250, '791.740', '98.967'],
    [9.525, 20, 40, 200, '690.355', '72.478'],
  ])('pitch %f, %i/%i at %i mm: %s mm', (pitch, first, second, centre, length, teeth) => {
    const found = there(beltLength(first, second, centre / pitch));
    expect((found * pitch).toFixed(3)).toBe(length);
    expect(found.toFixed(3)).toBe(teeth);
  });
});

describe('marked links', () => {
  it('the example drive: 56 links over 18 and 36 are back after 28 turns, that is lcm(56, 18) / 18, even already', () => {
    expect(chainReturn(56, 18, [HALF])).toBe(28);
    expect(toText(there(linksPassed({ links: 56, passedPerTurn: written('18') }, written('2'))), 0)).toBe('36');
  });

  it.each([
    [58, 18, 58],
    [57, 19, 6],
    [58, 21, 58],
    [60, 20, 6],
    [76, 24, 38],
    [114, 19, 6],
    [56, 20, 14],
  ])('%i links over %i teeth: %i turns', (links, teeth, turns) => {
    const bare = there(turnsUntilBack([{ links, passedPerTurn: fraction(teeth, 1) }], []));
    let common = links;
    while (common % teeth !== 0) common += links;
    expect(bare).toBe(common / teeth);
    expect(chainReturn(links, teeth, [HALF])).toBe(turns);
  });

  it('agrees with turning the engine turn by turn, for any drive of chains and shafts', () => {
    const small = fc.integer({ min: 8, max: 30 });
    const loop = fc.record({ links: fc.integer({ min: 20, max: 70 }), teeth: small });
    const shaft = fc.tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 6 }));
    fc.assert(
      fc.property(
        fc.array(loop, { minLength: 1, maxLength: 2 }),
        fc.array(shaft, { maxLength: 2 }),
        (loops, shafts) => {
          const answer = there(
            turnsUntilBack(
              loops.map(({ links, teeth }) => ({ links, passedPerTurn: fraction(teeth, 1) })),
              shafts.map(([n, d]) => fraction(n, d)),
            ),
          );
          const positions = loops.map(() => 0);
          let turns = 0;
          let back = false;
          while (!back) {
            turns += 1;
            loops.forEach(({ links, teeth }, at) => {
              positions[at] = ((positions[at] ?? 0) + teeth) % links;
            });
            back = positions.every((position) => position === 0) && shafts.every(([n, d]) => (n * turns) % d === 0);
          }
          expect(answer).toBe(turns);
          const exactLoops = loops.map(({ links, teeth }) => ({ links, passedPerTurn: fraction(teeth, 1) }));
          const exactShafts = shafts.map(([n, d]) => fraction(n, d));
          expect(isBack(exactLoops, exactShafts, fraction(answer, 1))).toBe(true);
          if (answer > 1) expect(isBack(exactLoops, exactShafts, fraction(answer - 1, 1))).toBe(false);
        },
      ),
      { seed: 20260304, numRuns: 200 },
    );
  });

  it('has no answer for a chain without links', () => {
    expect(turnsUntilBack([{ links: 0, passedPerTurn: written('18') }], [])).toBeUndefined();
    expect(chainReturn(56, 0, [])).toBeUndefined();
    expect(turnsUntilBack([], [HALF])).toBe(2);
  });
});

describe('links between two marks', () => {
  const drive = {
    kind: 'chain',
    first: 18,
    second: 36,
    centre: 135.4 / 9.525,
    direction: 0,
    firstMark: 180,
    secondMark: 0,
    links: 56,
  } as const;

  it('the example drive has 28 from 6 o’clock below to 12 o’clock above, on either side', () => {
    const found = there(linksBetweenMarks(drive));
    expect([Math.round(found.least), Math.round(found.most)]).toEqual([28, 28]);
  });

  it('counts on by one link for each tooth that a mark is moved, on either wheel, whichever way the drive leans', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: -3, max: 3 }),
        fc.integer({ min: -8, max: 8 }),
        (direction, first, second) => {
          const turned = {
            ...drive,
            direction,
            firstMark: 180 + direction + first * 20,
            secondMark: direction + second * 10,
          };
          const found = there(linksBetweenMarks(turned));
          expect((found.least + found.most) / 2).toBeCloseTo(28 - first + second, 6);
        },
      ),
      { seed: 20260304, numRuns: 200 },
    );
  });

  it('has both ways round add up to the whole chain', () => {
    const there1 = there(linksBetweenMarks({ ...drive, links: 58 }));
    const back = there(
      linksBetweenMarks({ ...drive, first: 36, second: 18, direction: 180, firstMark: 0, secondMark: 180, links: 58 }),
    );
    expect(there1.least + back.most).toBeCloseTo(58, 9);
    expect(there1.most - there1.least).toBeCloseTo(58 - there(chainLength(18, 36, drive.centre)), 9);
  });

  it('has no answer where a mark has no link on it, or the chain does not reach', () => {
    expect(linksBetweenMarks({ ...drive, firstMark: 0 })).toBeUndefined();
    expect(linksBetweenMarks({ ...drive, links: 54 })).toBeUndefined();
  });
});

describe('couplings with two counts of teeth', () => {
  it('24 and 28 splines step by 2.143 degrees (TM 9-2815-220-24 p. 0035-9 read; step computed)', () => {
    const step = there(finestStep(24, 28));
    expect(equal(step, fraction(1, 168))).toBe(true);
    expect(toText(step.mul(360), 3)).toBe('2.143');
  });

  it('finds the teeth that make a step', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 5, max: 60 }),
        fc.integer({ min: 5, max: 60 }),
        fc.integer({ min: 0, max: 500 }),
        (first, second, steps) => {
          const step = there(finestStep(first, second));
          const found = there(vernierSetting(first, second, step.mul(steps)));
          const made = fraction(found.firstTeeth, first).add(fraction(found.secondTeeth, second));
          expect(made.sub(step.mul(steps)).d).toBe(1n);
          expect(equal(found.reached, step.mul(steps))).toBe(true);
        },
      ),
      { seed: 20260304, numRuns: 200 },
    );
  });

  it('has no step without teeth', () => {
    expect([finestStep(0, 28), finestStep(2.5, 28), vernierSetting(24, -1, ZERO)]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
  });
});

describe('drives', () => {
  const cam: Coupling = {
    kind: 'loop',
    name: 'chain',
    wheels: [
      { shaft: 'crankshaft', teeth: 18 },
      { shaft: 'camshaft', teeth: 36 },
    ],
  };

  it('turns the camshaft at half speed, the same way (5.5)', () => {
    const { speeds, twoAnswers, notDriven } = solveDrive('crankshaft', [cam]);
    expect(equal(there(speedRatio(speeds, 'crankshaft', 'camshaft')), HALF)).toBe(true);
    expect([twoAnswers, notDriven]).toEqual([[], []]);
  });

  it('turns a wheel on the back of a belt the other way, idlers no matter', () => {
    const belt: Coupling = {
      kind: 'loop',
      name: 'belt',
      wheels: [
        { shaft: 'crankshaft', teeth: 20 },
        { shaft: 'pump', teeth: 15, outside: true },
        { shaft: 'camshaft', teeth: 40 },
      ],
    };
    const { speeds } = solveDrive('crankshaft', [belt]);
    expect(toNumber(there(speeds.get('pump')))).toBeCloseTo(-4 / 3, 12);
    expect(equal(there(speeds.get('camshaft')), HALF)).toBe(true);
    const gears: Coupling = {
      kind: 'mesh',
      name: 'gears',
      wheels: [
        { shaft: 'crankshaft', teeth: 24 },
        { shaft: 'idler', teeth: 37 },
        { shaft: 'camshaft', teeth: 48 },
      ],
    };
    expect(equal(there(solveDrive('crankshaft', [gears]).speeds.get('camshaft')), HALF)).toBe(true);
    expect(equal(there(trainRatio([24, 37, 48])), HALF)).toBe(true);
    expect(equal(there(trainRatio([24, 48])), HALF.neg())).toBe(true);
    expect(trainRatio([24])).toBeUndefined();
  });

  it('goes over stages: two of 21 to 42 and 20 to 20', () => {
    const second: Coupling = {
      kind: 'loop',
      name: 'upper',
      wheels: [
        { shaft: 'camshaft', teeth: 20 },
        { shaft: 'exhaust-camshaft', teeth: 20 },
      ],
    };
    const { speeds } = solveDrive('crankshaft', [second, cam]);
    expect(equal(there(speeds.get('exhaust-camshaft')), HALF)).toBe(true);
  });

  it('finds two ways round that disagree, once, and shafts that nothing turns', () => {
    const shortcut: Coupling = {
      kind: 'mesh',
      name: 'gears',
      wheels: [
        { shaft: 'crankshaft', teeth: 20 },
        { shaft: 'camshaft', teeth: 40 },
      ],
    };
    const lost: Coupling = {
      kind: 'loop',
      name: 'lost',
      wheels: [
        { shaft: 'pump', teeth: 10 },
        { shaft: 'fan', teeth: 10 },
      ],
    };
    const { twoAnswers, notDriven } = solveDrive('crankshaft', [cam, shortcut, lost]);
    expect(twoAnswers).toHaveLength(1);
    expect(twoAnswers[0]).toMatchObject({ shaft: 'camshaft', by: 'gears' });
    expect(toNumber(there(twoAnswers[0]).second)).toBe(-0.5);
    expect(notDriven).toEqual(['pump', 'fan']);
  });

  it('leaves out wheels without teeth', () => {
    const bare: Coupling = {
      kind: 'loop',
      name: 'bare',
      wheels: [
        { shaft: 'crankshaft', teeth: 18 },
        { shaft: 'camshaft', teeth: 0 },
      ],
    };
    expect(solveDrive('crankshaft', [bare]).notDriven).toEqual(['camshaft']);
  });

  it('radial cam rings: 4 lobes at 1/8 against, 5 at 1/10 with the crank for nine cylinders (FAA-H-8083-32 as quoted, read)', () => {
    expect(there(camRing(9, true)).lobes).toBe(4);
    expect(equal(there(camRing(9, true)).speed, fraction(-1, 8))).toBe(true);
    expect(there(camRing(9, false)).lobes).toBe(5);
    expect(equal(there(camRing(9, false)).speed, fraction(1, 10))).toBe(true);
    expect(camRing(8, true)).toBeUndefined();
  });
});
