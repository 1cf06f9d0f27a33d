// Packs the extension into dist/fettle.vsix, from what the build left in dist/. Asks nothing and reaches no network.
import { existsSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { exit } from 'node:process';
import { fileURLToPath } from 'node:url';
import { createVSIX } from '@vscode/vsce';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const packagePath = join(root, 'dist', 'fettle.vsix');
const largest = 1_000_000;

function stop(text) {
  console.error(`The extension was not packed: ${text}`);
  exit(1);
}

const bundles = ['client-node.js', 'client-browser.js', 'server-worker.js', 'fettle.js'];
const missing = bundles.filter((name) => !existsSync(join(root, 'dist', name)));
if (missing.length > 0) stop(`dist/ lacks ${missing.join(', ')}. Run "npm run build" first.`);

try {
  await createVSIX({
    cwd: root,
    packagePath,
    dependencies: false,
    rewriteRelativeLinks: false,
    allowMissingRepository: true,
  });
} catch (reason) {
  stop(reason instanceof Error ? reason.message : String(reason));
}
const { size } = statSync(packagePath);
if (size > largest) stop(`it holds ${size} bytes, more than a megabyte: something went in that should not.`);
console.log(`${relative(root, packagePath)}: ${Math.round(size / 1000)} kB`);
