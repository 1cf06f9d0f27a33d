// Packs the command into dist/, as a package that can be published and is installed without a build: what was built, its manifest without
// how it is built, and the pages that go with it.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { exit } from 'node:process';
import { fileURLToPath } from 'node:url';
import { commandFiles, commandManifest, packedLinks, publishingSettings } from './publishing.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const source = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

/** The files that a path of the manifest stands for. */
function filesOf(path) {
  const pattern = new RegExp(`^${basename(path).replace(/[.+]/g, '\\$&').replaceAll('*', '.*')}$`);
  const folder = dirname(path);
  return readdirSync(join(root, folder))
    .filter((name) => pattern.test(name))
    .map((name) => join(folder, name));
}

const shipped = commandFiles(source).map((path) => ({ path, files: filesOf(path) }));
const missing = shipped.filter(({ files }) => files.length === 0).map(({ path }) => path);
if (missing.length > 0) {
  console.error(`The command was not packed: ${missing.join(', ')} is not there. Run "npm run build" first.`);
  exit(1);
}
const files = shipped.flatMap((each) => each.files);
const folder = mkdtempSync(join(tmpdir(), 'fettle-command-'));
try {
  const settings = publishingSettings(root);
  const manifest = commandManifest(source, settings);
  for (const path of files) cpSync(join(root, path), join(folder, path));
  const page = readFileSync(join(root, 'README.md'), 'utf8');
  writeFileSync(
    join(folder, 'README.md'),
    packedLinks(page, (path) => files.includes(path), settings),
  );
  writeFileSync(join(folder, 'package.json'), `${JSON.stringify(manifest, null, 2)}\n`);
  const name = execFileSync('npm', ['pack', '--silent', '--pack-destination', join(root, 'dist')], {
    cwd: folder,
    encoding: 'utf8',
  });
  console.log(`dist/${name.trim()}`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
