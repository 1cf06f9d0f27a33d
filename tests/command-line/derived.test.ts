// The fettle command on specs that are built on others: the samples of two shops, in a folder of their own.
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { run } from '../../server/command-line/run.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
  cpSync(join(import.meta.dirname, '../../samples/two-shops'), folder, { recursive: true });
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

async function fettle(...args: readonly string[]): Promise<{ readonly status: number; readonly out: string }> {
  let out = '';
  const streams = {
    out: (text: string) => {
      out += text;
    },
    err: () => undefined,
    terminal: false,
    progress: false,
    folder,
    stdin: () => Promise.resolve(''),
  };
  const status = await run(
    args,
    streams,
    () => Promise.resolve(0),
    () => '1.2.3',
  );
  return { status, out };
}

function replace(name: string, from: string, to: string): void {
  const path = join(folder, name);
  const text = readFileSync(path, 'utf8');
  expect(text).toContain(from);
  writeFileSync(path, text.replace(from, to));
}

test('check and format: the samples are clean and laid out', async () => {
  expect(await fettle('check', '--strict', '.')).toMatchObject({ status: 0 });
  expect(await fettle('format', '--check', '.')).toMatchObject({ status: 0 });
});

test('check: what a change brings about is said in the shop that makes it, with the place in the base', async () => {
  replace('quarry-lane.fettle', '71.346..71.354 mm', '71.246..71.254 mm');
  replace('quarry-lane.fettle', '  change limit piston-clearance\n    within 0.045..0.075 mm\n    per bench\n', '');
  const { status, out } = await fettle('check', '--format', 'json', '.');
  expect(status).toBe(1);
  const found = JSON.parse(out).files.flatMap((file: { file: string; findings: object[] }) =>
    file.findings.map((finding) => ({ ...finding, file: file.file })),
  );
  const base = readFileSync(join(folder, 'brindle-wren.fettle'), 'utf8');
  const line = base.slice(0, base.indexOf('within 0.035..0.070 mm')).split('\n').length;
  expect(found).toMatchObject([
    { file: 'quarry-lane.fettle', code: 'limit/outside', related: [{ file: 'brindle-wren.fettle', start: { line } }] },
  ]);
  expect(found[0].message).toContain(`It stands in brindle-wren.fettle, line ${line}.`);
});

test('values and rehearse: as the shop builds it', async () => {
  const [base, quarry] = [await fettle('values', 'brindle-wren.fettle'), await fettle('values', 'quarry-lane.fettle')];
  expect(base.out).toContain('must be 0.035 to 0.07');
  expect(quarry.out).toContain('must be 0.045 to 0.075');
  const { status, out } = await fettle('rehearse', 'quarry-lane.fettle');
  expect(status).toBe(0);
  expect(out).toContain('Look at the big ends');
  expect(out.indexOf('Look at the big ends')).toBeLessThan(out.indexOf('Turn it over'));
  expect((await fettle('rehearse', 'tallow-bridge.fettle')).out).not.toContain('sump-gasket');
});

test('rehearse: one job of a base, with what a change leaves undone', async () => {
  writeFileSync(
    join(folder, 'jobs.fettle'),
    'use "quarry-lane.fettle"\n\nspec jobs-wren extends quarry-wren {\n  revision 1\n  drop step fit-sump\n}\n\njob whole-build of jobs-wren {\n  begins bare\n  sequences short-block, top-and-bottom\n}\n',
  );
  const { status, out } = await fettle('rehearse', 'jobs.fettle', '--job', 'whole-build');
  expect(status).toBe(1);
  expect(out).toContain('No step fits sump.');
  expect(out).toContain('[sequence/never-fitted]');
});

test('reach, and the job that it gives, which is clean', async () => {
  expect((await fettle('reach', 'tallow-bridge.fettle', 'crankshaft')).out).toContain('undo main-bolt');
  const job = await fettle('reach', 'quarry-lane.fettle', 'head-gasket', '--as-job');
  expect(job.out).toContain('use "quarry-lane.fettle"');
  writeFileSync(join(folder, 'job.fettle'), job.out);
  expect(await fettle('check', 'job.fettle')).toMatchObject({ status: 0 });
});

test('sheet: the values that hold, and where they come from', async () => {
  expect(await fettle('sheet', 'quarry-lane.fettle', '--output', 'sheet.html')).toMatchObject({ status: 0 });
  const page = readFileSync(join(folder, 'sheet.html'), 'utf8');
  expect(page).toContain('built on brindle-wren');
  expect(page).toContain('55 N.m');
  expect(page).toContain('says torque 25 N.m, 45 N.m, 90 deg');
});

test('review: what a shop does otherwise, each at its own line', async () => {
  const { out } = await fettle('review', 'brindle-wren.fettle', 'quarry-lane.fettle');
  const own = readFileSync(join(folder, 'quarry-lane.fettle'), 'utf8');
  expect(out).toContain('stage 3 was 90 deg, is now 55 N.m');
  expect(out).toContain(`now line ${own.slice(0, own.indexOf('torque 20')).split('\n').length}`);
});
