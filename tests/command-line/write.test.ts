// Writing: whole or not at all, and never through a link that somebody has laid. All commands that write share it.
import { spawn } from 'node:child_process';
import {
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { run } from '../../server/command-line/run.ts';
import { writeNew, writeWhole } from '../../server/command-line/write.ts';

/** Set where a test wants to know the name beside a file, as no attacker can. */
const foreseen = vi.hoisted(() => ({ bytes: undefined as Buffer | undefined }));
vi.mock('node:crypto', async (original) => {
  const real = await original<typeof import('node:crypto')>();
  return { ...real, randomBytes: (size: number) => foreseen.bytes ?? real.randomBytes(size) };
});

let root = '';
let shop = '';
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'fettle-write-'));
  shop = join(root, 'shop');
  // The top of a work tree: what lies in it is the workspace folder.
  mkdirSync(join(shop, '.git'), { recursive: true });
  mkdirSync(join(shop, 'pages'));
  writeFileSync(join(root, 'victim.txt'), 'of somebody else\n');
  writeFileSync(join(shop, 'a.fettle'), 'part a { teeth 18 }');
  writeFileSync(join(shop, 'b.fettle'), 'part a {\n  teeth 19\n}\n');
});
afterEach(() => {
  foreseen.bytes = undefined;
  rmSync(root, { recursive: true, force: true });
});

async function fettle(...args: readonly string[]): Promise<{ readonly status: number; readonly err: string }> {
  let err = '';
  const status = await run(
    args,
    {
      out: () => undefined,
      err: (text) => {
        err += text;
      },
      ...{ terminal: false, folder: shop, stdin: () => Promise.resolve('') },
    },
    () => Promise.resolve(0),
  );
  return { status, err };
}

const victim = (): string => readFileSync(join(root, 'victim.txt'), 'utf8');

/** Each command that writes, with what it writes to. */
const writers: readonly (readonly [string, string, (target: string) => readonly string[]])[] = [
  ['format', 'a.fettle', () => ['format', 'a.fettle']],
  ['sheet', 'out.html', (target) => ['sheet', 'b.fettle', '--output', target]],
  ['review', 'out.html', (target) => ['review', 'a.fettle', 'b.fettle', '--format', 'html', '--output', target]],
  ['bundle', 'out.fettle', (target) => ['bundle', 'b.fettle', '--output', target]],
  ['new', 'new.fettle', (target) => ['new', 'first', '--layout', 'inline', '--output', target]],
];

describe.each(writers)('%s', (_name, target, args) => {
  test('what lies beside the file under a name that can be guessed is not written through', async () => {
    for (const name of [process.pid, process.pid + 1, 'new', 'tmp'].flatMap((each) => [
      `.${target}.${each}.new`,
      `${target}.new`,
      `${target}.tmp`,
      `.${target}.tmp`,
    ]))
      if (lstatSync(join(shop, name), { throwIfNoEntry: false }) === undefined)
        symlinkSync('../victim.txt', join(shop, name));
    const before = readdirSync(shop).length;
    expect((await fettle(...args(target))).status).toBeLessThan(2);
    expect(victim()).toBe('of somebody else\n');
    expect(readdirSync(shop).length).toBe(target === 'a.fettle' ? before : before + 1);
  });

  test('a link under the very name is not opened, not followed and not taken away', async () => {
    foreseen.bytes = Buffer.alloc(9, 7);
    const name = `.${target}.${foreseen.bytes.toString('hex')}.new`;
    symlinkSync('../victim.txt', join(shop, name));
    expect((await fettle(...args(target))).status).toBe(2);
    expect(victim()).toBe('of somebody else\n');
    expect(lstatSync(join(shop, name)).isSymbolicLink()).toBe(true);
  });

  test('a target that is a link out of the folder is refused, and said', async () => {
    rmSync(join(shop, target), { force: true });
    if (target === 'a.fettle') writeFileSync(join(root, 'victim.txt'), 'part a { teeth 18 }');
    const was = victim();
    symlinkSync('../victim.txt', join(shop, target));
    const { status, err } = await fettle(...args(target));
    expect(status).toBe(2);
    if (target !== 'new.fettle') expect(err).toContain('is a link to');
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(victim()).toBe(was);
    expect(lstatSync(join(shop, target)).isSymbolicLink()).toBe(true);
  });

  test('a link that leads nowhere brings nothing about there', async () => {
    rmSync(join(shop, target), { force: true });
    symlinkSync('../made.txt', join(shop, target));
    expect((await fettle(...args(target))).status).toBe(2);
    expect(existsSync(join(root, 'made.txt'))).toBe(false);
  });
});

