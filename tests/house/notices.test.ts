// What others wrote goes out with its licence: in the package of the command and in the packed extension alike.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { root } from './imports.ts';

type NoticesFor = (root: string, metafiles: readonly object[]) => string;
const noticesFor: NoticesFor = (await import(pathToFileURL(join(root, 'client', 'notices.mjs')).href)).noticesFor;

const metafile = (...files: readonly string[]): object => ({
  outputs: { 'dist/x.js': { inputs: Object.fromEntries(files.map((file) => [file, { bytesInOutput: 9 }])) } },
});

describe('the notices', () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'fettle-notices-'));
    const put = (name: string, manifest: object, more: Readonly<Record<string, string>>): void => {
      const at = join(folder, 'node_modules', name);
      mkdirSync(at, { recursive: true });
      writeFileSync(join(at, 'package.json'), JSON.stringify(manifest));
      for (const [file, text] of Object.entries(more)) writeFileSync(join(at, file), text);
    };
    put('a', { name: 'a', version: '1.0.0', license: 'MIT' }, { LICENSE: 'Text of a' });
    put(
      '@x/b',
      { name: '@x/b', version: '2.0.0', license: 'Apache-2.0' },
      { 'licence.md': 'Text of b', NOTICE: 'Say this' },
    );
    put('a/node_modules/c', { name: 'c', version: '3.0.0', license: 'ISC' }, { 'LICENSE-ISC': 'Text of c' });
    put('bare', { name: 'bare', version: '1.0.0', license: 'MIT' }, {});
    put('unnamed', { name: 'unnamed', version: '1.0.0' }, { LICENSE: 'Text' });
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('name each package that is bundled once, with its texts, whichever bundle it is in', () => {
    const files = ['server/run.ts', 'node_modules/a/x.js', 'node_modules/a/y.js', 'node_modules/@x/b/lib/z.js'];
    const text = noticesFor(folder, [metafile(...files), metafile('node_modules/a/node_modules/c/c.js', ...files)]);
    expect(text.match(/^\S+ \d+\.\d+\.\d+ \(.*\)$/gm)).toEqual([
      '@x/b 2.0.0 (Apache-2.0)',
      'a 1.0.0 (MIT)',
      'c 3.0.0 (ISC)',
    ]);
    for (const said of ['Text of a', 'Text of b', 'Say this', 'Text of c']) expect(text.split(said).length).toBe(2);
  });

  test.each(['node_modules/bare/x.js', 'node_modules/unnamed/x.js'])(
    'a package without a licence stops the building: %s',
    (file) => {
      expect(() => noticesFor(folder, [metafile(file)])).toThrow(/licence/);
    },
  );
});

test('every package in the command has its licence in the notices', async () => {
  const { metafile: real } = await build({
    ...{ absWorkingDir: root, entryPoints: ['server/entry/command.ts'], bundle: true, write: false, metafile: true },
    ...{
      platform: 'node',
      format: 'cjs',
      loader: { '.md': 'text', '.fettle': 'text' },
      logLevel: 'silent',
      outdir: 'dist',
    },
  });
  const notices = noticesFor(root, [real]);
  const packages = new Set(
    Object.keys(real.inputs).flatMap(
      (file) => /node_modules\/((?:@[^/]+\/)?[^/]+)\/(?!node_modules)/.exec(file)?.[1] ?? [],
    ),
  );
  expect(packages.size).toBeGreaterThan(5);
  for (const name of ['chevrotain', 'commander', 'picocolors']) expect(notices).toContain(`\n${name} `);
});

test('they are shipped in both packages, and built before either', () => {
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  expect(manifest.files).toContain('dist/NOTICES.txt');
  expect(readFileSync(join(root, 'client', 'package-extension.mjs'), 'utf8')).toContain("'NOTICES.txt'");
});
