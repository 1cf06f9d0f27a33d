// Measures for how long the server holds the editor up: each long text of tests/growth is opened, at a size, and while it is checked a
// hover and a completion are asked for in turn. Prints for each the longest that one answer took, in milliseconds of the processor (so
// that other work on the machine does not count) and of the clock, the answers slowest first. Asserts nothing.
//
//   node tests/bench/held.mjs                        texts of a million characters
//   node tests/bench/held.mjs --size 300000 --name jobs --time 10
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';
import { start } from './client.mjs';

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const { values } = parseArgs({
  options: { size: { type: 'string' }, name: { type: 'string' }, time: { type: 'string' } },
});
const size = Number(values.size ?? 1_000_000);
/** Seconds after which a check is left off. */
const most = Number(values.time ?? 20);
/** Milliseconds between two questions. */
const EVERY = 20;

const bundled = await build({
  entryPoints: [join(root, 'tests', 'growth', 'bombs.ts')],
  bundle: true,
  write: false,
  format: 'esm',
});
const { BOMBS } = await import(
  `data:text/javascript;base64,${Buffer.from(bundled.outputFiles[0].text).toString('base64')}`
);

const wait = (ms) => new Promise((done) => setTimeout(done, ms));

/** Milliseconds that the main thread of a process has had of the processor. */
const cpu = (pid) => Number(readFileSync(`/proc/${pid}/task/${pid}/schedstat`, 'utf8').split(' ')[0]) / 1e6;

/** How many of its kind make a text of the size. */
function countFor(make) {
  const [one, two] = [make(40).length, make(80).length];
  return Math.max(2, Math.round(((size - one) * 40) / Math.max(1, two - one)) + 40);
}

async function held({ name, make, beside }) {
  const n = countFor(make);
  const text = make(n);
  const client = start([join(root, 'dist', 'fettle.js'), 'serve', '--stdio']);
  await client.begin();
  for (const [file, other] of Object.entries(beside?.(n) ?? {})) client.open(`file:///held/${file}`, other);
  const uri = 'file:///held/text.fettle';
  const lines = text.split('\n');
  await wait(300);
  let isDone = false;
  const from = performance.now();
  client.open(uri, text);
  const checked = client.findings(uri).then((report) => {
    isDone = true;
    return report;
  });
  let longest = { cpu: 0 };
  let first;
  for (let i = 0; !isDone && performance.now() - from < most * 1000; i += 1) {
    const line = Math.floor(lines.length * ((i * 0.381966) % 1));
    const position = { line, character: Math.min(3, lines[line].length) };
    const asks = i % 2 === 0 ? 'hover' : 'completion';
    const [began, had] = [performance.now(), cpu(client.pid)];
    await client.ask(`textDocument/${asks}`, { textDocument: { uri }, position });
    const one = { cpu: cpu(client.pid) - had, clock: performance.now() - began, asks, at: Math.round(began - from) };
    if (one.cpu > longest.cpu) longest = one;
    first ??= one;
    await wait(EVERY);
  }
  const report = isDone ? await checked : undefined;
  const took = performance.now() - from;
  client.end();
  return { name, characters: text.length, n, first, longest, took, findings: report?.items?.length };
}

const chosen = BOMBS.filter(
  ({ name }) => values.name === undefined || values.name.split(',').some((part) => name.includes(part)),
);
const seen = new Set();
const rows = [];
for (const bomb of chosen) {
  const key = bomb.name + bomb.make(3);
  if (seen.has(key)) continue;
  seen.add(key);
  const row = await held(bomb);
  rows.push(row);
  const { name, first, longest, took, findings } = row;
  console.error(
    `${name.slice(0, 52).padEnd(54)} first ${first.cpu.toFixed(0).padStart(5)}  longest ${longest.cpu.toFixed(0).padStart(5)} (${longest.asks} at ${longest.at}, clock ${longest.clock.toFixed(0)})  checked in ${findings === undefined ? 'more than ' : ''}${(took / 1000).toFixed(1)} s, ${findings ?? '?'} findings`,
  );
}
console.log('\nslowest first');
for (const { name, first, longest } of rows.toSorted((a, b) => b.longest.cpu - a.longest.cpu))
  console.log(
    `${name.slice(0, 52).padEnd(54)}${first.cpu.toFixed(0).padStart(6)}${longest.cpu.toFixed(0).padStart(6)}  ${longest.asks}`,
  );
