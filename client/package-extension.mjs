// Packs the extension into dist/fettle.vsix, from what the build left in dist/. Asks nothing and reaches no network. In the pack the
// texts of package.json stand beside it, in package.nls.json; translations of them are client/package.nls.<language>.json. Its first page is
// client/extension-readme.md. Who publishes it and where its home is are settings of the packing (publishing.mjs).
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { exit } from 'node:process';
import { fileURLToPath } from 'node:url';
import { createVSIX, listFiles, PackageManager } from '@vscode/vsce';
import { takeTexts } from './manifest-texts.mjs';
import { extensionManifest, HELP_PAGE, packedLinks, publishingSettings } from './publishing.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const packagePath = join(root, 'dist', 'fettle.vsix');
const largest = 1_000_000;

function stop(text) {
  console.error(`The extension was not packed: ${text}`);
  exit(1);
}

const bundles = ['client-node.js', 'client-browser.js', 'fettle.js', 'fettle-all.js', 'bench-page.js', 'NOTICES.txt'];
const missing = bundles.filter((name) => !existsSync(join(root, 'dist', name)));
if (missing.length > 0) stop(`dist/ lacks ${missing.join(', ')}. Run "npm run build" first.`);

/** The newest part of the list of changes: there is little room for the rest, which stands in the repository. */
function lastChanges(text) {
  const [head, ...versions] = text.split(/\n(?=## )/);
  const newest = versions.find((each) => each.split('\n').slice(1).join('').trim() !== '');
  return `${[head, newest ?? ''].join('\n').trimEnd()}\n`;
}

/** Lays what belongs into the pack into a folder, the manifest with keys for its texts and the texts beside it. */
async function layOut(folder) {
  const listed = await listFiles({ cwd: root, packageManager: PackageManager.None });
  const files = listed.filter((file) => file !== HELP_PAGE);
  for (const file of files) cpSync(join(root, file), join(folder, file));
  const put = (name, content) => writeFileSync(join(folder, name), `${JSON.stringify(content, null, 2)}\n`);
  const settings = publishingSettings(root);
  const { manifest, texts } = takeTexts(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')));
  put('package.json', extensionManifest(manifest, settings));
  const page = readFileSync(join(root, 'client', 'extension-readme.md'), 'utf8');
  writeFileSync(
    join(folder, 'README.md'),
    packedLinks(page, (path) => files.includes(path), settings),
  );
  put('package.nls.json', texts);
  writeFileSync(join(folder, 'CHANGELOG.md'), lastChanges(readFileSync(join(root, 'CHANGELOG.md'), 'utf8')));
  for (const name of readdirSync(join(root, 'client')).filter((each) => /^package\.nls\..+\.json$/.test(each))) {
    const translated = JSON.parse(readFileSync(join(root, 'client', name), 'utf8'));
    const unknown = Object.keys(translated).filter((key) => !(key in texts));
    if (unknown.length > 0) throw new Error(`${name} translates what is not there: ${unknown.join(', ')}.`);
    put(name, translated);
  }
}

const folder = mkdtempSync(join(tmpdir(), 'fettle-pack-'));
let fault;
try {
  await layOut(folder);
  await createVSIX({
    cwd: folder,
    packagePath,
    dependencies: false,
    rewriteRelativeLinks: false,
    allowMissingRepository: true,
  });
} catch (reason) {
  fault = reason instanceof Error ? reason.message : String(reason);
}
rmSync(folder, { recursive: true, force: true });
if (fault !== undefined) stop(fault);
const { size } = statSync(packagePath);
if (size > largest) stop(`it holds ${size} bytes, more than a megabyte: something went in that should not.`);
console.log(`${relative(root, packagePath)}: ${Math.round(size / 1000)} kB`);
