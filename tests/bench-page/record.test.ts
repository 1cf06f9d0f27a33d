// What is entered at the bench becomes a record that checks, and comes back out of it: against the checker's own findings and the command's
// own account of a record.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { BenchJob } from '../../server/bench/bench-job.ts';
import {
  type Entries,
  entriesFromJson,
  entriesToJson,
  noEntries,
  openLines,
  placesOf,
  progressOf,
  recordName,
  stepEntries,
  stepsOf,
  tickKey,
  withDone,
  withStep,
  withTick,
} from '../../server/bench/entries.ts';
import { judge, specOf } from '../../server/bench/judge.ts';
import { benchJob } from '../../server/bench/make-job.ts';
import { splitValue, typedNumber, typedValue } from '../../server/bench/number-entry.ts';
import { readRecord, recordHead } from '../../server/bench/read-record.ts';
import { newRecordText, putInto } from '../../server/bench/record-text.ts';
import { recordsOf } from '../../server/features/record.ts';
import { quoted } from '../../server/model/quoted.ts';
import { analyseText } from '../annotated.ts';

const sample = (name: string): string => readFileSync(join(import.meta.dirname, '../../samples', name), 'utf8');
const COMMON = { 'common-fasteners.fettle': sample('common-fasteners.fettle') };

function jobOf(file: string, variant?: string, job?: string): BenchJob {
  const analysis = analyseText(sample(file), COMMON, file);
  const view = analysis.views.find((each) => variant === undefined || each.variant === variant);
  if (view === undefined) throw new Error('no view');
  const made = benchJob(view, {
    file,
    ...(job === undefined ? {} : { job }),
    use: file,
    errors: 0,
    texts: [analysis.file, ...analysis.used].map((each) => ({ file: each.file, text: each.text })),
  });
  if (made === undefined) throw new Error('no job');
  // As it comes out of the page that it lies in.
  return JSON.parse(JSON.stringify(made)) as BenchJob;
}

/** The findings of a record beside its spec that are more than remarks. */
function found(record: string, file: string): readonly string[] {
  const { findings } = analyseText(record, { ...COMMON, [file]: sample(file) }, 'record.fettle');
  return findings.filter((each) => each.severity !== 'information').map((each) => `${each.code}: ${each.message}`);
}

const MOMENT = { day: '2026-03-04', time: '14:10' };

function measured(entries: Entries, limit: string, place: string, text: string, on = MOMENT.day): Entries {
  const values = new Map(entries.measured.get(limit)).set(place, { text, on, by: 'RT', with: 'feeler gauge' });
  return { ...entries, measured: new Map(entries.measured).set(limit, values) };
}

/** The middle of the bounds of a limit, as it is shown. */
function middle(within: string): string {
  const least = /^at least ([\d.]+ \S+)/.exec(within);
  if (least?.[1] !== undefined) return least[1];
  const [, low, high, unit] = /^(-?[\d.]+) to (-?[\d.]+) (\S+)/.exec(within) ?? [];
  if (low === undefined || high === undefined) throw new Error(`no range: ${within}`);
  return `${((Number(low) + Number(high)) / 2).toFixed(4)} ${unit}`;
}

/** All of a job done. */
function allDone(job: BenchJob): Entries {
  let entries: Entries = { ...noEntries(job), engineNumber: 'QL-0417', by: 'RT', record: recordName('QL-0417', job) };
  for (const step of stepsOf(job))
    for (const place of placesOf(step)) {
      for (const line of step.lines) {
        const key = tickKey(place, line.key);
        if (line.kind === 'do') entries = withTick(entries, step, line, place, key, true);
        if (line.kind === 'hold')
          entries = withStep(entries, step.name, {
            looked: new Map(stepEntries(entries, step.name).looked).set(key, { by: 'AM', at: MOMENT }),
          });
        if (line.kind === 'measure') {
          const limit = job.limits.find((each) => each.name === line.limit);
          for (const each of limit?.places.length === 0 ? [''] : (limit?.places ?? []))
            entries = measured(entries, line.limit, each, middle(limit?.within ?? ''));
        }
      }
      expect(openLines(step, place, entries, job).map((line) => line.kind)).toEqual([]);
      entries = withDone(entries, step, place, MOMENT);
    }
  const grades = new Map(judge(entries, job, specOf(job)).grades.map(({ table, rows }) => [table, rows[0] ?? '']));
  return { ...entries, grades, signed: { by: 'RT', on: MOMENT.day } };
}

