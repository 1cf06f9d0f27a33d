// Bundles Fettle into dist/: the command, which holds the server too and is the worker of the browser (fettle-all.js), the small file that
// starts it (fettle.js), what runs in a bench page, and the two clients. What is installed needs no other package: each bundle stands alone, but for two: the bench page takes from the command what both
// need (build-shared.mjs), and the client of the desktop from that of the browser (shared-modules.mjs; not with `--watch`, which builds again
// after every change). The licences of what they hold go into
// NOTICES.txt, the words of each language into a file of their own.
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { argv, exit } from 'node:process';
import { fileURLToPath } from 'node:url';
import { build, context } from 'esbuild';
import { buildShared, onlyAscii, sharedOf } from './build-shared.mjs';
import { helpPages } from './help-pages.mjs';
import { noticesFor } from './notices.mjs';
import { commonModules, holderText, takenFrom } from './shared-modules.mjs';
import { languagesIn, packed, pagesIn, rowsIn } from './translations.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const dist = join(root, 'dist');
const watch = argv.includes('--watch');

/** What the command and the bench page are made from; see build-shared.mjs. */
const shared = sharedOf(root);

/** One row a client: what it starts from, what it becomes, and how. */
const clients = [
  {
    from: 'client/node.ts',
    to: 'client-node.js',
    platform: 'node',
    format: 'cjs',
    target: 'node20',
    external: ['vscode'],
  },
  {
    from: 'client/browser.ts',
    to: 'client-browser.js',
    platform: 'browser',
    format: 'cjs',
    target: 'es2022',
    external: ['vscode'],
  },
];

const starts = [shared.wayIn, shared.command, shared.page, ...clients.map((each) => each.from)];
const missing = starts.filter((from) => !existsSync(join(root, from)));
if (missing.length > 0) {
  console.error(`Fettle can't be built: missing ${missing.join(', ')}.`);
  exit(1);
}

const [desktop, web] = clients;
const common = watch ? [] : await commonModules(root, [desktop, web]);

/** What a bundle is made of, and what it does not hold itself. */
function startOf(bundle) {
  if (common.length > 0 && bundle === web)
    return { stdin: { contents: holderText(web.from, ['activate'], common), resolveDir: root, sourcefile: web.to } };
  if (common.length > 0 && bundle === desktop)
    return { entryPoints: [bundle.from], plugins: [takenFrom(`./${web.to}`, root, common)] };
  return { entryPoints: [bundle.from] };
}

const settings = clients.map((bundle) => {
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
    metafile: true,
    logLevel: 'warning',
  };
});

/** Makes the command and the page, and gives the account of what went in. */
async function makeShared() {
  const { program, wayIn, benchPage, metafile } = await buildShared(shared);
  mkdirSync(dist, { recursive: true });
  writeFileSync(join(dist, 'fettle-all.js'), program);
  writeFileSync(join(dist, 'fettle.js'), wayIn);
  writeFileSync(join(dist, 'bench-page.js'), benchPage);
  chmodSync(join(dist, 'fettle.js'), 0o755);
  return metafile;
}

/** Makes both anew when one of their files changes. */
async function watchShared() {
  const again = { name: 'again', setup: ({ onEnd }) => onEnd(() => makeShared().catch(() => undefined)) };
  const entryPoints = [shared.wayIn, shared.command, shared.page];
  const each = { ...shared.how, entryPoints, bundle: true, write: false, outdir: dist, platform: 'node' };
  await (await context({ ...each, plugins: [again], logLevel: 'info' })).watch();
}

if (watch) {
  await Promise.all([
    watchShared(),
    ...settings.map(async (each) => (await context({ ...each, logLevel: 'info' })).watch()),
  ]);
} else {
  let metafiles = [];
  try {
    metafiles = await Promise.all([makeShared(), ...settings.map(async (each) => (await build(each)).metafile)]);
  } catch (reason) {
    console.error(`Fettle was not built: ${reason.message}`);
    exit(1);
  }
  try {
    writeFileSync(join(dist, 'NOTICES.txt'), noticesFor(root, metafiles));
  } catch (reason) {
    console.error(`Fettle was not built: ${reason.message}. What is bundled needs its licence beside it.`);
    exit(1);
  }
  for (const { to } of clients) {
    const file = join(dist, to);
    writeFileSync(file, onlyAscii(readFileSync(file, 'utf8')));
  }
}
writeFileSync(join(dist, 'help.html'), helpPages(root));
for (const language of languagesIn(root))
  writeFileSync(
    join(dist, `words-${language}.json`),
    JSON.stringify(packed({ ...rowsIn(root, language), ...pagesIn(root, language) })),
  );
