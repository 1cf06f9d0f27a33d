// Firing orders against the reference values, section 10, and cranks made at random.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Crankpin,
  evenFiringAngles,
  type FiringQuestion,
  type FiringVerdict,
  judgeFiring,
  numberFaults,
  reversedOrder,
  sameOrder,
} from '../../server/mechanics/firing-order.ts';
import { there } from './numbers.ts';

const pin = (angle: number, ...cylinders: number[]): Crankpin => ({ angle, cylinders });
const order = (text: string): number[] => text.split('-').map(Number);
const four: readonly Crankpin[] = [pin(0, 1, 4), pin(180, 2, 3)];
const six: readonly Crankpin[] = [pin(0, 1, 6), pin(120, 2, 5), pin(240, 3, 4)];
const crossPlane: readonly Crankpin[] = [pin(0, 1, 2), pin(270, 3, 4), pin(90, 5, 6), pin(180, 7, 8)];
const inline = (crankpins: readonly Crankpin[], text: string): FiringQuestion => ({
  cylinders: order(text).length,
  layout: { kind: 'inline' },
  cycle: 720,
  crankpins,
  order: order(text),
});
const vee = (
  angle: number,
  crankpins: readonly Crankpin[],
  text: string,
  leftBank?: readonly number[],
): FiringQuestion => ({
  ...inline(crankpins, text),
  layout: { kind: 'vee', angle },
  leftBank,
});
const fits = (question: FiringQuestion): Extract<FiringVerdict, { verdict: 'fits' }> => {
  const found = there(judgeFiring(question));
  if (found.verdict !== 'fits') throw new Error(`does not fit: ${JSON.stringify(found.wrong)}`);
  return found;
};
const wrong = (question: FiringQuestion): readonly number[] => {
  const found = there(judgeFiring(question));
  return found.verdict === 'fits' ? [] : found.wrong.map((piston) => piston.cylinder);
};

describe('published orders (section 10)', () => {
  it.each<[string, FiringQuestion]>([
    ['I4 1-3-4-2 (read in three manuals)', inline(four, '1-3-4-2')],
    ['I4 1-2-4-3 (from memory)', inline(four, '1-2-4-3')],
    ['I6 1-5-3-6-2-4 (textbook, read)', inline(six, '1-5-3-6-2-4')],
    ['V8 1-8-4-3-6-5-7-2 (textbook, read)', vee(90, crossPlane, '1-8-4-3-6-5-7-2', [1, 3, 5, 7])],
    ['the same, banks unsaid', vee(90, crossPlane, '1-8-4-3-6-5-7-2')],
    ['V8 1-8-7-2-6-5-4-3 (from memory)', vee(90, crossPlane, '1-8-7-2-6-5-4-3', [1, 3, 5, 7])],
    [
      'V8 1-5-4-2-6-3-7-8, banks 1-4 and 5-8 (from memory)',
      vee(90, [pin(0, 1, 5), pin(270, 2, 6), pin(90, 3, 7), pin(180, 4, 8)], '1-5-4-2-6-3-7-8', [1, 2, 3, 4]),
    ],
    [
      'V8 1-3-7-2-6-5-4-8, banks 1-4 and 5-8 (from memory)',
      vee(90, [pin(0, 1, 5), pin(270, 2, 6), pin(90, 3, 7), pin(180, 4, 8)], '1-3-7-2-6-5-4-8', [1, 2, 3, 4]),
    ],
    [
      'flat four 1-3-2-4 (from memory), opposed pistons on pins half a turn apart',
      { ...inline([pin(0, 1), pin(180, 2), pin(180, 3), pin(0, 4)], '1-3-2-4'), layout: { kind: 'flat' } },
    ],
  ])('%s fires evenly', (_source, question) => {
    const found = fits(question);
    const even = 720 / question.cylinders;
    expect(found.even).toBe(true);
    expect(found.intervals.map((interval) => Math.round(interval))).toEqual(question.order.map(() => even));
    expect(found.firingAngles).toEqual(evenFiringAngles(question.order, 720));
  });

  it('V6 at 90 degrees 1-6-5-4-3-2 (textbook, read) is even on pins split by 30 degrees and uneven on shared ones', () => {
    const shared = [pin(0, 1, 2), pin(240, 3, 4), pin(120, 5, 6)];
    const uneven = fits(vee(90, shared, '1-6-5-4-3-2', [1, 3, 5]));
    expect(uneven.even).toBe(false);
    expect([...uneven.intervals].sort((first, second) => first - second)).toEqual([90, 90, 90, 150, 150, 150]);
    const split = [pin(0, 1), pin(30, 2), pin(240, 3), pin(270, 4), pin(120, 5), pin(150, 6)];
    expect(fits(vee(90, split, '1-6-5-4-3-2', [1, 3, 5])).even).toBe(true);
  });

  it('the corrupted V8 order 1-8-4-3-5-6-7-2 does not fit: 5 and 6 are not where it needs them', () => {
    expect(wrong(vee(90, crossPlane, '1-8-4-3-5-6-7-2', [1, 3, 5, 7]))).toEqual([5, 6]);
  });

  it.each(['1-2-3-4', '1-4-2-3', '1-4-3-2', '1-3-2-4'])('I4 %s does not fit its crank', (text) => {
    expect(wrong(inline(four, text)).length).toBeGreaterThanOrEqual(2);
  });
});

