// Measures the language server as an editor sees it, over standard input and output: every kind of edit (edits.mjs), typed letter by
// letter and taken back, from the key to the findings, in a sample as it stands and in made specs of several lengths; every kind of look at
// the cursor, and what an editor asks by itself (looks.mjs), after an edit, at many places; and the first findings, the whole layout, memory;
// beside a server that does nothing, in the same run. The server is started as the README tells users of other editors to, with no option of
// Node's. What was compiled is kept in a folder of the benchmark's own and was so by an earlier start, which is what a person has; the very first
// start is measured by itself. Prints tables and writes dist/bench.json. Asserts nothing.
//
//   npm run bench                                    all of it
//   npm run bench -- --size sample,2000 --kind torque    some sizes, and kinds whose names hold a text
//   npm run bench -- --size 10000 --look "hover: a step"    looks whose names hold a text, and no kinds; all of them with --look ""
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { start } from './client.mjs';
import { KINDS, placeIn } from './edits.mjs';
import { measureLibrary } from './library.mjs';
import { builtOnLong, longSpec, sample } from './long-spec.mjs';
import { LOOKS, looked } from './looks.mjs';

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const { values } = parseArgs({
  options: {
    size: { type: 'string' },
    kind: { type: 'string' },
    look: { type: 'string' },
    time: { type: 'string' },
  },
});
const SIZES = ['sample', '200', '2000', '10000', '50000'];
const sizes = values.size === undefined ? SIZES : SIZES.filter((size) => values.size.split(',').includes(size));
const holds = (name, parts) => parts.split(',').some((part) => name.includes(part));
const kinds =
  values.look === undefined ? KINDS.filter(({ name }) => values.kind === undefined || holds(name, values.kind)) : [];
const looks =
  values.kind === undefined ? LOOKS.filter(({ name }) => values.look === undefined || holds(name, values.look)) : [];
/** So many keys are measured of each kind, or for so many milliseconds. */
const MOST_KEYS = 60;
const MOST_TIME = Number(values.time ?? 4000);
/** Keys of each kind that are not measured: the first ones. */
const WARM = 2;
/** How often a server is started for a cold start, of which the median counts. */
const STARTS = 7;

const servers = [
  { name: 'does nothing', args: [join(root, 'tests', 'bench', 'idle-server.mjs')] },
  { name: 'fettle', args: [join(root, 'dist', 'fettle.js'), 'serve', '--stdio'] },
];

const uris = {
  main: 'file:///bench/long.fettle',
  used: 'file:///bench/common-fasteners.fettle',
  built: 'file:///bench/built.fettle',
};

const share = (times, part) =>
  [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * part))];

const textOf = (size) => (size === 'sample' ? sample('inline-four.fettle') : longSpec(Number(size)));

/** A server with the files of one size open; gives the milliseconds from the start of the process to the first findings too. */
async function opened(server, text, options = undefined) {
  const began = performance.now();
  const client = start(server.args);
  await client.begin({ initializationOptions: options });
  client.open(uris.used, sample('common-fasteners.fettle'));
  client.open(uris.main, text);
  const report = await client.findings(uris.main);
  return { client, first: performance.now() - began, findings: report?.items?.length ?? 0 };
}

/** Milliseconds from key to findings of one kind of edit. */
async function typed(client, kind, texts) {
  const file = kind.in === 'used' ? 'used' : kind.in === 'built' ? 'built' : 'main';
  const asked = kind.in === 'base' || kind.in === 'built' ? 'built' : 'main';
  const place = placeIn(texts[file], kind);
  if (place === undefined) return undefined;
  const variant = /variants (\w+)/.exec(texts.main)?.[1] ?? 'none';
  const types = (kind.types ?? kind.takes).replace('VARIANT', variant);
  const behind = (count) => {
    const before = types.slice(0, count);
    const lines = before.split('\n');
    return lines.length === 1
      ? { line: place.line, character: place.character + count }
      : { line: place.line + lines.length - 1, character: lines.at(-1).length };
  };
  const times = [];
  const key = async (change) => {
    const from = performance.now();
    change();
    await client.findings(uris[asked]);
    times.push(performance.now() - from);
  };
  const put = (count) => key(() => client.change(uris[file], behind(count), 0, types[count]));
  const take = (count) => {
    const at = behind(count);
    const isBreak = types[count] === '\n';
    return key(() => (isBreak ? client.join(uris[file], at) : client.change(uris[file], at, 1, '')));
  };
  const began = performance.now();
  do {
    const order = [...types].map((_, i) => i);
    if (kind.takes === undefined) for (const i of order) await put(i);
    for (const i of order.reverse()) await take(i);
    if (kind.takes !== undefined) for (const i of order.reverse()) await put(i);
  } while (times.length < MOST_KEYS + WARM && performance.now() - began < MOST_TIME);
  return times.slice(Math.min(WARM, times.length - 2));
}

