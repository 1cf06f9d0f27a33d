// Holds what lies at the top of the project and how its files are named.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { root } from './imports.ts';

const folders = ['client', 'server', 'grammar', 'tests', 'samples', '.ci'];
const files = [
  'README.md',
  'DEVELOPERS.md',
  'CHANGELOG.md',
  'LICENSE',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
];
/** Made by tools and kept out of git. */
const made = /^(?:node_modules|dist)$|\.(?:vsix|tgz)$/;

test('the top level holds what it is meant to hold, and dotfiles', () => {
  const top = readdirSync(root).filter((name) => !made.test(name));
  const extra = top.filter((name) => !folders.includes(name) && !files.includes(name) && !/^\.[a-zA-Z]/.test(name));
  expect(extra).toEqual([]);
  expect([...folders, ...files].filter((name) => !top.includes(name))).toEqual([]);
});

test('no file name has blanks, or capitals that only some disks tell apart', () => {
  const paths = folders.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map((path) => join(folder, path)),
  );
  expect(paths.filter((path) => /\s/.test(path))).toEqual([]);
  const folded = paths.map((path) => path.toLowerCase());
  expect(folded.filter((path, index) => folded.indexOf(path) !== index)).toEqual([]);
});

test('everything is installed from the lock file, and nothing is needed at run time', () => {
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  expect(manifest.dependencies).toBeUndefined();
  const loose = Object.entries(manifest.devDependencies).filter(
    ([, version]) => !/^\d+\.\d+\.\d+$/.test(String(version)),
  );
  expect(loose).toEqual([]);
});
