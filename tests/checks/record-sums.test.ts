// What a record makes of sums: repair sizes by place, limits that rest on measured ones, grades by place. By hand beside each.
import { describe, expect, test } from 'vitest';
import { recordValues } from '../../server/features/record-values.ts';
import { analyseText } from '../annotated.ts';

const SPEC = `spec example {
  revision 1
  source sheet "Brindle sheet"
  per sheet
}
part block {
  dimension main-bore x3 60.000..60.010 mm
}
part crankshaft {
  dimension main-journal x3 55.970..55.980 mm
  size under-25 undersize 0.25 mm { dimension main-journal 55.720..55.730 mm }
}
part main-shell {
  places upper 1..3, lower 1..3
  wall 2.000..2.002 mm
  size under-25 undersize 0.25 mm { wall 2.125..2.127 mm }
}
limit oil-clearance each crankshaft.main-journal
  = block.main-bore - 2 * main-shell.wall - crankshaft.main-journal
  measured
  within 0.010..0.060 mm
part rod x4
limit rod-mass each rod
  measured
  within 640..660 g
limit rod-spread
  = spread(rod-mass)
  within at-most 8 g
limit rod-mean
  = mean(rod-mass)
  within 645..655 g
`;
const analysed = (record: string) =>
  analyseText(
    `${SPEC}record one of example revision 1 {\n${record}\n  allow record/outstanding because "Cut short."\n}\n`,
  );
const outside = (record: string): readonly string[] =>
  analysed(record)
    .findings.filter((finding) => finding.code === 'record/outside')
    .map((finding) => finding.message);

describe('repair sizes by place', () => {
  // Standard: 60.000 − 4.004 − 55.980 = 0.016 to 60.010 − 4.000 − 55.970 = 0.040. Both under-25 leave that as it is.
  test('what goes together', () => {
    expect(outside('  fitted crankshaft size under-25\n  fitted main-shell size under-25')).toEqual([]);
  });

  test('one place that is measured says nothing of the others', () => {
    // The shells alone, thicker by 0.250: from 0.016..0.040 to -0.234..-0.210. Only place 1 is measured, and good.
    const some = outside('  fitted main-shell size under-25\n  measured oil-clearance 1: 0.030 mm');
    expect(some).toHaveLength(1);
    expect(some[0]).toContain('-0.234..-0.210');
    expect(some[0]).toContain('2');
    const all = '  fitted main-shell size under-25\n  measured oil-clearance 1: 0.030 mm, 2: 0.031 mm, 3: 0.032 mm';
    expect(outside(all)).toEqual([]);
  });

  test.each([
    // A shaft 0.25 smaller leaves 0.266 to 0.290.
    ['the shaft alone', '  fitted crankshaft size under-25\n  fitted main-shell "lot 7"', '0.266..0.290'],
    // Two shells 0.125 thicker: 0.250 less.
    ['the shells alone', '  fitted main-shell size under-25', '-0.234..-0.210'],
    // One shell 0.125 thicker: 0.125 less.
    ['the upper shells alone', '  fitted main-shell upper size under-25', '-0.109..-0.085'],
    ['one shell', '  fitted main-shell lower 2 size under-25', '-0.109..-0.085 mm at 2'],
    [
      'the shaft with the upper shells',
      '  fitted crankshaft size under-25\n  fitted main-shell upper size under-25',
      '0.141..0.165',
    ],
  ])('%s', (_, record, range) => {
    expect(outside(record)).toEqual([expect.stringContaining(range)]);
  });

  test('one place measured silences no other, nor itself', () => {
    const record = '  fitted main-shell size under-25\n  measured oil-clearance 1: 0.030 mm';
    expect(outside(record)).toEqual([expect.stringContaining('measured otherwise')]);
  });

  test('what was measured outside is said once', () => {
    const record = '  fitted main-shell size under-25\n  measured oil-clearance 1: -0.22 mm, 2: 0.03 mm, 3: 0.03 mm';
    expect(outside(record)).toHaveLength(1);
  });
});

