// `npm run release-check`: says what is still missing before the extension and the command can be published. Changes nothing, reaches nothing.
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { exit } from 'node:process';
import { fileURLToPath } from 'node:url';
import { missingForRelease, publishingSettings } from './publishing.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const lines = (text) => text.split('\n').filter((line) => line !== '');
const git = (...words) => lines(execFileSync('git', words, { cwd: root, encoding: 'utf8' }));
const read = (path) => readFileSync(join(root, path), 'utf8');
const manifest = JSON.parse(read('package.json'));
const packed = ['dist/fettle.vsix'].filter((path) => existsSync(join(root, path)));

let missing;
try {
  missing = missingForRelease(manifest, publishingSettings(root), {
    changed: git('status', '--porcelain').map((line) => line.slice(3)),
    tags: git('tag', '--list'),
    has: (path) => existsSync(join(root, path)),
    changelog: read('CHANGELOG.md'),
    sizes: Object.fromEntries(packed.map((path) => [path, statSync(join(root, path)).size])),
  });
} catch (reason) {
  missing = [`${reason.message}.`];
}
if (missing.length > 0) {
  console.error(`Fettle ${manifest.version} can't be published yet:\n${missing.map((line) => `- ${line}`).join('\n')}`);
  exit(1);
}
console.log(
  `Fettle ${manifest.version} can be published: dist/fettle.vsix, and the command (npm run package:command).`,
);
