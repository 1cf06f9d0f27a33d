// `npm start`: checks the samples, makes a bench page and a bench sheet to look at and packs the extension, each with the tool as a
// user has it, then says where things lie. Stops at the first thing that fails, and says which.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { execPath, exit } from 'node:process';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const command = join(root, 'dist', 'fettle.js');
const sheetOf = join('samples', 'inline-four.fettle');
const sheet = join('dist', 'bench-sheet.html');
const page = join('dist', 'bench-page.html');
const job = 'full-rebuild';

function say(text) {
  console.log(`\n== ${text}`);
}

function stop(text) {
  console.error(`\nnpm start stopped: ${text}`);
  exit(1);
}

function run(what, file, ...rest) {
  const { status, error } = spawnSync(execPath, [file, ...rest], { cwd: root, stdio: 'inherit' });
  if (status !== 0) stop(`${what} ended with ${error?.message ?? `status ${status}`}.`);
}

/** True when a source file is newer than what was built from it, or nothing was built. */
function buildIsStale() {
  if (!existsSync(command)) return true;
  const built = statSync(command).mtimeMs;
  return ['client', 'server', 'grammar'].some((folder) =>
    readdirSync(join(root, folder), { recursive: true, withFileTypes: true }).some(
      (entry) => entry.isFile() && statSync(join(entry.parentPath, entry.name)).mtimeMs > built,
    ),
  );
}

if (!existsSync(join(root, 'node_modules', 'esbuild'))) stop('run "npm install" first.');

if (buildIsStale()) {
  say('Building');
  run('The build', join('client', 'build.mjs'));
}

const samples = readdirSync(join(root, 'samples'))
  .filter((name) => name.endsWith('.fettle'))
  .map((name) => join('samples', name));
if (samples.length === 0) stop('there is no .fettle file in samples/.');
const checked = [...samples, join('samples', 'two-shops'), join('samples', 'review')];
say(`Checking the samples: fettle check ${checked.join(' ')}`);
run('The check of the samples', command, 'check', ...checked);

say(`Making a bench sheet: fettle sheet ${sheetOf} --output ${sheet}`);
run('The bench sheet', command, 'sheet', sheetOf, '--output', sheet);
if (!existsSync(join(root, sheet))) stop(`${sheet} was not written.`);

say(`Making a bench page: fettle bench ${sheetOf} --job ${job} --output ${page}`);
run('The bench page', command, 'bench', sheetOf, '--job', job, '--output', page);
if (!existsSync(join(root, page))) stop(`${page} was not written.`);

say('Packing the extension');
run('Packing the extension', join('client', 'package-extension.mjs'));

const extension = join(root, 'dist', 'fettle.vsix');
console.log(`
Ready.

  The extension     ${relative(root, extension)}
  The bench page    ${page}   (work by it on a tablet: open it in a browser)
  The bench sheet   ${sheet}   (the same on paper)
  The command       npx fettle --help

To install the extension in VS Code: open the Extensions view, press the "…" at its top, choose
"Install from VSIX…" and pick the file. Or, on the command line:

  code --install-extension ${relative(root, extension)}

Then open the folder samples/ and the file inline-four.fettle in it.`);
