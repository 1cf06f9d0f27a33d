// What ships with Fettle and is not used stands in no output: a spec of one bolt is a spec of one bolt.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Ends } from '../../server/command-line/output.ts';
import { run } from '../../server/command-line/run.ts';

const folder = mkdtempSync(join(tmpdir(), 'fettle-library-'));
afterAll(() => rmSync(folder, { recursive: true }));

async function fettle(...args: readonly string[]): Promise<string> {
  let out = '';
  const streams: Ends = {
    folder,
    terminal: false,
    out: (text) => {
      out += text;
    },
    err: () => undefined,
    stdin: async () => '',
  };
  await run(args, streams, async () => 0);
  return out;
}

const SPEC = `use "fettle:metric-bolts"
use "fettle:inch-bolts"
use "fettle:supplies"

spec one-bolt "One bolt" {
  revision 1
  source manual "Workshop manual"
  per manual
}

part block

part sump

fastener sump-bolt x12 {
  like m6-8-8
  joint cover
  clamps sump to block
  torque 9 N.m
}

sequence s {
  starts-with block
  step one {
    clean block with degreaser
    fit sump onto block
    tighten sump-bolt
  }
  step two {
    run engine at 1800 rpm for 4 min
  }
}
`;

/** Titles and names of what the libraries have and this spec does not name. */
const OTHERS = /m5-8-8|m8-10-9|unc-|unf-|M5 bolt|M8 bolt|grade-8|gear-oil|Gear oil|petroleum|anti-seize/i;

writeFileSync(join(folder, 'one.fettle'), SPEC);

test.each([
  ['values', 'one.fettle'],
  ['values', 'one.fettle', '--format', 'json'],
  ['rehearse', 'one.fettle'],
  ['rehearse', 'one.fettle', '--format', 'json'],
  ['list', 'one.fettle'],
  ['list', 'one.fettle', '--format', 'csv'],
  ['list', 'one.fettle', '--format', 'json'],
  ['check', 'one.fettle', '--unsaid'],
  ['reach', 'one.fettle', 'sump'],
  ['bundle', 'one.fettle'],
])('%s %s %s %s', async (...args) => {
  const out = await fettle(...args.filter((each) => each !== undefined));
  expect(out).not.toBe('');
  expect(out).not.toMatch(OTHERS);
});

test('the sheet', async () => {
  await fettle('sheet', 'one.fettle', '--output', 'one.html');
  const page = readFileSync(join(folder, 'one.html'), 'utf8');
  expect(page).toContain('sump bolt');
  expect(page).not.toMatch(OTHERS);
});

test('what ships is told, and what is in each', async () => {
  const all = await fettle('explain', 'library');
  for (const name of [
    ...['inch-bolts', 'inch-nuts', 'inch-studs', 'metric-bolts', 'metric-nuts', 'metric-studs', 'plugs', 'supplies'],
  ])
    expect(all).toContain(`use "fettle:${name}"`);
  expect(await fettle('explain', 'fettle:metric-nuts')).toContain('m10-nut-10       M10 nut, class 10\n');
  expect(await fettle('explain', 'fettle:inch-nuts')).toContain('3/8-24 UNF nut, grade 8');
  expect(await fettle('explain', 'fettle:plugs')).toContain('1/8-27 NPT taper plug');
});

test('what is used of them is there', async () => {
  expect(await fettle('values', 'one.fettle')).toContain('sump-bolt, M6x1 of class 8.8');
  expect(await fettle('list', 'one.fettle')).toContain('Degreaser');
});
