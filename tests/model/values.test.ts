// What is worked out from the language page's example. Expected figures: the language page and the page of commands, which print them;
// where a figure is only worked out here, the sum stands beside it.
import { describe, expect, test } from 'vitest';
import { valuesForPeople } from '../../server/features/values-people.ts';
import { valuesJson } from '../../server/features/values-text.ts';
import { valuesOf } from '../../server/model/values.ts';
import { analyseText } from '../annotated.ts';
import { BRINDLE_FOUR, rowsOf, wrongIn } from './brindle-four.ts';

const rows = rowsOf(BRINDLE_FOUR);
const row = (name: string): NonNullable<ReturnType<typeof rows.get>> => {
  const found = rows.get(name);
  if (found === undefined) throw new Error(`no value ${name}`);
  return found;
};

test('the example checks clean', () => {
  expect(wrongIn(BRINDLE_FOUR)).toEqual([]);
});

describe('engine', () => {
  test('compression ratio 8.84 to 9.08', () => {
    expect(row('engine.compression-ratio').low).toBeCloseTo(8.841, 3);
    expect(row('engine.compression-ratio').high).toBeCloseTo(9.079, 3);
    expect(row('engine.compression-ratio').inputs).toMatchObject({
      'block.bore': '78.400..78.418 mm',
      'engine.chamber': '41.0 ±0.5 cc',
    });
  });

  // 216.40 − 83.20 / 2 − 138.00 − 36.50 = 0.30; with the gasket 1.20 it is 1.50.
  test('deck clearance and squish are exact', () => {
    expect(row('engine.deck-clearance')).toMatchObject({ unit: 'mm', low: 0.25, nominal: 0.3, high: 0.35 });
    expect(row('engine.squish')).toMatchObject({ low: 1.45, nominal: 1.5, high: 1.55 });
  });

  // 2 · 0.0832 m · 6200 / 60 = 17.1947 m/s; 138.00 / 83.20 = 1.6587.
  test('piston speed, rod ratio, displacement', () => {
    expect(row('engine.piston-speed').nominal).toBeCloseTo(17.1947, 4);
    expect(row('engine.rod-ratio').nominal).toBeCloseTo(1.6587, 4);
    // π/4 · 7.8409² · 8.32 · 4, bore in the middle of its range.
    expect(row('engine.displacement').nominal).toBeCloseTo((Math.PI / 4) * 7.8409 ** 2 * 8.32 * 4, 6);
  });

  test('fires every 180 degrees', () => {
    expect(row('engine.firing-intervals')).toMatchObject({ unit: 'deg', values: [180, 180, 180, 180] });
  });
});

describe('limits', () => {
  test('main oil clearance 0.020 to 0.060, exact at both ends, and its statistical range', () => {
    const limit = row('limit.main-oil-clearance');
    expect(limit).toMatchObject({
      kind: 'length',
      unit: 'mm',
      low: 0.02,
      nominal: 0.04,
      high: 0.06,
      within: { low: 0.02, high: 0.06 },
      verdict: 'inside',
    });
    expect(limit.statistical?.low).toBeCloseTo(0.028, 3);
    expect(limit.statistical?.high).toBeCloseTo(0.052, 3);
  });

  // Half widths: chamber 0.5 cc, block-height 0.05 mm, bore: the ratio moves by 0.105, 0.043 and 0.001 with each alone.
  test('an engine value keeps the share of each input, so that its statistical range is narrower than the worst case', () => {
    const limit = row('limit.compression');
    expect(limit.verdict).toBe('inside');
    const half = ((limit.statistical?.high ?? 0) - (limit.statistical?.low ?? 0)) / 2;
    // Swept 401.74 cc over 50.48 cc: d(ratio) = 401.74 / 50.48² · dV; dV 0.5 of the chamber and π/4·7.8409²·0.005 = 0.2414 of the deck.
    expect(half).toBeCloseTo((401.74 / 50.48 ** 2) * Math.hypot(0.5, 0.2414), 2);
  });
});

describe('fasteners', () => {
  // 24 N·m / (0.18 · 8 mm) = 16.7 kN, K 0.16 to 0.20; 36.61 mm² · 580 MPa = 21.2 kN (ISO 898-1).
  test('preload of the cam plate bolt', () => {
    const preload = row('fastener.cam-plate-bolt.stage-1.preload');
    expect(preload.unit).toBe('kN');
    expect(preload.nominal).toBeCloseTo(16.7, 1);
    expect(preload.low).toBeCloseTo(15, 1);
    expect(preload.high).toBeCloseTo(18.75, 2);
    expect(row('fastener.cam-plate-bolt.stage-1.proof-share').nominal).toBeCloseTo(0.785, 3);
    expect(row('fastener.cam-plate-bolt.stress-area').nominal).toBeCloseTo(36.6, 1);
    expect(row('fastener.cam-plate-bolt.proof-load').nominal).toBeCloseTo(21.2, 1);
  });

  // 1.25 mm · 90 / 360.
  test('an angle stage has the stretch that it adds at most, and no preload', () => {
    expect(row('fastener.head-bolt.stage-3.stretch-at-most').nominal).toBeCloseTo(0.3125, 6);
    expect(rows.has('fastener.head-bolt.stage-3.preload')).toBe(false);
  });
});

