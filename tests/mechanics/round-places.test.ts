// Bolts on a circle and angles between gaps. Chords of a bolt circle of 1: Machinery's Handbook prints 0.86603 for three holes, 0.70711 for
// four, 0.58779 for five, 0.50000 for six, 0.38268 for eight, 0.30902 for ten (from memory).
import { expect, it } from 'vitest';
import { pointAt } from '../../server/mechanics/loop-path.ts';
import { angleBetween, boltChord, boltCircle, roundInRows, thrustSide } from '../../server/mechanics/round-places.ts';
import { there } from './numbers.ts';

it.each([
  [3, '0.86603'],
  [4, '0.70711'],
  [5, '0.58779'],
  [6, '0.50000'],
  [8, '0.38268'],
  [10, '0.30902'],
])('%i bolts: neighbours are %s of the diameter apart', (count, chord) => {
  expect(there(boltChord(count, 1)).toFixed(5)).toBe(chord);
  const [first, second] = boltCircle(count, 17).map((at) => pointAt({ x: 2, y: 3 }, 0.5, at));
  expect(Math.hypot(there(first).x - there(second).x, there(first).y - there(second).y).toFixed(5)).toBe(chord);
});

it('rows of a wheel lie on its circle, clockwise from the top', () => {
  const six = there(roundInRows([2, 2, 2]));
  expect(six.firstAt).toBe(30);
  expect(six.places).toEqual([
    { row: 0, at: 1 },
    { row: 1, at: 1 },
    { row: 2, at: 1 },
    { row: 2, at: 0 },
    { row: 1, at: 0 },
    { row: 0, at: 0 },
  ]);
  expect(there(roundInRows([1, 2, 2])).firstAt).toBe(0);
  expect(there(roundInRows([1, 2, 1])).places.map(({ row }) => row)).toEqual([0, 1, 2, 1]);
  expect(roundInRows([5, 5])).toBeUndefined();
  expect(roundInRows([2, 1, 2])).toBeUndefined();
  expect(roundInRows([2])).toBeUndefined();
});

it('the angle between two gaps is the smaller one', () => {
  expect(angleBetween(45, 225)).toBe(180);
  expect(angleBetween(350, 20)).toBe(30);
  expect(angleBetween(20, 350)).toBe(30);
  expect(angleBetween(-45, 675)).toBe(0);
});

it('an engine that turns clockwise presses its pistons to the left', () => {
  expect(thrustSide('clockwise')).toBe('left');
  expect(thrustSide('anticlockwise')).toBe('right');
});