describe('radials (9 read in FAA-H-8083-32 by two source files; 14 and 18 from memory, regenerated; 5 and 7 computed)', () => {
  const fourteen = '1-10-5-14-9-4-13-8-3-12-7-2-11-6';
  const eighteen = '1-12-5-16-9-2-13-6-17-10-3-14-7-18-11-4-15-8';
  const radial = (text: string, crankpins: readonly Crankpin[] = []): FiringQuestion => ({
    ...inline(crankpins, text),
    layout: { kind: 'radial' },
  });

  it.each(['1-3-2', '1-3-5-2-4', '1-3-5-7-2-4-6', '1-3-5-7-9-2-4-6-8', fourteen, eighteen])('%s', (text) => {
    const found = fits(radial(text));
    expect(found.even).toBe(true);
    for (const interval of found.intervals) expect(interval).toBeCloseTo(720 / order(text).length, 6);
  });

  it.each([
    ['+9 or -5', fourteen, 9, 5],
    ['+11 or -7', eighteen, 11, 7],
  ])('two rows follow the rule of %s', (_rule, text, up, down) => {
    const cylinders = order(text).length;
    order(text)
      .slice(1)
      .forEach((cylinder, at) => {
        const before = order(text)[at] ?? 0;
        expect([before + up, before - down]).toContain(cylinder);
        expect(cylinder <= cylinders && cylinder >= 1).toBe(true);
      });
  });

  it('takes a radial in numbered order as wrong, and 80 degrees apart as right for nine', () => {
    expect(wrong(radial('1-2-3-4-5-6-7-8-9')).length).toBeGreaterThan(0);
    expect(Math.round(fits(radial('1-3-5-7-9-2-4-6-8')).intervals[0] ?? 0)).toBe(80);
  });

  it('reverses with the rotation: 1-8-6-4-2-9-7-5-3', () => {
    expect(reversedOrder(order('1-3-5-7-9-2-4-6-8'))).toEqual(order('1-8-6-4-2-9-7-5-3'));
    expect(fits(radial('1-8-6-4-2-9-7-5-3')).even).toBe(true);
  });

  it('fits with its two pins written out', () => {
    const odd = Array.from({ length: 7 }, (_, at) => 2 * at + 1);
    expect(
      fits(
        radial(fourteen, [
          { angle: 0, cylinders: odd },
          { angle: 180, cylinders: odd.map((number) => number + 1) },
        ]),
      ).even,
    ).toBe(true);
  });
});

describe('other engines', () => {
  it.each<[string, FiringQuestion, number[]]>([
    ['parallel twin, pins together', inline([pin(0, 1, 2)], '1-2'), [360, 360]],
    ['parallel twin, pins apart', inline([pin(0, 1), pin(180, 2)], '1-2'), [180, 540]],
    ['vee twin at 45 degrees on one pin', vee(45, [pin(0, 1, 2)], '1-2', [1]), [315, 405]],
    ['boxer twin', { ...inline([pin(0, 1), pin(180, 2)], '1-2'), layout: { kind: 'flat' } }, [360, 360]],
    ['in-line three', inline([pin(0, 1), pin(240, 2), pin(120, 3)], '1-2-3'), [240, 240, 240]],
    [
      'cross-plane in-line four',
      inline([pin(0, 1), pin(270, 2), pin(90, 3), pin(180, 4)], '1-3-2-4'),
      [90, 180, 180, 270],
    ],
    ['single', inline([], '1'), [720]],
    ['two-stroke three', { ...inline([pin(0, 1), pin(240, 2), pin(120, 3)], '1-2-3'), cycle: 360 }, [120, 120, 120]],
    ['two-stroke twin', { ...inline([pin(0, 1), pin(180, 2)], '1-2'), cycle: 360 }, [180, 180]],
    [
      'two-stroke vee four firing in pairs',
      { ...vee(90, [pin(0, 1, 2), pin(180, 3, 4)], '1-2-3-4', [1, 3]), cycle: 360 },
      [90, 90, 90, 90],
    ],
  ])('%s', (_name, question, intervals) => {
    expect([...fits(question).intervals].map(Math.round).sort((first, second) => first - second)).toEqual(intervals);
  });

  it('names the pair that cannot follow on a crank that fires unevenly, in the sense that gets furthest', () => {
    // Counted the other way the tops are at 0, 310, 190 and 160: 1, 3, 2 follow one another, and 4 is over before 2.
    const crank = [pin(0, 1), pin(50, 2), pin(170, 3), pin(200, 4)];
    const found = there(judgeFiring({ ...inline(crank, '1-3-2-4'), cycle: 360 }));
    expect(found.verdict === 'conflict' && found.wrong.map((piston) => piston.cylinder)).toEqual([2, 4]);
    expect(found.verdict === 'conflict' && found.wrong.map((piston) => piston.needed)).toEqual([undefined, undefined]);
  });

  it('has no verdict without an order, pins or with a cylinder on two pins', () => {
    expect(judgeFiring(inline(four, '1-3-3-2'))).toBeUndefined();
    expect(judgeFiring(inline([], '1-3-4-2'))).toBeUndefined();
    expect(judgeFiring(inline([pin(0, 1, 4), pin(180, 2, 3, 4)], '1-3-4-2'))).toBeUndefined();
    expect(judgeFiring(inline([pin(0, 1, 4), pin(180, 2)], '1-3-4-2'))).toBeUndefined();
  });
});

