// How much work a browser has until a bench page stands, and until its spec has been read: processor time of the page's main thread, so that
// what else runs here does not count. Six times that is the wall clock of a slow tablet.
//   node tests/bench/page.mjs FILE.html [RUNS]
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { argv, env } from 'node:process';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const SLOWER = 6;
const [file = '', runs = '5'] = argv.slice(2);

/** Milliseconds of the main thread: until it is first drawn, the longest task after that, and all. */
async function opened() {
  const profile = mkdtempSync(join(tmpdir(), 'fettle-opening-'));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox'],
    viewport: { width: 820, height: 1180 },
    hasTouch: true,
  });
  const [page] = context.pages();
  const session = await context.newCDPSession(page);
  const events = [];
  session.on('Tracing.dataCollected', ({ value }) => events.push(...value));
  await session.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: {
      includedCategories: ['devtools.timeline', 'disabled-by-default-devtools.timeline', 'loading', 'toplevel'],
    },
  });
  await page.goto(pathToFileURL(resolve(file)).href);
  await page.getByRole('button', { name: 'Begin the work' }).waitFor();
  await page.waitForTimeout(4000);
  const ended = new Promise((done) => session.once('Tracing.tracingComplete', done));
  await session.send('Tracing.end');
  await ended;
  await context.close();
  rmSync(profile, { recursive: true });
  const script = events.find((each) => each.name === 'EvaluateScript' && each.args.data?.url?.startsWith('file:'));
  const own = events.filter((each) => each.tid === script.tid && each.pid === script.pid && each.tts !== undefined);
  const begin = Math.min(
    ...own.filter((each) => /^DocumentLoader::CommitNavigation$|^ParseHTML$/.test(each.name)).map((each) => each.tts),
  );
  const paints = own.filter((each) => each.name === 'Paint' && each.tts > script.tts + script.tdur);
  const drawn = Math.min(...paints.map((each) => each.tts + (each.tdur ?? 0)));
  const tasks = own.filter((each) => each.name === 'RunTask' && each.tts > drawn);
  return {
    drawn: (drawn - begin) / 1000,
    longest: Math.max(...tasks.map((each) => each.tdur ?? 0)) / 1000,
    all: (Math.max(...own.map((each) => each.tts + (each.tdur ?? 0))) - begin) / 1000,
  };
}

const found = [];
for (let run = 0; run < Number(runs); run += 1) found.push(await opened());
const middle = (what) =>
  found.map((each) => each[what]).sort((one, other) => one - other)[Math.floor(found.length / 2)];
console.log(`${Math.round(statSync(file).size / 1000)} kB`);
for (const [what, words] of [
  ['drawn', 'until it is drawn'],
  ['longest', 'longest task after that'],
  ['all', 'until the spec has been read and all is quiet'],
])
  console.log(
    `${words}: ${middle(what).toFixed(0)} ms, ${SLOWER} times slower ${(middle(what) * SLOWER).toFixed(0)} ms`,
  );
