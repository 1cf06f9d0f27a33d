// `fettle picture`: a file of vector graphics, or a line that says what to do.
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Ends } from '../../server/command-line/output.ts';
import { run } from '../../server/command-line/run.ts';

const samples = join(import.meta.dirname, '../../samples');

async function fettle(folder: string, ...args: readonly string[]) {
  let [out, error] = ['', ''];
  const streams: Ends = {
    folder,
    terminal: false,
    out: (text) => {
      out += text;
    },
    err: (text) => {
      error += text;
    },
    stdin: async () => '',
  };
  const status = await run(args, streams, async () => 0);
  return { status, out, error };
}

const folder = mkdtempSync(join(tmpdir(), 'fettle-picture-'));
const four = join(samples, 'inline-four.fettle');

test('writes the timing face as it stands after a step', async () => {
  const made = await fettle(folder, 'picture', four, 'timing-face', '--step', 'prove-timing', '--output', 'face.svg');
  expect(made).toMatchObject({ status: 0, out: 'face.svg\n' });
  const text = readFileSync(join(folder, 'face.svg'), 'utf8');
  expect(text).toContain('<title>Timing face: Camshaft drive</title>');
  expect(text).toContain('link 31 away from its mark');
});

test('says which pictures there are, and of what', async () => {
  const { status, out } = await fettle(folder, 'picture', four);
  expect(status).toBe(0);
  expect(out).toContain('timing-face: cam-drive\n');
  expect(out).toContain('tightening-order: main-bolt, flywheel-bolt, head-bolt, rocker-bolt\n');
  expect(out).toContain('engine-map\n');
});

test.each([
  [['timing-faec'], 'There is no picture timing-faec'],
  [['timing-face'], 'Say where to write it'],
  [['timing-face', 'no-drive', '--output', 'x.svg'], 'there is cam-drive'],
  [['timing-face', '--step', 'no-step', '--output', 'x.svg'], 'There is no step no-step'],
  [['timing-face', '--job', 'no-job', '--output', 'x.svg'], 'There is no job no-job'],
  [
    ['timing-face', '--step', 'chain-off', '--job', 'full-rebuild', '--output', 'x.svg'],
    'Job full-rebuild of this file does not do chain-off',
  ],
  [['timing-face', '--output', 'x.fettle'], 'would overwrite a spec'],
])('%j: %s', async (args, said) => {
  const { status, error } = await fettle(folder, 'picture', four, ...args);
  expect(status).toBe(2);
  expect(error).toContain(said);
});

test('a spec without what it takes', async () => {
  const bare = join(folder, 'bare.fettle');
  writeFileSync(bare, 'spec bare "Bare" {\n  revision 1\n}\n');
  const { status, error } = await fettle(folder, 'picture', bare, 'ring-gaps', '--output', 'x.svg');
  expect(status).toBe(2);
  expect(error).toContain('the spec does not say what it takes');
});
