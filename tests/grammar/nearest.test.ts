// Names that are looked through often: brought up to a list of which some are other names, they are what they are made anew.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Among, among, nearestAmong } from '../../grammar/nearest.ts';

const PIECES = ['main', 'rod', 'cam', 'head', 'sump', 'Front', 'rear', 'bolt', 'cap', 'seal', 'shell', 'gear', 'stud'];
const name = fc
  .tuple(fc.constantFrom(...PIECES), fc.constantFrom(...PIECES), fc.integer({ min: 1, max: 40 }))
  .map(([first, second, number]) => `${first}-${second}-${number}`);
/** More than are compared one by one. */
const names = fc.array(name, { minLength: 160, maxLength: 260 });
const held = ({ words, orders, byPiece }: Among): unknown => ({ words, orders, byPiece: [...byPiece()] });

test('names of which some come and go', () => {
  fc.assert(
    fc.property(
      names,
      fc.nat(259),
      fc.nat(30),
      fc.array(name, { maxLength: 30 }),
      name,
      (before, from, gone, come, wanted) => {
        const now = before.toSpliced(Math.min(from, before.length), gone, ...come);
        const anew = among(now);
        const brought = among(now, among(before));
        expect(held(brought)).toEqual(held(anew));
        expect(nearestAmong(`${wanted}x`, brought)).toBe(nearestAmong(`${wanted}x`, anew));
      },
    ),
    { seed: 11, numRuns: 200, endOnFailure: true },
  );
});

test('the nearest of many, after one of them is called otherwise', () => {
  const before = Array.from({ length: 200 }, (_, i) => `part-${i}-of-many`);
  const now = before.with(40, 'distributor-shaft');
  expect(nearestAmong('distributor-shft', among(now, among(before)))).toBe('distributor-shaft');
  expect(nearestAmong('distributor-shft', among(before))).toBeUndefined();
});
