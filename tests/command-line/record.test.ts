// `fettle record` as a shop runs it: a finished job, an open one, one with a value outside; as text and as JSON.
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { run } from '../../server/command-line/run.ts';

const samples = join(import.meta.dirname, '../../samples');
const finished = readFileSync(join(samples, 'build-061.fettle'), 'utf8');

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
  for (const name of ['vee-six.fettle', 'common-fasteners.fettle'])
    copyFileSync(join(samples, name), join(folder, name));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function fettle(...args: readonly string[]): Promise<{ status: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const status = await run(
    args,
    {
      out: (text) => {
        out += text;
      },
      err: (text) => {
        err += text;
      },
      ...{ terminal: false, progress: false, folder, stdin: () => Promise.resolve('') },
    },
    () => Promise.resolve(0),
  );
  return { status, out, err };
}

const write = (text: string): void => writeFileSync(join(folder, 'build.fettle'), text);
/** The record with one line of it another. */
const but = (line: string, by: string): string => {
  expect(finished).toContain(line);
  return finished.replace(line, by);
};

test('a finished job: signed, all done, all inside, and 0', async () => {
  write(finished);
  const { status, out, err } = await fettle('record', 'build.fettle');
  expect({ status, err }).toEqual({ status: 0, err: '' });
  expect(out).toContain('Record build-061 of brindle-sixty (Brindle Sixty, 2.6 litre, full rebuild), revision 7');
  expect(out).toContain('Engine number QL-0061, variant marine.');
  expect(out).toContain('Signed by RT on 2026-02-25.');
  expect(out).toContain("The maker's manual, local rules and licensed practice come first.");
  expect(out).toContain('32 of 32 steps done, 26 values measured: 26 inside.');
  expect(out).toMatch(
    /crank-end-play +0\.14 mm +within 0\.08\.\.0\.24 mm, wear limit 0\.35 mm +inside +dial gauge, 2026-02-18/,
  );
  expect(out).toMatch(/piston-to-inlet +2\.6 mm +at least 2\.1 mm +inside/);
  expect(out).toContain('2026-02-20  RT  heads: fit-heads');
  expect(out).toContain('fit-water-side: One stud renewed, same class.');
  expect(out).toContain('piston 3: skirt scuffed, scrap');
  expect(out).toContain('2026-02-24 14:25: oil-pressure 4.1 bar, coolant 82 degC');
  expect(out).not.toContain('To be settled');
  expect(out).not.toContain('Not done');
});

test('a value outside its limit comes first, and the exit status is 1', async () => {
  write(but('crank-end-play 0.14 mm', 'crank-end-play 0.41 mm'));
  const { status, out } = await fettle('record', 'build.fettle');
  expect(status).toBe(1);
  expect(out).toContain('26 values measured: 25 inside, 1 outside.');
  expect(out.indexOf('To be settled')).toBeLessThan(out.indexOf('Measured\n'));
  expect(out).toMatch(/crank-end-play +0\.41 mm .* OUTSIDE/);
  expect(out).toContain('It must lie within 0.08..0.24 mm. It is 0.17 mm too large. The wear limit is 0.35 mm.');
});

test('an open job: what is done, what is not, what is not measured; 0, since nothing contradicts', async () => {
  const open = finished
    .replace(/ {2}measured valve-lash[\s\S]*?2026-02-19\n/, '')
    .replace(/ {2}done (?:start|leak-check|after-first-run) .*\n/g, '')
    .replace(/ {2}signed .*\n/, '');
  write(open);
  const { status, out } = await fettle('record', 'build.fettle');
  expect(status).toBe(0);
  expect(out).toContain('Not signed: the job is open.');
  expect(out).toContain('29 of 32 steps done');
  expect(out).toContain('first-start: leak-check');
  expect(out).toContain('Not measured\n  valve-lash at 1, 2, 3');
  expect(out).toContain('Still to do: 3 steps are not done, first start; 1 limit is not measured, valve-lash');
});

test('a step of the other variant is not asked for', async () => {
  write(but('  variant marine\n', '  variant road\n').replace(/ {2}done fit-heat-exchanger .*\n/, ''));
  const { status, out } = await fettle('record', 'build.fettle');
  expect(status).toBe(0);
  expect(out).toContain('31 of 31 steps done');
});

test('json has the figures as numbers, the verdicts, and what is found with its place', async () => {
  write(but('crank-end-play 0.14 mm', 'crank-end-play 0.0055 mm'));
  const { status, out } = await fettle('record', 'build.fettle', '--format', 'json');
  expect(status).toBe(0);
  const { records } = JSON.parse(out);
  expect(records).toHaveLength(1);
  const [told] = records;
  expect(told).toMatchObject({
    record: 'build-061',
    spec: 'brindle-sixty',
    revision: 7,
    specRevision: 7,
    variant: 'marine',
    engineNumber: 'QL-0061',
    signed: { by: 'RT', on: '2026-02-25' },
    notMeasured: [],
  });
  expect(told.measured.find((each: { limit: string }) => each.limit === 'crank-end-play')).toEqual({
    limit: 'crank-end-play',
    text: '0.0055 mm',
    value: { low: 0.0055, high: 0.0055, unit: 'mm' },
    within: { low: 0.08, high: 0.24, unit: 'mm' },
    withinText: '0.08..0.24 mm',
    wear: { low: 0.35, high: 0.35, unit: 'mm' },
    wearText: '0.35 mm',
    verdict: 'slip',
    meant: '0.0055 in',
    again: false,
    with: 'dial gauge',
    on: '2026-02-18',
  });
  const line = finished.split('\n').findIndex((each) => each.includes('measured crank-end-play')) + 1;
  expect(told.findings).toMatchObject([
    { code: 'record/slip', severity: 'warning', start: { line, column: 27 }, end: { line, column: 36 } },
  ]);
});

test('an older revision is said in the heading', async () => {
  write(but('revision 7 {', 'revision 6 {'));
  const { status, out } = await fettle('record', 'build.fettle');
  expect(status).toBe(0);
  expect(out).toContain('revision 6 (the spec is at revision 7 now)');
});

test('no control characters reach the terminal', async () => {
  write(but('"skirt scuffed"', '"skirt \u001b[31mscuffed"'));
  expect((await fettle('record', 'build.fettle')).out).not.toContain('\u001b');
});

test('a file without a record, no file, another format: 2 and one line that says what to do', async () => {
  expect(await fettle('record', 'vee-six.fettle')).toMatchObject({
    status: 2,
    out: '',
    err: 'fettle: There is no record in vee-six.fettle. Name the file in which the job was written down.\n',
  });
  expect(await fettle('record', 'gone.fettle')).toMatchObject({ status: 2, out: '' });
  write(finished);
  expect(await fettle('record', 'build.fettle', '--format', 'xml')).toMatchObject({ status: 2, out: '' });
});

test('a record whose spec is not there says so, and is 1', async () => {
  write(but('use "vee-six.fettle"', 'use "gone.fettle"'));
  const { status, out } = await fettle('record', 'build.fettle');
  expect(status).toBe(1);
  expect(out).toContain('line 2: error: There is no file gone.fettle here.');
});
