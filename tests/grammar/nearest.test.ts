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
const held = ({ words, made, byPiece }: Among): unknown => ({ words, made, byPiece: [...byPiece()] });

/** The same, when so many words were looked up among them that they are put in order, where they are many. */
function inOrder(names: Among): Among {
  for (let i = 0; i < 20; i += 1) nearestAmong(`word-${i}`, names);
  expect(names.made?.orders === undefined).toBe(names.beside === undefined);
  return names;
}

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
        const anew = inOrder(among(now));
        const brought = inOrder(among(now, inOrder(among(before))));
        expect(held(brought)).toEqual(held(anew));
        expect(nearestAmong(`${wanted}x`, brought)).toBe(nearestAmong(`${wanted}x`, anew));
      },
    ),
    { seed: 11, numRuns: 200, endOnFailure: true },
  );
});

test('what stands beside a word is the same before the names are put in order', () => {
  fc.assert(
    fc.property(names, name, (all, wanted) => {
      const beside = ({ beside: asked }: Among): readonly number[] =>
        [...(asked?.(wanted) ?? [])].sort((a, b) => a - b);
      const first = among(all);
      expect(beside(first)).toEqual(beside(inOrder(among(all))));
      expect(first.made?.orders).toBeUndefined();
    }),
    { seed: 12, numRuns: 200, endOnFailure: true },
  );
});

test('the nearest of many, after one of them is called otherwise', () => {
  const before = Array.from({ length: 200 }, (_, i) => `part-${i}-of-many`);
  const now = before.with(40, 'distributor-shaft');
  expect(nearestAmong('distributor-shft', among(now, among(before)))).toBe('distributor-shaft');
  expect(nearestAmong('distributor-shft', among(before))).toBeUndefined();
});