async function timed(work) {
  const from = performance.now();
  await work();
  return performance.now() - from;
}

async function measure(server, size) {
  const text = textOf(size);
  const { client, first, findings } = await opened(server, text);
  const document = { uri: uris.main };
  const options = { tabSize: 2, insertSpaces: true };
  const layout = () => client.ask('textDocument/formatting', { textDocument: document, options });
  const row = { server: server.name, size, lines: text.split('\n').length, first, findings, kinds: {} };
  if (values.kind === undefined && values.look === undefined) {
    row.layout = await timed(layout);
    const place = placeIn(text, KINDS[0]);
    const layouts = [];
    for (let i = 0; i < 20; i += 1) {
      client.change(uris.main, place, i % 2, i % 2 === 0 ? '1' : '');
      layouts.push(await timed(layout));
    }
    row.layoutAgain = share(layouts, 0.5);
  }
  const built = builtOnLong(/^spec ([a-z-]+)/m.exec(text)?.[1] ?? '');
  for (const kind of kinds.filter(({ in: file }) => file === undefined || file === 'used')) {
    const times = await typed(client, kind, { main: text, used: sample('common-fasteners.fettle') });
    if (times !== undefined)
      row.kinds[kind.name] = { median: share(times, 0.5), most: share(times, 0.95), keys: times.length };
  }
  row.peakMB = client.memory();
  // What is built on it is another open spec, and has its own memory.
  const others = kinds.filter(({ in: file }) => file === 'base' || file === 'built');
  if (others.length > 0 && Number(size) !== 200) {
    client.open(uris.built, built);
    await client.findings(uris.built);
    for (const kind of others) {
      const times = await typed(client, kind, { main: text, built });
      if (times !== undefined)
        row.kinds[kind.name] = { median: share(times, 0.5), most: share(times, 0.95), keys: times.length };
    }
  }
  client.end();
  // In the longest each edit in between takes long: there they are measured where somebody asks for them.
  if (looks.length > 0 && (values.look !== undefined || size !== '50000')) row.looks = await measureLooks(server, text);
  return row;
}

/** Milliseconds from each look to its answer, by name, of a server that Fettle's own client has started: it draws pictures, too. */
async function measureLooks(server, text) {
  const { client } = await opened(server, text, { clientReadsFiles: true });
  const rows = {};
  for (const look of looks) {
    const settled = await looked(client, uris.main, text, look, look.types === undefined);
    const atOnce = look.types === undefined ? await looked(client, uris.main, text, look, false) : undefined;
    rows[look.name] = { times: settled.times, answered: settled.answered, atOnce: atOnce?.times };
  }
  client.end();
  return rows;
}

/** Where what was compiled is kept for the next start. */
const cache = mkdtempSync(join(tmpdir(), 'fettle-bench-'));
process.on('exit', () => rmSync(cache, { recursive: true, force: true }));

/** Starts a server so often; gives the median of the milliseconds to its first findings. */
async function coldStarts(folder) {
  process.env.FETTLE_CACHE = folder;
  const times = [];
  for (let i = 0; i < STARTS; i += 1) {
    const { client, first } = await opened(servers[1], longSpec(300));
    times.push(first);
    client.end();
  }
  process.env.FETTLE_CACHE = cache;
  return share(times, 0.5);
}

/** Has a server keep what it was compiled to, as it does when nothing came from the editor for a while. */
async function warm() {
  const { client } = await opened(servers[1], longSpec(300));
  for (let waits = 0; !readdirSync(cache).some((name) => name.endsWith('.code')) && waits < 300; waits += 1)
    await new Promise((done) => setTimeout(done, 100));
  client.end();
}