describe('limits that rest on measured ones', () => {
  const masses = (third: string): string => `  measured rod-mass 1: 648 g, 2: 650 g, 3: ${third}, 4: 649 g`;
  // 654 − 648 = 6; 659 − 648 = 11. Mean (648 + 650 + 654 + 649) / 4 = 650.25.
  test('come out, inside and outside', () => {
    expect(outside(masses('654 g'))).toEqual([]);
    expect(outside(masses('659 g'))).toEqual([expect.stringContaining('rod-spread comes out at 11 g')]);
    const analysis = analysed(masses('654 g'));
    const view = analysis.views[0];
    const rows = new Map((view === undefined ? [] : recordValues(analysis, view)).map((row) => [row.name, row]));
    expect(rows.get('record.one.limit.rod-spread')).toMatchObject({ nominal: 6, unit: 'g', verdict: 'inside' });
    expect(rows.get('record.one.limit.rod-mean')?.nominal).toBeCloseTo(650.25, 9);
  });

  test('stand at the value that lies furthest off', () => {
    const found = analysed(masses('659 g')).findings.find((finding) => finding.code === 'record/outside');
    const text = `${SPEC}record one of example revision 1 {\n${masses('659 g')}`;
    expect(text.slice(found?.start, found?.end)).toBe('659 g');
  });

  test('wait while a place is not measured, and are silent where one is wrong itself', () => {
    expect(outside('  measured rod-mass 1: 640 g, 2: 659 g')).toEqual([]);
    expect(outside(masses('700 g'))).toHaveLength(1);
  });

  test('of two measurements the later counts', () => {
    expect(outside(`${masses('659 g')} on 2026-02-01\n  measured rod-mass 3: 652 g on 2026-02-03`)).toEqual([]);
  });
});

describe('grades by place', () => {
  const gaskets = `part head-gasket {
  places front, rear
}
part piston x4
limit protrusion each piston
  kind protrusion
  measured
  within 0.20..0.50 mm
grades head-gasket by protrusion {
  one-notch 0.20..0.35 mm
  two-notch 0.35..0.50 mm
}
`;
  const wrong = (fitted: string): number =>
    analyseText(
      `${SPEC}${gaskets}record one of example revision 1 {\n  allow record/outstanding because "Cut short."\n${fitted}\n  measured protrusion 1: 0.45 mm, 2: 0.30 mm, 3: 0.30 mm, 4: 0.31 mm\n}\n`,
    ).findings.filter((finding) => finding.code === 'record/wrong-grade').length;
  // Cylinders 1 and 2 lie under the front gasket, 3 and 4 under the rear one; the proudest of each chooses.
  test.each([
    ['front', 'one-notch', 1],
    ['front', 'two-notch', 0],
    ['rear', 'one-notch', 0],
    ['rear', 'two-notch', 1],
  ])('%s %s', (place, grade, found) => {
    expect(wrong(`  fitted head-gasket ${place} grade ${grade}`)).toBe(found);
  });
});