describe('drive and valve timing', () => {
  test('links are back after 28 turns, one tooth is 20 degrees', () => {
    expect(row('drive.cam-drive.links-return')).toMatchObject({ unit: 'turn', nominal: 28 });
    expect(row('drive.cam-drive.one-tooth')).toMatchObject({ unit: 'deg', nominal: 20 });
    expect(row('drive.cam-drive.ratio').nominal).toBe(2);
    expect(row('drive.cam-drive.length').nominal).toBeCloseTo(56.01, 2);
  });

  test('durations, centres, separation and overlap', () => {
    const angles = Object.fromEntries(
      [...rows.values()]
        .filter((each) => each.name.startsWith('valve-timing.road-grind.'))
        .map((each) => [each.name.slice('valve-timing.road-grind.'.length), each.nominal]),
    );
    expect(angles).toEqual({
      'inlet-duration': 240,
      'exhaust-duration': 244,
      'inlet-centre': 108,
      'exhaust-centre': 108,
      separation: 108,
      overlap: 26,
    });
  });
});

describe('as text', () => {
  const view = analyseText(BRINDLE_FOUR).views[0];
  const all = view === undefined ? [] : valuesOf(view);

  const text = view === undefined ? '' : valuesForPeople(view, () => true, []).text;

  test('a line a bolt, in words and in both systems of units; angles after the last torque before them', () => {
    expect(text).toMatch(
      /main-oil-clearance: 0\.02\d* to 0\.06\d* mm \(0\.0008 to 0\.0024 in\); must be 0\.020 to 0\.060 mm/,
    );
    expect(text).toContain(
      'cam-plate-bolt, M8x1.25 of class 8.8, oiled: 24 N.m (18 lbf.ft) pulls 15.0 to 18.8 kN (3370 to 4220 lbf), 71 to 88 % of its proof load\n',
    );
    expect(text).toMatch(
      /head-bolt.*: 60 N\.m.* before its angle, then 90 deg and 90 deg further, past yield as meant, which stretches it/,
    );
    expect(text.split('\n').filter((line) => line.includes('main-bolt'))).toHaveLength(1);
  });

  test('what is nearest to its bound stands first', () => {
    const torqued = text.slice(text.indexOf('Bolts, nearest to their proof load first'));
    const shares = [...torqued.matchAll(/to (\d+) % of its proof load/g)].map((match) => Number(match[1]));
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((one, other) => other - one));
  });

  test('a bolt that goes on behind its last torque stands by itself; what the pulls were reckoned with is told once', () => {
    const [goesOn = '', torqued = ''] = text.split('Bolts, nearest to their proof load first');
    expect(goesOn).toMatch(/Bolts that go on behind their last torque, by an angle or to a stretch\n.*head-bolt/);
    expect(torqued).not.toContain('before its angle');
    const reckoned = /Reckoned with (.*)\./.exec(text)?.[1]?.split('; ') ?? [];
    expect(new Set(reckoned).size).toBe(reckoned.length);
    expect(reckoned).toContain('K 0.16 to 0.20 (oiled)');
  });

  test('a spec in inches shows them first, and the other system behind', () => {
    const inches = analyseText(BRINDLE_FOUR.replace(/revision \d+/, '$&\n  units inch'));
    const [first] = inches.views;
    const told = first === undefined ? '' : valuesForPeople(first, () => true, []).text;
    expect(told).toMatch(/pulls 3370 to 4220 lbf \(15\.0 to 18\.8 kN\)/);
    expect(told).toMatch(/displacement: [\d.]+(?: to [\d.]+)? in3 \(/);
  });

  test('JSON is that of the commands, without places', () => {
    const json = JSON.parse(JSON.stringify(valuesJson(all))) as {
      readonly values: readonly { readonly name: string; readonly place?: unknown }[];
    };
    const limit = json.values.find((each) => each.name === 'limit.main-oil-clearance');
    expect(limit).toMatchObject({
      kind: 'length',
      unit: 'mm',
      nominal: 0.04,
      low: 0.02,
      high: 0.06,
      verdict: 'inside',
    });
    expect(json.values.every((each) => !('place' in each))).toBe(true);
  });
});