process.env.FETTLE_CACHE = cache;
await warm();
const columns = [];
for (const size of sizes)
  for (const server of servers) {
    if (server.name === 'does nothing' && size !== sizes[0] && (values.kind ?? values.look) !== undefined) continue;
    columns.push(await measure(server, size));
  }
const isWhole = values.kind === undefined && values.look === undefined && values.size === undefined;
const cold = isWhole ? { first: await coldStarts('off'), later: await coldStarts(cache) } : undefined;

/** Specs of the library of which the whole folder is asked. */
const LIBRARY = 1000;
const library =
  values.kind === undefined && values.size === undefined ? await measureLibrary(servers[1].args, LIBRARY) : undefined;

const shown = (number) => (number === undefined ? '' : number.toFixed(1));
const heads = columns.map(
  ({ server, lines, size }) => `${server === 'fettle' ? '' : 'nothing '}${size === 'sample' ? 'sample' : lines}`,
);
const print = (name, cells) =>
  console.log(name.padEnd(looks.length > 0 ? 40 : 24) + cells.map((cell) => cell.padStart(15)).join(''));
const both = (times) =>
  times === undefined || times.length === 0 ? '' : `${shown(share(times, 0.5))} / ${shown(share(times, 0.95))}`;
if (kinds.length > 0) {
  console.log(
    'Milliseconds from the key to the findings, median / 95th percentile; the sample has two variants and a used file.',
  );
  print('edit of', heads);
}
for (const { name } of kinds)
  print(
    name,
    columns.map((row) =>
      row.kinds[name] === undefined ? '' : `${shown(row.kinds[name].median)} / ${shown(row.kinds[name].most)}`,
    ),
  );
if (looks.length > 0) {
  console.log(
    '\nMilliseconds from the question to the answer, median / 95th percentile, each after an edit: completion straight after the key, what is\npointed at when the findings are there.',
  );
  print('look at', heads);
  const rowsOf = (asks, at = 'times') =>
    columns.map((row) =>
      both(looks.filter((look) => look.asks === asks).flatMap(({ name }) => row.looks?.[name][at] ?? [])),
    );
  for (const [name, asks, at] of [
    ['hover, any place', 'hover'],
    ['completion, any place', 'completion'],
    ['where the engine stands', 'standing'],
    ['hover, before findings', 'hover', 'atOnce'],
    ['stands, before findings', 'standing', 'atOnce'],
  ])
    if (looks.some((look) => look.asks === asks)) print(name, rowsOf(asks, at));
  console.log();
  for (const { name } of looks)
    print(
      name,
      columns.map((row) => both(row.looks?.[name].times)),
    );
}
console.log();
for (const [name, of] of [
  ['first findings', (row) => shown(row.first)],
  ['whole layout, first', (row) => shown(row.layout)],
  ['whole layout after edit', (row) => shown(row.layoutAgain)],
  ['peak memory, MB', (row) => shown(row.peakMB)],
  ['findings', (row) => String(row.findings)],
])
  print(name, columns.map(of));
if (cold !== undefined)
  console.log(
    `\nFirst findings of 250 lines, cold: ${shown(cold.first)} ms at the very first start, ${shown(cold.later)} ms at later ones, which begin from what was\ncompiled before (median of ${STARTS} starts each).`,
  );
if (library !== undefined) {
  console.log(
    `\nA library of ${LIBRARY} specs of 250 lines that use one file, from the start of the server; milliseconds by the clock / of work.`,
  );
  const row = (name, { time, work }) => print(name, [`${shown(time)} / ${shown(work)}`]);
  row('references, first', library.first);
  row('references, second', library.second);
  row('symbols of the folder', library.symbols);
  row('findings of all', library.findings);
  row('references, afterwards', library.afterwards);
  row('rename', library.rename);
  print('peak memory, MB', [shown(library.peakMB)]);
}
writeFileSync(
  join(root, 'dist', 'bench.json'),
  `${JSON.stringify({ node: process.version, cold, columns, library }, null, 2)}\n`,
);