const JOBS: readonly (readonly [string, string | undefined, string | undefined])[] = [
  ['inline-four.fettle', 'tourer', 'full-rebuild'],
  ['inline-four.fettle', 'delivery', 'camshaft-change'],
  ['vee-six.fettle', 'road', undefined],
  ['flat-twin.fettle', undefined, undefined],
];

describe.each(JOBS)('%s %s %s', (file, variant, name) => {
  const job = jobOf(file, variant, name);

  test('all done, the record checks without a word, and the command has every step done', () => {
    const record = newRecordText(allDone(job), job);
    expect(found(record, file)).toEqual([]);
    const [told] = recordsOf(analyseText(record, { ...COMMON, [file]: sample(file) }, 'record.fettle'));
    expect(told?.signed).toEqual({ by: 'RT', on: '2026-03-04' });
    expect(told?.engineNumber).toBe('QL-0417');
    expect(told?.steps.filter((step) => step.state !== 'done')).toEqual([]);
    expect(told?.steps).toHaveLength(stepsOf(job).length);
    expect(told?.notMeasured).toEqual([]);
    expect(told?.unanswered).toEqual([]);
    expect(told?.measured.every((each) => each.verdict === 'inside')).toBe(true);
  });

  test('comes back out of its record as it went in, and out of what is kept', () => {
    const entries = allDone(job);
    const read = readRecord(newRecordText(entries, job), job);
    const plain = (each: Entries | undefined) =>
      each === undefined ? undefined : JSON.parse(entriesToJson({ ...each, base: undefined }));
    expect(plain(read)?.measured).toEqual(plain(entries)?.measured);
    expect(read?.signed).toEqual(entries.signed);
    for (const step of stepsOf(job)) {
      expect([step.name, progressOf(step, read ?? noEntries(job), job).state]).toEqual([step.name, 'done']);
      expect(new Map(stepEntries(read ?? noEntries(job), step.name).looked)).toEqual(
        new Map(stepEntries(entries, step.name).looked),
      );
    }
    expect(entriesFromJson(entriesToJson(entries), job)).toEqual(entries);
  });

  test('a record that is put into itself stays as it is, letter for letter', () => {
    const record = newRecordText(allDone(job), job);
    const read = readRecord(record, job);
    expect(putInto(record, read ?? noEntries(job), job)).toBe(record);
  });

  test('each line says what it is in words, without a name of the spec', () => {
    const texts = stepsOf(job).flatMap((step) => step.lines.map((line) => line.text));
    expect(texts.length).toBeGreaterThan(10);
    for (const text of texts) expect(text).not.toMatch(/undefined|\b[a-z]+-[a-z]+-[a-z]+\b/);
  });
});

