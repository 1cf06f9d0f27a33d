// What the names of parts tell: which hold coolant, and which hold the water that a boat floats on. Common practice, no source.
import { expect, test } from 'vitest';
import { holdsCoolant } from '../../server/features/comes-with.ts';

test.each(['water-pump', 'left-water-pump', 'water-outlet', 'thermostat-housing', 'heat-exchanger', 'cylinder-head'])(
  '%s holds coolant',
  (name) => {
    expect(holdsCoolant(name)).toBe(true);
  },
);

test.each(['raw-water-pump', 'raw-water-gasket', 'sea-water-pump', 'sump', 'oil-pump'])('%s holds none', (name) => {
  expect(holdsCoolant(name)).toBe(false);
});
