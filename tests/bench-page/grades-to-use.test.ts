// Which grade the bench page says is to be used: by what was measured, and by what comes out of it. The expected rows are read off the tables
// by hand; that the proudest piston chooses the gasket of all is common practice, no source.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { BenchJob } from '../../server/bench/bench-job.ts';
import { type Entries, noEntries, openLines, stepsOf } from '../../server/bench/entries.ts';
import { judge, specOf } from '../../server/bench/judge.ts';
import { benchJob } from '../../server/bench/make-job.ts';
import { readingsOf } from '../../server/bench/number-entry.ts';
import { analyseText } from '../annotated.ts';

function jobOf(text: string, job?: string, used: Readonly<Record<string, string>> = {}): BenchJob {
  const [only] = analyseText(text, used, 's.fettle').views;
  if (only === undefined) throw new Error('no view');
  const made = benchJob(only, {
    file: 's.fettle',
    use: 's.fettle',
    errors: 0,
    texts: [{ file: 's.fettle', text }],
    ...(job === undefined ? {} : { job }),
  });
  if (made === undefined) throw new Error('no job');
  return made;
}

/** Entries with values by limit and place, `piston-protrusion 1`. */
function entered(job: BenchJob, values: Readonly<Record<string, string>>): Entries {
  const measured = new Map<string, Map<string, { text: string; on: string; by: undefined; with: undefined }>>();
  for (const [key, text] of Object.entries(values)) {
    const [limit = '', place = ''] = key.split(' ');
    const own = measured.get(limit) ?? new Map();
    measured.set(limit, own.set(place, { text, on: '2026-03-04', by: undefined, with: undefined }));
  }
  return { ...noEntries(job), measured };
}

function used(text: string, values: Readonly<Record<string, string>>): readonly string[] {
  const job = jobOf(text);
  return judge(entered(job, values), job, specOf(job)).grades.map(
    ({ table, place, rows }) => `${table} ${place}: ${rows.join(' or ')}`,
  );
}

const PISTONS = `spec s "S" {
  revision 1
}
part block "Block" {
  dimension bore x3 80.700..80.718 mm
}
part piston x3 {
  dimension skirt 80.660..80.670 mm
}
limit piston-protrusion each piston
  kind protrusion
  measured
  within 0.40..0.70 mm
sequence work "Work" {
  phase inspect
  step size-up {
    measure piston-protrusion
  }
}
`;
const TABLE = `{
  thin 0.40..0.49 mm with thickness 1.30 mm
  middle 0.50..0.59 mm with thickness 1.40 mm
  thick 0.60..0.70 mm with thickness 1.50 mm
}
`;

describe('a gasket by the highest of the pistons', () => {
  const worked = `${PISTONS}grades head-gasket by highest-piston ${TABLE}limit highest-piston
  kind protrusion
  = max(piston-protrusion)
  within 0.40..0.70 mm
`;
  const direct = `${PISTONS}grades head-gasket by piston-protrusion ${TABLE}`;
  describe.each([
    ['worked out', worked],
    ['measured itself', direct],
  ])('%s', (_, text) => {
    test.each([
      [{ 'piston-protrusion 1': '0.45 mm' }, []],
      [{ 'piston-protrusion 1': '0.45 mm', 'piston-protrusion 2': '0.55 mm' }, []],
      [
        { 'piston-protrusion 1': '0.45 mm', 'piston-protrusion 2': '0.55 mm', 'piston-protrusion 3': '0.44 mm' },
        ['head-gasket : middle'],
      ],
      [
        { 'piston-protrusion 1': '0.62 mm', 'piston-protrusion 2': '0.55 mm', 'piston-protrusion 3': '0.44 mm' },
        ['head-gasket : thick'],
      ],
      // Between two rows of the table, and below all of them.
      [
        { 'piston-protrusion 1': '0.495 mm', 'piston-protrusion 2': '0.45 mm', 'piston-protrusion 3': '0.44 mm' },
        ['head-gasket : '],
      ],
      // A slip chooses nothing.
      [{ 'piston-protrusion 1': '0.45 mm', 'piston-protrusion 2': '5.5 mm', 'piston-protrusion 3': '0.44 mm' }, []],
    ])('%o', (values, rows) => {
      expect(used(text, values)).toEqual(rows);
    });
  });
});

test('a shell by a clearance that is worked out, at each place for itself', () => {
  const text = `${PISTONS.replace('measure piston-protrusion', 'measure bore-size\n    measure skirt-size')}limit bore-size each block.bore
  measured
  within 80.700..80.718 mm
limit skirt-size each piston.skirt
  measured
  within 80.660..80.670 mm
limit clearance each piston
  = block.bore - piston.skirt
  within 0.030..0.060 mm
grades sleeve by clearance {
  red 0.030..0.044 mm
  blue 0.045..0.060 mm
}
`;
  // By hand: 80.710 less 80.669 is 0.041, 80.712 less 80.662 is 0.050; the third skirt is not measured.
  expect(
    used(text, {
      'bore-size 1': '80.710 mm',
      'skirt-size 1': '80.669 mm',
      'bore-size 2': '80.712 mm',
      'skirt-size 2': '80.662 mm',
      'bore-size 3': '80.712 mm',
    }),
  ).toEqual(['sleeve 1: red', 'sleeve 2: blue']);
});

test('a line is open until as many readings are there as are asked for', () => {
  const job = jobOf(PISTONS.replace('  measured\n', '  measured 3 readings\n'));
  const [step] = stepsOf(job);
  if (step === undefined) throw new Error('no step');
  const open = (one: string): number =>
    openLines(
      step,
      '',
      entered(job, {
        'piston-protrusion 1': one,
        'piston-protrusion 2': '0.45, 0.46, 0.45 mm',
        'piston-protrusion 3': '0.45..0.46 mm',
      }),
      job,
    ).length;
  expect([open('0.45 mm'), open('0.45, 0.46 mm'), open('0.45, 0.46, 0.47 mm'), open('0.45..0.47 mm')]).toEqual([
    1, 1, 0, 0,
  ]);
  expect(['0.45 mm', '0.45, 0.46 mm'].map(readingsOf)).toEqual([1, 2]);
});

test('a job asks for sizes and grades of what goes in with it, and of nothing else', () => {
  const sample = (name: string): string => readFileSync(join(import.meta.dirname, '../../samples', name), 'utf8');
  const common = { 'common-fasteners.fettle': sample('common-fasteners.fettle') };
  const asked = (file: string, job: string) => {
    const { sizes, grades } = jobOf(sample(file), job, common);
    return [sizes.map((each) => each.part), grades.map((each) => each.name)];
  };
  expect(asked('gear-six.fettle', 'full-rebuild')).toEqual([
    ['crankshaft', 'main-shell', 'rod-shell'],
    ['liner-shim', 'head-gasket'],
  ]);
  expect(asked('gear-six.fettle', 'strip')).toEqual([[], []]);
  expect(asked('belt-diesel.fettle', 'van-belt')).toEqual([[], []]);
});