describe('half-way', () => {
  const job = jobOf('inline-four.fettle', 'tourer', 'full-rebuild');
  const step = stepsOf(job).find((each) => each.name === 'lay-crankshaft');
  const rods = stepsOf(job).find((each) => each.name === 'fit-rods');
  if (step === undefined || rods === undefined) throw new Error('no step');
  const bolts = step.lines.find((line) => line.kind === 'do' && line.bolts !== undefined);
  if (bolts?.kind !== 'do') throw new Error('no bolts');

  test('bolts of a stage, some cylinders and a hold point go from one tablet to the other', () => {
    let entries: Entries = { ...noEntries(job), engineNumber: 'QL-9', by: 'RT' };
    for (const key of [`${bolts.key}#1.1`, `${bolts.key}#1.2`]) entries = withTick(entries, step, bolts, '', key, true);
    for (const place of ['1', '2']) entries = withDone(entries, rods, place, MOMENT);
    entries = withStep(entries, step.name, { looked: new Map([['10', { by: 'A "M" B', at: MOMENT }]]) });
    const record = newRecordText(entries, job);
    expect(record).toContain('done fit-rods 1, 2 on 2026-03-04 by "RT"');
    const read = readRecord(record, job);
    if (read === undefined) throw new Error('not read');
    expect([...stepEntries(read, step.name).ticks]).toEqual([`${bolts.key}#1.1`, `${bolts.key}#1.2`]);
    expect([...stepEntries(read, rods.name).done.keys()]).toEqual(['1', '2']);
    expect(stepEntries(read, step.name).looked.get('10')?.by).toBe('A "M" B');
    expect(progressOf(rods, read, job).state).toBe('begun');
    // That it is not all done yet is said, and nothing else.
    expect(found(record, 'inline-four.fettle').map((each) => each.split(':')[0])).toEqual(['record/outstanding']);
  });

  test('all bolts of all stages make the line done, one taken back opens it and its step', () => {
    let entries = noEntries(job);
    const keys = [1, 2, 3].flatMap(
      (stage) => bolts.bolts?.places.map((bolt) => `${bolts.key}#${stage}.${bolt.number}`) ?? [],
    );
    expect(keys).toHaveLength(30);
    for (const key of keys) entries = withTick(entries, step, bolts, '', key, true);
    expect(stepEntries(entries, step.name).ticks.has(bolts.key)).toBe(true);
    entries = withDone(entries, step, '', MOMENT);
    entries = withTick(entries, step, bolts, '', keys[7] ?? '', false);
    expect(stepEntries(entries, step.name).ticks.has(bolts.key)).toBe(false);
    expect(stepEntries(entries, step.name).done.size).toBe(0);
  });

  test('a record of another revision, or of another spec, is known as that', () => {
    expect(recordHead('record a of brindle-tallboy revision 3 {\n}\n')).toMatchObject({
      of: 'brindle-tallboy',
      revision: 3,
      isBroken: false,
    });
    expect(recordHead('record a of brindle-tallboy revision 3 {\n  measured\n}\n')?.isBroken).toBe(true);
    expect(recordHead('spec a {\n}\n')).toBeUndefined();
  });
});

describe('put into a record that someone wrote by hand', () => {
  const job = jobOf('inline-four.fettle', 'tourer', 'full-rebuild');
  const HAND = `# Kept by the foreman.
use "inline-four.fettle"

record build-7 of brindle-tallboy revision 4 {
  variant tourer
  engine-number "QL-7"
  # Measured twice, both times cold.
  measured crank-end-play 0.12 mm with "dial gauge" on 2026-03-01
  done inspect-castings on 2026-03-01 by "AM"  # with the new lamp
  log 2026-03-09 14:10 oil-pressure 4.1 bar
  note "The customer wants the old pistons back."
  signed "AM" on 2026-03-10
}
`;
  test('its comments, logs and notes stay, a value measured again stands behind, the signature last', () => {
    const read = readRecord(HAND, job);
    if (read === undefined) throw new Error('not read');
    expect(putInto(HAND, read, job)).toBe(HAND);
    const again = measured(read, 'crank-end-play', '', '0.14 mm', '2026-03-05');
    const text = putInto(HAND, again, job) ?? '';
    for (const kept of [
      '# Kept by the foreman.',
      '# Measured twice',
      '# with the new lamp',
      'oil-pressure 4.1 bar',
      'the old pistons',
      '0.12 mm',
    ])
      expect(text).toContain(kept);
    expect(text.indexOf('0.14 mm')).toBeGreaterThan(text.indexOf('0.12 mm'));
    expect(text.indexOf('0.14 mm')).toBeLessThan(text.indexOf('signed "AM"'));
    expect(readRecord(text, job)?.measured.get('crank-end-play')?.get('')?.text).toBe('0.14 mm');
  });
  test('what is taken back goes, and nothing else', () => {
    const read = readRecord(HAND, job);
    if (read === undefined) throw new Error('not read');
    const without =
      putInto(HAND, { ...withStep(read, 'inspect-castings', { done: new Map() }), signed: undefined }, job) ?? '';
    expect(without).not.toContain('done inspect-castings');
    expect(without).not.toContain('signed');
    expect(without).toContain('0.12 mm');
    expect(without).toContain('oil-pressure 4.1 bar');
  });
  test('one that can not be read is not written into', () => {
    const broken = HAND.replace('measured crank-end-play 0.12 mm', 'measured crank-end-play 0,12 mm mm');
    expect(putInto(broken, noEntries(job), job)).toBeUndefined();
  });
});