describe('numbers of an order', () => {
  it('says what is missing, twice and beyond', () => {
    expect(numberFaults([1, 3, 3, 7], 4)).toEqual({ missing: [2, 4], twice: [3], beyond: [7] });
    expect(numberFaults([1, 2, 0, 1.5], 2)).toEqual({ missing: [], twice: [], beyond: [0, 1.5] });
  });

  it('takes a rotation as the same order', () => {
    expect(sameOrder(order('1-3-4-2'), order('4-2-1-3'))).toBe(true);
    expect(sameOrder(order('1-3-4-2'), order('1-2-4-3'))).toBe(false);
    expect(sameOrder(order('1-3-4-2'), order('5-6-7-8'))).toBe(false);
  });
});

describe('cranks made from an order', () => {
  const shuffled = (count: number) =>
    fc.shuffledSubarray(
      Array.from({ length: count }, (_, at) => at + 1),
      { minLength: count, maxLength: count },
    );
  const orders = fc
    .integer({ min: 3, max: 12 })
    .chain(shuffled)
    .map((numbers) => [1, ...numbers.filter((number) => number !== 1)]);
  /** The crank on which the order fires evenly: in line, a pin at the firing angle backward. */
  const crankOf = (numbers: readonly number[], cycle: 360 | 720): Crankpin[] =>
    numbers.map((cylinder, at) => pin((((-at * cycle) / numbers.length) % 360) + 360, cylinder));

  it('are accepted with their own order, in line and as a vee', () => {
    fc.assert(
      fc.property(
        orders,
        fc.constantFrom<(360 | 720)[]>(360, 720),
        fc.constantFrom(60, 75, 90),
        (numbers, cycle, angle) => {
          const crankpins = crankOf(numbers, cycle);
          const question: FiringQuestion = {
            cylinders: numbers.length,
            layout: { kind: 'inline' },
            cycle,
            crankpins,
            order: numbers,
          };
          expect(fits(question).even).toBe(true);
          const left = numbers.filter((number) => number % 2 === 1);
          const bent = crankpins.map((each) => ({
            ...each,
            angle: each.angle + (left.includes(each.cylinders[0] ?? 0) ? -angle / 2 : angle / 2),
          }));
          expect(fits({ ...question, crankpins: bent, layout: { kind: 'vee', angle }, leftBank: left }).even).toBe(
            true,
          );
        },
      ),
      { seed: 20260304, numRuns: 200 },
    );
  });

  it('refuse every swap of two that changes the intervals', () => {
    fc.assert(
      fc.property(orders, fc.nat(), fc.nat(), (numbers, a, b) => {
        const [first, second] = [1 + (a % (numbers.length - 1)), 1 + (b % (numbers.length - 1))];
        fc.pre(first !== second);
        const swapped = [...numbers];
        [swapped[first], swapped[second]] = [numbers[second] ?? 0, numbers[first] ?? 0];
        const crankpins = crankOf(numbers, 720);
        const question: FiringQuestion = {
          cylinders: numbers.length,
          layout: { kind: 'inline' },
          cycle: 720,
          crankpins,
          order: swapped,
        };
        // By hand: each piston's top, in either sense, has to be at the place of the swapped order within one turn.
        const even = [1, -1].some((sense) =>
          swapped.every((cylinder, at) => {
            const top = sense * -(crankpins.find((each) => each.cylinders.includes(cylinder))?.angle ?? 0);
            const off = (((top - (at * 720) / numbers.length) % 360) + 360) % 360;
            return Math.min(off, 360 - off) < 0.5;
          }),
        );
        expect(judgeFiring(question)?.verdict).toBe(even ? 'fits' : 'conflict');
      }),
      { seed: 20260304, numRuns: 500 },
    );
  });
});
