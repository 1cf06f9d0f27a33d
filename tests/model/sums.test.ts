// Sums of limits that went wrong in ways of their own: temperatures, several places of one limit, one thing named twice, sums that come
// to nothing. Beside each figure stands how it comes out by hand.
import { describe, expect, test } from 'vitest';
import { valuesForPeople } from '../../server/features/values-people.ts';
import { rangeText } from '../../server/features/values-text.ts';
import type { ValueRow } from '../../server/model/values.ts';
import { analyseText } from '../annotated.ts';
import { rowsOf } from './brindle-four.ts';

const HEAD = `spec example {
  revision 1
  source sheet "Brindle sheet"
  per sheet
}
`;
const row = (text: string, name: string): ValueRow => {
  const found = rowsOf(HEAD + text).get(name);
  if (found === undefined) throw new Error(`no value ${name}`);
  return found;
};
const said = (text: string, code: string): readonly string[] =>
  analyseText(HEAD + text)
    .findings.filter((finding) => finding.code === code)
    .map((finding) => finding.message);

describe('temperatures', () => {
  const parts = `part thermostat {
  dimension seat 40 mm
  figure open-at 82 ±2 degC
  figure full-at 203 degF
}
`;
  test('are told in the unit that is written', () => {
    const opening = row(`${parts}limit opening\n  = thermostat.open-at\n  within 79..85 degC\n`, 'limit.opening');
    expect(opening).toMatchObject({ unit: 'degC', low: 80, nominal: 82, high: 84, within: { low: 79, high: 85 } });
    expect(opening.statistical).toMatchObject({ low: 80, high: 84 });
    expect(rangeText(opening).text).toContain('80 to 84 degC (176.0 to 183.2 degF)');
  });

  // 203 °F = 95 °C: (203 − 32) / 1.8. 95 − 84 = 11, 95 − 80 = 15; 15 K of difference are 27 °F of it.
  test('a difference is a difference, whatever the scales', () => {
    const span = row(
      `${parts}limit span\n  = thermostat.full-at - thermostat.open-at\n  within 10..16 degC\n`,
      'limit.span',
    );
    expect(span.low).toBeCloseTo(11, 9);
    expect(span.high).toBeCloseTo(15, 9);
    expect(span).toMatchObject({ verdict: 'inside', within: { low: 10, high: 16 } });
    expect(rangeText(span).text).toContain('(19.8 to 27.0 degF)');
    expect(
      row(`${parts}limit span\n  = thermostat.full-at - thermostat.open-at\n  within 18..28.8 degF\n`, 'limit.span'),
    ).toMatchObject({ verdict: 'inside' });
    expect(
      row(`${parts}limit span\n  = thermostat.full-at - thermostat.open-at\n  within 11..15 K\n`, 'limit.span').verdict,
    ).toBe('inside');
  });

  // (82 + 95) / 2 = 88.5 by the mean and by hand.
  test('the mean of two, and half of their sum', () => {
    for (const sum of [
      'mean(thermostat.open-at, thermostat.full-at)',
      '(thermostat.open-at + thermostat.full-at) / 2',
      '0.5 * (thermostat.open-at + thermostat.full-at)',
    ]) {
      const middle = row(`${parts}limit middle\n  = ${sum}\n  within 80..95 degC\n`, 'limit.middle');
      expect(middle.nominal).toBeCloseTo(88.5, 9);
      expect(middle.verdict).toBe('inside');
    }
  });

  // 3.000 in · 0.0000065 · 130 = 0.002535 in; 80.000 mm · 0.000012 · 75 = 0.072 mm.
  test('growth with heat', () => {
    const inches = '3.000 in * 0.0000065 * ((200 degF - 70 degF) / 1 degF)';
    expect(row(`limit growth\n  = ${inches}\n  within 0.002..0.003 in\n`, 'limit.growth').nominal).toBeCloseTo(
      0.002535,
      9,
    );
    const metric = '80.000 mm * 0.000012 * ((thermostat.full-at - 20 degC) / 1 degC)';
    expect(row(`${parts}limit growth\n  = ${metric}\n  within 0.07..0.08 mm\n`, 'limit.growth').nominal).toBeCloseTo(
      0.072,
      9,
    );
  });

  // 27 degC above 20 degC: a thing 20 K cooler than 82 degC is at 62.
  test('kelvin beside a temperature are a difference', () => {
    expect(
      row(`${parts}limit cool\n  = thermostat.open-at - 20 K\n  within 55..65 degC\n`, 'limit.cool').nominal,
    ).toBeCloseTo(62, 9);
  });
});