describe('judged as the checker judges', () => {
  const job = jobOf('inline-four.fettle', 'tourer', 'full-rebuild');
  const view = specOf(job);
  test.each([
    ['0.40 mm', 'inside'],
    ['0.62 mm', 'worn'],
    ['0.95 mm', 'outside'],
    ['4.0 mm', 'slip'],
    ['0.040 mm', 'slip'],
    ['0.0157 in', 'inside'],
    ['0.0157 mm', 'slip'],
    ['400 um', 'inside'],
    ['12 N.m', 'wrong-kind'],
  ])('a top ring gap of %s: %s', (value, standing) => {
    const verdict = judge(measured(noEntries(job), 'top-ring-gap', '3', value), job, view).verdicts.get(
      'top-ring-gap 3',
    );
    expect(verdict?.standing).toBe(standing);
    const codes = found(
      newRecordText(measured(noEntries(job), 'top-ring-gap', '3', value), job),
      'inline-four.fettle',
    ).map((each) => each.split(':')[0]);
    const expected = {
      inside: [],
      worn: ['record/worn'],
      outside: ['record/outside'],
      slip: ['record/slip'],
      'wrong-kind': ['record/outside'],
    }[standing];
    expect(codes.filter((code) => code !== 'record/outstanding')).toEqual(expected);
  });

  test('what follows from what was measured is worked out as soon as it is there', () => {
    const text = `spec s "S" {
  revision 1
}
part block "Block" {
  dimension bore x2 80.700..80.718 mm
}
part piston x2 {
  dimension skirt 80.660..80.670 mm
}
limit bore-size each block.bore
  measured
  within 80.700..80.718 mm
limit skirt-size each piston.skirt
  measured
  within 80.660..80.670 mm
limit clearance each piston
  = block.bore - piston.skirt
  within 0.040..0.055 mm
sequence work "Work" {
  phase inspect
  step size-up {
    measure bore-size
    measure skirt-size
  }
}
`;
    const analysis = analyseText(text, {}, 's.fettle');
    const [only] = analysis.views;
    if (only === undefined) throw new Error('no view');
    const made = benchJob(only, { file: 's.fettle', use: 's.fettle', errors: 0, texts: [{ file: 's.fettle', text }] });
    if (made === undefined) throw new Error('no job');
    const spec = specOf(made);
    let entries = measured(noEntries(made), 'bore-size', '2', '80.710 mm');
    expect(judge(entries, made, spec).workedOut).toEqual([]);
    entries = measured(entries, 'skirt-size', '2', '80.662 mm');
    // 80.710 less 80.662 by hand: 0.048.
    expect(
      judge(entries, made, spec).workedOut.map(({ limit, place, text: shown, standing }) => [
        limit,
        place,
        shown,
        standing,
      ]),
    ).toEqual([['clearance', '2', '0.0480 mm', 'inside']]);
    entries = measured(entries, 'skirt-size', '2', '80.650 mm');
    expect(judge(entries, made, spec).workedOut[0]?.standing).toBe('outside');
  });
});

test('numbers as they are typed', () => {
  expect(['0,38', '.38', '0.38 ', ' 00,380', '-0,010', '\u22120.010', '1/8', '1 1/2', '12'].map(typedNumber)).toEqual([
    '0.38',
    '0.38',
    '0.38',
    '0.380',
    '-0.010',
    '-0.010',
    '1/8',
    '1 1/2',
    '12',
  ]);
  for (const text of ['', 'x', '1,2,3', '1.2,3', '--1', '1/0', '0.3 mm', '1e3', '.', ',', 'NaN', '9'.repeat(40)])
    expect([text, typedNumber(text)]).toEqual([text, undefined]);
  expect(typedValue('0,38', 'mm')).toBe('0.38 mm');
  expect(typedValue('81,01; 81.03 ;81.02;', 'mm')).toBe('81.01, 81.03, 81.02 mm');
  expect(typedValue('81.01; ?', 'mm')).toBeUndefined();
  expect(splitValue('81.01, 81.03 mm')).toEqual({ number: '81.01; 81.03', unit: 'mm' });
  expect(splitValue('0.38 mm')).toEqual({ number: '0.38', unit: 'mm' });
});

