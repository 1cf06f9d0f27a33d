// Places of parts in sums: which shell goes with which journal, inlet and exhaust, named groups, all places of one reference.
import { describe, expect, test } from 'vitest';
import { pairedPlaces } from '../../server/model/feature-places.ts';
import { rowsOf } from './brindle-four.ts';

describe('pairing by number', () => {
  test('equal counts by number, a multiple evenly, otherwise not', () => {
    expect(pairedPlaces({ index: 3, of: 5 }, 5)).toEqual([3]);
    expect(pairedPlaces({ index: 2, of: 4 }, 8)).toEqual([3, 4]);
    expect(pairedPlaces({ index: 5, of: 6 }, 3)).toEqual([3]);
    expect(pairedPlaces({ index: 1, of: 1 }, 4)).toEqual([1, 2, 3, 4]);
    expect(pairedPlaces({ index: 2, of: 4 }, 1)).toEqual([1]);
    expect(pairedPlaces({ index: 2, of: 4 }, 6)).toEqual([]);
  });
});

test('upper and lower shells go with the journal of their number', () => {
  const rows = rowsOf(`
part block { dimension bore x3 60.000 mm }
part shell { places upper 1..3, lower 1..3 wall 2.000 mm for upper 1..2, 2.100 mm for upper 3, 2.000 mm for lower }
part crank { dimension journal x3 55.000 mm }
limit clearance each crank.journal = block.bore - shell.wall upper - shell.wall lower - crank.journal within 0.5..1.5 mm
`);
  expect(rows.get('limit.clearance.1')).toMatchObject({ low: 1, high: 1 });
  expect(rows.get('limit.clearance.2')).toMatchObject({ low: 1, high: 1 });
  expect(rows.get('limit.clearance.3')).toMatchObject({ low: 0.9, high: 0.9 });
});

test('where the shells of one journal differ, twice the wall is one of each', () => {
  const rows = rowsOf(`
part block { dimension bore x2 60.000 mm }
part shell { places upper 1..2, lower 1..2 wall 2.000 mm for upper, 2.010 mm for lower }
part crank { dimension journal x2 55.000 mm }
limit clearance each crank.journal = block.bore - 2 * shell.wall - crank.journal within 0.5..1.5 mm
`);
  // 60 less 2.000 and 2.010 less 55.
  expect(rows.get('limit.clearance')?.low).toBeCloseTo(0.99, 9);
  expect(rows.get('limit.clearance')?.high).toBeCloseTo(0.99, 9);
});

describe('inlet and exhaust', () => {
  const text = (within: string): string => `
part head { dimension guide x8 8.000..8.010 mm }
part valve { places inlet 1..4, exhaust 1..4 dimension stem 7.970..7.980 mm for inlet, 7.950..7.960 mm for exhaust }
limit stem-play each valve = head.guide - valve.stem within ${within}
`;

  test('one result for each of the two, held against its own bounds', () => {
    const rows = rowsOf(text('0.020..0.040 mm for inlet, 0.040..0.060 mm for exhaust'));
    expect([...rows.keys()]).toEqual(['limit.stem-play.inlet', 'limit.stem-play.exhaust']);
    expect(rows.get('limit.stem-play.inlet')).toMatchObject({ low: 0.02, high: 0.04, verdict: 'inside' });
    expect(rows.get('limit.stem-play.exhaust')).toMatchObject({ low: 0.04, high: 0.06, verdict: 'inside' });
  });

  test('the other bounds are not met', () => {
    const rows = rowsOf(text('0.041..0.060 mm for inlet, 0.050..0.060 mm for exhaust'));
    expect(rows.get('limit.stem-play.inlet')?.verdict).toBe('outside');
    expect(rows.get('limit.stem-play.exhaust')?.verdict).toBe('select');
  });
});

test('one reference alone in min, max and spread is all of its places', () => {
  const rows = rowsOf(`
part block { dimension bore x3 1: 80.00 mm, 2: 80.02 mm, 3: 80.05 mm }
limit most = max(block.bore) within 79..81 mm
limit apart = spread(block.bore) within at-most 0.10 mm
`);
  expect(rows.get('limit.most')?.nominal).toBeCloseTo(80.05, 9);
  expect(rows.get('limit.apart')?.nominal).toBeCloseTo(0.05, 9);
});

test('bounds of another kind than the sum are not held against it', () => {
  const rows = rowsOf(`
part block { dimension bore 80.00 mm }
limit bore-size = block.bore within 10..20 N.m
`);
  expect(rows.get('limit.bore-size')?.nominal).toBe(80);
  expect(rows.get('limit.bore-size')?.verdict).toBeUndefined();
});

describe('timing of one camshaft of two', () => {
  test('its own duration and centre, nothing of the other', () => {
    const rows = rowsOf(`
part inlet-camshaft
valve-timing inlet-grind on inlet-camshaft { inlet opens 14 deg btdc closes 54 deg abdc }
`);
    // 14 + 180 + 54 = 248; (−14 + 234) / 2 = 110.
    expect([...rows.values()].map((row) => [row.name, row.nominal])).toEqual([
      ['valve-timing.inlet-grind.inlet-duration', 248],
      ['valve-timing.inlet-grind.inlet-centre', 110],
    ]);
  });

  test('exhaust alone', () => {
    const rows = rowsOf(`
part exhaust-camshaft
valve-timing exhaust-grind on exhaust-camshaft { exhaust opens 56 deg bbdc closes 12 deg atdc }
`);
    // 56 + 180 + 12 = 248; −(−236 + 12) / 2 = 112.
    expect([...rows.values()].map((row) => [row.name, row.nominal])).toEqual([
      ['valve-timing.exhaust-grind.exhaust-duration', 248],
      ['valve-timing.exhaust-grind.exhaust-centre', 112],
    ]);
  });
});

test('plain idlers on a belt do not hide what it drives', () => {
  const rows = rowsOf(`
part crankshaft
part camshaft
part pulley { teeth 22 fixed-to crankshaft }
part cam-pulley { teeth 44 fixed-to camshaft }
part idler
part belt { teeth 120 pitch 8 mm }
drive cam-drive { belt belt over pulley, idler on-back, cam-pulley ratio crankshaft to camshaft 2:1 }
`);
  expect(rows.get('drive.cam-drive.ratio')?.nominal).toBe(2);
  // 720 / 44.
  expect(rows.get('drive.cam-drive.one-tooth')?.nominal).toBeCloseTo(16.3636, 4);
});