describe('places of one limit', () => {
  const liners = `part liner x6 {
  dimension flange-height 9.110..9.125 mm
}
part block {
  dimension depth x6 9.040..9.060 mm
}
limit protrusion each liner
  = liner.flange-height - block.depth
  within 0.050..0.090 mm
`;
  // Each stands 0.050 to 0.085 proud; the three apart from each other by nothing to 0.035.
  test('their spread is that of so many things', () => {
    const apart = row(`${liners}limit apart\n  = spread(protrusion 1..3)\n  within at-most 0.030 mm\n`, 'limit.apart');
    expect(apart.low).toBe(0);
    expect(apart.high).toBeCloseTo(0.035, 12);
    expect(apart.verdict).toBe('select');
    expect(apart.statistical?.high).toBeLessThan(0.03);
    expect(apart.statistical?.low).toBeGreaterThan(0);
  });

  test('all of them, the least, the greatest and the mean', () => {
    expect(row(`${liners}limit a\n  = max(protrusion)\n  within 0.05..0.09 mm\n`, 'limit.a').high).toBeCloseTo(
      0.085,
      12,
    );
    expect(row(`${liners}limit a\n  = min(protrusion)\n  within 0.05..0.09 mm\n`, 'limit.a').low).toBeCloseTo(0.05, 12);
    const mean = row(`${liners}limit a\n  = mean(protrusion)\n  within 0.05..0.09 mm\n`, 'limit.a');
    expect(mean.nominal).toBeCloseTo(0.0675, 12);
    // ± √(7.5² + 10²) / √6 µm = ± 5.10 µm about 67.5.
    expect(mean.statistical?.low).toBeCloseTo(0.0675 - 0.0125 / Math.sqrt(6), 9);
  });

  test('one of them is that one', () => {
    const uneven = `part ring x2 {
  dimension width 2.00 mm for 1, 3.00 mm for 2
}
limit width each ring
  = ring.width
  within 1..4 mm
limit other
  = width 2
  within 2..4 mm
`;
    expect(row(uneven, 'limit.other')).toMatchObject({ low: 3, high: 3 });
  });
});

// 1 − 79.960 / 80.000 = 0.05 % and 1 − 79.950 / 80.019 = 0.0862 %: with two bores it would come out from 0.04998 %.
test('one bore over and under the line', () => {
  const share = `part block {
  dimension bore x4 80.000..80.019 mm
}
part piston x4 {
  dimension skirt 79.950..79.960 mm
}
limit share
  = (block.bore - piston.skirt) / block.bore
  within 0.05..0.09 %
`;
  expect(row(share, 'limit.share')).toMatchObject({ verdict: 'inside' });
  expect(row(share, 'limit.share').low).toBeCloseTo(0.05, 12);
});

describe('mass', () => {
  test('has a kind', () => {
    const mixed = 'part piston x4 {\n  mass 412 g\n}\nlimit all\n  = piston.mass + 4 mm\n  within 400..500 g\n';
    expect(said(mixed, 'unit/wrong-kind')).toEqual([expect.stringContaining("can't be added")]);
    expect(said(mixed.replace('4 mm', '4 g'), 'unit/wrong-kind')).toEqual([]);
  });
});