describe('links on the way', () => {
  test('a folder of the work tree that is a link out of it is refused', async () => {
    mkdirSync(join(root, 'elsewhere'));
    symlinkSync('../elsewhere', join(shop, 'sheets'));
    const { status, err } = await fettle('sheet', 'b.fettle', '--output', 'sheets/page.html');
    expect([status, err]).toEqual([2, expect.stringContaining('leads out of the folder')]);
    expect(readdirSync(join(root, 'elsewhere'))).toEqual([]);
  });

  test('a link within the folder is followed and stays a link', async () => {
    symlinkSync('pages/real.html', join(shop, 'page.html'));
    writeFileSync(join(shop, 'pages/real.html'), 'old');
    expect((await fettle('sheet', 'b.fettle', '--output', 'page.html')).status).toBe(0);
    expect(lstatSync(join(shop, 'page.html')).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(shop, 'pages/real.html'), 'utf8')).toContain('<!DOCTYPE html>');
  });

  test('outside git, a folder that is reached through a link of its owner is written to', () => {
    mkdirSync(join(root, 'disk'));
    symlinkSync('disk', join(root, 'mine'));
    writeWhole(join(root, 'mine', 'page.html'), 'a page');
    expect(readFileSync(join(root, 'disk', 'page.html'), 'utf8')).toBe('a page');
  });
});

describe('what is no ordinary file', () => {
  test.each(['/dev/full', '/dev/null'])('%s stays what it is', async (path) => {
    expect((await fettle('sheet', 'b.fettle', '--output', path)).status).toBe(2);
    expect(statSync(path).isCharacterDevice()).toBe(true);
  });

  test('a folder is said to be one', async () => {
    const { err } = await fettle('sheet', 'b.fettle', '--output', 'pages');
    expect(err).toContain('it is a folder');
  });
});

test('who may read a file stays as it was, and a long name is no hindrance', () => {
  const path = join(shop, `${'é'.repeat(120)}.txt`);
  writeFileSync(path, 'old', { mode: 0o640 });
  writeWhole(path, 'new');
  expect([readFileSync(path, 'utf8'), statSync(path).mode & 0o777]).toEqual(['new', 0o640]);
});

test('a new file never takes the place of one that came meanwhile', () => {
  expect(() => writeNew(join(shop, 'a.fettle'), 'part b\n')).toThrow('is there already');
  expect(readFileSync(join(shop, 'a.fettle'), 'utf8')).toBe('part a { teeth 18 }');
  expect(readdirSync(shop).filter((name) => name.endsWith('.new'))).toEqual([]);
});

test('killed in the middle, the file is the old one or the new one', async () => {
  const file = join(shop, 'long.txt');
  const [old, now] = ['old line\n'.repeat(200_000), 'new line\n'.repeat(200_000)];
  const script = `
    import { writeWhole } from ${JSON.stringify(join(import.meta.dirname, '../../server/command-line/write.ts'))};
    process.stdout.write('.');
    for (;;) for (const line of ['old line\\n', 'new line\\n']) writeWhole(${JSON.stringify(file)}, line.repeat(200_000));`;
  const { build } = await import('esbuild');
  const bundled = join(root, 'writes.cjs');
  await build({
    ...{ stdin: { contents: script, resolveDir: import.meta.dirname, loader: 'ts' }, outfile: bundled },
    ...{ bundle: true, platform: 'node', format: 'cjs', logLevel: 'silent', loader: { '.fettle': 'text' } },
  });
  for (let i = 0; i < 8; i += 1) {
    writeFileSync(file, old);
    const child = spawn(process.execPath, [bundled], { stdio: ['ignore', 'pipe', 'ignore'] });
    await new Promise((begun) => child.stdout.once('data', begun));
    await new Promise((soon) => setTimeout(soon, 3 + i * 5));
    child.kill('SIGKILL');
    await new Promise((ended) => child.once('exit', ended));
    expect([old, now]).toContain(readFileSync(file, 'utf8'));
  }
}, 30_000);
