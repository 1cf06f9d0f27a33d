// Many files on all cores: the same findings, in the same order, as one after the other; and a worker that dies costs no file.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { checkFiles } from '../../server/command-line/check-workers.ts';
import { run } from '../../server/command-line/run.ts';
import { filesAt } from '../../server/command-line/specs.ts';
import { bundleTo } from '../bundled.ts';

const root = join(import.meta.dirname, '../..');
let folder = '';
let command = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-workers-'));
  command = join(folder, 'dist', 'fettle.js');
  writeFileSync(join(folder, 'package.json'), '{ "version": "7.8.9" }');
  mkdirSync(join(folder, 'shop', 'deep'), { recursive: true });
  const faults = join(root, 'samples', 'faults');
  const names = readdirSync(faults).filter((name) => name.endsWith('.fettle'));
  // Enough that two workers are started.
  expect(names.length).toBeGreaterThan(48);
  names.forEach((name, i) => {
    writeFileSync(join(folder, 'shop', i % 3 === 0 ? 'deep' : '', name), readFileSync(join(faults, name)));
  });
  // One that takes long, first; one that uses another; one that can't be read.
  writeFileSync(join(folder, 'shop', '0.fettle'), readFileSync(join(root, 'samples', 'inline-four.fettle')));
  writeFileSync(join(folder, 'shop', 'common.fettle'), 'part shared {\n  tooth 3\n}\n');
  writeFileSync(join(folder, 'shop', 'uses.fettle'), 'use "common.fettle"\n\npart shared\n');
  writeFileSync(join(folder, 'shop', 'binary.fettle'), Buffer.from([0x70, 0, 0x72]));
  await bundleTo(command, 'server/entry/command.ts');
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test.each(['json', 'sarif', 'text'])(
  'as %s: what the command prints with its workers is what one thread finds',
  async (format) => {
    let [out, err] = ['', ''];
    const status = await run(
      ['check', 'shop', '--format', format],
      {
        out: (text) => {
          out += text;
        },
        err: (text) => {
          err += text;
        },
        ...{ terminal: false, folder, stdin: () => Promise.resolve('') },
      },
      () => Promise.resolve(0),
      () => '7.8.9',
    );
    const bundled = spawnSync(process.execPath, [command, 'check', 'shop', '--format', format], {
      ...{ cwd: folder, encoding: 'utf8', maxBuffer: 1e8 },
    });
    expect(bundled.status).toBe(status);
    expect(bundled.stderr).toBe(err);
    expect(bundled.stdout).toBe(out);
    expect(out.length).toBeGreaterThan(10_000);
  },
  60_000,
);

test.each([
  ['that throws', 'throw new Error("gone")'],
  ['that ends', 'process.exit(3)'],
])(
  'a worker %s leaves its files to this thread, and none is lost',
  async (_name, script) => {
    const { files } = filesAt(['shop'], { folder });
    const some = [...files, ...files, ...files].slice(0, 60);
    const alone = await checkFiles(some, { folder }, undefined, () => undefined);
    const found = await checkFiles(
      some,
      { folder },
      () => new Worker(script, { eval: true }),
      () => undefined,
    );
    expect(found).toEqual(alone);
    expect(found.length).toBe(60);
  },
  60_000,
);
