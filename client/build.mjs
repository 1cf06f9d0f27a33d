// Bundles Fettle into dist/: the command, which holds the server too and is the worker of the browser, what runs in a bench page, and the two
// clients. What is installed needs no other package: each bundle stands alone, but the client of the desktop, which takes from that of the
// browser what both need. The licences of what they hold go into NOTICES.txt. `--watch` builds again after every change, and shares nothing.
import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { argv, exit } from 'node:process';
import { fileURLToPath } from 'node:url';
import { build, context } from 'esbuild';
import { noticesFor } from './notices.mjs';
import { commonModules, holderText, takenFrom } from './shared-modules.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const dist = join(root, 'dist');
const watch = argv.includes('--watch');

const node = { platform: 'node', format: 'cjs', target: 'node20' };
const browser = { platform: 'browser', target: 'es2022' };

/** One row a bundle: what it starts from, what it becomes, and how. */
const bundles = [
  {
    from: 'server/entry/fettle.ts',
    to: 'fettle.js',
    ...node,
    banner: { js: '#!/usr/bin/env node' },
    alias: Object.fromEntries(
      ['vscode-languageserver', 'vscode-languageserver-protocol', 'vscode-jsonrpc'].map((name) => [
        `${name}/browser`,
        join(root, 'node_modules', name, 'lib', 'browser', 'main.js'),
      ]),
    ),
  },
  { from: 'server/bench-page/main.tsx', to: 'bench-page.js', ...browser, format: 'iife' },
  { from: 'client/node.ts', to: 'client-node.js', ...node, external: ['vscode'] },
  { from: 'client/browser.ts', to: 'client-browser.js', ...browser, format: 'cjs', external: ['vscode'] },
];

const missing = bundles.map((bundle) => bundle.from).filter((from) => !existsSync(join(root, from)));
if (missing.length > 0) {
  console.error(`Fettle can't be built: missing ${missing.join(', ')}.`);
  exit(1);
}

const [desktop, web] = ['client-node.js', 'client-browser.js'].map((to) => bundles.find((each) => each.to === to));
const common = watch ? [] : await commonModules(root, [desktop, web]);

/** What a bundle is made of, and what it does not hold itself. */
function startOf(bundle) {
  if (common.length > 0 && bundle === web)
    return { stdin: { contents: holderText(web.from, ['activate'], common), resolveDir: root, sourcefile: web.to } };
  if (common.length > 0 && bundle === desktop)
    return { entryPoints: [bundle.from], plugins: [takenFrom(`./${web.to}`, root, common)] };
  return { entryPoints: [bundle.from] };
}

const settings = bundles.map((bundle) => {
  const { from, to, ...how } = bundle;
  return {
    ...how,
    ...startOf(bundle),
    absWorkingDir: root,
    outfile: join(dist, to),
    bundle: true,
    minify: !watch,
    sourcemap: watch ? 'linked' : false,
    legalComments: 'none',
    loader: { '.md': 'text', '.fettle': 'text' },
    logLevel: 'warning',
  };
});

/**
 * Writes what is left of other letters, in patterns, as ASCII too: with one such letter in it, a bundle takes two bytes for each of
 * its million letters as long as it runs.
 */
function onlyAscii(path) {
  const text = readFileSync(path, 'utf8');
  const code = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are ASCII
  writeFileSync(path, text.replace(/[^\x00-\x7f]/g, code));
}

if (watch) {
  const contexts = await Promise.all(settings.map((each) => context({ ...each, logLevel: 'info' })));
  await Promise.all(contexts.map((each) => each.watch()));
} else {
  let built = [];
  try {
    built = await Promise.all(settings.map((each) => build({ ...each, metafile: true })));
  } catch {
    console.error('Fettle was not built: the faults are listed above.');
    exit(1);
  }
  try {
    const notices = noticesFor(
      root,
      built.map((each) => each.metafile),
    );
    writeFileSync(join(dist, 'NOTICES.txt'), notices);
  } catch (reason) {
    console.error(`Fettle was not built: ${reason.message}. What is bundled needs its licence beside it.`);
    exit(1);
  }
  for (const { to } of bundles) onlyAscii(join(dist, to));
  chmodSync(join(dist, 'fettle.js'), 0o755);
}
