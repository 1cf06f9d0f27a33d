// `fettle bundle`: one file out of several, and what `fettle check` says of it before and after it is altered.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { run } from '../../server/command-line/run.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fettle-test-'));
  mkdirSync(join(folder, 'shared'));
  writeFileSync(join(folder, 'shared/lids.fettle'), 'spec lids {\n  revision 1\n}\n\npart lid\n\npart other-lid\n');
  writeFileSync(
    join(folder, 'main.fettle'),
    'use "shared/lids.fettle"\nuse "fettle:metric-bolts"\n\nspec main {\n  revision 4\n}\n\nfastener stud x2 {\n  like m8-8-8\n  clamps lid\n  torque 20 N.m\n}\n',
  );
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function fettle(
  ...args: string[]
): Promise<{ readonly status: number; readonly out: string; readonly err: string }> {
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
      terminal: false,
      folder,
      stdin: () => Promise.resolve(''),
    },
    () => Promise.resolve(0),
  );
  return { status, out, err };
}

test('writes one file that stands alone elsewhere', async () => {
  expect(await fettle('bundle', 'main.fettle', '--output', 'sent.fettle')).toEqual({ status: 0, out: '', err: '' });
  const text = readFileSync(join(folder, 'sent.fettle'), 'utf8');
  expect(text).toMatch(/^# Bundle: main, revision 4\n/);
  expect(text).toContain('#   main.fettle\n#   lids.fettle\n#   fettle:metric-bolts\n');
  expect(text).not.toContain('other-lid');
  rmSync(join(folder, 'shared'), { recursive: true });
  rmSync(join(folder, 'main.fettle'));
  const { status, out } = await fettle('check', 'sent.fettle', '--strict');
  expect(out).not.toContain('source/altered');
  expect(status).toBe(0);
});

test('goes to standard output without --output, and never over the file itself', async () => {
  const { status, out } = await fettle('bundle', 'main.fettle');
  expect(status).toBe(0);
  expect(out).toContain('part lid');
  expect(await fettle('bundle', 'main.fettle', '--output', 'main.fettle')).toMatchObject({
    status: 2,
    err: expect.stringContaining('is the file itself'),
  });
  expect(await fettle('bundle', 'main.fettle', '--output', 'shared/lids.fettle')).toMatchObject({
    status: 2,
    err: expect.stringContaining('is one of the files that go in'),
  });
  expect(readFileSync(join(folder, 'shared/lids.fettle'), 'utf8')).toContain('part other-lid');
  expect(readFileSync(join(folder, 'main.fettle'), 'utf8')).toContain('use "shared/lids.fettle"');
});

test('check says that a bundle was altered', async () => {
  await fettle('bundle', 'main.fettle', '--output', 'sent.fettle');
  const path = join(folder, 'sent.fettle');
  writeFileSync(path, readFileSync(path, 'utf8').replace('torque 20 N.m', 'torque 21 N.m'));
  const plain = await fettle('check', 'sent.fettle');
  expect(plain.status).toBe(0);
  expect(plain.out).toContain('warning: This bundle was altered after it was made');
  expect(plain.out).toContain('way out: Take the heading out');
  expect((await fettle('check', 'sent.fettle', '--strict')).status).toBe(1);
});

test('a file that is not there stops it', async () => {
  rmSync(join(folder, 'shared/lids.fettle'));
  expect(await fettle('bundle', 'main.fettle')).toMatchObject({ status: 2, out: '' });
});

test('errors in what goes in are said, and it is made all the same', async () => {
  writeFileSync(join(folder, 'faulty.fettle'), 'part lid {\n  dimension depth 3\n}\n');
  const { status, out, err } = await fettle('bundle', 'faulty.fettle');
  expect(status).toBe(0);
  expect(err).toContain('faulty.fettle has an error');
  expect(out).toContain('dimension depth 3');
});

test('a record of a spec that is built on another takes base and changes along as one', async () => {
  writeFileSync(
    join(folder, 'ours.fettle'),
    'use "main.fettle"\n\nspec ours extends main {\n  revision 2\n  change fastener stud {\n    torque 18 N.m\n  }\n}\n',
  );
  writeFileSync(
    join(folder, 'job-9.fettle'),
    'use "ours.fettle"\n\nrecord job-9 of ours revision 2 {\n  engine-number "QL-9"\n}\n',
  );
  const { status, out } = await fettle('bundle', 'job-9.fettle');
  expect(status).toBe(0);
  expect(out).toContain('#   job-9.fettle\n#   ours.fettle\n#   main.fettle\n');
  expect(out).toContain('spec ours {');
  expect(out).toContain('torque 18 N.m');
  expect(out).not.toContain('torque 20 N.m');
  expect(out).not.toContain('extends');
  writeFileSync(join(folder, 'sent.fettle'), out);
  expect((await fettle('check', 'sent.fettle')).status).toBe(0);
});