test('whatever is written into a field is one text of the record, and comes back as it was meant', () => {
  const job = jobOf('flat-twin.fettle');
  fc.assert(
    fc.property(
      fc.string({ unit: 'binary', maxLength: 60 }),
      fc.string({ unit: 'grapheme', maxLength: 60 }),
      (one, other) => {
        const entries = withStep({ ...noEntries(job), engineNumber: one, by: other }, stepsOf(job)[0]?.name ?? '', {
          deviation: `${one}" } record x { \\${other}`,
          done: new Map([['', { on: '2026-03-04', by: other }]]),
        });
        const record = newRecordText(entries, job);
        const head = recordHead(record);
        expect(head).toMatchObject({ of: job.spec, isBroken: false });
        const read = readRecord(record, job);
        expect(quoted(read?.engineNumber ?? '')).toBe(quoted(one));
        expect(quoted(stepEntries(read ?? noEntries(job), stepsOf(job)[0]?.name ?? '').deviation ?? '')).toBe(
          quoted(`${one}" } record x { \\${other}`),
        );
      },
    ),
    { numRuns: 150, seed: 20260304 },
  );
});

describe('hold points', () => {
  const job = jobOf('inline-four.fettle', 'tourer', 'full-rebuild');
  const held = stepsOf(job).find((step) => step.name === 'prove-timing');
  const hold = held?.lines.find((line) => line.kind === 'hold');
  if (held === undefined || hold === undefined) throw new Error('the sample has lost its hold point');

  test('who looked is a line that the checker counts, and comes back with its time', () => {
    const looked = new Map([[hold.key, { by: 'AM', at: MOMENT }]]);
    const text = newRecordText(withStep(noEntries(job), held.name, { looked }), job);
    expect(text).toContain('witnessed prove-timing on 2026-03-04 by "AM"');
    const read = readRecord(text, job);
    expect(read?.steps.get('prove-timing')?.looked.get(hold.key)).toEqual({ by: 'AM', at: MOMENT });
    expect(found(text, 'inline-four.fettle')).toEqual([]);
  });

  test('what a hand wrote opens the hold point, and stays as it stands', () => {
    const byHand = newRecordText(noEntries(job), job).replace(
      /\}\s*$/,
      '  witnessed prove-timing by "QL" on 2026-03-05\n}\n',
    );
    const read = readRecord(byHand, job);
    expect(read?.steps.get('prove-timing')?.looked.get(hold.key)).toEqual({
      by: 'QL',
      at: { day: '2026-03-05', time: '' },
    });
    expect(read === undefined ? '' : putInto(byHand, read, job)).toBe(byHand);
    const deviating = read === undefined ? undefined : withStep(read, 'prove-timing', { deviation: 'done twice' });
    const text = deviating === undefined ? '' : putInto(byHand, deviating, job);
    expect(text?.match(/witnessed/g)).toHaveLength(1);
    expect(text).toContain('deviation prove-timing "done twice"');
  });
});

test('when bolts are tightened again stands behind the figure, and is no part of it', () => {
  const stages = stepsOf(jobOf('inline-four.fettle', 'tourer', 'full-rebuild'))
    .filter((step) => step.name === 'after-first-run')
    .flatMap((step) => step.lines.flatMap((line) => (line.kind === 'do' ? line.stages : [])));
  expect(stages.map(({ text, behind }) => [text, behind])).toEqual([
    ['11 N.m (97 lbf.in), after first run, cold again', ', after first run, cold again'],
    ['4 N.m (35 lbf.in)', undefined],
  ]);
});
