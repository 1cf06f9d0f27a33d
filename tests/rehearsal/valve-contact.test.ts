// How far the crankshaft is turned back so that no piston is near the top, from where the tops lie in the turn. By hand.
import { expect, test } from 'vitest';
import { degreesBack } from '../../server/rehearsal/valve-contact.ts';

test('half way between two tops', () => {
  // A four: tops every half turn.
  expect(degreesBack([0, 180], 0)).toBe(90);
  expect(degreesBack([0, 180], 10)).toBe(100);
  // A straight six: every third of a turn, so that a sixth of a turn is half way, where a quarter would be near the next top.
  expect(degreesBack([0, 120, 240], 0)).toBe(60);
  // A vee-eight with pins in four planes.
  expect(degreesBack([0, 90, 180, 270], 0)).toBe(45);
});

test('a five has no such place: its tops lie 72 degrees apart, and half of that is still near one', () => {
  expect(degreesBack([0, 72, 144, 216, 288], 0)).toBeUndefined();
});