describe('temperatures', () => {
  const spec = `spec warm {
  revision 1
  source sheet "Brindle sheet"
  per sheet
}
part oil {
  figure cold 20 degC
}
limit rise
  measured
  within 5..10 K
  wear-limit 14 K
limit at-ease
  measured
  within 80 ±4 degC
limit after
  = oil.cold + rise
  within 24..31 degC
limit above
  = at-ease - oil.cold
  within 100..120 degF
`;
  const outcome = (measured: string) => {
    const analysis = analyseText(
      `${spec}record one of warm revision 1 {\n${measured}\n  allow record/outstanding because "Cut short."\n}\n`,
    );
    const view = analysis.views[0];
    const rows = view === undefined ? [] : recordValues(analysis, view);
    return {
      outside: analysis.findings.filter(({ code }) => code.startsWith('record/')).map(({ message }) => message),
      values: Object.fromEntries(rows.map((row) => [row.name.replace('record.one.limit.', ''), row.nominal])),
    };
  };
  // 9 degF of rise are 5 K, 25 degC in the end; 178 degF are (178 - 32) / 1.8 = 81.11 degC, 61.11 K above 20 degC, 110 degF of difference.
  test('a rise in degF against bounds in kelvin is a difference', () => {
    const { outside: said, values } = outcome('  measured rise 9 degF\n  measured at-ease 178 degF');
    expect(said).toEqual([]);
    expect(values['after']).toBeCloseTo(20 + 9 / 1.8, 9);
    expect(values['above']).toBeCloseTo(((178 - 32) / 1.8 - 20) * 1.8, 9);
  });

  // 354 K are 80.85 degC: 60.85 K above 20 degC, 109.53 degF.
  test('kelvin against bounds in degC is a temperature', () => {
    const { outside: said, values } = outcome('  measured rise 7 degC\n  measured at-ease 354 K');
    expect(said).toEqual([]);
    expect(values['after']).toBeCloseTo(27, 9);
    expect(values['above']).toBeCloseTo((354 - 273.15 - 20) * 1.8, 9);
  });

  test('too much of it is told as it is', () => {
    expect(outcome('  measured rise 27 degF').outside).toEqual([
      expect.stringContaining('rise was measured as 27 degF. It must lie within 5..10 K. It is 5 K too large'),
    ]);
  });
});

describe('a limit that is a size of a part by itself', () => {
  const spec = `spec example {
  revision 1
  source sheet "Brindle sheet"
  per sheet
}
part crankshaft {
  dimension main-journal x3 55.970..55.980 mm
  size under-25 undersize 0.25 mm { dimension main-journal 55.720..55.730 mm }
}
limit journal each crankshaft.main-journal
  = crankshaft.main-journal
  measured
  within 55.970..55.980 mm
record one of example revision 1 {
  fitted crankshaft size under-25
  measured journal 1: 55.722 mm, 2: 55.728 mm, 3: 55.726 mm
  allow record/outstanding because "Cut short."
}
`;
  test('moves with the repair size that went in', () => {
    expect(analyseText(spec).findings.filter(({ code }) => code === 'record/outside')).toEqual([]);
  });
});

describe('sizes that grades bring, place by place', () => {
  const spec = `spec example {
  revision 1
  source sheet "Brindle sheet"
  per sheet
}
part lifter x4
part shim x4
limit depth each lifter
  measured
  within 2.00..2.10 mm
grades shim by depth {
  thin 2.00..2.05 mm with thickness 3.00 mm
  thick 2.05..2.10 mm with thickness 3.05 mm
}
limit play each lifter
  = depth - shim.thickness + 1 mm
  within 0.01..0.06 mm
`;
  const found = (fitted: string) => {
    const analysis = analyseText(
      `${spec}record one of example revision 1 {\n${fitted}\n  measured depth 1: 2.03 mm, 2: 2.07 mm, 3: 2.02 mm, 4: 2.09 mm\n  allow record/outstanding because "Cut short."\n}\n`,
    );
    const view = analysis.views[0];
    const rows = view === undefined ? [] : recordValues(analysis, view);
    return {
      codes: analysis.findings.map(({ code }) => code).filter((code) => code.startsWith('record/')),
      play: rows.filter(({ name }) => name.includes('.play')).map(({ nominal }) => Number((nominal ?? 0).toFixed(6))),
    };
  };
  // 2.03 - 3.00 + 1 = 0.03; 2.07 - 3.05 + 1 = 0.02; 2.02 - 3.00 + 1 = 0.02; 2.09 - 3.05 + 1 = 0.04.
  test('by what was measured', () => {
    expect(found('')).toEqual({ codes: [], play: [0.03, 0.02, 0.02, 0.04] });
  });

  // Thin where 2.07 was measured: 0.07; thick where 2.02 was: -0.03. Each is told, though the other at its side is right.
  test('by what went in', () => {
    const { codes, play } = found('  fitted shim 1, 2 grade thin\n  fitted shim 3, 4 grade thick');
    expect(play).toEqual([0.03, 0.07, -0.03, 0.04]);
    expect(codes.filter((code) => code === 'record/wrong-grade')).toHaveLength(2);
  });
});
