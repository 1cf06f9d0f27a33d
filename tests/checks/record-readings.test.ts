// Several readings of one place under a limit for how far they differ, logs at a speed, lifts and phasers in sums.
import { expect, test } from 'vitest';
import { valuesOf } from '../../server/model/values.ts';
import { analyseText } from '../annotated.ts';

const SPEC = `spec example {
  revision 1
}

part block {
  dimension bore x2 80.000..80.020 mm
}

limit bore-round each block.bore
  kind out-of-round
  measured 4 readings
  within at-most 0.02 mm

limit oil-pressure
  measured
  within at-least 2.5 bar at 2000 rpm
`;

const outside = (lines: string): readonly string[] =>
  analyseText(`${SPEC}\nrecord r of example revision 1 {\n${lines}\n}\n`)
    .findings.filter(({ code }) => code.startsWith('record/') && code !== 'record/outstanding')
    .map(({ message }) => message.replace(/ Find out.*/, ''));

test('diameters are held against out of round by the largest less the smallest', () => {
  expect(outside('  measured bore-round 1: 80.01, 80.02, 80.02, 80.01 mm')).toEqual([]);
  // 80.04 - 80.01 = 0.03, 0.01 beyond 0.02.
  expect(outside('  measured bore-round 1: 80.01, 80.02, 80.04, 80.01 mm')).toEqual([
    'bore-round 1 was measured as 80.01, 80.02, 80.04, 80.01 mm, which differ by 0.03 mm. It must be at most 0.02 mm. It is 0.01 mm too large.',
  ]);
});

test('what was measured as a difference is one', () => {
  expect(outside('  measured bore-round 1: 0.01 mm, 2: 0.02 mm')).toEqual([]);
  expect(outside('  measured bore-round 1: 0.03 mm')).toHaveLength(1);
  expect(outside('  measured bore-round 1: 0.01, 0.03, 0.01, 0.02 mm')).toHaveLength(1);
});

test('a log is held against a limit at the speed that it says, before its readings or behind them', () => {
  for (const line of [
    'log 2026-03-09 14:10 at 2000 rpm oil-pressure 2.1 bar',
    'log 2026-03-09 14:10 oil-pressure 2.1 bar at 2000 rpm',
  ])
    expect(outside(`  ${line}`)).toEqual(['oil-pressure was read as 2.1 bar. It must be at least 2.5 bar.']);
  expect(outside('  log 2026-03-09 14:10 oil-pressure 2.1 bar at 900 rpm')).toEqual([]);
});

test('what no engine comes to is told of a pressure that has no upper bound, and of readings without a limit', () => {
  expect(outside('  measured oil-pressure 4.9 bar')).toEqual([]);
  expect(outside('  measured oil-pressure 49 bar')).toEqual([expect.stringContaining('which no engine comes to')]);
  const running = (lines: string): readonly string[] =>
    analyseText(
      `spec example {\n  revision 1\n}\n\nengine {\n  cylinders 2 inline\n  redline 2250 rpm\n}\n\nrecord r of example revision 1 {\n  log 2026-03-09 14:10 ${lines}\n}\n`,
    )
      .findings.filter(({ code }) => code === 'record/slip')
      .map(({ message }) => message);
  expect(running('oil-pressure 2.9 bar, speed 900 rpm')).toEqual([]);
  expect(running('oil-pressure 0.29 bar, speed 900 rpm')).toEqual([expect.stringContaining('hardly any')]);
  // An engine that stands has no pressure.
  expect(running('oil-pressure 0.0 bar, speed 0 rpm')).toEqual([]);
  expect(running('oil-pressure 4.2 bar, speed 2400 rpm')).toEqual([]);
  expect(running('oil-pressure 4.2 bar, speed 20000 rpm')).toEqual([expect.stringContaining('2250 rpm')]);
});

const rowsOf = (lines: string): ReadonlyMap<string, number | undefined> => {
  const [view] = analyseText(
    `part camshaft\n\nvalve-timing grind on camshaft {\n${lines}\n}\n\nlimit lift\n  = grind.valve-lift\n  within 10..11 mm\n`,
  ).views;
  return new Map((view === undefined ? [] : valuesOf(view)).map(({ name, nominal }) => [name, nominal]));
};

test('the lift at the valve is that at the lobe times the rocker ratio, whichever is said', () => {
  const inlet = '  inlet opens 2 deg atdc closes 60 deg abdc\n';
  // 7 mm at the lobe and 3:2 are 10.5 mm at the valve.
  for (const said of ['lift 7.0 mm at lobe\n  rocker-ratio 1.5:1', 'lift 7.0 mm\n  rocker-ratio 3:2']) {
    const rows = rowsOf(`${inlet}  ${said}`);
    expect(rows.get('valve-timing.grind.valve-lift')).toBeCloseTo(10.5, 9);
    expect(rows.get('limit.lift')).toBeCloseTo(10.5, 9);
  }
  const atValve = rowsOf(`${inlet}  lift 10.5 mm at valve\n  rocker-ratio 1.5`);
  expect(atValve.get('valve-timing.grind.lobe-lift')).toBeCloseTo(7, 9);
  // Nothing is said of a rocker: the lift is the valve's, and of the lobe nothing is known.
  const plain = rowsOf(`${inlet}  lift 10.2 mm`);
  expect([plain.get('valve-timing.grind.valve-lift'), plain.has('valve-timing.grind.lobe-lift')]).toEqual([
    10.2,
    false,
  ]);
});

test('a phaser that is parked late moves the events ahead at its other end', () => {
  const rows = rowsOf('  inlet opens 2 deg atdc closes 60 deg abdc\n  phaser 30 deg parked retarded');
  // (2 + 240) / 2 = 121 parked, 30 less at the other end.
  expect(rows.get('valve-timing.grind.inlet-centre')).toBeCloseTo(121, 9);
  expect(rows.get('valve-timing.grind.other-end.inlet-centre')).toBeCloseTo(91, 9);
});