describe('a sum that comes to nothing says so', () => {
  test('a divisor of nothing, and one that may be', () => {
    expect(said('limit a\n  = 1 mm / (1 mm - 1 mm)\n  within 0..1\n', 'limit/no-value')[0]).toContain('is nothing');
    const play = 'part pin {\n  dimension over 1.00..1.02 mm\n  dimension under 1.01..1.03 mm\n}\n';
    expect(said(`${play}limit a\n  = 1 mm / (pin.over - pin.under)\n  within 0..1\n`, 'limit/no-value')[0]).toContain(
      '-0.030..0.010 mm',
    );
    expect(said(`${play}limit a\n  = 1 mm / (pin.over + pin.under)\n  within 0..1\n`, 'limit/no-value')).toEqual([]);
  });

  test('an input that the engine does not say', () => {
    const engine = 'engine {\n  cylinders 4 inline\n  cycle four-stroke\n  bore 80 mm\n}\n';
    expect(said(`${engine}limit a\n  = engine.swept-volume\n  within 400..500 cc\n`, 'limit/no-value')[0]).toContain(
      'the engine has no stroke',
    );
    expect(
      said(
        `${engine.replace('80 mm', '80 mm\n  stroke 90 mm')}limit a\n  = engine.swept-volume\n  within 400..500 cc\n`,
        'limit/no-value',
      ),
    ).toEqual([]);
  });

  test('a place without a figure', () => {
    const part =
      'part block {\n  dimension bore x4 80.00 mm for 1..3\n}\npart piston x4 {\n  dimension skirt 79.95 mm\n}\n';
    expect(
      said(`${part}limit a each piston\n  = block.bore - piston.skirt\n  within 0..1 mm\n`, 'limit/no-value')[0],
    ).toContain('no figure at 4');
  });
});

describe('places behind for', () => {
  const bore = 'part block {\n  dimension bore x4 80.00..80.02 mm\n}\n';
  test.each([
    ['a dimension', 'part piston x4 {\n  dimension skirt 79.95 mm for 1, 2, 3, 79.00 mm for 5\n}\n', ['5']],
    [
      'a wear limit',
      'part piston x4 {\n  dimension skirt 79.95 mm\n    wear-limit 79.9 mm for 1..4, 79.8 mm for 6\n}\n',
      ['6'],
    ],
    [
      'a rule',
      'part rod x4 {\n  orient chamfer toward front for 1, 3\n  orient chamfer toward rear for 2, 5\n}\n',
      ['5'],
    ],
    [
      'a limit',
      `${bore}limit a each block.bore\n  measured\n  within 1.0..2.0 mm for 1..4, 1.0..3.0 mm for 5\n`,
      ['5'],
    ],
    [
      'a name',
      'part valve {\n  places inlet 1..4\n}\nlimit a each valve\n  measured\n  within 1..2 mm for intake\n',
      ['intake'],
    ],
    [
      'all right',
      `${bore}limit a each block.bore\n  measured\n  within 1.0..2.0 mm for 1..2, 1.0..3.0 mm for 3..4\n`,
      [],
    ],
  ])('%s', (_, text, places) => {
    expect(said(text, 'name/unknown').map((message) => / has no place (\S+):/.exec(message)?.[1])).toEqual(places);
  });
});

// 5°30' back is −5.5 degrees; 32°15' is 32.25.
test.each([
  ["-5°30'", -5.5],
  ["-0°30'", -0.5],
  ["32°15'", 32.25],
  ['-5 deg', -5],
])('an angle of %s', (written, degrees) => {
  expect(
    row(`part arm {\n  figure lean ${written}\n}\nlimit lean\n  = arm.lean\n  within -90..90 deg\n`, 'limit.lean')
      .nominal,
  ).toBe(degrees);
});

describe('limits that rest on themselves', () => {
  const circle = `part block {
  dimension deck 10 mm
}
limit one
  = two + block.deck
  within 9..11 mm
limit two
  = one - block.deck
  within 9..11 mm
limit three
  = three + block.deck
  within 9..11 mm
`;
  test('are told, a circle once', () => {
    expect(said(circle, 'limit/no-value')).toEqual([
      "one can't be worked out: it rests on two, and so on itself.",
      "three can't be worked out: its sum names itself.",
    ]);
  });
});

// 80.02² · π / 4 = 5029.06 mm², which stands beside a bound of 5029 and is no 5029.
test('a value is shown as finely as its bounds, and finer where it would look like one', () => {
  const area = row(
    'part block {\n  dimension bore 80.000..80.020 mm\n}\nlimit area\n  = block.bore * block.bore * pi / 4\n  within 5026..5029 mm2\n',
    'limit.area',
  );
  expect(rangeText(area).text).toContain('5026.5 to 5029.1 mm2');
  const ratio = analyseText(
    `${HEAD}part block {\n  dimension bore 80.000 mm\n}\nlimit ratio\n  = block.bore / block.bore\n  within 0.9999..1.0001\n`,
  ).views[0];
  expect(ratio && valuesForPeople(ratio, () => true, []).text).toContain('must be 0.9999 to 1.0001');
});
